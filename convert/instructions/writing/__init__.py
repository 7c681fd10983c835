"""Writes instruction trees in standard wording."""
