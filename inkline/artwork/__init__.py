"""What a user brings: files of others as exact values, with all that could not be taken told."""
