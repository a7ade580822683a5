"""What a rig and its surroundings are made of, and the files they are kept in."""
