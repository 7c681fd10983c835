"""Reads what is neither stitch nor chain: skipping, joining, turning, fastening off, colours, markers."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import (
    Begin,
    ChangeColour,
    FastenOff,
    Join,
    JoinBy,
    Marker,
    MarkerAct,
    Place,
    Skip,
    Slip,
    Start,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
)
from convert.instructions.chains.chain import names_yarn, read_colour_name, takes_fastened
from convert.instructions.places.listed import read_listed
from convert.instructions.places.marked import among_made
from convert.instructions.places.on_pieces import takes_limb
from convert.instructions.places.place import read_place
from convert.instructions.places.place_words import FREE, with_words
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.remarks import remark_follows
from convert.instructions.words.yarns import take_yarn, take_yarn_left
from convert.trade.patterns import listed


def read_skip(cur: Cursor) -> list[Step] | None:
    """ "sk next 2 sts", "miss 1 dc", "skip next ch-1 sp", "leave last 6 sts unworked", "miss 2 under it"."""
    start = cur.at
    leave = cur.is_word("leave")
    if not cur.take_words("skip", "leave"):
        return None
    beneath = not leave and cur.take_words("under-it") > 0
    rest = _rest_in_words(cur) if leave else None
    if rest is not None:
        return [Skip(rest, True, cur.span(start))]
    several = None if leave else read_listed(cur, start)
    if several is not None:
        return several
    place = read_place(cur, preposition=False)
    if place is None and not leave and cur.is_word("to") and cur.is_word("next", ahead=1):
        place = Place(span=cur.span(start))  # "skip to next ch-2 sp"
    if place is None:
        cur.at = start
        return None
    if not leave and not beneath:
        cur.take_words("under-it")
    if place.which is Which.SAME and "base" in cur.ids[start : cur.at]:
        place = replace(place, which=Which.FIRST)  # the row's chain rises from it
    if cur.is_word("of") and not _of_foundation(cur):
        cur.at = start  # "miss 3 of 6 trebles": which of them is not told
        return None
    if not cur.take_words("unworked") and leave:
        cur.at = start
        return None
    place = with_words(cur, place) if leave else place
    if place.which is Which.REST or (leave and place.which in (Which.LAST, Which.NEXT)):
        leave = True
    return [Skip(place, leave, cur.span(start)), *(() if leave else _and_skipped(cur))]


def _and_skipped(cur: Cursor) -> list[Step]:
    """ "Skip next 30 sts and the next ch-1 sp": further places that are skipped with the first."""
    start = cur.at
    if not cur.take_words("and"):
        return []
    begun = cur.at
    place = read_place(cur, preposition=False)
    named = place is not None and place.what in (What.STITCH, What.SPACE) and place.which is Which.NEXT
    if place is None or not named or place.words or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return []
    return [Skip(place, span=cur.span(begun))]


def _rest_in_words(cur: Cursor) -> Place | None:
    """ "Leave the rest of the row unworked", "leaving the left front unworked": the rest of the row, by what it is."""
    start = cur.at
    cur.take_words("the")
    named = cur.at
    while cur.at - named < _NAMED and (
        cur.peek().kind == "unknown"
        or cur.is_word("of", "the", "row", "round", "piece", "remaining", "front", "back", "other", "stitch")
    ):
        cur.at += 1
    said = cur.text(named, cur.at) if cur.at > named else ""
    plain = all(word.kind == "word" and word.id != "piece" for word in cur.words[named : cur.at])
    if not said or not cur.take_words("unworked"):
        cur.at = start
        return None
    return Place(which=Which.REST, words="" if plain else f"of the {said}", span=cur.span(start))


_NAMED = 5
"""The most words that the rest of a row is called by."""


def _of_foundation(cur: Cursor) -> bool:
    """Reads "of the foundation": the chain that is worked on anyway."""
    start = cur.at
    cur.take_words("of", "the")
    if cur.take_words("foundation-row", "foundation-chain"):
        return True
    cur.at = start
    return False


def read_slip(cur: Cursor) -> list[Step] | None:
    """ "Slip in next 3 sts", "slip to first dc": the verb."""
    start = cur.at
    if not cur.take_words("slip"):
        return None
    place = read_place(cur, preposition=not cur.take_words("to"))
    if place is None:
        cur.at = start
        return None
    return [Slip(place, cur.span(start))]


def read_do_not(cur: Cursor) -> list[Step] | None:
    """ "do not turn": a remark, since a round is not turned unless the text says so."""
    start = cur.at
    if not cur.take_words("do-not-turn"):
        return None
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


def read_join(cur: Cursor) -> list[Step] | None:
    """ "join with sl st in first sc", "join in top of beg ch-3", "join"."""
    start = cur.at
    if not cur.take_words("join"):
        return None
    if cur.is_word("manner") and cur.is_listed("as_before") and not cur.is_listed("closes", -1):
        cur.at += 1
    cur.take_words("with", "the")
    by = JoinBy.UNSAID
    if cur.peek().kind == "stitch" and cur.peek().id == "sl-st":
        cur.at += 1
        by = JoinBy.SLIP
    elif cur.peek(-1).kind == "word" and cur.peek(-1).id == "with":
        cur.at = start
        return None
    if cur.is_word("to"):
        cur.at += 1
        place = read_place(cur, preposition=False)
    elif cur.take_words("previous"):
        place = None  # "join last round": the last of the rounds just told
    else:
        place = read_place(cur)
    if place is None and by is JoinBy.UNSAID and not (_clause_ends(cur) or remark_follows(cur)):
        cur.at = start
        return None
    if place is not None and place.which is Which.LAST and cur.take_words("to"):
        place = read_place(cur, preposition=False)
        if place is None:
            cur.at = start
            return None
    if start and place is not None and place.what is What.PIECE and "manner" in cur.ids[start : cur.at]:
        cur.at = start  # "join 3rd motif in same manner": work of another piece, told before
        return None
    loops_left = not start and place is not None and place.words.startswith(FREE)  # later in a row, pieces are joined
    if place is not None and (
        loops_left or (place.which is Which.ANY and not place.words) or _opens(cur, start, place)
    ):
        return [Begin(Start.EDGE, 0, None, place, span=cur.span(start))]  # no round is closed anywhere
    cur.take_words("join")
    by = _by_slip_stitch(cur) if place is not None and cur.is_word("with") else by
    return [Join(_of_beginning_chain(place), by, cur.span(start))]


def _opens(cur: Cursor, start: int, place: Place) -> bool:
    """Whether a row begins with the join, and work follows: "Join in next space between two dc. Ch 3, ..."."""
    if place.which is Which.FIRST or place.what in (What.BEGINNING_CHAIN, What.CHAIN, What.RING) or place.words:
        return False
    before, behind = cur.words[:start], cur.words[cur.at :]
    return not any(word.kind in ("stitch", "tog") for word in before) and any(
        word.kind == "stitch" and word.id != "ch" for word in behind
    )


def _by_slip_stitch(cur: Cursor) -> JoinBy:
    """ "Join to first sc with a sl st": how, behind the place."""
    start = cur.at
    cur.take_words("with", "the")
    if cur.peek().kind == "num" and cur.peek().value == 1:
        cur.at += 1
    if cur.peek().id == "sl-st":
        cur.at += 1
        return JoinBy.SLIP
    cur.at = start
    return JoinBy.UNSAID


def _of_beginning_chain(place: Place | None) -> Place | None:
    """ "Join in 4th ch of ch-4": a round is joined to the chain that began it."""
    outer = place.within if place is not None and place.what is What.CHAIN and place.nth is not None else None
    if place is None or outer is None or outer.what is not What.SPACE or outer.chains is None:
        return place
    return Place(What.BEGINNING_CHAIN, chains=outer.chains, nth=place.nth, span=place.span)


def _clause_ends(cur: Cursor) -> bool:
    return cur.done or cur.peek().kind == "mark" or cur.is_word("and", "then", "turn", "fasten-off")


def read_turn(cur: Cursor) -> list[Step] | None:
    """ "turn"."""
    start = cur.at
    cur.take_words("to")
    if not cur.take_words("turn") or (cur.peek().kind == "unknown" or cur.is_word("side-word")):
        cur.at = start
        return None
    steps: list[Step] = [Turn(cur.span(start))]
    told = cur.at
    if cur.take_words("each") and cur.take_words("row"):
        steps.append(Verbatim((cur.text(told, cur.at),), True, cur.span(told)))
    else:
        cur.at = told
    return steps


def read_fasten_off(cur: Cursor) -> list[Step] | None:
    """ "fasten off", "break off at end of last row"."""
    start = cur.at
    if not (cur.take_words("fasten-off") or takes_fastened(cur)):
        return None
    steps: list[Step] = [FastenOff(cur.span(start))]
    yarn = cur.at
    if take_yarn_left(cur) or takes_limb(cur):
        yarn += cur.words[yarn].id == ","
        steps.append(Verbatim((cur.text(yarn, cur.at),), True, cur.span(yarn)))
    elif cur.take_words("last", "previous", "row", "round", "closely") and (cur.done or cur.peek().kind == "mark"):
        steps.append(Verbatim((cur.text(yarn, cur.at),), True, cur.span(yarn)))  # "the last row neatly"
    else:
        cur.at = yarn
    behind = cur.at
    cur.take_mark(",")
    told = cur.at
    if cur.take_words("in") and cur.take_words("the", "end"):
        while not (cur.done or cur.peek().kind == "mark"):
            cur.at += 1
        steps.append(Verbatim((cur.text(told, cur.at),), True, cur.span(told)))
    else:
        cur.at = behind
    return steps


def read_yarn_left(cur: Cursor) -> list[Step] | None:
    """ "cut White", "drop A": one of several yarns is laid aside; which one goes on is told where it is taken up."""
    start = cur.at
    if not (cur.take_words("cut") and take_yarn_left(cur)):
        cur.at = start
        return None
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


def read_colour(cur: Cursor) -> list[Step] | None:
    """ "change to B", "with A", "B:", where B is one of the pattern's yarns."""
    start = cur.at
    if cur.is_mark(":", ahead=1) and names_yarn(cur):
        cur.at += 2
        return [ChangeColour(cur.words[start].text, cur.span(start))]
    changed = cur.take_words("change", "take-up") > 0
    called = cur.is_listed("yarn_called", 1) or cur.peek(1).text in listed("colours")
    if cur.is_word("in") and called:
        cur.at += 1  # "in colour A, ...", "in yellow, ..."
        changed = True
    cur.take_words("to")
    if cur.take_words("with"):
        changed = True
    if cur.peek().text not in cur.context.colours:
        cur.take_words("the", "colour")
    named = (_numbered_yarn(cur) or _yarn(cur, start)) if changed else None
    if named is None:
        cur.at = start
        return None
    if cur.words[start].id == "in" and start and cur.words[start - 1].id == "ch":
        return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]  # "ch 20 in colour A": what it is made of
    behind = cur.at
    _when_changed(cur)
    if cur.rows > 1 and any(
        word.kind == "num" for word in cur.words[behind : cur.at]
    ):  # which of several rows it is at the end of
        told = Verbatim((cur.text(behind, cur.at),), True, cur.span(behind))
        return [ChangeColour(named, cur.span(start, behind)), told]
    return [ChangeColour(named, cur.span(start))]


def _numbered_yarn(cur: Cursor) -> str | None:
    """ "Colour 2", where the yarns are called by numbers."""
    if not cur.at or cur.peek().kind != "num" or not cur.is_listed("yarn_called", -1):
        return None
    if cur.at + 1 < len(cur.words) and cur.peek(1).kind != "mark" and not cur.is_word("in", ahead=1):
        return None
    cur.at += 1
    return cur.text(cur.at - 2, cur.at)


def _yarn(cur: Cursor, start: int) -> str | None:
    """The yarn behind "with" and "change to": a colour of the list, a letter that nothing makes an article, a name."""
    at = cur.at
    stitch = cur.peek(cur.peek().kind == "num").kind == "stitch"
    if (
        cur.at > start
        and cur.peek(-1).text == "A"
        and (stitch or cur.done or cur.peek().kind == "mark" or cur.is_word("and", "in"))
    ):
        return "A"
    called = cur.is_listed("yarn_called")
    cur.at += called
    sure = called or cur.peek().text in cur.context.colours or cur.peek(1).kind == "num"
    named = take_yarn(cur)
    if named and (sure or cur.done or cur.peek().kind == "mark" or cur.is_word("in", "and")):
        return named
    cur.at = at
    return read_colour_name(cur)


def _when_changed(cur: Cursor) -> None:
    """Reads "on last yarn over", "in last st", where yarn is always changed: with the last step of the stitch
    before.
    """
    start = cur.at
    if (
        cur.take_words("in")
        and cur.take_words("the", "end", "row-end", "last")
        and cur.is_word("end", "row-end", ahead=-1)
    ):
        cur.take_words("of", "the", "each", "row", "round", "previous")
        cur.take_kind("num")
        if cur.done or cur.peek().kind == "mark":
            return
    cur.at = start
    if cur.take_words("in"):
        cur.take_words("the", "last", "previous")
        if cur.take_words("stitch") or cur.take_kind("stitch"):
            _of_row(cur)
            return
        if cur.is_listed("last_motion") or cur.is_word("yarn-over", "loop"):
            cur.at += 1
            cur.take_words("in", "of", "the", "last", "stitch")
            return
    cur.at = start


def _of_row(cur: Cursor) -> None:
    """Reads "of R5", "of last rnd" behind the stitch in which the yarn is changed."""
    start = cur.at
    cur.take_words("of", "the", "previous", "last", "row", "round")
    if cur.is_listed("row_letter") and cur.peek(1).kind == "num":
        cur.at += 1
    cur.take_kind("num")
    if not (cur.done or cur.peek().kind == "mark"):
        cur.at = start


def read_marker(cur: Cursor) -> list[Step] | None:
    """ "place marker in first st", "move marker", "pm"."""
    start = cur.at
    acts = {"place-marker": MarkerAct.PLACE, "move-marker": MarkerAct.MOVE, "remove-marker": MarkerAct.REMOVE}
    for id, act in acts.items():
        if cur.take_words(id):
            place = among_made(cur) or read_place(cur)
            if place is None and cur.is_word("to"):
                cur.at += 1
                place = read_place(cur, preposition=False)
            if cur.is_word("in", "of", "to", "beginning"):
                break
            return [Marker(act, place, cur.span(start))]
    cur.at = start
    return None
