"""Yarns, hooks and notions from a list of materials. What is not understood stays a notion in the author's words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal
from functools import cache

from msgspec.structs import replace

from convert.document.lengths import tidy
from convert.document.materials import Amount, Hook, Materials, Yarn
from convert.document.prose import Prose
from convert.document.records import TermSystem
from convert.importers.typed.items import MM, US_SIZE, kind_of_item, parted, says_either, without_notions
from convert.importers.typed.words import PER_SIZE, decimals, spaced
from convert.source import Passage, Span
from convert.terms.prose import read_prose
from convert.trade.hooks import hook_named, hooks
from convert.trade.patterns import either
from convert.trade.tables import table
from convert.trade.yarns import yarn_weights

_STEEL = re.compile(r"\b(?:no\.?|number|size|#)\s?(00|\d{1,2})\b", re.IGNORECASE)
_PLAIN = re.compile(r"\A(?:an?|one|crochet|hooks?|size|us|usa|in|of|\d)*\Z", re.IGNORECASE)
_KEY = re.compile(
    r"\A(?:(?i:yarn|colou?r|shade)\s)?(?P<key>[A-Z]{1,3}\d?)\s?(?::|=|\)|–|—|\s-\s)\s?|\s?\((?P<inner>[A-Z]{1,3}\d?)\)"
)
_BALL = re.compile(
    r"\(?\b(\d{1,4})\s?g(?:rams?|r)?\s?(?:/|,|=|–|-|:|\()?\s?(?:approx\.?\s)?(\d{1,5})\s?m(?:et(?:re|er)s?)?\b\)?"
    r"(?:\s?(?:per|/|a)\s?(?:ball|skein|hank))?\)?"
)
_KEYED = re.compile(r"(?<![\w(])([A-Z]{1,2}\d?)\s?\(([^\W\d_][^()\d]{1,30})\)")
_TIES = ("of", "and", "each", "in")
_FIBRE = re.compile(r"\d{1,3}\s?%\s\D+")
_BETWEEN = re.compile(r"(?:\s*(?:,|and|&))+\s*\Z|(?:\s+and\s*){2,}|\s+and\s+(?=[,.]|\Z)")
_METRES = re.compile(rf"\b({PER_SIZE})\s?m(?:et(?:re|er)s?)?\b")
_GRAMS = re.compile(rf"\b({PER_SIZE})\s?g(?:rams?|r)?\b")
_CLASS = re.compile(
    r"\(\s?#?([0-7])\s?\)|(?:weight|class|category|cyc)\s?#?([0-7])\b|#([0-7])\s(?:weight|yarn)", re.IGNORECASE
)
_COLOUR = re.compile(
    r"\A(?:in\s)?(?:the\s)?(?:colou?r|shade)\s?:?\s?(?P<a>\S.*)\Z|\Ain\s(?P<b>[A-Z]\S*(?:\s\S+){0,2})\Z"
)


def read_materials(items: Iterable[tuple[str, Passage]], system: TermSystem) -> Materials:
    """The materials of a list; each item comes with the id of the section that it stood in."""
    yarns: list[Yarn] = []
    found_hooks: list[Hook] = []
    notions: list[Prose] = []
    above = ""
    either: str | None = None
    for section, item in ((section, item) for section, passage in items for item in parted(passage)):
        if above in ("hook", "yarn") and either is None and says_either(item.text):
            either = spaced(item.text)
            continue
        kind = kind_of_item(item.text, section)
        hooks_read = _hooks(item, system) if kind == "hook" else []
        yarns_read = _yarns(item, system) if kind == "yarn" else []
        kind = kind if hooks_read or yarns_read else "notion"
        if either is not None and kind == above:
            hooks_read = [replace(hook, use=_instead(hook.use)) for hook in hooks_read]
            yarns_read = [replace(yarn, note=_instead(yarn.note)) for yarn in yarns_read]
        elif either is not None:
            notions.append(read_prose(either, system))
        found_hooks += hooks_read
        yarns += yarns_read
        if kind == "notion":
            notions.append(read_prose(spaced(item.text), system))
        above, either = kind, None
    if either is not None:
        notions.append(read_prose(either, system))
    return Materials(tuple(yarns), tuple(found_hooks), tuple(notions))


def _instead(words: Prose) -> Prose:
    """A note with the words that it is about another choice than the item above."""
    said = str(table("materials")["instead"])
    return (f"{said}, ", *words) if words else (said,)


# Hooks


def _hooks(item: Passage, system: TermSystem) -> list[Hook]:
    """The hooks of an item. A size without millimetres is looked up, and the author's words are kept beside it."""
    sizes = [Decimal(tidy(Decimal(text.replace(",", ".")))) for text in MM.findall(without_notions(item.text))]
    if not sizes:
        named = _named_hook(item.text)
        return [Hook(named, read_prose(spaced(item.text), system), span=item.whole)] if named is not None else []
    if not all(0 < size <= 50 for size in sizes):
        return []
    use = _use(item.text, sizes) if len(sizes) == 1 else spaced(item.text)
    return [
        Hook(size, read_prose(use, system) if index == 0 else (), span=item.whole) for index, size in enumerate(sizes)
    ]


def _named_hook(text: str) -> Decimal | None:
    if re.search(r"\bsteel\b", text, re.IGNORECASE):
        numbers = _STEEL.findall(text)
        steel = [hook.mm for hook in hooks() if hook.steel and numbers and hook.us == numbers[0]]
        return steel[0] if len(numbers) == 1 and len(steel) == 1 else None
    found = {hook.mm for name in US_SIZE.findall(text) if (hook := hook_named(name)) is not None}
    return found.pop() if len(found) == 1 else None


def _use(text: str, sizes: list[Decimal]) -> str:
    """What the item says beside the size: nothing, where all of it says the same size again."""
    rest = MM.sub(" ", text)
    for match in US_SIZE.finditer(rest):
        named = hook_named(match.group(1))
        if named is not None and named.mm == sizes[0]:
            rest = rest.replace(match.group(), " ", 1)
    if _PLAIN.match("".join(re.findall(r"[^\W_]+", rest))):
        return ""
    only_for = re.fullmatch(r"\W*(?:crochet\s)?hook\s?[,(–-]?\s?(for\s[^()]+?)\W*", spaced(rest), re.IGNORECASE)
    return only_for.group(1) if only_for else spaced(text)


# Yarns


def _yarns(item: Passage, system: TermSystem) -> list[Yarn]:
    """The yarns of an item: one, or one in several colours with a key each ("1 ball each of A (red) and B (white)")."""
    text = spaced(item.text)
    listed = _colours_with_balls(text, item.whole, system)
    if listed:
        return listed
    colours = _KEYED.findall(text)
    if len(colours) < 2 or (_balls().search(text) and not re.search(r"\beach\b", text, re.IGNORECASE)):
        return [_yarn(text, item.whole, system)]
    one = _yarn(_BETWEEN.sub(" ", _KEYED.sub(" ", text)), item.whole, system)
    return [replace(one, key=key, colour=colour.strip()) for key, colour in colours]


def _without_and(colour: str) -> str:
    return re.sub(r"\A(?:and|&)\s", "", colour.strip())


def _colours_with_balls(text: str, span: Span, system: TermSystem) -> list[Yarn]:
    """ "Gannet DK – 6 balls Slate (A), 4 balls Foam (B)": one yarn in several colours, with the balls of each."""
    found = [match for pattern in _balls_of() if len(matches := list(pattern.finditer(text))) > 1 for match in matches]
    begins = found[0].start() if found else 0
    rest = text[begins:]
    for match in found:
        rest = rest.replace(match.group(), " ", 1)
    if not begins or re.search(r"\w", re.sub(r"\band\b", " ", rest)):
        return []
    one = _yarn(text[:begins].rstrip(" ,;:–—-"), span, system)
    return [
        replace(
            one, key=match["key"], colour=_without_and(match["colour"]), amount=Amount(balls=decimals(match["many"]))
        )
        for match in found
    ]


@cache
def _balls_of() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """ "6 balls of Slate (A)" and "Slate (A) – 6 balls"."""
    balls = rf"(?P<many>{PER_SIZE})\s?(?:[x×]\s)?{either(table('materials')['balls'])}\b"
    colour = r"(?P<colour>[^\W\d_][^\d,;:()]{1,30}?)\s?\((?P<key>[A-Z]{1,2}\d?)\)"
    return re.compile(rf"{balls}\s(?:of\s|in\s)?{colour}", re.IGNORECASE), re.compile(
        rf"{colour}\s?[-–—:x×]?\s?{balls}", re.IGNORECASE
    )


def _yarn(text: str, span: Span, system: TermSystem) -> Yarn:
    """A yarn. Its figures become figures; the words left over are its name, its colour, and a note."""
    rest = text
    key, rest = _taken(_KEY, rest)
    ball, rest = _taken(_BALL, _CLASS.sub(" ", rest))
    balls, rest = _taken(_balls(), rest)
    metres, rest = _taken(_METRES, rest)
    grams, rest = _taken(_GRAMS, rest)
    pieces = [
        piece for piece in (_trimmed(p) for p in re.split(r"[,()]|\s(?=in\s(?:colou?r|shade|[A-Z]))", rest)) if piece
    ]
    colours = [match for piece in pieces[1:] if (match := _COLOUR.match(piece))]
    if not pieces or not re.search(r"[^\W\d_]{3}", pieces[0]):
        pieces, colours = [text], []
    colour = (colours[0]["a"] or colours[0]["b"]) if len(colours) == 1 else ""
    others = [piece for piece in pieces[1:] if not (colour and _COLOUR.match(piece))]
    fibres = [piece for piece in others if _FIBRE.fullmatch(piece)]
    return Yarn(
        name=pieces[0],
        key=(key["key"] or key["inner"]) if key else "",
        weight=_weight(text),
        fibre=", ".join(fibres),
        colour=colour,
        ball_grams=Decimal(ball.group(1)) if ball else None,
        ball_metres=Decimal(ball.group(2)) if ball else None,
        amount=Amount(*(decimals(match.group(1)) if match else () for match in (balls, metres, grams))),
        note=read_prose(", ".join(piece for piece in others if piece not in fibres), system),
        span=span,
    )


def _taken(pattern: re.Pattern[str], text: str) -> tuple[re.Match[str] | None, str]:
    """The one match of a pattern and the text without it; nothing where there are several."""
    matches = list(pattern.finditer(text))
    if len(matches) != 1:
        return None, text
    return matches[0], f"{text[: matches[0].start()]} , {text[matches[0].end() :]}"


@cache
def _balls() -> re.Pattern[str]:
    balls = either(table("materials")["balls"])
    return re.compile(rf"\b({PER_SIZE})\s?(?:[x×]\s)?{balls}\b(?:\s(?:of|each)\b)?", re.IGNORECASE)


def _trimmed(piece: str) -> str:
    """A piece of a line without the signs and small words that tied it to what was taken out."""
    bare = re.sub(r"\A(?:[\s,;:/=.–—-]|(?:of|and)\s)+|[\s,;:/=–—-]+\Z", "", spaced(piece)).rstrip(".")
    return "" if bare.casefold() in _TIES else bare


def _weight(text: str) -> int | None:
    """The weight class, where the text names one and only one."""
    stated = {int(number) for match in _CLASS.findall(text) for number in match if number}
    if stated:
        return stated.pop() if len(stated) == 1 else None
    said = text.casefold()
    names = [(name.casefold(), w.number) for w in yarn_weights() for name in (w.name, *w.us, *w.uk, *w.au)]
    names = [entry for entry in names if entry[0] not in table("materials")["no_weight"]]
    hit = [(name, number) for name, number in names if re.search(rf"(?<![\w-]){re.escape(name)}(?![\w.-])", said)]
    longest = [number for name, number in hit if not any(name != other and name in other for other, _ in hit)]
    return longest[0] if len(set(longest)) == 1 else None
