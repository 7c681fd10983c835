"""What machines that visit a page want to know of it, in the words of schema.org and of the Open Graph protocol."""

from __future__ import annotations

from msgspec import Struct

from convert.document.json_text import Plain
from convert.exporters.page.edition import Edition
from convert.exporters.page.records import Fact, Page
from convert.exporters.page.typeset import plain_text


class Address(Struct, frozen=True):
    """Where the page will stand, as far as its publisher says so."""

    url: str = ""
    """The page's own address on the web."""
    other_url: str = ""
    """That of the same pattern in the other terms."""
    data: str = ""
    """The name of the neutral document that lies beside the page."""


NOWHERE = Address()
"""The page of a publisher who has not said where it will stand."""


def web_facts(edition: Edition, page: Page, address: Address) -> dict[str, Plain]:
    """The pattern as a schema.org HowTo: https://schema.org/HowTo. What the document does not say is left out."""
    document = edition.document
    facts: dict[str, Plain] = {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": page.title,
        "description": _description(page),
        "inLanguage": page.lang,
        "url": address.url,
        "author": {"@type": "Person", "name": page.designer} if page.designer else "",
        "datePublished": page.created,
        "version": document.version,
        "copyrightNotice": document.copyright,
        "educationalLevel": page.byline[0] if document.skill and page.byline else "",
        "supply": [_thing("HowToSupply", fact) for fact in page.yarns],
        "tool": [_thing("HowToTool", fact) for fact in page.hooks],
        "step": [
            {"@type": "HowToSection", "name": part.heading, "position": number}
            for number, part in enumerate(page.parts, start=1)
        ],
    }
    return {key: value for key, value in facts.items() if value not in ("", [])}


def _description(page: Page) -> str:
    return plain_text(page.summary[0]) if page.summary else ""


def _thing(kind: str, fact: Fact) -> Plain:
    return {"@type": kind, "name": "; ".join(plain_text(line) for line in fact.lines) or fact.label}


def meta_properties(page: Page, address: Address) -> tuple[tuple[str, str], ...]:
    """The properties that links to the page are shown with elsewhere: https://ogp.me."""
    found = (
        ("og:type", "article"),
        ("og:title", page.title),
        ("og:description", _description(page)),
        ("og:locale", page.lang.replace("-", "_")),
        ("og:url", address.url),
        ("article:published_time", page.created),
    )
    return tuple((name, value) for name, value in found if value)


def links(edition: Edition, page: Page, address: Address) -> tuple[dict[str, str], ...]:
    """The `link` elements of the page's head, each by its attributes."""
    found: list[dict[str, str]] = []
    if address.url:
        found.append({"rel": "canonical", "href": address.url})
    if address.url and address.other_url:
        other = "en-GB" if page.lang == "en-US" else "en-US"
        pairs = sorted(((page.lang, address.url), (other, address.other_url)))
        found += [{"rel": "alternate", "hreflang": lang, "href": url} for lang, url in pairs]
    if address.data:
        title = edition.say("neutral-document")
        found.append({"rel": "alternate", "type": "application/json", "href": address.data, "title": title})
    return tuple(found)
