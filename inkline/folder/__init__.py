"""A folder that is kept: its files, a journal, a manifest, and which files are its owner's."""
