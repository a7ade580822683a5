"""The consoles of the lessons."""
