"""Names that a row gives to groups: a bracket behind the stitches that a name stands for, and one name for another.

"2 dc, ch 2, 2 dc in next sp (leaf st)" tells what a leaf stitch is; "all shells are leaf sts and will be referred to as
shells" calls it otherwise from there on. Common practice of pattern writers, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from convert.document.records import Special
from convert.document.steps import Chain, Decrease, Group, Origin, Place, Repeat, Skip, Step, Verbatim, Which, Work
from convert.instructions.stitches.only_named import which_makes
from convert.instructions.words.asides import begins_sentence
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import lexemes
from convert.trade.stitches import stitches


def told_by_steps(special: Special, steps: tuple[Step, ...], known: tuple[Special, ...]) -> Special:
    """The stitch named in passing, with the steps in front of its name where those went into one place."""
    name = f"({special.name})".casefold()
    found = _in_front_of(name, steps, known)
    if found is None:
        made = _makes_it(special.name.casefold(), steps)
        if made:
            return replace(special, steps=made)
        one = _one_so_named(special.name.casefold(), name, steps)
        return special if one is None else replace(special, steps=(one,))
    return replace(special, steps=(Group(found, Place(), found[0].span),))


def _makes_it(name: str, steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """What a repeat is made of up to words that name it, each stitch with its own place: "skip 2 sts, dc in next st, dc
    in skipped st, which makes a cross".
    """
    for repeat in (step for step in steps if isinstance(step, Repeat)):
        last = repeat.steps[-1]
        match = which_makes().fullmatch(_evened(last)) if isinstance(last, Verbatim) and last.inert else None
        inner = tuple(step for step in repeat.steps[:-1] if not (isinstance(step, Verbatim) and step.inert))
        if match is not None and match[1] == name and inner and all(isinstance(step, _OWN) for step in inner):
            return inner
    return ()


_OWN = (Work, Decrease, Skip, Chain, Group)
"""What a stitch of several places is made of."""


def _one_so_named(said: str, name: str, steps: tuple[Step, ...]) -> Work | None:
    """The one stitch in front of a name that only tells its kind: "sc in skipped st of row below (long sc)"."""
    before: Step | None = None
    for step in steps:
        if isinstance(step, Repeat):
            found = _one_so_named(said, name, step.steps)
            if found is not None:
                return found
        here = isinstance(step, Verbatim) and step.inert and _evened(step).endswith(name)
        if here and isinstance(before, Work) and before.each == 1 and _ends_as(said, before.stitch):
            return replace(before, place=None)
        if not (isinstance(step, Verbatim) and step.inert):
            before = step
    return None


def _evened(step: Verbatim) -> str:
    """Its first words in small letters, however the lines were broken."""
    return " ".join(str(step.words[0]).casefold().split())


def _ends_as(said: str, stitch: str) -> bool:
    entry = stitches().get(stitch)
    if entry is None or entry.unit or entry.prevailing:
        return False
    forms = [form for names in (entry.us, entry.uk) for form in (names.abbreviation, names.name, *names.variants)]
    return any(said.endswith(f" {form}") for form in forms)


def names_behind(steps: tuple[Step, ...], cur: Cursor) -> list[Special]:
    """The trade's own names in brackets behind the stitches of a group: "..., 2 tr in same sp (shell)"."""
    told = {special.id for special in (*cur.context.specials, *cur.defined)}
    found: list[Special] = []
    for name in _bracketed(steps):
        words = lexemes(name, cur.context.system, cur.context.specials)
        entry = stitches().get(words[0].id) if len(words) == 1 and words[0].kind == "stitch" else None
        if entry is None or not entry.unit or entry.decoration or entry.id in told:
            continue
        special = told_by_steps(Special(entry.id, name, name), steps, cur.context.specials)
        if special.steps:
            told.add(entry.id)
            found.append(special)
    return found


def _bracketed(steps: tuple[Step, ...]) -> Iterator[str]:
    for step in steps:
        if isinstance(step, Repeat):
            yield from _bracketed(step.steps)
        elif isinstance(step, Verbatim) and step.inert and str(step.words[0]).startswith("("):
            yield str(step.words[0]).strip("()")


def _in_front_of(name: str, steps: tuple[Step, ...], known: tuple[Special, ...]) -> tuple[Step, ...] | None:
    """What stands in front of the name and goes into one place, without that place."""
    for index, step in enumerate(steps):
        if isinstance(step, Repeat):
            found = _in_front_of(name, step.steps, known)
            if found is not None:
                return found
        if isinstance(step, Verbatim) and step.inert and _evened(step) == name:
            return _one_group(steps[:index], known)
    return None


def _one_group(steps: tuple[Step, ...], known: tuple[Special, ...]) -> tuple[Step, ...] | None:
    """The last stitches of the steps, with the chains between them, as far as they go into one place together."""
    while steps and isinstance(steps[-1], Verbatim) and steps[-1].inert:
        steps = steps[:-1]
    if steps and isinstance(steps[-1], Group) and steps[-1].place.which is not Which.SAME:
        return steps[-1].steps if steps[-1].place.number == 1 else None
    if steps and isinstance(steps[-1], Decrease) and _is_at_hook(steps[-1].places):
        return (replace(steps[-1], places=(Place(which=Which.SAME),)),)
    inner: list[Step] = []
    first = 0
    for index in range(len(steps) - 1, -1, -1):
        step = steps[index]
        place = _place(step)
        if isinstance(step, Verbatim) and step.inert:
            continue
        if isinstance(step, Work | Decrease | Group) and place is not None and place.number == 1:
            inner += _without_place(step)
            first = len(inner)
            if place.which is not Which.SAME:
                break
        elif isinstance(step, Chain) and inner:
            inner.append(step)
        else:
            break
    before = inner[first] if first < len(inner) else None
    stitches_in = sum(not isinstance(step, Chain) for step in inner[:first])
    if stitches_in < 2 or (before is not None and not _is_cluster(inner[first - 1], known)):
        return None  # the chain in front may be the first stitch of the group
    return tuple(reversed(inner[:first]))


def _is_at_hook(places: tuple[Place, ...]) -> bool:
    """Whether a stitch of several legs is worked into one chain at the hook: "2 dc in 4th ch from hook, (seed st)"."""
    return len(places) == 1 and places[0].origin is Origin.HOOK


def _place(step: Step) -> Place | None:
    if isinstance(step, Work | Group):
        return step.place
    return step.places[0] if isinstance(step, Decrease) and len(step.places) == 1 else None


def _without_place(step: Work | Decrease | Group) -> list[Step]:
    if isinstance(step, Group):
        return list(reversed(step.steps))
    if isinstance(step, Work):
        return [replace(step, place=None)]
    return [replace(step, places=(Place(which=Which.SAME),))]


def _is_cluster(step: Step, known: tuple[Special, ...]) -> bool:
    """Whether a chain in front of the step is a leg of it, and no stitch of its own."""
    if isinstance(step, Decrease):
        return True
    own = next((s.steps for s in known if isinstance(step, Work) and s.id == step.stitch), ())
    return bool(own) and isinstance(own[0], Decrease)


def read_renaming(cur: Cursor) -> list[Step] | None:
    """ "All shells are leaf sts and will be referred to as shells": from there on the author's own stitch has the name
    of the trade's.
    """
    start = cur.at
    if not begins_sentence(cur) or not cur.take_words("each"):
        return None
    name = cur.take_kind("stitch")
    verb = cur.is_listed("be")
    cur.at += verb
    cur.take_words("the")
    meant = cur.take_kind("stitch") if name is not None and verb else None
    own = next((s for s in (*cur.context.specials, *cur.defined) if meant is not None and s.id == meant.id), None)
    entry = stitches().get(name.id) if name is not None else None
    behind = cur.at
    while not cur.done and not cur.is_mark("."):
        cur.at += 1
    called = cur.at == behind or _says_called(cur, behind, name.id if name is not None else "")
    if own is None or entry is None or not entry.unit or name is None or not called:
        cur.at = start
        return None
    singular = name.text.lower().removesuffix("s")
    cur.defined.append(replace(own, abbreviation=singular, plural=f"{singular}s"))
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


def read_same_manner(cur: Cursor) -> list[Step] | None:
    """ "All shells are worked in same manner up to the rim": told, and nothing new to work."""
    start = cur.at
    told = begins_sentence(cur) and cur.take_words("each") and cur.take_kind("stitch") is not None
    verb = bool(told) and cur.is_listed("be")
    cur.at += verb
    if not (verb and cur.take_words("work") and cur.take_words("in", "the", "same", "manner")):
        cur.at = start
        return None
    manner = cur.is_word("manner", ahead=-1)
    while not cur.done and not cur.is_mark("."):
        manner = manner and not (cur.peek().kind in ("stitch", "tog", "mark") or cur.is_word("but", "having"))
        cur.at += 1
    if not manner:
        cur.at = start
        return None
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


def _says_called(cur: Cursor, behind: int, id: str) -> bool:
    """Whether the rest of the sentence says no more than that the name is used: "and will be referred to as shells"."""
    words = cur.words[behind : cur.at]
    named = [word.id for word in words if word.kind == "stitch"]
    return named == [id] and not any(word.kind in ("num", "tog", "mark") for word in words)
