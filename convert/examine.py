"""One file from its bytes to its findings, whatever the file holds."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from msgspec import Struct

from convert.decode import decode, guess_kind
from convert.document.read import ReadOptions
from convert.errors import LimitExceeded, PatternError, UnreadableInput
from convert.files import PatternFile, read_bytes, within_limit
from convert.findings import Finding, Severity, sorted_findings
from convert.grader.made_to_measure import Wish
from convert.limits import LIMITS
from convert.pictures import find_pictures
from convert.pipeline import Checked, check_source
from convert.source import Source

STDIN = PatternFile(Path("-"), "", named=True)
"""Standard input in place of a file."""

_KIND_HINT = "Say it with --from yaml, markdown, text or json, or name the file *.yaml, *.md, *.txt or *.json."


class Examined(Struct, frozen=True):
    """One file after its check.

    `checked` is None where it could not be read at all. `passed_over` tells that nobody named the file and that it
    holds no pattern.
    """

    source: Source
    findings: tuple[Finding, ...] = ()
    checked: Checked | None = None
    passed_over: bool = False

    @property
    def readable(self) -> bool:
        """Whether a pattern was found in the file."""
        return self.checked is not None and self.checked.document is not None


def examine(
    file: PatternFile,
    kind: str | None,
    options: ReadOptions,
    stdin: Callable[[int], bytes],
    wish: Wish | None = None,
) -> Examined:
    """Reads and checks one file; `kind` goes before what its name tells. What stops the reading becomes a finding.

    A `wish` makes it over for a maker's own gauge or measurements; raises `NoWish` where the pattern cannot be.

    `stdin` yields at most so many bytes of standard input; it is asked only for the file `STDIN`.
    """
    source = Source("<stdin>" if file is STDIN else str(file.path), "")
    try:
        data = within_limit(stdin(LIMITS.bytes + 1)) if file is STDIN else read_bytes(file.path)
        source, found = decode(source.name, data, kind or file.kind)
        kind = kind or file.kind or (guess_kind(source.text) if file is STDIN else "")
        if not kind:
            raise UnreadableInput("The name does not tell what kind of pattern this is.", hint=_KIND_HINT)
        if not file.named and not _holds_pattern(kind, source.text):
            return Examined(source, passed_over=True)
        checked = check_source(source, kind, options, wish)
        if checked.document is not None and file is not STDIN:
            found = (*found, *find_pictures(checked.document, file.path.parent))
        return Examined(source, sorted_findings((*found, *checked.findings)), checked)
    except PatternError as error:
        return unread(source, error)
    except (RecursionError, MemoryError):
        return unread(source, LimitExceeded("This is nested too deeply or too large to be worked out."))


def _holds_pattern(kind: str, text: str) -> bool:
    from convert.candidates import holds_pattern  # noqa: PLC0415 - for folders alone

    return holds_pattern(kind, text)


def unread(source: Source, error: PatternError) -> Examined:
    """A file of which nothing could be read, with the reason as its finding."""
    code = "limit-exceeded" if isinstance(error, LimitExceeded) else "unreadable-input"
    message = error.message[:1].upper() + error.message[1:].rstrip(".") + "."
    return Examined(source, (Finding(code, Severity.ERROR, message, error.span, hint=error.hint),))
