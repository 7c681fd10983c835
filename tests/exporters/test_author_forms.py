"""The forms that authors write: reading what was written gives the same document, in either term system."""

from __future__ import annotations

import json

import commonmark  # type: ignore[import-untyped]  # it has no stubs
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.json_text import Plain
from convert.document.read import ReadOptions
from convert.document.records import Document, TermSystem
from convert.exporters import DATA_WRITERS, data_writer
from convert.exporters.markdown.text import escaped, heading, paragraph
from convert.exporters.yaml.text import yaml_text
from convert.findings import Severity
from convert.importers import reader
from convert.importers.markdown.text import plain_words
from convert.importers.yaml.data import load_yaml
from convert.source import Passage, Source
from tests.strategies import authored_documents

SLOW = pytest.mark.timeout(120)
systems = st.sampled_from(list(TermSystem))


def trip(document: Document, kind: str, system: TermSystem) -> Document:
    """The document written and read; the reading finds no fault of form."""
    written = data_writer(kind)(document, system).text
    read = reader(kind)(Source("a.txt", written), ReadOptions())
    assert [] == [f for f in read.findings if f.severity is Severity.ERROR and f.code != "terms-contradicted"]
    assert read.document is not None
    assert written == data_writer(kind)(read.document, system).text
    return read.document


@SLOW
@settings(max_examples=60)
@given(authored_documents(), systems)
def test_yaml_gives_the_same_document_back(document: Document, system: TermSystem) -> None:
    assert document == trip(document, "yaml", system)


@SLOW
@settings(max_examples=60)
@given(authored_documents(), systems)
def test_markdown_gives_the_same_document_back(document: Document, system: TermSystem) -> None:
    assert document == trip(document, "markdown", system)


@SLOW
@settings(max_examples=20)
@given(authored_documents(), systems, systems)
def test_there_and_back_through_every_form(document: Document, first: TermSystem, second: TermSystem) -> None:
    assert document == trip(trip(trip(document, "yaml", first), "markdown", second), "json", first)


texts = st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\0"), max_size=40)
plain_data: st.SearchStrategy[Plain] = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**15), 10**15) | texts,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4),
    max_leaves=15,
)


@given(st.dictionaries(texts, plain_data, min_size=1, max_size=4))
def test_yaml_text_means_the_same_here_and_to_another_loader(data: dict[str, Plain]) -> None:
    """Outside check: PyYAML's safe loader, which follows YAML 1.1 with all its surprises."""
    text = yaml_text(data)
    ours, findings = load_yaml(text)
    assert () == findings
    assert ours is not None
    assert data == ours.plain()
    numeric = [key for key in data if key.isascii() and key.isdigit()]
    if not numeric:
        assert json.dumps(data) == json.dumps(_keys_as_text(yaml.safe_load(text)))


def _keys_as_text(data: object) -> object:
    if isinstance(data, dict):
        return {str(key): _keys_as_text(value) for key, value in data.items()}
    return [_keys_as_text(item) for item in data] if isinstance(data, list) else data


marked = st.text(st.sampled_from("ab1 *_`<>&;#[]()!~|\\-+=.:\"'{}/@ "), max_size=30).map(
    lambda text: " ".join(text.split())
)


@given(marked)
def test_escaped_words_are_the_words_to_a_markdown_reader(text: str) -> None:
    """Outside check: the reference implementation of CommonMark in Python shows the words without markup."""
    root = commonmark.Parser().parse(paragraph(text))
    assert text == _shown(root)
    assert {"document", "paragraph", "text", "softbreak"} >= _kinds(root)
    assert text == _shown(commonmark.Parser().parse(heading(2, text)))
    assert text == plain_words(Passage(escaped(text))).text


def _shown(root: commonmark.node.Node) -> str:
    return "".join(
        node.literal for node, entering in root.walker() if entering and node.t in ("text", "code", "html_inline")
    )


def _kinds(root: commonmark.node.Node) -> set[str]:
    return {node.t for node, entering in root.walker() if entering}


def test_every_form_has_a_writer_and_a_reader() -> None:
    for kind in DATA_WRITERS:
        assert callable(data_writer(kind))
        assert callable(reader(kind))


@pytest.mark.parametrize("text", ["Sc in each st", "12 (14) sts", "Été", "(a) b", "-2 sts", "a_b"])
def test_ordinary_words_need_no_escape_at_the_start(text: str) -> None:
    assert paragraph(text).replace("\\_", "_") == text


@pytest.mark.parametrize("kind", ["markdown", "yaml"])
def test_authors_forms_say_what_pages_say(kind: str) -> None:
    """A part takes up its first yarn, a definition goes into the stitch indicated, slip stitches are counted."""
    typed = """
        Rush Basket
        US terms
        Yarn: Jute, 100 g = 90 m: A (straw) and B (moss)
        Special stitches
        Fan: 7 dc in st indicated.
        RIM
        Row 1: With A, ch 14, sl st in 2nd ch from hook, sl st in each ch across, turn. (13 sl sts)
        Row 2: Change to B, ch 1, sc in first st, sk next 2 sts, fan in next st, sk next 2 sts, sc in next st, turn.
    """
    read = reader("text")(Source("a.txt", "\n".join(line.strip() for line in typed.splitlines())), ReadOptions())
    assert read.document is not None
    text = data_writer(kind)(read.document, TermSystem.US).text.replace("*", "")
    assert ["With A, ch 14", "13 sl sts", "Change to B, ch 1", "7 dc in st indicated."] == [
        said for said in ("With A, ch 14", "13 sl sts", "Change to B, ch 1", "7 dc in st indicated.") if said in text
    ]
    assert "Change to A" not in text
    assert read.document == trip(read.document, kind, TermSystem.US)
