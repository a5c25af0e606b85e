"""The drawings of the window: surfaces on the rail, marks of verdicts and cautions, the program itself."""
