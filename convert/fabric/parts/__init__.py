"""The rows of a part in their order: repeated, pointed to from elsewhere, going on from an earlier edge."""
