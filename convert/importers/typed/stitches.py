"""The stitches that a text as typed explains: special stitches with their definitions, and lists of abbreviations."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from convert.document.records import Special, TermSystem
from convert.document.slugs import free_slug
from convert.document.steps import Chain, Group, Skip, Step, Which, Work
from convert.importers.typed.aliases import OTHER_NAMES, alias, bare_form, meanings
from convert.importers.typed.signs import speaks_of_stitches
from convert.importers.typed.units import Unit
from convert.importers.typed.words import entries, spaced
from convert.instructions.reader import Context, read_steps
from convert.instructions.words.lexicon import lexemes
from convert.source import Passage
from convert.terms.evidence import readings
from convert.terms.lookup import key
from convert.terms.prose import read_prose
from convert.terms.statement import names_system
from convert.trade.patterns import either, number_words, said
from convert.trade.stitches import stitches

_STOP = r"\s?(?::|=|–|—|--|\.{2,}|…|\t|\s{2,}|\s-\s)\s*"
_OVER = r"(?:worked\s)?over\s[^()]{1,30}"
"""How many stitches a stitch is worked over, in brackets behind its name."""
_ENTRY = re.compile(
    rf"\A(?P<name>\S[^:=(\t]{{0,40}}?)(?:\s*\((?:{_OVER}|(?P<short>[^()]{{1,16}}))\))?{_STOP}(?P<text>\S.*)\Z",
    re.DOTALL,
)
_NAMED_FIRST = re.compile(
    r"\A(?P<name>[A-Za-z][A-Za-z0-9 -]{1,40}?)\s?"
    r"(?:\((?P<text>.+)\)|[:,–—]\s(?P<after>.+)|\s-\s(?P<dashed>.+))\s*\.?\Z",
    re.DOTALL,
)
_EQUATED = re.compile(r"\A(?![Rr]\d)[A-Za-z](?:[A-Za-z -]|(?<=[A-Za-z])\d){1,30}?(?:\s?\([^()]{1,16}\))?\s?=\s?\S")
_MANY = re.compile(r"[;,]\s?(?=[A-Za-z][\w ().-]{0,24}?(?:\s?[=:–—]|\s-\s))")
_DECREASE = re.compile(r"\s?\d{1,2}\s?tog(?:ether)?\s*\Z", re.IGNORECASE)
_NAME_WORDS = 5
_SHORT = 6


class Explained(Struct, frozen=True):
    """What a list of stitches came to: definitions, entries for what the tables have too, and the rest."""

    specials: tuple[Special, ...]
    known: tuple[Passage, ...]
    rest: tuple[Passage, ...]


def read_specials(units: Sequence[Unit], context: Context) -> Explained:
    """The special stitches of a section. An entry for a plain stitch or decrease of the trade defines none."""
    specials: list[Special] = []
    known: list[Passage] = []
    rest: list[Passage] = []
    for name, whole, definition in _definitions(units):
        if name is None:
            rest.append(whole)
        elif _is_plain(name["name"], context.system) or _is_plain(name["short"] or "", context.system):
            known.append(whole)
        else:
            defined = replace(context, specials=(*context.specials, *specials))
            specials.append(define(name, definition, defined))
    return Explained(tuple(specials), tuple(known), tuple(rest))


def _is_plain(name: str, system: TermSystem) -> bool:
    """Whether a name is a stitch of the trade that every pattern works alike, or a decrease of one."""
    stitch = readings(system).get(key(_DECREASE.sub("", name)))
    return stitch is not None and not stitch.unit


def _definitions(units: Sequence[Unit]) -> Iterator[tuple[re.Match[str] | None, Passage, Passage]]:
    """Each entry as the match of its name, the whole, and the definition; the name may stand on a line above it."""
    waiting: Passage | None = None
    for passage in entries(units):
        text = passage.text
        if waiting is not None:
            joined = _together(waiting, passage)
            match = _ENTRY.match(joined.text)
            yield match, joined, joined.cut(match.start("text")) if match else joined
            waiting = None
            continue
        match = _ENTRY.match(text)
        if match and len(match["name"].split()) <= _NAME_WORDS:
            yield match, passage, passage.cut(match.start("text"))
        elif len(text.split()) <= _NAME_WORDS and not re.search(r"[.,;]\Z", text):
            waiting = passage
        else:
            yield None, passage, passage
    if waiting is not None:
        yield None, waiting, waiting


def _together(name: Passage, definition: Passage) -> Passage:
    """A name on its own line and the definition below it, as if a colon stood between."""
    head = name.text.rstrip(": ")
    pieces = (*name.cut(0, len(head)).pieces, *(p._replace(offset=p.offset + len(head) + 2) for p in definition.pieces))
    return Passage(f"{head}: {definition.text}", pieces)


def define_named(passage: Passage, context: Context) -> Special | None:
    """The definition that a paragraph outside a list is: the name of a group stitch, or any name with a sign that says
    what it equals, and a definition read whole.
    """
    match = _ENTRY.match(passage.text)
    named = alias(match["name"], passage.cut(match.start("text")), context) if match else None
    if named is not None and equates(passage.text):
        return named
    stitch = readings(context.system).get(key(match["name"])) if match else None
    begins = explains_beginning(passage.text)
    told = begins or (equates(passage.text) if stitch is None else stitch.unit or stitch.decoration)
    if match is None or not told:
        return None
    special = define(match, passage.cut(match.start("text")), context)
    sure = begins or stitch is not None or _in_one_place(special.steps) or _crosses(special.steps)
    return special if special.steps and sure else None


def explains_beginning(text: str) -> bool:
    """Whether a line tells how the first group stitch of a round is made: "Beg shell: ch 3, (dc, ch 2, 2 dc) in st"."""
    match = _ENTRY.match(text) if _begins_so().match(text) else None
    name = _begins_so().sub("", match["name"], count=1) if match else ""
    stitch = readings(TermSystem.US).get(key(name)) if name else None
    return stitch is not None and stitch.unit


@cache
def _begins_so() -> re.Pattern[str]:
    return re.compile(rf"{said('beginning')}[\s-]", re.IGNORECASE)


_COUNTED = re.compile(r"=\s?\d{1,4}(?:\s?sts?)?\s*\.?\Z")


def equates(text: str) -> bool:
    """Whether a line says of a name that it equals something: "Fan = 7 dc in same st"; a number alone is a count."""
    return bool(_EQUATED.match(text)) and not _COUNTED.search(text)


def _in_one_place(steps: Sequence[Step]) -> bool:
    """Whether the steps are one group or stitch and its place, as the definition of a stitch is."""
    only = steps[0] if len(steps) == 1 else None
    place = only.place if isinstance(only, Group | Work) else None
    return place is not None and place.which in (Which.SAME, Which.NEXT) and place.number == 1


def _crosses(steps: Sequence[Step]) -> bool:
    """Whether the steps go back into stitches that they skipped, as a cable does."""
    back = any(isinstance(s, Work) and s.place is not None and s.place.which is Which.SKIPPED for s in steps)
    return back and isinstance(steps[0], Skip)


def define(match: re.Match[str], definition: Passage, context: Context) -> Special:
    """A special stitch from the match of its name and its definition, kept in words unless all of it is read."""
    name, abbreviation = spaced(match["name"]).strip("“”\"' "), spaced(match["short"] or "")
    named = _NAMED_FIRST.match(definition.text)
    if named and not abbreviation and len(name) <= _SHORT and _is_name(named["name"], name, context.system):
        group = next(group for group in ("text", "after", "dashed") if named[group])
        abbreviation, name = name, spaced(named["name"])
        definition = definition.cut(*named.span(group))
    read = read_steps(definition, context)
    understood = bool(read.clauses) and not read.verbatim_clauses and not read.row.stated
    name = _in_text(name)
    return Special(
        id=free_slug(name, "stitch", {special.id for special in context.specials}),
        name=name,
        abbreviation=abbreviation or _usual_abbreviation(name, context.system),
        plural=_plural(name, context.system),
        steps=_gathered(read.row.steps) if understood else (),
        words=()
        if understood and not _spelled_out(definition, context)
        else read_prose(spaced(definition.text), context.system, context.specials),
        span=definition.whole,
    )


def _gathered(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """ "Ch 3, (dc, ch 2, 2 dc) in same place": a chain that stands on the same place as the group is part of it."""
    if len(steps) != len((Chain, Group)) or not isinstance(steps[0], Chain) or not isinstance(steps[1], Group | Work):
        return steps
    chain, rest = steps[0], steps[1]
    if rest.place is None or rest.place.which is not Which.SAME or rest.place.number != 1:
        return steps
    inner = rest.steps if isinstance(rest, Group) else (replace(rest, place=None),)
    return (Group((chain, *inner), rest.place, span=chain.span.to(rest.span)),)


def _spelled_out(definition: Passage, context: Context) -> bool:
    """Whether the definition tells every motion of the hook: it is understood, and says more than the steps do."""
    return any(word.kind == "word" and word.id == "insert" for word in lexemes(definition.text, context.system))


def _in_text(name: str) -> str:
    """A name as it stands inside a sentence: "Wing fan" began its line, "V-stitch" has its capital for good."""
    return name[0].lower() + name[1:] if name[0].isupper() and name[1:].islower() and name[1:2].islower() else name


def _is_name(text: str, short: str, system: TermSystem) -> bool:
    """Whether the words behind an abbreviation are the name that it is short for, and not part of a definition."""
    letters = re.sub(r"[^a-z]", "", short.casefold())
    if not letters or text.casefold()[0] != letters[0] or len(text.split()) > _NAME_WORDS:
        return False
    stitch = readings(system).get(key(text))
    return stitch is None or stitch.unit


def _usual_abbreviation(name: str, system: TermSystem) -> str:
    stitch = readings(system).get(key(name))
    return stitch.names(system).abbreviation if stitch is not None and stitch.unit else name


def _plural(name: str, system: TermSystem) -> str:
    stitch = readings(system).get(key(name))
    if stitch is not None and key(name) == key(stitch.names(system).name):
        return stitch.names(system).plural
    return name + ("es" if name.endswith(("s", "sh", "ch", "x")) else "" if name.endswith(" st") else "s")


# Lists of abbreviations


def read_abbreviations(units: Sequence[Unit], context: Context) -> Explained:
    """Sorts a list of abbreviations: what defines a stitch, what the tables know, and what neither does."""
    specials: list[Special] = []
    known: list[Passage] = []
    rest: list[Passage] = []
    for passage in single_entries(units):
        match = _ENTRY.match(passage.text)
        if match is None:
            told, other = without_signs(passage, context.system)
            known += told
            rest += other
        elif _agree(match["name"], bare_form(match["text"]), context.system):
            (rest if _says_more(bare_form(match["text"]), context.system) else known).append(passage)
        elif (named := alias(match["name"], passage.cut(match.start("text")), context)) is not None:
            specials.append(named)
        elif _defines(match, passage.cut(match.start("text")), context):
            defined = replace(context, specials=(*context.specials, *specials))
            specials.append(define(match, passage.cut(match.start("text")), defined))
        else:
            rest.append(passage)
    return Explained(tuple(specials), tuple(known), tuple(rest))


def own_stitches(specials: Sequence[Special]) -> tuple[Special, ...]:
    """The author's stitches without the names that stand for stitches of the trade. One that is named, and not told
    how, stays: rows call it by its name.
    """
    return tuple(special for special in specials if special.steps or special.words or special.id not in stitches())


def is_abbreviation(passage: Passage, system: TermSystem) -> bool:
    """Whether a paragraph only tells what an abbreviation is short for: "FPtr = front post treble crochet".

    >>> (
    ...     is_abbreviation(Passage("dc - double crochet"), TermSystem.US),
    ...     is_abbreviation(Passage("dc: dc"), TermSystem.US),
    ... )
    (True, False)
    """
    match = _ENTRY.match(passage.text) if len(passage.text) <= _LONGEST else None
    if match is None or key(match["name"]) == key(bare_form(match["text"])):
        return False
    return _agree(match["name"], bare_form(match["text"]), system)


def is_alias(passage: Passage, context: Context) -> bool:
    """Whether a line gives a stitch of the trade another name: "X = single crochet"."""
    match = _ENTRY.match(passage.text) if len(passage.text) <= _LONGEST else None
    return match is not None and alias(match["name"], passage.cut(match.start("text")), context) is not None


def is_likely_entry(passage: Passage, system: TermSystem) -> bool:
    """Whether a line may be an entry of a list of abbreviations: one side of its sign is a word of the trade.

    >>> (
    ...     is_likely_entry(Passage("inc - 2 sc in same st"), TermSystem.US),
    ...     is_likely_entry(Passage("Ears: sew on."), TermSystem.US),
    ... )
    (True, False)
    """
    match = _ENTRY.match(passage.text) if len(passage.text) <= _LONGEST else None
    if match is None or len(match["name"]) > _NAME_LETTERS:
        return False
    called = re.match(r"[^,;:(]+", match["text"])
    return bool(meanings(bare_form(match["name"]), system) or (called and meanings(bare_form(called.group()), system)))


_NAME_LETTERS = 12
"""Characters of the longest short form in a list that no heading stands over."""
_LONGEST = 80
"""Characters of the longest entry of a list of abbreviations."""


def single_entries(units: Sequence[Unit]) -> Iterator[Passage]:
    """The entries of a list of abbreviations, of which several may stand on a line."""
    for passage in entries(units):
        edges = [0, *(match.end() for match in _MANY.finditer(passage.text)), len(passage.text)]
        if len(edges) > 3 or (len(edges) == 3 and _ENTRY.match(passage.text[edges[1] :])):
            yield from (passage.cut(a, b) for a, b in pairwise(edges))
        else:
            yield passage


_SIDE_BY_SIDE = re.compile(r"[;,]\s")
_SHORT_WORDS = 3
"""The most words of a short form that stands beside its name without a sign."""


def without_signs(passage: Passage, system: TermSystem) -> tuple[list[Passage], list[Passage]]:
    """ "ch chain; dc double crochet; tr treble": the entries of a line that has no signs between a short form and its
    name and is known to mean the same on both sides, and the others. All of it is the other kind where the most are.
    """
    edges = [0, *(match.end() for match in _SIDE_BY_SIDE.finditer(passage.text)), len(passage.text)]
    pieces = [passage.cut(a, b) for a, b in pairwise(edges)]
    known = [piece for piece in pieces if _tells_itself(piece.text.rstrip(";,. "), system)]
    if 2 * len(known) <= len(pieces):
        return [], [passage]
    return known, [piece for piece in pieces if piece not in known]


def _tells_itself(text: str, system: TermSystem) -> bool:
    """Whether a short form stands in front of its name, with nothing but a blank between them."""
    words = text.split()
    splits = range(1, min(len(words), _SHORT_WORDS + 1))
    halves = ((" ".join(words[:at]), " ".join(words[at:])) for at in splits)
    return any(key(short) != key(name) and _agree(short, bare_form(name), system) for short, name in halves)


def _agree(first: str, second: str, system: TermSystem) -> bool:
    """Whether two forms name the same stitch or word in this system."""
    if meanings(bare_form(first), system) & meanings(second, system):
        return True
    one, other = (_together_said().fullmatch(text) for text in (bare_form(first), second))
    same = one is not None and other is not None and _number(one["many"]) == _number(other["many"])
    return bool(same and one and other and meanings(one["stitch"], system) & meanings(other["stitch"], system))


@cache
def _together_said() -> re.Pattern[str]:
    """A decrease: "dc2tog", "double crochet two together", "double crochet 2 stitches together"."""
    many = rf"(?P<many>\d{{1,2}}|{either(number_words())})"
    return re.compile(
        rf"(?P<stitch>.+?)[\s-]?{many}[\s-]?(?:{said('stitch')}\s)?{said('together')}", re.IGNORECASE | re.DOTALL
    )


def _number(text: str) -> int:
    return int(text) if text.isdigit() else number_words()[text.casefold()]


def _says_more(text: str, system: TermSystem) -> bool:
    """Whether words behind the name tell more than the tables: "double crochet, worked loosely", but not "or UK tr"."""
    more = OTHER_NAMES.split(text)[1:]
    return any(len(one.split()) > 1 and not meanings(one, system) for one in more) and not names_system(text)


def _defines(match: re.Match[str], definition: Passage, context: Context) -> bool:
    """Whether an entry tells how a stitch is worked, and not only what it is short for."""
    named = _NAMED_FIRST.match(definition.text)
    inner = next((g for g in ("text", "after", "dashed") if named and named[g]), None)
    worked = (
        definition.cut(*named.span(inner))
        if named and inner and _is_name(named["name"], match["name"], context.system)
        else definition
    )
    if _is_plain(match["name"], context.system):
        return False
    own = readings(context.system).get(key(match["name"]))
    if own is not None and len(worked.text.split()) > _NAME_WORDS and speaks_of_stitches(worked.text):
        return True
    read = read_steps(worked, context)
    return len(worked.text.split()) >= 3 and bool(read.clauses) and not read.verbatim_clauses
