"""The published schemas of the recipe file."""
