"""Cards and tables of one rig."""
