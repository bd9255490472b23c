"""Styles of ink as files: found, read, laid over one another and written."""
