"""What is typed on the bench."""
