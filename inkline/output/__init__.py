"""Writes pictures and other files, one format a module."""
