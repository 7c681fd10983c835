"""Rows that nobody would write: edited at random, put together from loose words, or very long."""
