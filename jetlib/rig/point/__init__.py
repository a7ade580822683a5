"""The operating point: what the gauge reads and where the water goes."""
