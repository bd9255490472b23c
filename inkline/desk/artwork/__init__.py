"""The user's own artwork on the desk."""
