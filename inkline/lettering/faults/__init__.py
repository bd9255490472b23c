"""What the eye trips over in a stroke family, measured: joins, openings, accents, gaps in words.

`spread` lays a glyph's strokes out as points and as ink on a grid, which the others measure.
"""
