"""The papers of a kit: overview, layouts, guide, charts, posters and what has changed."""
