"""The pages of the course."""
