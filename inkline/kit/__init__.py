"""Joins everything: recipe, catalogue of stamps, building and manifest."""
