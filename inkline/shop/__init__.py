"""Pictures that sell a kit, and the text of its listing, made of its own stamps."""
