"""How well a folder of patterns is read and worked, as figures: a report to learn from, never a judgement.

Texts of a collection may begin with header lines of the form `# key: value`. They are no part of the pattern;
`# terms: US` and `# terms: UK` say which terms it is written in.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from convert.candidates import holds_pattern
from convert.decode import decode
from convert.document.read import ReadOptions
from convert.document.records import Document, TermSystem
from convert.document.steps import Verbatim
from convert.document.walking import unread
from convert.errors import LimitExceeded, PatternError
from convert.fabric.results import Proof, RowProof
from convert.files import PatternFile, find_files, read_bytes
from convert.findings import Finding, Severity, sorted_findings
from convert.pipeline import Checked, check_source
from convert.source import Source
from convert.surveyed import Figures, Kept, Surveyed
from convert.terms.naming import write_prose

_HEADER = re.compile(r"#[ \t]*([\w-]+)[ \t]*:[ \t]*(.*?)\s*")


def survey_folder(name: str, terms: TermSystem | None = None) -> Iterator[Surveyed]:
    """Every pattern of a folder (or the one file of this name), in the order of their names.

    `terms` is the system of texts that say nothing of it, in a header line or otherwise. Texts in which no row is
    found are told like the rest, other files without a row passed over. Raises `UnreadableInput` where the folder
    cannot be read.
    """
    for file in find_files(name):
        surveyed = _survey_file(file, terms)
        if surveyed is not None:
            yield surveyed


def without_header(text: str) -> tuple[str, dict[str, str]]:
    """The text with its header lines emptied, so that line numbers stay, and what they say by key.

    >>> without_header("# terms: UK\\n# kind: doily\\n\\nDoily\\n")
    ('\\n\\n\\nDoily\\n', {'terms': 'UK', 'kind': 'doily'})
    """
    said: dict[str, str] = {}
    lines = text.split("\n")
    for number, line in enumerate(lines):
        match = _HEADER.fullmatch(line)
        if match is None:
            break
        said[match[1].casefold()] = match[2]
        lines[number] = ""
    return "\n".join(lines), said


def _survey_file(file: PatternFile, terms: TermSystem | None) -> Surveyed | None:
    name = str(file.path)
    try:
        source, found = decode(name, read_bytes(file.path), file.kind or "text")
        text, header = without_header(source.text) if file.kind == "text" else (source.text, {})
        if not (file.named or file.kind == "text" or holds_pattern(file.kind, text)):
            return None
        given = {"us": TermSystem.US, "uk": TermSystem.UK}.get(header.get("terms", "").casefold(), terms)
        checked = check_source(Source(name, text), file.kind or "text", ReadOptions(given))
        return _surveyed(checked, found)
    except (PatternError, RecursionError, MemoryError) as error:
        return _unread(name, error)
    except Exception as error:
        error.add_note(f"while {name} was surveyed")
        raise


def _unread(name: str, error: BaseException) -> Surveyed:
    code = (
        "unreadable-input"
        if isinstance(error, PatternError) and not isinstance(error, LimitExceeded)
        else "limit-exceeded"
    )
    finding = Finding(code, Severity.ERROR, str(error) or "This is nested too deeply or too large to be worked out.")
    return Surveyed(name, "", Figures(files=1, unreadable=1), (finding,))


def _surveyed(checked: Checked, found: Sequence[Finding]) -> Surveyed:
    name, findings = checked.source.name, sorted_findings((*found, *checked.findings))
    if checked.document is None or checked.proof is None:
        return Surveyed(name, "", Figures(files=1, unreadable=1), findings)
    rows = tuple(proof.row for proof in checked.proof.rows)
    kept = tuple(
        Kept(" ".join(write_prose(step.words, checked.document.written, checked.document.specials).split()), step.span)
        for step in _unread_steps(checked.document)
    )
    return Surveyed(name, checked.document.written.value, _figures(checked.proof), findings, rows, kept)


def _figures(proof: Proof) -> Figures:
    figures = Figures(1, len(proof.rows), proof.understood.clauses, proof.understood.verbatim_clauses)
    agreed = [_agrees(row) for row in proof.rows]
    return replace(
        figures,
        executed=sum(1 for row in proof.rows if _executed(row)),
        proved=sum(1 for row in proof.rows if _executed(row) and all(size.proved for size in row.sizes)),
        open=sum(1 for row in proof.rows if _executed(row) and any(size.chains or size.turns for size in row.sizes)),
        agreeing=agreed.count("yes"),
        disagreeing=agreed.count("no"),
        untold=agreed.count("untold"),
    )


def _executed(row: RowProof) -> bool:
    """Whether it is known what the row makes in every size; one that does not work it is no bar."""
    return all(size.made is not None or size.proved for size in row.sizes)


def _agrees(row: RowProof) -> str:
    stating = [size.agrees for size in row.sizes if size.stated]
    if not stating:
        return "unstated"
    if False in stating:
        return "no"
    return "untold" if None in stating else "yes"


def _unread_steps(document: Document) -> Iterator[Verbatim]:
    for part in document.parts:
        for row in part.rows:
            yield from unread(row.steps)
    for special in document.specials:
        yield from unread(special.steps)
