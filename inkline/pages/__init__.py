"""Sheets of our own, on screen and in PDF: pages, their colours and their lines of letters."""
