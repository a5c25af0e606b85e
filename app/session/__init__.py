"""The open recipe: its edits, its file, its plan and the work done behind the window."""
