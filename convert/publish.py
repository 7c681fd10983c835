"""A checked pattern in one of its forms: pages for makers, or the document to read back."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

from msgspec import Struct, field
from msgspec.structs import replace

from convert.arguments import FORMATS, WrongUsage, nearest
from convert.document.codec import CodecError
from convert.document.each_row import each_row
from convert.document.one_size import one_size
from convert.document.records import Document, TermSystem
from convert.errors import OutputRefused
from convert.exporters import data_writer
from convert.exporters.estimates import with_estimates
from convert.exporters.written import Written
from convert.findings import Finding
from convert.grader.values import values_of
from convert.pipeline import Checked, check_document

PAGES = ("html", "pdf")
"""The forms that are made for makers, and not read back."""

_ENDINGS = {
    ".md": "markdown",
    ".markdown": "markdown",
    ".html": "html",
    ".htm": "html",
    ".pdf": "pdf",
    ".json": "json",
    ".yaml": "yaml",
    ".yml": "yaml",
}
_LIBRARY_PATHS = ("PATH", "LD_LIBRARY_PATH", "DYLD_LIBRARY_PATH", "DYLD_FALLBACK_LIBRARY_PATH", "SYSTEMROOT")
"""What the PDF library may need of the environment to be found; nothing else is handed on."""


class Edition(Struct, frozen=True):
    """What is to be written."""

    form: str
    system: TermSystem | None = None
    """None: the author's own."""
    size: str | None = None
    """Id of one size; None: all."""
    paper: str = ""
    """Empty: by the term system."""
    both: bool = False
    """Both term systems in one page, the one in `system` (or the author's own) first."""
    full_words: bool = False
    """Abbreviations in full."""
    each_row: bool = False
    """Every row on a line of its own: row ranges and, in one size, "Rep Rnds 3 and 4 times more" written out."""
    with_data: bool = False
    """The neutral document travels along: beside a web page, inside a PDF."""
    name: str = ""
    """The name of the file without its ending, for what lies beside it."""
    url: str = ""
    other_url: str = ""
    """Addresses on the web of the page, and of the same pattern in the other terms."""
    look: str = "usual"
    """Of the PDF: usual, large or low-ink."""
    environment: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    files: Mapping[str, bytes] = field(default_factory=lambda: MappingProxyType({}))
    """The content of the pattern's pictures, by the names that it gives them."""

    @property
    def is_page(self) -> bool:
        """Whether it is a page for makers."""
        return self.form in PAGES


class Published(Struct, frozen=True):
    """The bytes of an edition, and what could not be written as the author meant it."""

    data: bytes
    findings: tuple[Finding, ...] = ()
    beside: bytes = b""
    """The neutral document, to lie beside a page under its name with the ending .json; empty if not asked for."""
    pictures: Mapping[str, bytes] = field(default_factory=lambda: MappingProxyType({}))
    """Copies of the pictures that a document names, to lie in the folder of the output; by their names there."""


def form_of(output: str) -> str:
    """The form that the name of the output tells. Raises `WrongUsage` if it tells none.

    >>> form_of("build/hat.PDF")
    'pdf'
    """
    form = _ENDINGS.get(Path(output).suffix.lower())
    if form is None:
        said = "standard output" if output == "-" else f"the name {output}"
        raise WrongUsage(f"{said} does not tell the form", hint=f"Say it with --to {', '.join(FORMATS[:-1])} or yaml.")
    return form


def publish(checked: Checked, edition: Edition) -> Published:
    """The edition of a pattern that was read. Raises `OutputRefused` where it cannot be made."""
    document = checked.document
    if document is None:
        raise OutputRefused("There is no pattern to write.")
    size = _size(document, edition)
    travelling = data_writer("json")(document, None).text if edition.with_data and edition.is_page else ""
    if edition.form not in ("json", "yaml") and checked.written is not None:
        # Whoever works from a page or reads the Markdown needs the rows, not the schedule that they follow from.
        document = checked.written
        checked = replace(checked, document=document)
    if edition.is_page or checked.wished:
        document = with_estimates(document, checked.measured)
        checked = replace(checked, document=document)
    if edition.each_row:
        checked = _each_row(checked, document, size)
        document = checked.document or document
    if edition.form == "html":
        return _html(checked, document, edition, size, travelling)
    if edition.form == "pdf":
        return _pdf(checked, document, edition, size, travelling)
    if edition.both or edition.full_words or edition.look != "usual":
        raise OutputRefused(
            f"The form {edition.form} is read back, so it has one term system and the usual words.",
            hint="--terms both, --words and --look are for html and pdf.",
        )
    try:
        written = _data(checked, document, edition, size)
    except CodecError as error:
        raise OutputRefused(f"The pattern has no {edition.form} form: {error}.") from error
    copies, told = _copies(document, edition)
    return Published(written.text.encode("utf-8"), written.findings + told, pictures=copies)


def _copies(document: Document, edition: Edition) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """The pictures that the document names, so that it can be read where it will lie."""
    if not edition.files:
        return {}, ()
    from convert.exporters.photos import copies_of  # noqa: PLC0415 - for patterns with pictures alone

    return copies_of(document, edition.files)


def _data(checked: Checked, document: Document, edition: Edition, size: str | None) -> Written:
    """The document in a form that is read back, in all sizes or reduced to one."""
    grading = checked.grading
    index = document.size_index(size) if size is not None else None
    if index is not None:
        document = one_size(document, index, values_of(document, grading) if grading else {})
        grading = replace(grading, sizes=grading.sizes[index : index + 1]) if grading else None
    if edition.form != "markdown":
        return data_writer(edition.form)(document, edition.system)
    from convert.exporters.markdown.form import write_markdown  # noqa: PLC0415 - brings the words of the page

    return write_markdown(document, edition.system, grading=grading)


def _each_row(checked: Checked, document: Document, size: str | None) -> Checked:
    """The pattern with every row on a line of its own, executed anew so that each has its own count."""
    index = document.size_index(size) if size is not None else None
    values = values_of(document, checked.grading) if checked.grading else {}
    longer = each_row(document, index, values)
    grading, proof = check_document(longer)
    return replace(checked, document=longer, grading=grading, proof=proof)


def _html(checked: Checked, document: Document, edition: Edition, size: str | None, travelling: str) -> Published:
    from urllib.parse import quote  # noqa: PLC0415 - for this form alone

    from convert.exporters.html import HtmlOptions, write_html  # noqa: PLC0415 - brings the template library
    from convert.exporters.page.web import Address  # noqa: PLC0415 - likewise
    from convert.exporters.photos import album_of  # noqa: PLC0415 - likewise

    beside = travelling.encode("utf-8")
    address = Address(edition.url, edition.other_url, quote(f"{edition.name}.json") if beside else "")
    album, told = album_of(document, edition.files)
    options = HtmlOptions(
        edition.system, size, both=edition.both, full_words=edition.full_words, address=address, album=album
    )
    written = write_html(document, checked.grading, checked.proof, options)
    copies, _ = _copies(document, edition) if beside else ({}, ())
    return Published(written.text.encode("utf-8"), told + written.findings, beside, copies)


def _pdf(checked: Checked, document: Document, edition: Edition, size: str | None, travelling: str) -> Published:
    from convert.exporters.pdf.form import Look, Paper, PdfOptions, write_pdf  # noqa: PLC0415 - brings the template library
    from convert.exporters.photos import album_of  # noqa: PLC0415 - for pages alone

    album, told = album_of(document, edition.files)
    paper = {"a4": Paper.A4, "letter": Paper.LETTER}.get(edition.paper)
    needed = {key: edition.environment[key] for key in _LIBRARY_PATHS if key in edition.environment}
    options = PdfOptions(
        edition.system,
        size,
        paper,
        edition.both,
        edition.full_words,
        Look(edition.look),
        album,
        attached=(f"{document.id}.json", travelling) if travelling else None,
        epoch=_epoch(edition.environment),
        environment=needed,
    )
    written = write_pdf(document, checked.grading, checked.proof, options)
    return Published(written.data, told + written.findings)


def _size(document: Document, edition: Edition) -> str | None:
    """The id of the one size asked for, as the document writes it; None for all."""
    if edition.size is None:
        return None
    index = document.size_index(edition.size)
    if index is not None:
        return document.sizes[index].id
    ids = [size.id for size in document.sizes]
    if not ids:
        raise WrongUsage("the pattern has one size only", hint="Leave --size out.")
    hint = nearest(edition.size, ids) or f"Sizes: {', '.join(ids)}, or all"
    raise WrongUsage(f'the pattern has no size "{edition.size}"', hint=hint)


def _epoch(environment: Mapping[str, str]) -> int | None:
    """The time that builds ask for in SOURCE_DATE_EPOCH (reproducible-builds.org); None if they do not.

    >>> _epoch({"SOURCE_DATE_EPOCH": "0"}), _epoch({})
    (0, None)
    """
    said = environment.get("SOURCE_DATE_EPOCH", "")
    if not said:
        return None
    if not said.isascii() or not said.isdigit() or len(said) > 12:
        raise WrongUsage(f'SOURCE_DATE_EPOCH is "{said}", which is no number of seconds')
    return int(said)
