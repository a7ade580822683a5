"""Handouts, keys, sheets for seats."""
