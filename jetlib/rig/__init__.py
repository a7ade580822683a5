"""The parts of a rig, and what they do together."""
