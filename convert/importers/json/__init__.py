"""Neutral JSON, to a `Document`."""
