"""Callouts: a whole job played through, from the phone call to the hose back on the reel."""
