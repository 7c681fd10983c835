"""Reads stitches: "sc in next 5 sts", "3 dc in next sp", "dc2tog", "5-tr cluster over next 5 tr", "sc5"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.steps import (
    ChangeColour,
    Decrease,
    Extent,
    Join,
    JoinBy,
    Loops,
    Place,
    Repeat,
    Skip,
    Slip,
    Step,
    What,
    Which,
    Work,
)
from convert.instructions.chains.chain import names_yarn, read_colour_name
from convert.instructions.incidental import read_manner
from convert.instructions.places.on_pieces import read_on_pieces
from convert.instructions.places.other_side import other_side_behind
from convert.instructions.places.place import read_place
from convert.instructions.places.place_chains import read_bare_loops
from convert.instructions.places.place_kinds import is_behind_turning_chain, is_in_next
from convert.instructions.places.which import WHICH
from convert.instructions.places.work_places import read_places
from convert.instructions.repeats.repeat import is_one, read_how_often
from convert.instructions.shaping.so_many import read_so_many
from convert.instructions.stitches.clusters import held_back, takes_held, unit_of, with_chains_between
from convert.instructions.stitches.drawn_through import closed_to
from convert.instructions.stitches.over import is_spread, one_by_one, said_each, spread_over
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import Lexeme
from convert.instructions.words.numbers import read_number, times_word
from convert.source import Span
from convert.trade.patterns import listed
from convert.trade.stitches import drawn_together, stitches

_LOOPS = ("back-loop", "front-loop", "third-loop")
_POST = {"front": Loops.FRONT_POST, "back": Loops.BACK_POST}


def read_work(cur: Cursor, *, grouped: bool = False) -> list[Step] | None:
    """One stitch clause, which may name several places ("in next st and in each st across").

    `grouped` is true inside a group, where stitches without a place go where the group goes.
    """
    start = cur.at
    long = cur.is_listed("lengthened") and cur.peek(1).kind == "stitch"
    cur.at += long
    steps = _clause(cur, start, grouped=grouped)
    if steps is None or (long and not _reaches_down(steps)):
        cur.at = start
        return None
    return steps


def _reaches_down(steps: list[Step]) -> bool:
    """Whether a stitch goes into a row further down: then it is a long one."""
    return any(isinstance(step, Work) and step.place is not None and step.place.below > 0 for step in steps)


def _clause(cur: Cursor, start: int, *, grouped: bool) -> list[Step] | None:
    _lead(cur)
    if cur.is_word("beginning") and "adjustable-ring" in cur.holds:
        cur.take_words("beginning", "with")  # "start with 6 sc in a magic ring"
    if cur.is_word("remaining") and cur.peek(1).kind == "num" and cur.is_word("together", ahead=3):
        cur.at += 1  # "work remaining 3 sc tog"
    number = _so_many(cur)
    if cur.is_mark("-") and number is not None and cur.peek(1).kind == "stitch":
        steps = _made_of(cur, number, start, grouped=grouped)
        if steps is not None:
            return steps
    cur.take_words("the", "more")
    if cur.is_word("stitch") and cur.is_word("of", ahead=1) and cur.peek(2).kind == "stitch":
        cur.at += 2  # "5 stitches of double crochet"
    stitch = cur.peek()
    extra = cur.is_listed("besides", -1)  # where they go, more words have to tell
    if number is not None and cur.stitch and cur.is_word("in", "next") and not extra:
        return _same_again(cur, number, start, grouped=grouped)
    if stitch.kind == "tog":
        cur.at += 1
        return _decreases(cur, stitch, number, start)
    if stitch.kind != "stitch" or stitch.id == "ch":
        return None
    cur.at += 1
    cur.stitch = stitch.id
    if isinstance(number, int) and _is_unit(cur):
        cur.at -= 2
        return _made_of(cur, number, start, grouped=grouped)
    if number is None and _is_unit(cur) and not stitches()[cur.peek().id].decoration:
        return None  # "dc cluster in next sp" is one clause, and tells a cluster of dc
    shaped = _shaped(cur, stitch, number, start)
    if shaped is not None:
        return shaped
    cur.take_words("stitch")
    cur.at += cur.is_mark("-") and cur.is_word(*_LOOPS, ahead=1)  # "sc-blo"
    return _behind_stitch(cur, stitch, number, start, grouped=grouped)


def _lead(cur: Cursor) -> None:
    """Reads "work the", and the "start with" of "start with 6 sc in ring"."""
    if cur.is_word("beginning") and cur.is_word("with", ahead=1) and cur.peek(2).kind == "num":
        cur.at += 2
    cur.take_words("work", "the", "then", "more")


def _so_many(cur: Cursor) -> Number | None:
    """The number in front of a stitch: "2 dc", "2x dc"."""
    number = read_number(cur) if cur.peek().kind in ("num", "mark") else None
    if number is not None and cur.is_word("times") and cur.peek().text in listed("crosses"):
        cur.at += cur.peek(1).kind == "stitch"
    return number


def _shaped(cur: Cursor, stitch: Lexeme, number: Number | None, start: int) -> list[Step] | None:
    """ "Hdc inc in next st", "dc-dec": the stitch that is increased or decreased, said in front.

    "3 sc inc" and "(sc inc) x 6" leave out the comma between a stitch and an increase.
    """
    ahead = 1 if cur.is_mark("-") else 0
    word = cur.peek(ahead)
    entry = stitches().get(word.id) if word.kind == "stitch" else None
    plain = stitches().get(stitch.id)
    if entry is None or not entry.prevailing or plain is None or plain.prevailing or plain.unit or not plain.height:
        return None
    alone = cur.is_mark("(", "[", "{", ahead=-2) and cur.is_mark(")", "]", "}", ahead=1)
    if not ahead and (alone or number not in (None, 1)):
        return None
    cur.at += ahead + 1
    all_round = entry.takes > 1 and cur.is_word("around", "across")
    place = None if all_round else _first_place(cur)
    span = cur.span(start)
    if entry.takes > 1:
        whole = place if place is not None and place.number != 1 else Place(number=entry.takes)
        return [Decrease(stitch.id, entry.takes, (whole,), span)]
    return [Work(stitch.id, entry.makes, place or Place(number=1 if number is None else number), span=span)]


def _behind_stitch(
    cur: Cursor, stitch: Lexeme, number: Number | None, start: int, *, grouped: bool
) -> list[Step] | None:
    """What follows the stitch: a number, "tog", chains in between, places."""
    _pass_other_name(cur, stitch)
    if cur.is_word("of") and (number is None or number == 1):
        entry = stitches().get(stitch.id)
        if entry is not None and entry.unit and cur.peek(1).kind == "num":
            return unit_of(cur, stitch.id, start)
    behind = _number_behind(cur, number)
    cur.at += cur.is_word("work") and cur.is_word("together", ahead=1)  # "3 tr worked together"
    if isinstance(number, int) and number > 1 and cur.take_words("together"):
        legs = read_places(cur) or (Place(number=number),)
        return [Decrease(stitch.id, number, tuple(legs), cur.span(start))]
    together = _together(cur, stitch, behind, start)
    if together is not None:
        return together
    if stitch.id == "sl-st" and cur.is_word("to") and not cur.is_word("join", ahead=1):
        return _slips_to(cur, start)
    each = number if number is not None else behind
    between = with_chains_between(cur, stitch.id, each, start)
    if between is None and not grouped:
        between = _in_all(cur, stitch.id, number, start) or read_on_pieces(cur, stitch.id, each, start)
    if between is not None:
        return between
    yarn = _yarn(cur)
    manner = read_manner(cur)
    loops = read_bare_loops(cur)
    places = () if loops else read_places(cur) or (_behind_for(cur) if each is None else ())
    loops = loops or _loops_behind(cur, places)
    if not places and cur.is_word("in", "around", "between"):
        return None
    if places and places[-1].which is Which.FIRST and cur.is_word("total-of") and stitch.id != "sl-st":
        cur.at += 1  # "in top of first cluster made": the one that began this round
        places = (*places[:-1], replace(places[-1], words=cur.peek(-1).text.lower()))
    if _narrows_every_other(stitch.id, places):
        return None
    steps = _placed(cur, stitch.id, each, places, start, grouped=grouped)
    if steps is None:
        return None
    steps = steps if places or grouped else _one_by_one(steps, cur.span(start))
    steps = _in_loops(_next_but(cur, held_back(cur, steps, start), start), loops)
    other_side = other_side_behind(cur)
    said = [step for step in (yarn or _yarn(cur), manner) if step is not None]  # "1 dc in each st in MC"
    return [other_side, *said, *steps] if other_side is not None else [*said, *steps]


def _pass_other_name(cur: Cursor, stitch: Lexeme) -> None:
    """ "Crab stitch (reverse sc)": the stitch once more, by another name."""
    if cur.is_mark("(") and cur.is_mark(")", ahead=2) and cur.peek(1).kind == "stitch" and cur.peek(1).id == stitch.id:
        cur.at += 3


def _loops_behind(cur: Cursor, places: tuple[Place, ...]) -> Loops | None:
    """ "Sc around in FLO": the loops told behind a place that is every stitch."""
    return read_bare_loops(cur) if places and places[-1].which is Which.EACH else None


def _one_by_one(steps: list[Step], span: Span) -> list[Step]:
    """ "6 dec" are six decreases of two stitches each, as "dec 6 times": "dec over next 12 sts" could be one."""
    only = steps[0] if len(steps) == 1 else None
    if not isinstance(only, Work) or only.place is None or only.each != 1 or is_one(only.place.number):
        return steps
    entry = stitches().get(only.stitch)
    if entry is None or not entry.prevailing or entry.takes < 2:
        return steps
    one = replace(only, place=replace(only.place, number=1))
    return [Repeat((one,), Extent.TIMES, only.place.number, span=span)]


def _behind_for(cur: Cursor) -> tuple[Place, ...]:
    """ "Sc for 3 sts", "sc for next 3 sts": so many places. How many rows are worked is another matter."""
    start = cur.at
    place = read_place(cur, preposition=False) if cur.take_word("for") else None
    plain = place is not None and place.what is What.STITCH and place.which is Which.NEXT and not place.words
    if place is None or not plain or is_one(place.number):
        cur.at = start
        return ()
    return (place,)


def _in_all(cur: Cursor, stitch: str, number: Number | None, start: int) -> list[Step] | None:
    return read_so_many(cur, stitch, number, start) if stitch != "sl-st" else None


def _in_loops(steps: list[Step], loops: Loops | None) -> list[Step]:
    if loops is None:
        return steps
    return [replace(s, place=replace(s.place, loops=loops)) if isinstance(s, Work) and s.place else s for s in steps]


def _yarn(cur: Cursor) -> ChangeColour | None:
    """ "5 sc in B", "1 dc with White", "5 sc B": the yarn of the stitches, in place of where they go."""
    start = cur.at
    led = cur.is_word("in", "with")
    if led and cur.ids[start + 1] in WHICH:
        return None
    bare = not led and names_yarn(cur) and not cur.is_word("adjustable-ring")
    if not (bare or led):
        return None
    cur.at += not bare
    colour = cur.peek().text if names_yarn(cur) and not cur.is_word("adjustable-ring") else None
    if colour is not None:
        cur.at += 1
    else:
        colour = read_colour_name(cur)
    if colour is None or not (cur.done or cur.peek().kind == "mark" or cur.is_word("and")):
        cur.at = start
        return None
    return ChangeColour(colour, cur.span(start))


def _next_but(cur: Cursor, steps: list[Step], start: int) -> list[Step]:
    """ "In next dc but 2": two are passed, and the third is meant."""
    last = steps[-1]
    but_one = cur.is_word("but-one")
    if not isinstance(last, Work) or last.place is None or not (but_one or cur.is_word("but")):
        return steps
    place = last.place
    if not but_one and cur.peek(1).kind != "num":
        return steps
    if place.which is not Which.NEXT or place.number != 1 or place.what not in (What.STITCH, What.SPACE):
        return steps
    cur.at += 1 if but_one else 2
    number = 1 if but_one else cur.peek(-1).value
    passed = Skip(replace(place, number=number, loops=Loops.BOTH), span=cur.span(cur.at - 1))
    return [*steps[:-1], passed, replace(last, span=cur.span(start))]


def _narrows_every_other(stitch: str, places: tuple[Place, ...]) -> bool:
    """Whether it is "dec in every 4th st", which leaves open whether the decrease itself is among the stitches
    counted.
    """
    entry = stitches().get(stitch)
    spread = any(place.which is Which.EACH and place.every > 1 for place in places)
    return spread and entry is not None and entry.prevailing and entry.takes > 1


def _same_again(cur: Cursor, number: Number, start: int, *, grouped: bool) -> list[Step] | None:
    """ "1 double in next st, 2 in next": the stitch is that of the clause before."""
    places = read_places(cur)
    steps = _placed(cur, cur.stitch, number, places, start, grouped=grouped) if places else None
    if steps is None:
        cur.at = start
        return None
    other_side = other_side_behind(cur)
    return [other_side, *steps] if other_side is not None else steps


def _number_behind(cur: Cursor, number: Number | None) -> Number | None:
    """The number in "sc 5", "dc3": not one that counts how often something is repeated."""
    if number is None and cur.is_word("once", "twice", "thrice") and cur.is_word("in", ahead=1):
        return times_word(cur)  # "sc twice in next st"
    if number is not None or cur.peek().kind != "num":
        return None
    if cur.is_word("times", ahead=1) or cur.is_word("more", ahead=1):
        return None
    start = cur.at
    found = read_number(cur)
    if cur.is_word("times", "more"):
        cur.at = start
        return None
    return found


def read_held_back(cur: Cursor) -> list[Step] | None:
    """ "Holding back the last loop of each tr, work tr in next 4 tr": the same, said before."""
    start = cur.at
    if not cur.is_word("holding-back") or not takes_held(cur):
        return None
    cur.take_mark(",")
    steps = read_work(cur)
    only = steps[0] if steps else None
    if steps is None or len(steps) != 1 or not isinstance(only, Work) or only.place is None:
        cur.at = start
        return None
    number = only.each if only.each != 1 else only.place.number
    if not isinstance(number, int) or number < 2:
        cur.at = start
        return None
    return [Decrease(only.stitch, number, (only.place,), cur.span(start))]


def _is_unit(cur: Cursor) -> bool:
    """Whether the name of a group follows a stitch: the "shell" of "5 dc shell"."""
    entry = stitches().get(cur.peek().id) if cur.peek().kind == "stitch" else None
    return entry is not None and entry.unit


def _made_of(cur: Cursor, legs: Number, start: int, *, grouped: bool) -> list[Step] | None:
    """ "5-tr cluster over next 5 tr", "3-dc cluster in next sp", "5-dc shell in next st"."""
    kind = cur.peek(1)
    unit = cur.peek(2)
    if unit.kind != "stitch" or not isinstance(legs, int) or kind.id == "ch":
        return None
    cur.at += 3
    place = _first_place(cur)
    span = cur.span(start)
    if drawn_together(unit.id):
        return [Decrease(kind.id, legs, (place or Place(number=1),), span)]
    if place is None and not grouped:
        return None
    return [Work(kind.id, legs, place, span=span), *closed_to(unit.id, span)]


def _first_place(cur: Cursor) -> Place | None:
    places = read_places(cur)
    return places[0] if places else None


def _decreases(cur: Cursor, stitch: Lexeme, number: Number | None, start: int) -> list[Step] | None:
    loops = read_bare_loops(cur)  # "hdc2tog in BLO"
    places = () if loops is not None or cur.is_word("around", "across") else read_places(cur)
    span = cur.span(start)
    legs = stitch.value
    if not places:
        one = Decrease(stitch.id, legs, (Place(number=legs, loops=loops or Loops.BOTH),), span)
        return [one] if number is None or number == 1 else _several(one, number)
    if len(places) == 1 and places[0].which is Which.EACH:
        cur.at = start
        return None
    total = sum(p.number for p in places if isinstance(p.number, int))
    if len(places) == 1 and total == 1 and places[0].what is What.STITCH and places[0].which is Which.NEXT and legs > 1:
        places = (replace(places[0], number=legs),) if not _explicit_one(cur, start) else places
    one = Decrease(stitch.id, legs, tuple(places), span)
    return [one] if number is None or number == 1 else _several(one, number)


def _explicit_one(cur: Cursor, start: int) -> bool:
    """Whether the place was said as one stitch ("in next st"), into which all the legs go; "over next" is all
    of them.
    """
    return any(w.kind == "word" and w.id == "stitch" for w in cur.words[start : cur.at])


def _several(one: Decrease, number: Number) -> list[Step] | None:
    return [Repeat((one,), Extent.TIMES, number, span=one.span)]


def _together(cur: Cursor, stitch: Lexeme, behind: Number | None, start: int) -> list[Step] | None:
    """ "sc 2 tog", "sc next 2 sts tog", "dc over next 2 sts tog"."""
    at = cur.at
    if cur.is_mark("-") and cur.peek(1).kind == "num" and behind is None:
        hyphen = 1 if cur.is_mark("-", ahead=2) else 0
        if cur.is_word("together", ahead=2 + hyphen):
            behind = cur.peek(1).value  # "sc-2-tog"
            cur.at += 2 + hyphen
    if cur.is_mark("-") and isinstance(behind, int) and cur.is_word("together", ahead=1):
        cur.at += 1
    if cur.is_word("together") and isinstance(behind, int):
        cur.at += 1
        all_along = cur.is_word("around", "across")  # "sc 2 tog around": over and over
        places = (() if all_along else read_places(cur)) or (Place(number=behind),)
        return [Decrease(stitch.id, behind, tuple(places), cur.span(start))]
    place = read_place(cur)
    joint = cur.is_word("with", ahead=1)  # "together with the arm" is no decrease
    if place is not None and cur.is_word("together") and isinstance(place.number, int) and not joint:
        cur.at += 1
        return [Decrease(stitch.id, place.number, (place,), cur.span(start))]
    cur.at = at
    return None


def _placed(
    cur: Cursor, stitch: str, each: Number | None, places: tuple[Place, ...], start: int, *, grouped: bool
) -> list[Step] | None:
    span = cur.span(start)
    if stitch == "sl-st":
        leads = start == 0 or is_in_next(cur, start, places) or is_behind_turning_chain(cur, start)
        return _slips(cur, each, places, span, leads=leads)
    if not places:
        if cur.is_word("group") and not grouped:
            return None  # "3 dc groups along each side" are as many as there is room for
        if grouped or (stitch in stitches() and stitches()[stitch].decoration):
            return [Work(stitch, 1 if each is None else each, None, span=span)]
        return [Work(stitch, 1, Place(number=1 if each is None else each), span=span)]
    steps: list[Step] = []
    takes = stitches()[stitch].takes if stitch in stitches() else 1
    if takes > 1:
        places = tuple(_taken_by(place, takes) for place in places)
    if len(places) == 1 or all(p.which is not Which.EACH for p in places[:-1]):
        up_to = _up_to(cur, stitch, 1 if each is None else each, places[-1], span)
        if up_to is not None:
            steps.append(up_to)
            places = places[:-1]
    over = len(places) == 1 and is_spread(cur, start, each, places[0])
    if over:
        spread = spread_over(cur, each, places[0])
        if spread is None:
            return None
        each, places = spread
    for place in reversed(places):
        many = 1 if each is None else each
        doubtful = many == place.number and many != 1 and one_by_one(place) and not (over or said_each(cur, start))
        if doubtful:
            many = 1
        doubtful = doubtful or (place.which is Which.EACH and not said_each(cur, start))
        steps.insert(0, replace(_post(stitch, many, place, span), said_doubtful=doubtful))
    return steps


def _taken_by(place: Place, takes: int) -> Place:
    """ "dec over next 4 sts" is two decreases: the place counts the stitches made."""
    if isinstance(place.number, int) and place.number % takes == 0 and place.which is not Which.ANY:
        return replace(place, number=place.number // takes)
    return place


def _slips_to(cur: Cursor, start: int) -> list[Step] | None:
    """ "Sl st to top of ch-3": a join where it is the round's beginning."""
    cur.at += 1
    destination = read_place(cur, preposition=False)
    if destination is None:
        return None
    joins = cur.take_words("join") > 0 or (start > 0 and _is_beginning(cur, destination))
    span = cur.span(start)
    return [Join(destination, JoinBy.SLIP, span) if joins else Slip(destination, span)]


def _is_beginning(cur: Cursor, place: Place) -> bool:
    """ "Sl st to top of ch-3", and "sl st to first st" where no chain begins the next round behind it."""
    first = place.which is Which.FIRST and place.what is What.STITCH and is_one(place.number)
    return place.what is What.BEGINNING_CHAIN or (first and "ch" not in cur.ids[cur.at :])


def _up_to(cur: Cursor, stitch: str, each: Number, place: Place, span: Span) -> Step | None:
    """ "sc in each st to last 2 sts" is a repeat of "sc in next st"."""
    if place.which is not Which.EACH or not cur.is_word("to"):
        return None
    start = cur.at
    how = read_how_often(cur, total=True)
    if how is None or (how.place is not None and how.place.what is What.PIECE):
        cur.at = start
        return None
    also = tuple(replace(other, which=Which.NEXT) for other in place.also)
    one = _post(stitch, each, replace(place, which=Which.NEXT, also=also), span)
    return Repeat((one,), how.extent, how.times, how.place, span=span.to(cur.span(start)))


def _post(stitch: str, each: Number, place: Place, span: Span) -> Work:
    entry = stitches().get(stitch)
    if entry is not None and entry.post and entry.of:
        return Work(entry.of, each, replace(place, loops=_POST[entry.post]), span=span)
    return Work(stitch, each, place, span=span)


def _slips(
    cur: Cursor, each: Number | None, places: tuple[Place, ...], span: Span, *, leads: bool
) -> list[Step] | None:
    """Slip stitches: a join where the text says so or they go into the round's beginning; otherwise they travel."""
    joining = cur.take_words("join") > 0
    if not places:
        if joining:
            return [Join(None, JoinBy.SLIP, span)]
        return [Slip(Place(number=1 if each is None else each), span)]
    place = places[0]
    closes = place.what is What.BEGINNING_CHAIN or (place.which is Which.FIRST and is_one(place.number))
    if joining or (closes and not leads):
        return [Join(place, JoinBy.SLIP, span)]
    if each is not None and place.number == 1 and place.which is Which.NEXT and each != 1:
        place = replace(place, number=each)
    return [Slip(p, span) for p in (place, *places[1:])]
