"""Markdown, to a `Document`."""
