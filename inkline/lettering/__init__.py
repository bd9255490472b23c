"""Fonts and glyph families as placed glyphs. Knows no calendar and no ink."""
