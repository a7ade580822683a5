"""From readings to causes, and to a rig fitted to its readings."""
