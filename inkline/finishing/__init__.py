"""Finishing: artwork that a user brings, redrawn in ink at its own place and size."""
