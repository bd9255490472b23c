"""Recipes: their keys, how they are read, explained and written."""
