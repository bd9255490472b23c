"""Pictures as artwork."""
