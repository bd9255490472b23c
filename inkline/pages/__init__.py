"""Sheets of our own: pages in light and ink, their lines of letters, on screen and in PDF."""
