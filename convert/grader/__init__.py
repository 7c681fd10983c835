"""Sizes: which numbers make a piece come nearest to its target, and what it will then measure."""

from convert.grader.grading import grade
from convert.grader.values import values_of

__all__ = ["grade", "values_of"]
