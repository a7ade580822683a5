"""Formulas, one source each: SI floats or arrays in, SI out. This room imports numpy and nothing else."""
