"""A `Document`, and the report of a check, to JSON."""
