"""The page of rules of thumb."""
