"""YAML, to a `Document`."""
