"""Pictures: SVG and what it is drawn with."""
