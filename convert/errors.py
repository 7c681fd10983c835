"""What stops a run. Faults of a pattern are findings (`convert.findings`), not exceptions.

PatternError            exit status 2
  UnreadableInput       the input cannot be read as a pattern at all
  LimitExceeded         the input passes a limit (`convert.limits`)
  OutputRefused         the output cannot be written, or would do harm
"""

from __future__ import annotations

from convert.source import NOWHERE, Span


class PatternError(Exception):
    """Base of everything that stops a run; carries the place in the input where there is one."""

    def __init__(self, message: str, span: Span = NOWHERE, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.span = span
        self.hint = hint


class UnreadableInput(PatternError):
    """The input is no text, no pattern, or cannot be opened."""


class LimitExceeded(PatternError):
    """The input is larger or deeper than the program accepts."""


class OutputRefused(PatternError):
    """The output was not written; whatever stood there before is whole."""
