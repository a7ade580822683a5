"""The course: exercises, predictions, progress, the classroom. Plain Python, no widgets."""
