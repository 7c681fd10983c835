"""A `Document` to YAML."""
