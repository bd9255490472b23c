"""Draws what it is given into a folder, in one process or several; knows no calendar."""
