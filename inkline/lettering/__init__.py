"""Fonts and stroke families as placed glyphs. Knows no calendar and no ink.

The parts: `face` (what a glyph and a face are), `family` and `font` (the two kinds of face), `line` (text on a baseline
and its marks on the page), `optical` (placing by the white between), `licence` (what a font file says of its licence).
"""
