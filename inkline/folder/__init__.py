"""A folder that is kept: files whole or not at all, a journal, a manifest, and whose each file is."""
