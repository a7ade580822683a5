"""A job on a drain: reach, water, flushing, the plan."""
