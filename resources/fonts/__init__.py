"""The typeface of the window, with its licence."""
