"""SVG files as artwork."""
