"""The child process of the PDF writer: reads one request, renders it under limits, answers on standard output.

The request is JSON: `html`, `assets` (media type and content, in base 64, by the names that the page calls them),
`identifier` (hexadecimal), `fonts` (folder), `seconds`, `megabytes`. The answer is one line of JSON with `notes`, then
the PDF. Exit status 0; 3 if the PDF library cannot be loaded; 4 if the memory is used up; 1 for the rest, with the
reason as the last line of standard error.
"""

from __future__ import annotations

import gc
import json
import logging
import os
import sys
from base64 import b64decode
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from convert.exporters.pdf.fit import fitted
from convert.exporters.pdf.layout import Sheets
from convert.exporters.pdf.tags import mend

NO_LIBRARY = 3
NO_MEMORY = 4


COVERED = ".notdef glyph rendered"
"""What the library says once for every character that a type face lacks; `character_notes` says it once for all."""


class Notes(logging.Handler):
    """Collects what the libraries have to say, each thing once: nothing they warn of goes unheard."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.notes: list[dict[str, str]] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keeps a warning as a note."""
        note = {"code": "pdf-library", "message": f"The PDF library says: {record.getMessage()}"}
        if not record.getMessage().startswith(COVERED) and note not in self.notes:
            self.notes.append(note)


def limit(seconds: int, megabytes: int) -> None:
    """Bounds processor time and memory of this process, where the system can."""
    try:
        import resource  # noqa: PLC0415 - not every system has it
    except ImportError:  # Windows: the time limit of the parent process remains
        return
    for which, bound in ((resource.RLIMIT_CPU, seconds), (resource.RLIMIT_AS, megabytes << 20)):
        hard = resource.getrlimit(which)[1]
        soft = bound if hard == resource.RLIM_INFINITY else min(bound, hard)
        resource.setrlimit(which, (soft, hard))


def lift() -> None:
    """Takes the bound of memory away again: a process that has none left cannot say so."""
    try:
        import resource  # noqa: PLC0415 - not every system has it
    except ImportError:
        return
    hard = resource.getrlimit(resource.RLIMIT_AS)[1]
    resource.setrlimit(resource.RLIMIT_AS, (hard, hard))


def missing_characters(text: str, fonts: Path) -> str:
    """The characters that none of the type faces has, in order."""
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - under the limits, as all libraries here

    known: set[int] = set()
    for face in sorted(fonts.glob("*.ttf")):
        with TTFont(face, lazy=True) as font:
            known.update(font.getBestCmap())
    return "".join(sorted(c for c in set(text) if ord(c) not in known and c not in "\n\r\t"))


def character_notes(text: str, fonts: Path) -> list[dict[str, str]]:
    """A note if the PDF would show empty boxes."""
    missing = missing_characters(text, fonts)
    if not missing:
        return []
    listed = ", ".join(f"{c} (U+{ord(c):04X})" if c.isprintable() else f"U+{ord(c):04X}" for c in missing[:20])
    return [
        {
            "code": "missing-character",
            "message": "The PDF's type faces lack characters that the pattern uses; they print as empty boxes.",
            "found": listed,
            "hint": "Use other words or signs in their place.",
        }
    ]


def render(request: dict[str, Any]) -> tuple[bytes, list[dict[str, str]]]:
    """The PDF and the notes."""
    import weasyprint  # noqa: PLC0415 - under the limits

    class Sealed(weasyprint.urls.URLFetcher):  # type: ignore[misc] # the library has no types
        """Answers what the request brought along, and nothing else whatever its address."""

        def fetch(self, url: str, headers: Any = None) -> Any:  # noqa: ARG002 - the library's signature
            if url in request["assets"]:
                kind, data = request["assets"][url]
                return weasyprint.urls.URLFetcherResponse(url, b64decode(data), {"Content-Type": kind})
            raise weasyprint.urls.FatalURLFetchingError(f"the page asked for {url[:200]!r}")

    heard = Notes()
    for name in ("weasyprint", "fontTools"):
        logging.getLogger(name).addHandler(heard)
    options = {"pdf_variant": "pdf/ua-1", "pdf_identifier": bytes.fromhex(request["identifier"])}
    if request.get("attached"):
        options["attachments"] = [attachment(weasyprint, request)]

    languages = request.get("languages", {})
    sheets = Sheets(request["html"], Sealed(allowed_protocols=set(), fail_on_errors=True), options)
    rendered = fitted(sheets.laid_out, tuple(languages))
    data = rendered.write_pdf(finisher=lambda document, pdf: mend(document, pdf, languages), **options)
    return data, heard.notes


def attachment(library: Any, request: dict[str, Any]) -> Any:
    """The neutral document as a file inside the PDF, dated like the PDF itself."""
    name, text = request["attached"]
    moment = datetime.fromtimestamp(request["epoch"], UTC)
    return library.Attachment(
        string=text.encode("utf-8"),
        name=name,
        description="This pattern as data",
        relationship="Source",
        created=moment,
        modified=moment,
    )


def main() -> int:
    """Runs one request, or with `--serve` one after another; the exit status."""
    # Nearly all that is made for a PDF is in use to its end. To look for what is not takes a tenth of the time, and
    # frees one part in fifty of the memory.
    gc.disable()
    if "--serve" in sys.argv[1:]:
        return serve()
    request = json.load(sys.stdin.buffer)
    limit(request["seconds"], request["megabytes"])
    status, answer, reason = answer_to(request)
    sys.stderr.write(reason)
    sys.stdout.buffer.write(answer)
    return status


def answer_to(request: dict[str, Any]) -> tuple[int, bytes, str]:
    """Exit status, answer and reason of one request."""
    loaded = False
    try:
        import weasyprint  # noqa: F401, PLC0415 - under the limits; here only whether it loads

        loaded = True
        data, notes = render(request)
        notes += character_notes(request["html"], Path(request["fonts"]))
    except BaseException as error:  # noqa: BLE001 - the library's fatal errors are no Exceptions
        used_up = isinstance(error, MemoryError) or _memory_is_used_up(request["megabytes"])
        lift()
        if used_up:
            return NO_MEMORY, b"", ""
        if not loaded and isinstance(error, ImportError | OSError):
            return NO_LIBRARY, b"", _line(f"{error}")
        return 1, b"", _line(f"{type(error).__name__}: {error}")
    lift()
    return 0, json.dumps({"notes": notes}).encode("utf-8") + b"\n" + data, ""


ROOM = 96
"""Megabytes that one thread and its heap ask for at once: a library that found less left gives up."""


def _memory_is_used_up(megabytes: int) -> bool:
    """Whether next to none was left at some time. Libraries in C do not always say that this is why they failed."""
    try:
        told = Path("/proc/self/status").read_text(encoding="ascii", errors="replace")
        peak = int(told.partition("VmPeak:")[2].split()[0]) >> 10
    except (OSError, ValueError, IndexError, MemoryError):  # a system that does not tell, or none left for asking
        try:
            bytearray(ROOM << 20)
        except MemoryError:
            return True
        return False
    return peak > megabytes - ROOM


def _line(reason: str) -> str:
    return reason.replace("\n", " ") + "\n"


def serve() -> int:
    """Answers requests until standard input ends. The library is loaded once; each request runs in a copy of all.

    So every request has limits of its own, and nothing that one leaves behind reaches another. A request is its length
    in bytes on a line, then its JSON. An answer is a line of JSON with `status`, `reason` and `bytes`, then the bytes.
    """
    import weasyprint  # noqa: PLC0415 - once for all requests

    weasyprint.HTML(string="<p>1</p>", url_fetcher=None).render()
    while size := sys.stdin.buffer.readline():
        request = json.loads(sys.stdin.buffer.read(int(size)))
        status, reason, answer = _in_a_copy(request)
        head = json.dumps({"status": status, "reason": reason, "bytes": len(answer)})
        sys.stdout.buffer.write(head.encode("utf-8") + b"\n" + answer)
        sys.stdout.buffer.flush()
    return 0


def _in_a_copy(request: dict[str, Any]) -> tuple[int, str, bytes]:
    reading, writing = os.pipe()
    copy = os.fork()
    if copy == 0:
        os.close(reading)
        os.environ["SOURCE_DATE_EPOCH"] = str(request["epoch"])
        limit(request["seconds"], request["megabytes"])
        status, answer, reason = answer_to(request)
        with os.fdopen(writing, "wb") as pipe:
            pipe.write(json.dumps(reason).encode("utf-8") + b"\n" + answer)
        os._exit(status)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        said = pipe.read()
    status = os.waitstatus_to_exitcode(os.waitpid(copy, 0)[1])
    why, _, answer = said.partition(b"\n")
    return status, json.loads(why) if why else "", answer


if __name__ == "__main__":
    raise SystemExit(main())
