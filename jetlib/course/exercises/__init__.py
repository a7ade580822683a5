"""Predictions, exercises, feedback and progress: plain Python, no widgets."""
