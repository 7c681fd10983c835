"""Tells rings that the words do not call so: a ring named only where it is worked into, a chain joined at once."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.records import Label
from convert.document.steps import (
    Begin,
    Chain,
    ChangeColour,
    Extent,
    FastenOff,
    Join,
    JoinBy,
    Place,
    Repeat,
    Slip,
    Start,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.document.walking import each
from convert.instructions.words.cursor import Context, Cursor
from convert.instructions.words.lexicon import Lexeme
from convert.source import NOWHERE


def with_ring(steps: tuple[Step, ...], cur: Cursor) -> tuple[Step, ...]:
    """ "6 sc in adjustable ring" begins the ring and works into it; "Ch 5, join; 9 dc in ring" makes one of chains."""
    begun = next((i for i, step in enumerate(steps) if isinstance(step, Begin)), None)
    ring = steps[begun] if begun is not None else None
    if isinstance(ring, Begin) and ring.start is Start.ADJUSTABLE_RING and _unplaced(steps[:begun]):
        return (ring, *map(_in_ring, steps[:begun]), *steps[(begun or 0) + 1 :])  # "6 sc magic ring"
    if begun is not None:
        return (*steps[: begun + 1], *_into_ring(steps[begun], steps[begun + 1 :]))
    named = next((i for i, word in enumerate(cur.words) if word.id == "adjustable-ring" and word.kind == "word"), None)
    if named is not None:
        return (Begin(Start.ADJUSTABLE_RING, span=cur.span(named, named + 1)), *steps)
    steps = _closed_chain(steps)
    joined = joined_chain(steps)
    return joined if joined is not steps and works_into_ring(steps) else steps


def with_short_ring(words: list[Lexeme], label: Label, context: Context) -> list[Lexeme]:
    """The words with "MC" as the magic circle that it is short for, in a first round that names no other ring.

    Where the pattern has a yarn of that name, or one is taken up ("with MC"), it stays the main colour.
    """
    named = [at for at, word in enumerate(words) if word.text in _SHORT and word.text not in context.colours]
    taken_up = any(at and words[at - 1].id in _TAKES_UP for at in named)
    if label.first != 1 or not named or taken_up or any(map(_is_ring, words)):
        return words
    return [
        Lexeme("word", "adjustable-ring", 0, word.start, word.end, word.glued, word.text) if at in named else word
        for at, word in enumerate(words)
    ]


_SHORT = ("MC", "mc", "Mc")
_TAKES_UP = ("with", "to", "change", "join", "attach", "the", "fasten-off", "cut")


def with_round_for_around(words: list[Lexeme]) -> list[Lexeme]:
    """The words with "round" as "around" behind what is worked into each: "1 dc in each st round, join"."""
    found = list(words)
    for at, word in enumerate(words):
        ends = at + 1 == len(words) or words[at + 1].kind == "mark"
        if word.text.lower() != _ROUND or not ends or at < _BEHIND:
            continue
        opened = any(before.kind == "mark" and before.id in _OPENING for before in words[:at])
        if words[at - 1].id == "repeat" and opened:
            found[at] = replace(word, kind="word", id="around")  # "*2 tr in next tr, 1 tr in next; rep round, ss"
        placed = words[at - 1].kind == "stitch" or words[at - 1].id in ("stitch", "space", "loop")
        if placed and any(before.id == "each" for before in words[max(0, at - _FAR) : at - 1]):
            found[at] = replace(word, kind="word", id="around")
    return found


_ROUND = "round"
_OPENING = ("*", "(", "[")
"""Marks that begin what is repeated."""
_BEHIND = 2
_FAR = 6
"""How many words in front of it "each" may stand."""


def _is_ring(word: Lexeme) -> bool:
    return word.kind == "word" and word.id == "adjustable-ring"


def _closed_chain(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """ "Ch 30, sl st to first ch" and nothing worked on the chain: the slip stitch joins its ends."""
    at = next((index for index, step in enumerate(steps) if not isinstance(step, Chain | ChangeColour)), len(steps))
    slip = steps[at] if at < len(steps) else None
    if not isinstance(slip, Slip) or slip.place.what is not What.CHAIN or slip.place.which is not Which.FIRST:
        return steps
    alone = isinstance(steps[0], Chain) and not any(True for _ in each(steps[at + 1 :], Work))
    return (*steps[:at], Join(slip.place, JoinBy.SLIP, slip.span), *steps[at + 1 :]) if alone else steps


def works_into_ring(steps: tuple[Step, ...]) -> bool:
    """Whether something is worked into a ring."""
    return any(place.what is What.RING for place in each(steps, Place))


def joined_chain(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps with the chain at their beginning, joined without a word where, as a ring. The yarn may be named
    between them.
    """
    yarns = tuple(step for step in steps[1:3] if isinstance(step, ChangeColour))
    behind = steps[1 + len(yarns) :]
    first, second = (steps[0], behind[0]) if behind and steps[1 : 1 + len(yarns)] == yarns else (None, None)
    if not isinstance(first, Chain) or first.counts is not None or not isinstance(second, Join) or second.place:
        return steps
    return (*yarns, Begin(Start.CHAIN_RING, first.number, span=first.span.to(second.span)), *behind[1:])


def _into_ring(ring: Step, behind: tuple[Step, ...]) -> tuple[Step, ...]:
    """ "Make a chain of 4, unite it, work 3 long, 3 chain; repeat 3 times": more stitches than chains, without a place,
    go into the ring.
    """
    if not isinstance(ring, Begin) or not isinstance(ring.number, int):
        return behind
    told = _unplaced(behind)
    if ring.start is Start.ADJUSTABLE_RING:
        return (
            tuple(map(_in_ring, behind)) if told else behind
        )  # "magic ring, 6 sc": nothing else is there to work into
    if ring.start is not Start.CHAIN_RING:
        return behind
    return tuple(map(_in_ring, behind)) if told is not None and told > ring.number else behind


def _unplaced(steps: tuple[Step, ...]) -> int | None:
    """How many stitches are told without a place; None where a place is told or a number is not."""
    many = 0
    for step in steps:
        if isinstance(step, Work):
            place = step.place
            untold = place is not None and place.span == NOWHERE and place == Place(number=place.number)
            if place is None or not untold or not isinstance(place.number, int):
                return None
            many += place.number
        elif isinstance(step, Repeat):
            inner = _unplaced(step.steps)
            if inner is None or step.extent is not Extent.TIMES or step.ending or not isinstance(step.times, int):
                return None
            many += inner * step.times
        elif not isinstance(step, Chain | Join | Turn | FastenOff) and not (isinstance(step, Verbatim) and step.inert):
            return None
    return many


def _in_ring(step: Step) -> Step:
    if isinstance(step, Repeat):
        return replace(step, steps=tuple(map(_in_ring, step.steps)))
    if isinstance(step, Work) and step.place is not None:
        return replace(step, each=step.place.number, place=Place(What.RING, which=Which.NEXT))
    return step
