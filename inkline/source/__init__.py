"""Text that a person wrote, with its lines, and what is wrong with it."""
