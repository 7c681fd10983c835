"""Reads stated counts."""
