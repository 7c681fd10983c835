"""What the words of a line mean: the longest phrase of the tables that begins at each token."""

from __future__ import annotations

import re
from functools import cache, lru_cache
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from convert.document.records import Special, TermSystem
from convert.instructions.words.misspelt import meant
from convert.instructions.words.tokens import Token, tokens
from convert.trade.patterns import either, listed, number_words, said, signs
from convert.trade.stitches import stitches
from convert.trade.tables import TableError, table
from convert.trade.words import words


class Lexeme(Struct, frozen=True, gc=False):
    """A word with its meaning.

    `kind` is stitch, tog (a decrease such as dc2tog, `value` its legs), word, num, ord, mark, formula, or
    unknown. `id` is the stitch id, word id, or the mark itself. `start` and `end` are offsets in the line.
    """

    kind: str
    id: str
    value: int
    start: int
    end: int
    glued: bool
    text: str


Entry = tuple[str, str, int]
Trie = dict[str, Any]
_HERE = ""
_TOG = re.compile(r"([a-z]+)(\d+)tog\Z")


def _add(trie: Trie, form: str, entry: Entry, *, over: bool = False) -> None:
    node = trie
    for token in tokens(form):
        node = node.setdefault(token.text, {})
    known = node.get(_HERE)
    if known is not None and known != entry and not over:
        raise TableError(f"{form!r} is read both as {known[1]!r} and as {entry[1]!r}")
    node[_HERE] = entry


@cache
def base_trie(system: TermSystem) -> Trie:
    """Every phrase of the tables, as one term system reads it."""
    trie: Trie = {}
    for word in words().values():
        for form in word.forms:
            _add(trie, form, ("word", word.id, 0))
    for form, value in number_words().items():
        _add(trie, form, ("num", form, value))
    for form, value in number_words("ordinals").items():
        _add(trie, form, ("ord", form, value))
    for stitch in stitches().values():
        names = stitch.names(system)
        for form in (names.abbreviation, names.name, names.plural, *names.variants):
            _add(trie, form, ("stitch", stitch.id, 0))
    return trie


@cache
def _alone(system: TermSystem) -> dict[str, Entry]:
    """The words that begin no longer phrase, and most words do not: what each of them means."""
    return {word: node[_HERE] for word, node in base_trie(system).items() if len(node) == 1 and _HERE in node}


@lru_cache(maxsize=64)
def special_trie(specials: tuple[tuple[str, str, str, str], ...]) -> Trie:
    """The author's own stitches (id, name, abbreviation, plural), which go before the tables."""
    trie: Trie = {}
    for id, name, abbreviation, plural in specials:
        forms = {name, abbreviation, plural, f"{name}s", f"{abbreviation}s", f"{name} st", f"{name} sts"}
        for form in forms:
            if form.strip("s") and tokens(form):
                _add(trie, form, ("stitch", id, 0), over=True)
    return trie


def _longest(trie: Trie, found: list[Token], at: int) -> tuple[Entry | None, int]:
    node: Trie | None = trie
    entry: Entry | None = None
    length = 0
    index = at
    while index < len(found):
        token = found[index]
        node = node.get(token.text) if node is not None else None
        if node is None:
            break
        index += 1
        if _HERE in node:
            entry, length = node[_HERE], index - at
    return entry, length


def _dotted(trie: Trie, found: list[Token], at: int, text: str) -> tuple[Entry, int] | None:
    """A stitch whose abbreviation of several parts is typed with full stops: "sl. st.", "d.c.".

    The last stop belongs to it if no new sentence begins behind.
    """
    node: Trie = trie
    index = at
    best: tuple[Entry, int] | None = None
    while index < len(found) and found[index].text in node and found[index].kind == "word":
        node = node[found[index].text]
        index += 1
        dotted = index < len(found) and found[index].text == "."
        lettered = all(len(token.text) == 1 for token in found[at:index])  # "f.o."
        if _HERE in node and (node[_HERE][0] == "stitch" or lettered) and index > at + 1:
            goes_on = dotted and index + 1 < len(found) and not text[found[index + 1].start].isupper()
            best = (node[_HERE], index + goes_on - at)
        if not dotted:
            break
        index += 1
    return best


_AMPERSAND = "&"
_HUNDRED = 100


def _with_rest(trie: Trie, found: list[Token], at: int, hundreds: Entry, length: int) -> tuple[Entry, int]:
    """A number of hundreds in words with what follows it: "one hundred and forty"."""
    behind = at + length
    first, and_length = _longest(trie, found, behind)
    if first is not None and first[1] == "and":
        behind += and_length
    rest, rest_length = _longest(trie, found, behind)
    if rest is None or rest[0] != "num" or rest[2] >= _HUNDRED:
        return hundreds, length
    return ("num", f"{hundreds[1]} and {rest[1]}", hundreds[2] + rest[2]), behind + rest_length - at


def _tog(token: Token, system: TermSystem) -> Entry | None:
    parts = _TOG.match(token.text)
    entry = base_trie(system).get(parts.group(1), {}).get(_HERE) if parts else None
    if parts is None or entry is None or entry[0] != "stitch":
        return None
    return ("tog", entry[1], int(parts.group(2)))


@cache
def _stops() -> re.Pattern[str]:
    """Abbreviations with a full stop that ends no sentence: a comma, or the number of chains, stands behind it."""
    stopped = either(table("signs")["stopped"])
    long = r"(?<!\d)(?<!\d\s)(?<!\d[)\]])(?<!\d[)\]]\s)\bchs?\.\s?(?=\d)"
    inside = rf"\b{stopped}\.\s(?={signs('behind_short')}\b)"
    return re.compile(rf"\b{stopped}\.(?=\s?[,;:)])|{long}|\bchs?\.\s(?={_behind_chain()})|{inside}", re.IGNORECASE)


def _types_stops(text: str) -> bool:
    """Whether an abbreviation is typed with such a stop; only the words in front of stops are looked at."""
    at = text.find(".")
    while at >= 0:
        start = at
        while start and text[start - 1].isalpha():
            start -= 1
        if text[start:at].lower() in listed("stopped") and _stops().match(text, start):
            return True
        at = text.find(".", at + 1)
    return False


def _behind_chain() -> str:
    """What goes on behind the word for a chain, and begins no sentence."""
    return rf"{said('from', 'space', 'loop', 'counts-as', 'not-counts', 'across', 'around')}\b"


def _without_stops(found: list[Token], text: str) -> list[Token]:
    """The tokens without the stops of abbreviations, in a line that types them so; a capital begins a sentence."""
    stopped = listed("stopped")
    kept: list[Token] = []
    for index, token in enumerate(found):
        before, behind = found[index - 1] if index else None, found[index + 1] if index + 1 < len(found) else None
        short = token.text == "." and before is not None and before.text in stopped
        if short and before is not None and behind is not None and not _begins_sentence(text, before, behind):
            counted = index > 1 and found[index - 2].kind == "num"
            chain = before.text.startswith("ch")
            sentence = behind.kind == "num" and (counted or not chain or _is_place(found, index))
            sentence = sentence and not (index + 2 < len(found) and found[index + 2].text in _times())
            if not sentence and behind.text not in ("*", "("):
                continue
        kept.append(token)
    return kept


def _begins_sentence(text: str, before: Token, behind: Token) -> bool:
    """Whether a capital stands behind a stop; where all is typed in capitals, none tells."""
    shouted = text[before.start : before.end].isupper() and text[behind.start : behind.end].isupper()
    return text[behind.start].isupper() and not shouted


def _is_place(found: list[Token], stop: int) -> bool:
    """Whether the chain in front of a stop is worked into, and the number behind the stop is not its length."""
    which = stop - 3 if stop > 2 and found[stop - 2].kind == "num" else stop - 2
    named = which >= 0 and (found[which].text in listed("which_chain") or found[which].kind == "ord")
    space = stop + 2 < len(found) and found[stop + 2].text in _spaces()
    return named and not space


@cache
def _times() -> frozenset[str]:
    return frozenset(words()["times"].forms)


@cache
def _spaces() -> frozenset[str]:
    return frozenset(form for id in ("space", "loop") for form in words()[id].forms)


@cache
def vocabulary(system: TermSystem) -> frozenset[str]:
    """Every single word that stands in a phrase of the tables."""
    found: set[str] = set()
    tries: list[Trie] = [base_trie(system)]
    while tries:
        node = tries.pop()
        found.update(word for word in node if word != _HERE)
        tries += [inner for word, inner in node.items() if word != _HERE]
    return frozenset(found)


def own_words(specials: tuple[Special, ...]) -> set[str]:
    """Every single word that the author's own stitches are called by."""
    return {token.text for special in specials for token in tokens(f"{special.name} {special.abbreviation}")}


def _spelt(found: list[Token], known: frozenset[str], specials: tuple[Special, ...]) -> list[Token]:
    """The tokens with mistyped words as they are meant, unless the author's own stitches are called by them."""
    slips = [at for at, token in enumerate(found) if token.kind == "word" and token.text not in known]
    if not any(meant(found[at].text) for at in slips):
        return found
    own = own_words(specials)
    for at in slips:
        word = meant(found[at].text)
        if word in known and found[at].text not in own:
            found[at] = replace(found[at], text=word)
    return found


def _of_author(
    own: Trie, found: list[Token], index: int, text: str, specials: tuple[Special, ...]
) -> tuple[Entry | None, int]:
    """A stitch of the author's own. A single letter has to stand as the author writes it: "x" is a sign of repeats
    where a stitch is called "X".
    """
    entry, length = _longest(own, found, index)
    letter = text[found[index].start : found[index].end]
    if length == 1 and len(letter) == 1 and not any(letter in (s.abbreviation, s.name) for s in specials):
        return None, 0
    return entry, length


def _hyphened(token: Token, text: str) -> Token:
    """The token, a dash between two words without blanks being a hyphen: "ch–3"."""
    hyphen = token.text == "–" and token.glued and token.end < len(text) and text[token.end].isalnum()
    return replace(token, text="-") if hyphen else token


def lexemes(text: str, system: TermSystem, specials: tuple[Special, ...] = ()) -> list[Lexeme]:
    """The words of a line with their meanings.

    >>> [(x.kind, x.id) for x in lexemes("sk next 2 dc", TermSystem.UK)]
    [('word', 'skip'), ('word', 'next'), ('num', '2'), ('stitch', 'sc')]
    """
    found = tokens(text)
    if not text.isascii():
        found = [_hyphened(token, text) for token in found]
    stopped = "." in text
    if stopped and _types_stops(text):
        found = _without_stops(found, text)
    base, alone = base_trie(system), _alone(system)
    found = _spelt(found, vocabulary(system), specials)
    own = special_trie(tuple((s.id, s.name, s.abbreviation, s.plural) for s in specials)) if specials else None
    result: list[Lexeme] = []
    index, end = 0, len(found)
    while index < end:
        token = found[index]
        kind = token.kind
        if kind == "word" or token.text == _AMPERSAND or (kind != "mark" and own):
            entry, length = _of_author(own, found, index, text, specials) if own else (None, 0)
            if entry is None:
                entry, length = alone.get(token.text), 1
            if entry is None:
                entry, length = _longest(base, found, index)
            if stopped and index + 2 < end and found[index + 1].text == ".":
                entry, length = _dotted(base, found, index, text) or (entry, length)
            if entry is not None:
                if entry[0] == "num" and entry[2] >= _HUNDRED:
                    entry, length = _with_rest(base, found, index, entry, length)
                last = found[index + length - 1]
                result.append(Lexeme(*entry, token.start, last.end, token.glued, text[token.start : last.end]))
                index += length
                continue
        if kind in ("num", "ord"):
            digits = token.text if kind == "num" else token.text.rstrip("sthnrd")
            value = int(digits) if len(digits) < 10 else 10**9
            result.append(Lexeme(kind, token.text, value, token.start, token.end, token.glued, token.text))
        elif kind == "mark":
            result.append(Lexeme("mark", token.text, 0, token.start, token.end, token.glued, token.text))
        else:
            entry = _tog(token, system) if kind == "tog" else None
            raw = text[token.start : token.end]
            result.append(Lexeme(*(entry or ("unknown", token.text, 0)), token.start, token.end, token.glued, raw))
        index += 1
    return result
