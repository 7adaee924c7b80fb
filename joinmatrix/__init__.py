"""Verify that every line, cable, rod and connector across a joint is made, once, in order."""
