"""Exact-area coverage of polygons, and composing it into pictures."""
