"""The page of a trainer with a room."""
