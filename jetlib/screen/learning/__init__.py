"""Exercises, predictions and progress on a page."""
