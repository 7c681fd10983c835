"""Text as typed, to a `Document`."""
