"""Reads repeats: their brackets and marks, how often they are worked, how they end."""
