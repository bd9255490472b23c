"""Maths on points: flattening, arc length, offsets, union, area. Knows no calendar, font or ink."""
