"""Callouts on screen: the call, the plan, the job and the review, for one or for a class."""
