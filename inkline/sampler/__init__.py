"""Sheets of styles and of families, side by side."""
