"""What leaves the house: a kit's stamps in other forms, and packs of them."""
