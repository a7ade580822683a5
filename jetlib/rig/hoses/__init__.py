"""Choosing hose: weight, the way down the pipe, stepping down in bore."""
