"""The exercises and predictions of each lesson."""
