"""Reads what is made: stitches, groups, clusters, motions of the hook, and the names given to them."""
