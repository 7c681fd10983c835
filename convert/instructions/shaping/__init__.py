"""Reads increases and decreases that are told in words: at the ends, spread out, as extras."""
