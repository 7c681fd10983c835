"""Words of pattern language other than stitches, from `shared/words.yaml`."""

from __future__ import annotations

from functools import cache
from types import MappingProxyType

from msgspec import Struct

from convert.document.records import TermSystem
from convert.trade.tables import TableError, record, table


class Word(Struct, frozen=True):
    """A word with the form each system writes and everything that is read as it."""

    id: str
    us: str
    uk: str
    plural: str
    forms: tuple[str, ...]
    text: bool
    """The word is translated in running text too."""
    meaning_us: str
    meaning_uk: str

    def written(self, system: TermSystem) -> str:
        """The form that this system writes."""
        return self.us if system is TermSystem.US else self.uk

    def meaning(self, system: TermSystem) -> str:
        """The explanation for the list of abbreviations; empty if the word is not explained there."""
        return self.meaning_us if system is TermSystem.US else self.meaning_uk


@cache
def words() -> MappingProxyType[str, Word]:
    """Every word by its id."""
    found: dict[str, Word] = {}
    for entry in table("words"):
        where = f"words.yaml, {entry.get('id')!r}"
        e = record(entry, {"id", "us", "uk", "forms"}, {"plural", "meaning", "text"}, where)
        meaning = e.get("meaning", {})
        word = Word(
            id=e["id"],
            us=str(e["us"]),
            uk=str(e["uk"]),
            plural=str(e.get("plural", "")),
            forms=tuple(map(str, e["forms"])),
            text=bool(e.get("text", False)),
            meaning_us=str(meaning.get("us", "")),
            meaning_uk=str(meaning.get("uk", "")),
        )
        if word.id in found:
            raise TableError(f"words.yaml: {word.id!r} stands twice")
        found[word.id] = word
    return MappingProxyType(found)


def word(id: str, system: TermSystem) -> str:
    """The form of a word in one system.

    >>> word("skip", TermSystem.UK)
    'miss'
    """
    return words()[id].written(system)
