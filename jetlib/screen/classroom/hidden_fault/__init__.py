"""The hidden fault on the classroom page."""
