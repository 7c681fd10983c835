"""A `Document` to Markdown."""
