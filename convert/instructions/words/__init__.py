"""The words of a line: tokens, what the tables say of them, numbers, and what is kept as it stands."""
