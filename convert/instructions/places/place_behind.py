"""Reads what stands behind a place: words that say no more than is known, and rows further down."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, What, Which
from convert.instructions.words.cursor import Cursor
from convert.trade.stitches import stitches


def _or_space(cur: Cursor, place: Place) -> bool:
    """ "Same st or sp": a stitch may be told to go into either, as the definition of a group does."""
    several = place.which is Which.NEXT and place.number != 1  # "skip 2 sts or sp", of blocks and spaces alike
    if not (several or place.which is Which.SAME) or not cur.is_listed("otherwise"):
        return False
    ahead = 1
    while cur.is_word("the", "same", "next", "indicated", ahead=ahead):
        ahead += 1
    if not cur.is_word("space", "stitch", "loop", ahead=ahead):
        return False
    cur.at += ahead + 1
    return True


def is_so_anyway(cur: Cursor, place: Place) -> bool:
    """Takes words that say no more than the place says already: "around" behind "each st", "of previous row"."""
    if cur.is_word("around", "across") and place.which is Which.EACH:
        cur.at += 1
        return True
    if (cur.is_word("in", "of") and (_take_last_row(cur) or _take_tile(cur))) or cur.take_words("indicated"):
        return True
    if place.which in (Which.FIRST, Which.LAST, Which.EACH) and _take_this_row(cur):
        return True
    if place.which in (Which.EACH, Which.NEXT) and _following_behind(cur):
        return True
    if place.which is Which.NEXT and place.number != 1 and cur.is_word("each") and _ends_behind(cur):
        cur.at += 1  # "in next 15 sts each"
        return True
    if _or_space(cur, place):
        return True
    return place.which is Which.SAME and _where_work_stands(cur)


def _where_work_stands(cur: Cursor) -> bool:
    """ "Same st as join", "same sp with last sc", "same st where last sc was made"."""
    start = cur.at
    where = cur.is_word("where")
    if not cur.take_words("as", "with", "where"):
        return False
    taken = cur.at
    last = cur.is_word("last", "join", "previous")
    _take_as(cur)
    if (where and not (last and cur.take_words("was-made"))) or (cur.words[start].id == "with" and not last):
        cur.at = start
        return False
    return cur.at > taken or not where


def _following_behind(cur: Cursor) -> bool:
    """ "In each of 6 stitches following": said behind, where nothing else follows."""
    if not cur.is_word("next") or not (cur.at + 1 >= len(cur.words) or cur.peek(1).kind == "mark"):
        return False
    cur.at += 1
    return True


def elsewhere(cur: Cursor, place: Place) -> Place | None:
    """Where the place lies off the last row: "along side", "of previous rnd but one"; or in it: "each ch across sp"."""
    if place.what is What.CHAIN and place.which is Which.EACH and place.within is None and _across_space(cur):
        return replace(place, within=Place(What.SPACE))
    if place.what is What.ROW_END and place.which is Which.EACH and _take_side(cur):
        return place
    if place.which is Which.SAME and place.what is What.STITCH and _take_first_chain(cur):
        return replace(place, which=Which.FIRST)
    if place.which is Which.SAME and _take_beginning(cur):
        return replace(place, which=Which.FIRST)
    first = _take_first(cur) if place.which is Which.SAME and place.what is What.STITCH else None
    if first is not None:
        return replace(place, which=Which.FIRST, of=first)
    below = _read_below(cur)
    return replace(place, below=below) if below else None


def _take_first(cur: Cursor) -> str | None:
    """ "Same st as first sc": the kind of the stitch with which this round began, in whose place the work ends."""
    start = cur.at
    stitch = cur.take_kind("stitch") if cur.take_words("as-first") or _as_the_first(cur) else None
    if stitch is None or stitch.id == "ch" or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    return stitch.id


def _as_the_first(cur: Cursor) -> bool:
    """ "As the first", "as 1st"."""
    if not cur.take_words("as"):
        return False
    cur.take_words("the", "beginning")
    return cur.take_words("first") > 0 or (cur.peek().kind == "ord" and cur.peek().value == 1 and _step(cur))


def _step(cur: Cursor) -> bool:
    cur.at += 1
    return True


def _take_first_chain(cur: Cursor) -> bool:
    """ "Same place as first ch-5": where the chain that began the round stands."""
    start = cur.at
    cur.take_words("as")
    if cur.take_words("as-first", "first") and cur.peek().kind == "stitch" and cur.peek().id == "ch":
        cur.at += 1
        if cur.take_mark("-"):
            cur.take_kind("num")
        if cur.done or cur.peek().kind == "mark":
            return True
    cur.at = start
    return False


def _take_beginning(cur: Cursor) -> bool:
    """ "Same sp as beginning": where the round began, to which its end comes."""
    start = cur.at
    if cur.take_words("as") and cur.take_words("beginning"):
        cur.take_words("of")
        cur.take_words("the")
        cur.take_words("row", "round")
        if cur.done or cur.peek().kind == "mark":
            return True
    cur.at = start
    return False


def _take_side(cur: Cursor) -> bool:
    """ "Along side", "down the side", "up other side": where the ends of rows are anyway."""
    start = cur.at
    if cur.take_words("other-side"):
        return True
    cur.take_words("in", "up-down", "across", "the")
    if cur.at > start and (cur.take_words("side-word") or cur.take_words("other-side")):
        return True
    cur.at = start
    return False


def take_round_about(cur: Cursor) -> bool:
    """Reads the British "round" of "1 raised tr round next tr", which is no round of the work."""
    entry = stitches().get(cur.peek(-1).id) if cur.is_word("round") else None
    about = entry is not None and bool(entry.post) and cur.is_listed("round_about")
    if not (about and cur.is_word("next", "each", "same", "first", "last", "the", "post", ahead=1)):
        return False
    cur.at += 1
    return True


def is_of_middle(cur: Cursor) -> bool:
    """Whether "of the centre" stands there and names a piece: the ends of its rows are meant, and no stitch of it."""
    ahead = 2 if cur.is_word("the", ahead=1) else 1
    ends = cur.at + ahead + 1 >= len(cur.words) or cur.peek(ahead + 1).kind == "mark"
    return cur.is_word("of") and cur.is_word("centre", ahead=ahead) and ends


def _read_below(cur: Cursor) -> int:
    """How many rows further down than the last: 1 for "of previous rnd but one", "1 row below"; 0 if none is told."""
    start = cur.at
    cur.take_words("in", "of", "the")
    if cur.take_words("previous"):
        cur.take_words("row", "round")
        if cur.take_words("but-one"):
            return 1
    cur.at = start
    number = cur.take_kind("num")
    if number is not None and cur.take_words("row", "round") and cur.take_words("below"):
        return number.value
    cur.at = start
    return 0


def _across_space(cur: Cursor) -> bool:
    """ "Across sp", "across next sp": one space, whose chains are meant."""
    start = cur.at
    across = cur.take_words("across") > 0
    cur.take_words("the", "next")
    if across and cur.take_words("space") and (cur.done or cur.is_mark(",", ";", ".") or cur.is_word("and")):
        return True
    cur.at = start
    return False


def formed_of(cur: Cursor, place: Place) -> Place | None:
    """ "Loop formed with the 5 chain", "scallop formed by 7 chain": the space of so many chains."""
    start = cur.at
    scallop = place.what is What.PIECE and len(place.words.split()) <= _SCALLOP
    if not (place.what is What.SPACE and place.chains is None) and not scallop:
        return None
    if not cur.take_words("formed-by"):
        return None
    cur.take_words("the")
    number = cur.take_kind("num")
    if number is None or cur.peek().id != "ch":
        cur.at = start
        return None
    cur.at += 1
    return replace(place, what=What.SPACE, chains=number.value, words="")


_SCALLOP = 2


def take_closing(cur: Cursor) -> bool:
    """ "sp formed by dc": the loop that a stitch closed in place of a join, in whose middle the work stands."""
    start = cur.at
    if not cur.take_words("formed-by"):
        return False
    cur.take_words("the", "join", "last")
    stitch = cur.take_kind("stitch")
    if stitch is None or stitch.id == "ch":
        cur.at = start
        return False
    return True


def _take_as(cur: Cursor) -> None:
    """What "same st as ..." compares with: the join or the last stitch, where the work stands anyway."""
    cur.take_words("the", "last", "previous", "beginning")
    if not cur.take_words("join"):
        if cur.peek().kind == "stitch":
            cur.at += 1
        else:
            cur.take_words("stitch", "beginning-chain", "turning-chain")
        if cur.take_mark("-"):
            cur.take_kind("num")


def _ends_behind(cur: Cursor) -> bool:
    """Whether the clause ends behind the word at the position."""
    return cur.at + 1 >= len(cur.words) or cur.peek(1).kind == "mark"


def _take_this_row(cur: Cursor) -> bool:
    """ "First st of the rnd": of the one that is worked."""
    start = cur.at
    if cur.take_words("of", "the") and cur.take_words("row", "round") and (cur.done or cur.peek().kind == "mark"):
        return True
    cur.at = start
    return False


def _take_tile(cur: Cursor) -> bool:
    """ "Of the block below", "of tile from previous row": squares of the last row, where the next place is anyway."""
    start = cur.at
    cur.take_words("in", "of", "the", "next", "last")
    if cur.is_listed("tiles"):
        cur.at += 1
        cur.take_words("in", "of", "from")
        if cur.take_words("below") or cur.take_words("row-below") or _take_last_row(cur):
            return True
    cur.at = start
    return False


def _take_last_row(cur: Cursor) -> bool:
    """ "of previous rnd", "in last row": where the next stitch goes anyway."""
    start = cur.at
    cur.take_words("in", "of", "the")
    if cur.is_word("previous") and not cur.is_word("piece", ahead=1) and cur.peek(1).kind != "unknown":
        cur.at += 1
        cur.take_words("row", "round")
        return True
    if cur.is_word("last") and cur.is_word("row", "round", ahead=1):
        cur.at += 2
        return True
    cur.at = start
    return False
