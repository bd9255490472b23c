"""From outlines to centrelines: where the pen would go that drew a letter."""
