"""A rig changed: by factors, by swapped parts, by name."""
