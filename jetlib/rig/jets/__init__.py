"""Choosing jets: the matched area, sets from a drill box, what jets do."""
