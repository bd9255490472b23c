"""What lies on the paper within a line: tooth, contact, bristles, film, wash and fills."""
