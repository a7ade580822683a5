"""The bench: one's own rig on one page."""
