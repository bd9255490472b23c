"""Numeral sets: pictures, outlines and a font of one drawing."""
