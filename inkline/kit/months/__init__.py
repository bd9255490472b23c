"""Finished months: the layers of one calendar."""
