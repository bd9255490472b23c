"""Fonts and stroke families as placed glyphs. Knows no calendar and no ink.

The parts: `face` (what a glyph and a face are), `family` and `font` (the two kinds of face),
`writing` and `tracing` (fonts written as strokes), `swap`, `loose` and `small_cut` (faces with
other glyphs), `line`, `forms` and `scripts` (text on a baseline and its marks on the page),
`optical` and `profiles` (placing by the white between), `counters`, `review` and `faults/`
(looking over a family), `licence` (what a font file says of its licence).
"""
