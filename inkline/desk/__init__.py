"""A page on the user's own machine, on which ink is turned until it is right."""
