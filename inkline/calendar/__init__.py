"""Months and grids as exact numbers. Knows no glyphs, ink or pixels."""
