"""What the lib of a stroke family says: its pen, its letters' play, and how they stand."""
