"""What inkline says to those who buy a kit, in their language."""
