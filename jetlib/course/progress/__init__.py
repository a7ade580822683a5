"""What a learner did, on disk."""
