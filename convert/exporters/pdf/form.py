"""The pattern as a PDF to print: tagged, with bookmarks and page numbers, the same bytes every time.

The PDF library runs in a child process with a limit of time and of memory, our type faces alone, and nothing to fetch.
"""

from __future__ import annotations

import json
import subprocess
import sys
from base64 import b64encode
from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime, time
from enum import StrEnum
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from types import MappingProxyType
from typing import Any
from xml.sax.saxutils import escape

from msgspec import Struct, field
from msgspec.structs import replace

import convert
from convert.document.records import Document, TermSystem
from convert.errors import OutputRefused
from convert.exporters.brand import HOUSE, Accents, accents_of, light_rule
from convert.exporters.html import render_sheet, tally
from convert.exporters.page.build import page_editions, unknown_cautions
from convert.exporters.page.edition import Manner
from convert.exporters.page.legend import language
from convert.exporters.photos import EMPTY, Album
from convert.exporters.styles import style_of
from convert.exporters.written import WrittenFile
from convert.fabric.results import Proof
from convert.findings import Finding, Severity
from convert.grader.results import Grading
from convert.trade.tables import folder

UNDATED = 315_532_800
"""Seconds since 1970 that stand for the time of a pattern without a date: the first day of 1980."""


PANGO = (
    "It needs Pango. On Debian or Ubuntu: apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0; "
    "on macOS: brew install pango."
)


class Paper(StrEnum):
    """The sheet that the pattern is printed on."""

    A4 = "A4"
    LETTER = "letter"


class Look(StrEnum):
    """For whom and for which printer the sheets are set."""

    USUAL = "usual"
    LARGE = "large"
    """Large print: 18 point, one column, counts below their rows."""
    LOW_INK = "low-ink"
    """Black on white without panels, smaller and closer."""


class PdfOptions(Struct, frozen=True):
    """How the PDF is written."""

    system: TermSystem | None = None
    """The term system of the edition; None: the author's own."""
    size: str | None = None
    """Id of the one size shown; None: all sizes."""
    paper: Paper | None = None
    """None: Letter for a US edition, A4 for a UK edition."""
    both: bool = False
    """Both term systems, one after the other, the one in `system` first."""
    full_words: bool = False
    """Every abbreviation in full."""
    look: Look = Look.USUAL
    album: Album = EMPTY
    """The author's pictures, as far as they are to be had."""
    accent: str = ""
    """The designer's own colour, for the strokes under the title. `write_pdf` sets it from the document."""
    attached: tuple[str, str] | None = None
    """A file that travels inside the PDF, the neutral document: its name and its text."""
    epoch: int | None = None
    """Seconds since 1970 that the file gives as its time; None: the date of the pattern."""
    seconds: int = 60
    """Longest time that the rendering may take."""
    megabytes: int = 1536
    """Most memory that the rendering may use."""
    environment: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """Variables that the system needs to find its libraries; nothing else reaches the rendering."""


def write_pdf(
    document: Document,
    grading: Grading | None,
    proof: Proof | None,
    options: PdfOptions = PdfOptions(),
) -> WrittenFile:
    """The PDF. Raises OutputRefused where it cannot be made, with the reason and what to do."""
    return render_with(render_pdf, document, grading, proof, options)


Render = Callable[[str, int, PdfOptions, Mapping[str, str]], tuple[bytes, tuple[Finding, ...]]]
"""What makes a PDF of a page: `render_pdf`, or a pool of workers."""


def render_with(
    render: Render, document: Document, grading: Grading | None, proof: Proof | None, options: PdfOptions
) -> WrittenFile:
    """The PDF, made by the renderer given."""
    large = options.look is Look.LARGE
    manner = Manner(full_words=options.full_words, large=large, album=options.album)
    editions = page_editions(document, grading, proof, options.system, options.size, manner, both=options.both)
    paper = options.paper or (Paper.LETTER if editions[0].system is TermSystem.US else Paper.A4)
    accents, told = accents_of(document, screen=False)
    html = render_sheet(editions, sheet_style(paper, options.look, accents))
    epoch = options.epoch if options.epoch is not None else epoch_of(document)
    languages = {f"{one.manner.mark}top": language(one.system) for one in editions if len(editions) > 1}
    data, findings = render(html, epoch, replace(options, accent=accents.light), languages)
    return WrittenFile(data, unknown_cautions(document) + told + findings)


def sheet_style(paper: Paper, look: Look = Look.USUAL, accents: Accents = HOUSE) -> str:
    """The style sheet of the PDF."""
    sheets = {Look.USUAL: (), Look.LARGE: ("large",), Look.LOW_INK: ("low-ink",)}[look]
    themed = style_of("theme") + light_rule(accents)
    shorter = _LETTER if paper is Paper.LETTER else ""
    return themed + style_of("page", "sheet") + shorter + style_of(*sheets) + f"@page {{ size: {paper.value}; }}\n"


_LETTER = ":root { --picture: 78mm; }\n"
"""Letter is 18 mm shorter than A4: a picture takes the same share of the page."""


def epoch_of(document: Document) -> int:
    """The pattern's date as seconds since 1970.

    >>> epoch_of(Document("Scarf", "scarf", TermSystem.UK, date="2026-03-14"))
    1773446400
    """
    try:
        day = date.fromisoformat(document.date)
    except ValueError:
        return UNDATED
    return max(0, int(datetime.combine(day, time(), UTC).timestamp()))


def render_pdf(
    html: str,
    epoch: int,
    options: PdfOptions,
    languages: Mapping[str, str] = MappingProxyType({}),
) -> tuple[bytes, tuple[Finding, ...]]:
    """Renders a page in the child process. `languages` are those of the editions, by the anchors that they begin at.

    Raises OutputRefused where it fails, takes too long or needs too much memory.
    """
    request = request_of(html, epoch, options, languages)
    with TemporaryDirectory(prefix="tallyhook-") as name:
        room = Path(name)
        fonts = fonts_in(room)
        answer = _run(json.dumps(request | {"fonts": str(fonts)}), room, environment_of(room, fonts, options, epoch))
    if not answer.stdout or answer.returncode:
        raise refusal(answer.returncode, answer.stderr.decode("utf-8", "replace"), options)
    return taken_apart(answer.stdout)


def taken_apart(answer: bytes) -> tuple[bytes, tuple[Finding, ...]]:
    """The PDF and what the library had to say, out of a child's answer."""
    head, _, data = answer.partition(b"\n")
    return data, tuple(_finding(note) for note in json.loads(head)["notes"])


def request_of(html: str, epoch: int, options: PdfOptions, languages: Mapping[str, str]) -> dict[str, Any]:
    """All that a child needs for one PDF, apart from the folder of the type faces."""
    return {
        "html": html,
        "assets": _assets(options),
        "languages": dict(languages),
        "attached": options.attached,
        "epoch": epoch,
        "identifier": sha256(html.encode("utf-8")).hexdigest()[:32],
        "seconds": options.seconds,
        "megabytes": options.megabytes,
    }


def _assets(options: PdfOptions) -> dict[str, tuple[str, str]]:
    """Every picture that the page may call for, by name: its media type, and its content in base 64."""
    strokes = _tally(options.accent).encode("utf-8")
    pictures = {photo.asset: (photo.kind, photo.data) for photo in options.album.all}
    found = {"asset:tally.svg": ("image/svg+xml", strokes), **pictures}
    return {name: (kind, b64encode(data).decode("ascii")) for name, (kind, data) in found.items()}


def _tally(accent: str) -> str:
    return tally().replace('color="#74273f"', f'color="{accent}"') if accent else tally()


def _run(request: str, room: Path, environment: Mapping[str, str]) -> subprocess.CompletedProcess[bytes]:
    # -P: nothing in the folder that the command was started from can stand in for a module.
    command = [sys.executable, "-P", "-m", "convert.exporters.pdf.child"]
    seconds = json.loads(request)["seconds"]
    try:
        return subprocess.run(
            command,
            input=request.encode("utf-8"),
            capture_output=True,
            cwd=room,
            env=environment,
            timeout=seconds,
            check=False,
        )
    except subprocess.TimeoutExpired:
        raise too_long(seconds) from None


def too_long(seconds: int) -> OutputRefused:
    """What is said of a PDF that was given up."""
    return OutputRefused(
        f"The PDF took longer than {seconds} s and was given up.", hint="Write one size at a time, or HTML."
    )


def refusal(status: int, said: str, options: PdfOptions) -> OutputRefused:
    """What went wrong in the child, from its exit status and the last line that it left."""
    last = said.strip().rpartition("\n")[2][:300]
    if status == 3:
        return OutputRefused(f"The PDF library cannot be loaded: {last}", hint=PANGO)
    if status == 4 or last.startswith("MemoryError"):
        return OutputRefused(
            f"The PDF needs more than {options.megabytes} MB of memory.", hint="Write one size at a time, or HTML."
        )
    if status == -24:
        return too_long(options.seconds)
    if status < 0:  # libraries in C end the process where they cannot get memory, or a thread
        return OutputRefused(
            f"The PDF needs more than {options.megabytes} MB of memory, or its library failed (signal {-status}).",
            hint="Write one size at a time, or HTML.",
        )
    return OutputRefused(f"The PDF could not be made: {last or f'the renderer ended with status {status}'}")


def _finding(note: Mapping[str, Any]) -> Finding:
    return Finding(
        str(note["code"]),
        Severity.WARNING,
        str(note["message"]),
        found=str(note.get("found", "")),
        hint=str(note.get("hint", "")),
    )


def environment_of(room: Path, fonts: Path, options: PdfOptions, epoch: int = UNDATED) -> dict[str, str]:
    """All that the child knows of the world."""
    config = room / "fonts.conf"
    config.write_text(_FONTCONFIG.format(fonts=escape(str(fonts)), cache=escape(str(room / "cache"))), encoding="utf-8")
    return {
        **options.environment,
        "FONTCONFIG_FILE": str(config),
        "HOME": str(room),
        "LC_ALL": "C.UTF-8",
        "PYTHONPATH": str(Path(convert.__file__).parent.parent),
        "PYTHONHASHSEED": "0",
        "PYTHONDONTWRITEBYTECODE": "1",
        "SOURCE_DATE_EPOCH": str(epoch),
        "TMPDIR": str(room),
        "TZ": "UTC",
        "XDG_CACHE_HOME": str(room / "cache"),
    }


_FONTCONFIG = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>{fonts}</dir>
  <cachedir>{cache}</cachedir>
  <config><rescan><int>0</int></rescan></config>
</fontconfig>
"""


def fonts_in(room: Path) -> Path:
    """The folder of our type faces; a copy in `room` where the package is no plain folder."""
    kept = folder("shared").joinpath("fonts")
    if isinstance(kept, Path):
        return kept.resolve()
    copies = room / "fonts"
    copies.mkdir()
    for face in sorted(kept.iterdir(), key=lambda entry: entry.name):
        (copies / face.name).write_bytes(face.read_bytes())
    return copies
