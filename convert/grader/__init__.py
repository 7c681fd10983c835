"""Sizes: which numbers make a piece come nearest to its target, and what it will then measure."""
