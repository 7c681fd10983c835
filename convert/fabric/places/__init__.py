"""Finds what a step goes into: stitches, chains, gaps and spaces of the row below."""
