"""For a trainer with a room: plans, votes, progress of a class."""
