"""The page: valid, accessible, sealed against whatever stands in the pattern."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from base64 import b64encode
from collections.abc import Callable, Iterator
from decimal import Decimal
from enum import Enum
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

import html5lib
import pytest
from msgspec import Struct
from msgspec.structs import replace

from convert.document.extra import Extra
from convert.document.prose import Term
from convert.document.records import Document, Section, TermSystem
from convert.document.steps import Verbatim
from convert.exporters.html import HtmlOptions, keep_script, write_html
from convert.exporters.page.web import Address
from convert.source import Span
from convert.trade.tables import read_data
from tests.exporters.samples import GRADING, MERE, PROOF, rounds

ROOT = Path(__file__).parent.parent.parent
EXPECTED = Path(__file__).parent / "expected"
CHECKER = ROOT / "build/tools/node_modules/vnu-jar/build/dist/vnu.jar"
HOSTILE = "\"'><script>alert(1)</script><img src=x onerror=alert(1)>&{{7*7}}</style></title>"


def html(document: Document = MERE, **options: Any) -> str:
    return write_html(document, GRADING, PROOF, HtmlOptions(**options)).text


def tree(text: str) -> Element:
    """The page as a strict parser reads it: any error of form is an exception."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)


@pytest.mark.parametrize("system", TermSystem)
@pytest.mark.parametrize("size", [None, "m"])
def test_a_strict_parser_has_nothing_to_say(system, size):
    page = tree(html(system=system, size=size))
    assert {TermSystem.US: "en-US", TermSystem.UK: "en-GB"}[system] == page.get("lang")
    assert "Mere Side Cap" == page.findtext("head/title")


@pytest.mark.parametrize("system", TermSystem)
def test_the_page_is_as_expected(system: TermSystem, expect: Callable[[Path, str], None]):
    """The whole page, type faces left out. After a change made on purpose, run with --accept and read what changed."""
    expect(EXPECTED / f"mere-side-cap.{system}.html", html(system=system, faces=False))


def test_nothing_is_fetched_and_our_script_alone_runs():
    text = html()
    page = tree(text)
    assert ['https://schema.org"'] == re.findall(r"https?://[^ ]{11}", text), (
        "the name of a vocabulary, fetched by none"
    )
    assert [] == re.findall(r"url\((?!data:font/woff2;base64,)", text)
    assert [keep_script()] == [e.text for e in page.iter("script") if e.get("type") != "application/ld+json"]
    assert [] == [e.tag for e in page.iter() if e.tag in {"link", "img", "iframe", "object", "embed", "base", "form"}]
    assert [] == [name for e in page.iter() for name in e.attrib if name.startswith("on") or name in {"style", "src"}]


def test_the_policy_admits_our_style_sheet_and_script_alone():
    page = tree(html())
    policy = next(m.get("content") for m in page.iter("meta") if m.get("http-equiv") == "Content-Security-Policy")
    style = page.findtext("head/style") or ""
    script = page.findtext("body/script") or ""
    digests = [b64encode(sha256(text.encode()).digest()).decode() for text in (style, script)]
    assert (
        f"default-src 'none'; style-src 'sha256-{digests[0]}'; script-src 'sha256-{digests[1]}'; "
        "font-src data:; base-uri 'none'; form-action 'none'"
    ) == policy


def test_the_page_stays_small():
    assert len(html().encode()) < 250_000
    assert len(html(faces=False).encode()) < 40_000


def test_landmarks_and_headings_are_in_order():
    page = tree(html())
    body = page.find("body")
    assert body is not None
    assert ["a", "header", "nav", "main", "footer", "script"] == [child.tag for child in body]
    levels = [int(e.tag[1]) for e in page.iter() if re.fullmatch(r"h[1-6]", str(e.tag))]
    assert [1] + [2] * (len(levels) - 1) == levels
    for section in page.iter("section"):
        heading = next(section.iter("h2"))
        assert section.get("aria-labelledby") == heading.get("id")


def test_links_within_the_page_lead_somewhere():
    page = tree(html())
    ids = [e.get("id") for e in page.iter() if e.get("id")]
    assert len(set(ids)) == len(ids)
    targets = {(a.get("href") or "").removeprefix("#") for a in page.iter("a")}
    assert targets
    assert targets <= set(ids)


def test_table_headings_have_a_scope_and_boxes_a_name():
    page = tree(html())
    assert {"col", "row"} == {th.get("scope") for th in page.iter("th")}
    boxes = [box.get("aria-label") for box in page.iter("input") if box.get("type") == "checkbox"]
    assert ["Done: Rnd 1", "Done: Rnd 2"] == boxes[:2]
    assert all(boxes)


def test_counts_stand_in_one_place_whether_stated_or_computed():
    rows = [row.findall("p") for row in tree(html()).iter("li") if row.get("class") == "row"]
    stated, _, computed = rows[:3]
    assert ["label", "work", "count narrow"] == [p.get("class") for p in stated]
    assert ["label", "work", "count middle"] == [p.get("class") for p in computed]
    assert "12 dc" == "".join(stated[-1].itertext())
    assert "23 (27, 31) sc" == "".join(computed[-1].itertext())


def test_a_reader_can_have_the_own_size_alone():
    """One choice for every size and one for all; each has its rule, and every list of numbers its parts."""
    page = tree(html())
    choices = [box.get("id") for box in page.iter("input") if box.get("type") == "radio"]
    assert ["size-all", "size-0", "size-1", "size-2"] == choices
    style = page.findtext("head/style") or ""
    assert all(f":root:has(#{choice}:checked) .n:not(.n{choice[-1]})" in style for choice in choices[1:])
    parts = [(span.get("class"), span.text) for span in page.iter("span") if (span.get("class") or "").startswith("n ")]
    assert [("n n0", "23"), ("n n1", "27"), ("n n2", "31")] == parts[parts.index(("n n0", "23")) :][:3]
    found = [e.get("class") for e in page.iter("li") if "some" in (e.get("class") or "")]
    assert ["gap some s0", "row some s1 s2"] == found


def test_without_the_other_sizes_a_list_leaves_one_number():
    """What the style sheet hides, blanks and brackets included, is all that goes."""
    (row,) = [e for e in tree(html()).iter("li") if "23 (27, 31)" in "".join(e.itertext())]
    count = row.findall("p")[-1]
    hidden = [e for e in count.iter("span") if (e.get("class") or "") in {"n n0", "n n2", "list"}]
    for element in hidden:
        element.text = ""
    assert "27 sc" == "".join(count.itertext())


# https://schema.org/HowTo and the types it draws on, as published (version 29): the properties that we use.
SCHEMA_ORG = {
    "HowTo": {"name", "description", "inLanguage", "url", "author", "datePublished", "version", "copyrightNotice"}
    | {"educationalLevel", "supply", "tool", "step"},
    "Person": {"name"},
    "HowToSupply": {"name"},
    "HowToTool": {"name"},
    "HowToSection": {"name", "position"},
}


def check_facts(thing: dict[str, Any]) -> None:
    assert set(thing) - {"@type", "@context"} <= SCHEMA_ORG[thing["@type"]]
    for value in thing.values():
        for inner in value if isinstance(value, list) else [value]:
            if isinstance(inner, dict):
                check_facts(inner)


def facts_of(text: str) -> dict[str, Any]:
    (found,) = [e.text for e in tree(text).iter("script") if e.get("type") == "application/ld+json"]
    facts: dict[str, Any] = json.loads(found or "")
    return facts


def test_the_facts_for_machines_are_those_of_the_page():
    facts = facts_of(html(system=TermSystem.UK))
    check_facts(facts)
    assert ("HowTo", "Mere Side Cap", "en-GB") == (facts["@type"], facts["name"], facts["inLanguage"])
    assert "A close cap in treble crochets, worked from the crown down." == facts["description"]
    assert ["4 mm (old UK 8)"] == [tool["name"] for tool in facts["tool"]]
    assert ["Crown", "Ear flap"] == [section["name"] for section in facts["step"]]


def test_the_facts_for_machines_hold_what_is_hostile_as_text():
    assert HOSTILE == facts_of(html(replace(MERE, title=HOSTILE)))["name"]


def test_addresses_are_told_where_the_publisher_says_them():
    address = Address("https://knit.example/us/cap.html", "https://knit.example/uk/cap.html", "cap.json")
    page = tree(html(address=address))
    links = [{name: value for name, value in link.attrib.items() if name != "title"} for link in page.iter("link")]
    assert [
        {"rel": "canonical", "href": "https://knit.example/us/cap.html"},
        {"rel": "alternate", "hreflang": "en-GB", "href": "https://knit.example/uk/cap.html"},
        {"rel": "alternate", "hreflang": "en-US", "href": "https://knit.example/us/cap.html"},
        {"rel": "alternate", "type": "application/json", "href": "cap.json"},
    ] == links
    properties = {m.get("property"): m.get("content") for m in page.iter("meta") if m.get("property")}
    assert ("Mere Side Cap", "en_US") == (properties["og:title"], properties["og:locale"])
    assert "https://knit.example/us/cap.html" == properties["og:url"]


def test_both_terms_on_one_page():
    """Each edition in its own language with its own anchors; the choice needs no script."""
    page = tree(html(both=True))
    editions = [e for e in page.iter("div") if "edition" in (e.get("class") or "")]
    assert ["en-US", "en-GB"] == [e.get("lang") for e in editions]
    assert ["terms-en-US", "terms-en-GB"] == [e.get("id") for e in page.iter("input") if e.get("name") == "terms"]
    assert ["12 dc", "12 tr"] == ["".join(next(count(e)).itertext()) for e in editions]
    ids = [e.get("id") for e in page.iter() if e.get("id")]
    assert len(set(ids)) == len(ids)
    style = page.findtext("head/style") or ""
    assert ":root:has(#terms-en-GB:checked) .edition:not(.in-en-GB) { display: none; }" in style
    names = [[box.get("name") for box in e.iter("input")] for e in editions]
    assert names[0] == names[1], "a row ticked off in one edition is ticked off in the other"


def count(page: Element) -> Iterator[Element]:
    return (p for p in page.iter("p") if "count" in (p.get("class") or ""))


def test_repeats_are_grouped():
    page = tree(html())
    groups = ["".join(e.itertext()) for e in page.iter("span") if e.get("class") == "again"]
    assert "*2 dc in next st; rep from *" in groups


def test_the_long_form_has_no_abbreviations():
    page = tree(html(full_words=True))
    assert [] == list(page.iter("abbr"))
    text = " ".join("".join(page.itertext()).split())
    assert "Round 2" in text
    assert "24 double crochets" in text
    assert [] == re.findall(r"\b(?:dc|sts?|sps?|ch|Rnds?|rep)\b", text.partition("Crown")[2].partition("(() =>")[0])


@pytest.mark.parametrize("document", [MERE, replace(MERE, sizes=MERE.sizes[:1], parts=MERE.parts[:0])])
def test_one_size_leaves_nothing_to_choose(document):
    page = tree(html(document, size="s"))
    assert [] == [box for box in page.iter("input") if box.get("type") == "radio"]
    assert [] == [span for span in page.iter("span") if (span.get("class") or "").startswith("n ")]


# ---- what the pattern may hold

REFERENCES = {"stitch", "of", "by", "id", "unit", "key", "extra", "spans", "said", "format", "part", "number", "text"}
"""Fields that name something elsewhere, or that no page shows: what is written there is checked when it is read."""


def places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every text that an author may write freely."""
    if isinstance(value, Enum | Span | Decimal | Term):
        return
    if isinstance(value, str):
        yield path
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            yield from places(item, (*path, index))
    elif isinstance(value, Struct):
        for name in value.__struct_fields__:
            if name not in REFERENCES:
                yield from places(getattr(value, name), (*path, name))


def planted(value: Any, path: tuple[Any, ...], text: str) -> Any:
    """The document with one text replaced."""
    if not path:
        return text
    step, *rest = path
    if isinstance(step, str):
        return replace(value, **{step: planted(getattr(value, step), tuple(rest), text)})
    return (*value[:step], planted(value[step], tuple(rest), text), *value[step + 1 :])


WITH_VERBATIM = replace(
    MERE,
    parts=(*MERE.parts, replace(MERE.parts[1], id="last", items=(rounds(9, Verbatim(("as the mood takes you",))),))),
    sections=(*MERE.sections, Section("More", (("text",),))),
    extra=(Extra("x-note", '"kept"'),),
)


@cache
def vocabulary() -> tuple[set[str], set[str]]:
    """The elements and attributes of the page when nothing hostile stands in the pattern."""
    clean = tree(html(WITH_VERBATIM, faces=False))
    return {str(e.tag) for e in clean.iter()}, {name for e in clean.iter() for name in e.attrib}


def test_every_text_of_the_sample_is_planted():
    assert len(list(places(WITH_VERBATIM))) > 40


@pytest.mark.parametrize("path", list(places(WITH_VERBATIM)), ids=lambda path: ".".join(map(str, path)))
def test_a_script_in_any_field_stays_text(path):
    """The text is shown as it stands (or not at all), and no element, attribute or entity comes of it."""
    text = html(planted(WITH_VERBATIM, path, HOSTILE), faces=False)
    page = tree(text)
    assert 2 == text.count("<script")
    assert "<img" not in text
    tags, attributes = vocabulary()
    assert {str(e.tag) for e in page.iter()} <= tags
    assert {name for e in page.iter() for name in e.attrib} <= attributes
    assert "49" not in "".join(page.itertext()), "the text was taken for a template"


def test_a_hostile_title_is_a_title():
    page = tree(html(replace(MERE, title=HOSTILE)))
    assert HOSTILE == page.findtext("head/title")
    assert HOSTILE == page.findtext("body/header/h1")


def test_verbatim_words_are_shown_as_they_stood():
    assert "as the mood takes you" in "".join(tree(html(WITH_VERBATIM)).itertext()).casefold()


# ---- colours

CONTRAST = [("--ink", 7), ("--ink-soft", 4.5), ("--accent", 4.5)]


def colours(sheet: str) -> dict[str, str]:
    return dict(re.findall(r"(--[a-z-]+): (#[0-9a-f]{6});", read_data(f"styles/{sheet}.css")))


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, two: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(two)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.parametrize("sheet", ["theme", "screen"])
@pytest.mark.parametrize("ground", ["--paper", "--tint"])
@pytest.mark.parametrize(("name", "least"), CONTRAST)
def test_text_has_enough_contrast(sheet, ground, name, least):
    """WCAG 2.2, 1.4.3: 4.5 to 1; the text of the rows 7 to 1 (1.4.6)."""
    found = colours(sheet)
    assert contrast(found[name], found[ground]) >= least


def test_the_measure_of_contrast_is_right():
    """Black on white is 21 to 1; #767676 is the lightest grey that passes on white (WCAG's own figures)."""
    assert round(contrast("#000000", "#ffffff"), 2) == 21
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")


# ---- an outside check


@pytest.mark.slow
@pytest.mark.timeout(90)
@pytest.mark.skipif(shutil.which("java") is None, reason="the Nu HTML checker needs Java")
@pytest.mark.skipif(not CHECKER.exists(), reason="the Nu HTML checker is not here; .ci/prepare --tools fetches it")
def test_the_nu_html_checker_finds_nothing(tmp_path):
    """Source of the rules: the HTML standard, as the Nu HTML checker (npm: vnu-jar) applies it."""
    files = []
    for system in TermSystem:
        files.append(tmp_path / f"{system}.html")
        files[-1].write_text(html(WITH_VERBATIM, system=system), encoding="utf-8")
    files.append(tmp_path / "both.html")
    files[-1].write_text(html(WITH_VERBATIM, both=True, full_words=True), encoding="utf-8")
    bad = tmp_path / "bad.html"
    bad.write_text(html(faces=False).replace("<main", "<p><main", 1).replace("</main>", "", 1), encoding="utf-8")
    good = run_checker(*files)
    # The checker does not work out hashes, nor does it tell data from scripts; browsers do both, and the tests in
    # tests/browser see that they have nothing to complain of.
    said = [line for line in good.stderr.splitlines() if " violates Content Security Policy" not in line]
    assert [] == said
    assert 0 == good.returncode
    assert 0 != run_checker(bad).returncode


def run_checker(*files: Path) -> subprocess.CompletedProcess[str]:
    command = ["java", "-Xss4m", "-jar", str(CHECKER), "--also-check-css", *map(str, files)]
    return subprocess.run(command, capture_output=True, text=True, check=False)
