"""UFO folders as plain values: read with fontTools, or from a fast file made of the same bytes."""
