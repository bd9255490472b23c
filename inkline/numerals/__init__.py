"""Numeral sets: pictures and outlines of numerals, and a font of the same drawings."""
