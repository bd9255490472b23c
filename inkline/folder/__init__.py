"""A folder that is kept: files whole or not at all, a journal and a manifest, whose each is."""
