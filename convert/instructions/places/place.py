"""Reads where a stitch goes: "in next ch-3 sp", "in each of next 5 dc", "in top of beg ch-3", "in 2nd ch from
hook".
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.group_size import said_size, size_words
from convert.document.numbers import Number
from convert.document.steps import Loops, Origin, Place, What, Which
from convert.instructions.places.corners import center_of_corner, corner_by_size, middle_of
from convert.instructions.places.just_made import just_made, told_as_made
from convert.instructions.places.passed import passed, passed_behind, read_passed_at_join, takes_passed
from convert.instructions.places.place_behind import (
    elsewhere,
    formed_of,
    is_of_middle,
    is_so_anyway,
    take_closing,
    take_round_about,
)
from convert.instructions.places.place_chains import (
    LOOPS,
    beginning_chain,
    chain_of,
    is_chain,
    read_loops,
    read_space,
    space_next,
)
from convert.instructions.places.place_kinds import at_back_of_work, is_cluster, is_group, part_of_chain, settled
from convert.instructions.places.place_words import (
    FREE,
    along_in_words,
    foundation_chain,
    of_foundation,
    said_of_place,
    take_lone,
    take_unfinished,
    told_in_words,
    with_words,
    words_of_place,
)
from convert.instructions.places.row_ends import ends_of_rows
from convert.instructions.places.which import SPACES, WHICH, names_by_size, read_which, told_behind
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.numbers import read_number
from convert.trade.stitches import stitches

_NOUNS = {
    "stitch": What.STITCH,
    "gap": What.GAP,
    "ring": What.RING,
    "adjustable-ring": What.RING,
    "corner": What.CORNER,
    "group": What.GROUP,
    "marker": What.MARKER,
    "row-end": What.ROW_END,
    "row-ends": What.ROW_END,
    "place": What.STITCH,
    "turning-chain": What.BEGINNING_CHAIN,
    "beginning-chain": What.BEGINNING_CHAIN,
}


def read_place(cur: Cursor, *, preposition: bool = True) -> Place | None:
    """A place at the position, with its preposition; None (and nothing read) if none stands there."""
    start = cur.at
    if preposition:
        joined_at = read_passed_at_join(cur)
        if joined_at is not None:
            return joined_at
        chains = "around_chains" in cur.begun and cur.is_listed("around_chains")
        over = "over_spaces" in cur.begun and _over_the_chain(cur)
        ring = _read_ring(cur, start)
        if ring is not None:
            return ring
        every = "in-all" in cur.holds and _takes_in_all(cur)
        had = every or cur.take_words("in", "of") > 0
        if cur.take_word("around") or ("round" in cur.holds and take_round_about(cur)):
            had = True
            if not _starts_noun(cur):
                cur.at = start
                return None
        if cur.is_word("between"):
            return _read_between(cur, start)
        if had and "back" in cur.begun and at_back_of_work(cur):
            return _behind_work(cur, start)
        if not had and not _says_which(cur):
            return None
    noun = cur.at
    place = told_as_made(cur) or ends_of_rows(cur) or _read_noun_phrase(cur)
    if place is None:
        cur.at = noun
        return told_in_words(cur, start)
    if preposition:
        place = replace(place, what=What.SPACE) if over and place.what is What.CHAIN else place
        place = _as_space(place) if chains else _all_of(place) if every else place
    place = _with_tail(cur, place)
    return replace(place, span=cur.span(start))


def _over_the_chain(cur: Cursor) -> bool:
    """ "8 sc over the ch": the space that some chains make, and none of them."""
    over = cur.is_listed("over_spaces") and cur.is_word("the", ahead=1)
    return over and cur.peek(2).id == "ch" and cur.peek(3).kind not in ("num", "ord") and not cur.is_mark("-", ahead=3)


_RING = frozenset({"form-ring", "it"})


def _read_ring(cur: Cursor, start: int) -> Place | None:
    """ "11 dc into ring", "make a magic circle and work 8 sc into it"."""
    if cur.holds.isdisjoint(_RING):
        return None
    formed = cur.is_word("form-ring") and cur.peek().text.casefold().startswith("in")
    it = "adjustable-ring" in cur.holds and cur.is_word("in") and cur.is_word("it", ahead=1)
    if not (formed or it):
        return None
    cur.at += 1 if formed else 2
    return Place(What.RING, span=cur.span(start))


def _all_of(place: Place) -> Place:
    """ "In all sts": each of them; with a number they are so many."""
    return replace(place, which=Which.EACH) if place.number == 1 and place.which is Which.NEXT else place


def _takes_in_all(cur: Cursor) -> bool:
    """ "In all 12 sts", "in all sts": every one, with their number or without."""
    behind = cur.peek(1)
    if not cur.is_word("in-all") or not (behind.kind in ("num", "stitch") or cur.is_word("stitch", "the", ahead=1)):
        return False
    cur.at += 1
    return True


def _behind_work(cur: Cursor, start: int) -> Place | None:
    """ "In back of work between two petals": between parts that only words tell, the work in front of the hook."""
    said = cur.text(start, cur.at)
    place = _read_between(cur, cur.at)
    if place is None or not place.words:
        cur.at = start
        return None
    return replace(place, words=f"{place.words} {said}", span=cur.span(start))


def _as_space(place: Place) -> Place:
    """ "Under next 3 ch": around the chains, into the space that they make."""
    several = place.what is What.CHAIN and isinstance(place.number, int) and place.number > 1 and place.nth is None
    return replace(place, what=What.SPACE, chains=place.number, number=1) if several else place


def as_space(place: Place) -> Place:
    """ "Into the 7 chain work 2 dc, 5 tr and 2 dc": what so many stitches go into together is the loop of seven."""
    if place.what is not What.CHAIN or place.which is not Which.NEXT or not isinstance(place.number, int):
        return place
    if place.number == 1 or place.within is not None or place.nth is not None:
        return place
    return replace(place, what=What.SPACE, number=1, chains=place.number)


def _says_which(cur: Cursor) -> bool:
    """Whether a place without a preposition stands here: "sc next 5 sts", "sc each st"."""
    ahead = 1 if cur.is_word("the") else 0
    lexeme = cur.peek(ahead)
    if lexeme.kind == "word":
        return lexeme.id in WHICH or lexeme.id in LOOPS or lexeme.id == "row-ends"
    return lexeme.kind == "ord"


def _starts_noun(cur: Cursor) -> bool:
    lexeme = cur.peek()
    if lexeme.kind in ("stitch", "ord", "num"):
        return True
    return lexeme.kind == "word" and (
        lexeme.id in WHICH or lexeme.id in _NOUNS or lexeme.id in (*SPACES, *LOOPS, "post", "the", "top")
    )


def _read_noun_phrase(cur: Cursor) -> Place | None:
    corner = corner_by_size(cur) if "corner" in cur.holds else None
    start = cur.at
    place = corner or _read_plain_noun_phrase(cur)
    if place is not None and place.what is What.CORNER and place.which is Which.CENTER:
        return center_of_corner(cur, start, place)
    return place


def _read_plain_noun_phrase(cur: Cursor) -> Place | None:
    loops = read_loops(cur)
    which, number, nth, every, said = read_which(cur)
    if loops is None:
        loops = read_loops(cur)
    cur.take_words("the", "indicated", *(() if _is_counted(cur, which, number, nth) else ("of",)))
    free = cur.take_words("unworked") > 0
    begun = take_unfinished(cur)
    if free and number is None and cur.peek().kind in ("num", "mark") and not names_by_size(cur):
        number = read_number(cur)
    skipped = "skip" in cur.holds and takes_passed(cur)
    if "lone" in cur.begun:
        take_lone(cur)
    known = _read_known(cur, which)
    if known is not None or cur.is_word("top", "base"):
        return known
    place = _read_noun(cur, number)
    if place is None and loops is not None and not said and cur.is_word("around", "across"):
        place, which = Place(What.STITCH), Which.EACH  # "sc in BLO around"
        cur.at += cur.is_word("join", "fasten-off", ahead=1)  # "sc blo around join", where people type no comma
    if place is None:
        bare = which is None and number is None and nth is None
        of_row = cur.is_word("row", "round", "piece") and not (loops is not None and cur.peek(1).kind == "num")
        if not said or bare or of_row or cur.peek().kind == "unknown":
            return None
        place = Place(What.STITCH)
    if place.what is What.RING or place.which is Which.MADE:
        return place
    if skipped or (place.what in (What.STITCH, What.SPACE) and passed_behind(cur)):
        return passed(cur, place, which, number, nth)
    if which in (Which.EACH, Which.REST) and place.what is What.BEGINNING_CHAIN:
        place = replace(place, what=What.CHAIN, chains=None)
    if which is Which.FIRST and place.what is What.BEGINNING_CHAIN:
        return replace(place, which=Which.NEXT, nth=1)
    place = replace(
        place,
        which=settled(which, nth, place) if which or nth or place.which is not Which.ANY else Which.ANY,
        number=1 if number is None else number,
        nth=nth if nth is not None and nth > 1 else None,
        every=every,
        loops=loops or Loops.BOTH,
        words=f"{FREE if free else begun} {place.words}".strip(),
    )
    return _with_loops_behind(cur, place)


def _is_counted(cur: Cursor, which: Which | None, number: Number | None, nth: int | None) -> bool:
    """Whether one or several are picked out of what may follow behind "of": "3rd of the 5 ch"."""
    counted = nth is not None or which in (Which.FIRST, Which.LAST) or number is not None
    return counted or (which is Which.CENTER and cur.is_word("of") and told_behind(cur))


def _with_loops_behind(cur: Cursor, place: Place) -> Place:
    """ "next st in BLO", "each st through back loops only"."""
    start = cur.at
    cur.take_words("in")
    if place.loops is Loops.BOTH:
        loops = read_loops(cur)
        if loops is not None:
            return replace(place, loops=loops)
    cur.at = start
    return place


def _begins_shaping(cur: Cursor) -> bool:
    """ "Sc in next 2 inc repeat 4 times": without a comma, and no name of what is worked into."""
    entry = stitches().get(cur.peek().id) if cur.peek().kind == "stitch" else None
    return entry is not None and entry.prevailing and cur.is_word("repeat", "times", ahead=1)


def _read_noun(cur: Cursor, number: Number | None) -> Place | None:
    """The thing itself: a space, a stitch of a kind, a chain, a ring, a corner."""
    if cur.is_word("corner"):
        cur.at += 1
        inner = _read_noun(cur, number)
        if inner is None:
            return Place(What.CORNER)
        if inner.what is What.GROUP and inner.of is None:
            return Place(What.CORNER)
        return (
            replace(inner, what=What.CORNER, chains=inner.chains) if inner.what in (What.SPACE, What.STITCH) else inner
        )
    space = read_space(cur) or foundation_chain(cur)
    if space is not None:
        return space
    lexeme = cur.peek()
    sized = names_by_size(cur) if lexeme.kind == "num" else 0
    if sized:
        return _named_by_size(cur, sized)
    if number is not None and _begins_shaping(cur):
        return None
    if lexeme.kind == "stitch":
        cur.at += 1
        return _of_stitch(cur, lexeme.id, number)
    if lexeme.kind == "word" and lexeme.id in _NOUNS:
        cur.at += 1
        what = _NOUNS[lexeme.id]
        if what is What.BEGINNING_CHAIN:
            return beginning_chain(cur, or_space=True)
        if what is What.STITCH and number is None and cur.is_word("of") and is_chain(cur, 1):
            cur.at += 1
            return chain_of(cur)
        return Place(what, which=Which.ANY if lexeme.id == "row-ends" and number is None else Which.NEXT)
    return None


def _named_by_size(cur: Cursor, words: int) -> Place:
    """ "3-dc cluster", "3 dc group": a group told by how many stitches it has."""
    cur.at += words
    stitch, group = cur.peek(-2).id, cur.peek(-1)
    size = size_words(cur.peek(-words).value, stitch)
    named = group.kind == "stitch"
    return Place(What.STITCH if named else What.GROUP, of=group.id if named else stitch, words=size)


def _of_stitch(cur: Cursor, of: str, number: Number | None) -> Place:
    """A stitch of a kind, whose name has just been read, or what it narrows: a group, a loop, the end of a row."""
    if of == "ch":
        return Place(What.CHAIN)
    if cur.is_word("stitch") and not cur.is_word("stitch", ahead=-1):
        cur.at += 1
    if cur.is_word(*SPACES):
        cur.at += 1
        return Place(What.SPACE, within=Place(What.STITCH, of=of))
    if cur.is_word("group") or (number is None and is_cluster(cur)):
        cur.at += 1
        return Place(What.GROUP, of=of)
    if cur.take_words("row-end", *(() if number is None else ("row-ends",))):
        return Place(What.ROW_END, of=of)
    return Place(What.STITCH, of=of)


def _read_known(cur: Cursor, which: Which | None) -> Place | None:
    """Places of the row's own: "top of ch-3", "st at base of ch", which the row's chain rises from, "marked st"."""
    if cur.is_word("marker") and (cur.is_word("stitch", ahead=1) or cur.peek(1).kind == "stitch"):
        cur.at += 2
        return Place(What.MARKER, which=which or Which.NEXT)
    if not cur.is_word("stitch", "base", "top"):
        return None
    start = cur.at
    if cur.take_word("stitch"):
        cur.take_words("in", "the")
    place = _read_top(cur) if cur.is_word("base") or (cur.at == start and cur.is_word("top")) else None
    if place is None and cur.at != start:
        cur.at = start
    return place


def _read_top(cur: Cursor) -> Place | None:
    """ "top of beg ch-3", "top of tch", "top of ch 3"."""
    top = cur.is_word("top")
    cur.at += 1
    cur.take_words("of", "the", "same")
    made = just_made(cur) if top else None
    if made is not None:
        return made
    if cur.is_word("turning-chain", "beginning-chain"):
        cur.at += 1
        chain = beginning_chain(cur)
        return chain if top else Place(which=Which.SAME)
    cur.take_words("beginning")
    if top and cur.peek().kind == "ord" and cur.peek().value == 1 and (is_chain(cur, 1) or space_next(cur, 1)):
        cur.at += 1  # "top of first ch-3" is the chain that began the round
    cur.at += cur.is_word("skip") and is_chain(cur, 1)  # "top of the skipped ch-3", at the hook
    if is_chain(cur, 0) or space_next(cur):
        space = read_space(cur)
        if space is None:
            cur.at += 1
        if not top:
            return Place(which=Which.SAME)
        return Place(What.BEGINNING_CHAIN, chains=space.chains if space else None)
    if not top:
        return None
    return _read_noun_phrase(cur)


_PARTING = (",", ";", ".", ")", "]", "*")
"""Marks behind which nothing narrows a place."""


def _with_tail(cur: Cursor, place: Place) -> Place:
    """What narrows a place from behind: "from hook", "of beg ch-3", "of next shell", "around", "to last 2 sts"."""
    while not (cur.done or cur.is_mark(*_PARTING)):
        start = cur.at
        if cur.is_word("between") and place.what in (What.GAP, What.SPACE):
            between = _read_between(cur, start)
            if between is not None and place.which is Which.EACH:
                cur.take_word("around", "across")  # "in each sp between groups around": all of them anyway
                return replace(between, which=Which.EACH)
            if between is not None:
                return replace(between, number=place.number) if place.which is Which.NEXT else between
        if cur.is_word("from") and cur.is_word("hook", ahead=1) and place.what in (What.CHAIN, What.STITCH):
            cur.at += 2
            place = replace(place, what=What.CHAIN, which=Which.NTH, origin=Origin.HOOK, nth=place.nth or 1, of=None)
            continue
        if cur.is_word("of") and not (place.what is What.ROW_END and is_of_middle(cur)):
            within = of_foundation(cur, place) or _read_of(cur, place)
            if within is not None:
                place = within
                continue
            cur.at = start
        formed = formed_of(cur, place)
        if formed is not None:
            place = formed
            continue
        along = along_in_words(cur, place)
        if along:
            return replace(place, words=along)
        further = elsewhere(cur, place)
        if further is not None:
            place = further
            continue
        if is_so_anyway(cur, place):
            continue
        cur.at = start
        closing = place == Place(What.SPACE) and take_closing(cur)
        return replace(place, which=Which.SAME) if closing else with_words(cur, place)
    return place


def _read_of(cur: Cursor, place: Place) -> Place | None:
    start = cur.at
    cur.take_words("of", "the", "same")
    if cur.is_word("ring"):
        cur.at += 1
        return place
    if place.what in (What.CHAIN, What.STITCH, What.BEGINNING_CHAIN):
        if cur.is_word("beginning", "turning-chain", "beginning-chain") or is_chain(cur, 0) or space_next(cur):
            inner = chain_of(cur)
            nth = place.nth or (1 if place.which is Which.FIRST and place.number == 1 else None)
            if inner.what is What.BEGINNING_CHAIN:
                return part_of_chain(place, inner, nth)
            space = inner.within
            if space is not None and any(word.id == "same" for word in cur.words[start : start + 3]):
                space = replace(space, which=Which.SAME)
            return replace(place, what=What.CHAIN, nth=nth, within=space, of=None)
        if place.what is What.CHAIN and cur.is_word("next", "same", "each"):
            outer = _read_noun_phrase(cur)
            if outer is not None and outer.what is What.SPACE:
                return replace(place, within=outer)
            cur.at = start
            return None
    same = cur.is_word("same", ahead=-1)
    outer = _read_noun_phrase(cur)
    if outer is None:
        cur.at = start
        return None
    alone = outer.which is Which.NEXT and outer.number == 1 and outer.nth is None
    if same and alone and (place.what is What.STITCH or is_group(outer, place)):
        outer = replace(outer, which=Which.SAME)
    corner = middle_of(cur, start, place, outer)
    if corner is not None:
        return corner
    if place.which is Which.CENTER and outer.what is What.SPACE and place.what is What.STITCH and place.of is None:
        return outer
    return replace(place, within=outer)


def _rest_in_words(cur: Cursor, begun: int, *, whatever: bool = False) -> str:
    """The words from there to the end of the clause, which narrow what stands between."""
    at, cur.at = cur.at, begun
    words = words_of_place(cur, whatever=whatever)
    if not words:
        cur.at = at
    return words


_PAIR = 2


def _between_first_two(cur: Cursor, start: int) -> Place | None:
    """ "Between 1st 2 dc of next shell": between its 1st and 2nd dc."""
    at = cur.at
    cur.at += 1
    noun = _read_noun(cur, None)
    if noun is not None and noun.what is What.STITCH and cur.is_word("of"):
        place = _with_tail(cur, Place(What.GAP, which=Which.NTH, nth=1, of=noun.of, span=cur.span(start)))
        if place.within is not None and not place.words:
            return place
    cur.at = at
    return None


def _read_between(cur: Cursor, start: int) -> Place | None:
    """ "between next 2 dc", "between groups", "between 2nd and 3rd dc"."""
    cur.at += 1
    cur.take_words("the")
    first = cur.take_kind("ord")
    if first is not None and first.value == 1 and cur.peek().kind == "num" and cur.peek().value == _PAIR:
        pair = _between_first_two(cur, start)
        if pair is not None:
            return pair
    if first is not None and cur.is_word("and"):
        cur.at += 1
        cur.take_kind("ord")
        noun = _read_noun(cur, None)
        groups = noun is not None and (noun.what is What.GROUP or bool(said_size(noun.words)))
        if groups or (noun is None and not (cur.done or cur.peek().kind == "mark")):
            cur.at = start + 1
            words = words_of_place(cur, whatever=groups)
            cur.at = cur.at if words else start
            return Place(What.GAP, words=words, span=cur.span(start)) if words else None
        words = _rest_in_words(cur, start + 1) if cur.is_word("of", "piece") else ""
        if words:
            return Place(What.GAP, words=words, span=cur.span(start))
        place = Place(What.GAP, which=Which.NTH, nth=first.value, of=noun.of if noun else None)
        return _with_tail(cur, replace(place, span=cur.span(start)))
    if first is not None:
        cur.at -= 1
    begun = cur.at
    inner = _read_noun_phrase(cur)
    if inner is None:
        cur.at = begun
        words = words_of_place(cur)
        if not words:
            cur.at = start
            return None
        return Place(What.GAP, words=words, span=cur.span(start))
    if inner.what is What.PIECE or said_size(inner.words):
        words = said_of_place(cur, begun) if said_size(inner.words) else inner.words
        return Place(What.GAP, words=words, span=cur.span(start))
    if cur.is_word("of") or inner.within is not None:
        words = _rest_in_words(cur, begun, whatever=True)
        if words:
            return Place(What.GAP, words=words, span=cur.span(start))
    which = Which.EACH if inner.which is Which.EACH else Which.SAME if inner.which is Which.SAME else Which.NEXT
    return Place(
        What.GAP, which=which, of=inner.of, within=inner if inner.what is What.GROUP else None, span=cur.span(start)
    )
