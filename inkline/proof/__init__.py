"""Measures a finished picture against the exact drawing."""
