"""Reads chains: foundations, rings, and what a beginning chain stands for."""
