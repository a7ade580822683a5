"""A rig with a hidden fault for a room to find."""
