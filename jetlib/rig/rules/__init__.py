"""Rules of thumb held against the physics."""
