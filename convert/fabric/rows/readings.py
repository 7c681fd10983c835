"""What a row leaves open, and the ways to read it: its beginning chain, the chains at the hook, doubtful repeats."""

from __future__ import annotations

from itertools import pairwise, product

from msgspec.structs import replace

from convert.document.steps import (
    Begin,
    Chain,
    ChangeColour,
    Counts,
    Decrease,
    Extent,
    FastenOff,
    Group,
    Join,
    Marker,
    Origin,
    Place,
    Repeat,
    Skip,
    Slip,
    Start,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.places.marked import goes_up_to_marker
from convert.fabric.remembered import remembered
from convert.fabric.rows.jobs import Edge, Reading, RowJob
from convert.fabric.rows.joined_behind import joins_behind
from convert.fabric.rows.passes import on_hook
from convert.fabric.rows.same_next import into_next, says_same
from convert.fabric.steps.filet import begins_with_meshes, mesh_before, stitch_of
from convert.instructions.repeats.repeat import plus
from convert.trade.stitches import stitches, stood_for

_QUIET = (Turn, FastenOff, Marker, ChangeColour)


def readings(job: RowJob, edge: Edge) -> tuple[Reading, ...]:
    """Every way to read the row on this edge, the likeliest first."""
    chains = _chain_options(job, edge)
    open_to = any(_doubtful_at(job.steps, at) for at in range(len(job.steps))) or _bare_repeat(job.steps)
    doubtful = ((True, False) if job.all_told else (False, True)) if open_to else (False,)
    onward = (False, True) if says_same(job.steps) else (False,)
    if not all(said for _, said in chains) and is_leg(job, edge):
        return tuple(Reading(Counts(), True, *other, leg=True) for other in product(doubtful, onward))
    return tuple(Reading(*chain, *other) for *other, chain in product(doubtful, onward, chains))


def is_leg(job: RowJob, edge: Edge) -> bool:
    """Whether the beginning chain is a leg of the cluster that it leads to: the cluster goes into the chain's own
    place, or the row's other clusters have one leg more (common practice, no source).
    """
    chain = beginning_chain(job.steps, edge)
    if chain is None or chain.counts is not None or not isinstance(chain.number, int) or edge.pending is not None:
        return False
    behind = [s for s in job.steps[job.steps.index(chain) + 1 :] if not isinstance(s, (*_QUIET, Verbatim))]
    first = _drawn_together(behind[0], job) if behind else None
    if first is None or chain.number > (stitches()[first[0]].height or 0):
        return False
    stitch, legs, place = first
    if place is not None and place.which is Which.SAME:
        return True
    others = [found for step in flat_steps(tuple(behind[1:])) if (found := _drawn_together(step, job)) is not None]
    return any(other[:2] == (stitch, legs + 1) for other in others)


def _drawn_together(step: Step, job: RowJob) -> tuple[str, int, Place | None] | None:
    """The stitch, the legs and the place of a cluster, whether it is spelled out or called by the name that the
    pattern explains.
    """
    if isinstance(step, Decrease) and step.stitch in stitches():
        return step.stitch, step.legs, step.places[0] if len(step.places) == 1 else None
    if isinstance(step, Group):
        first = _drawn_together(step.steps[0], job)
        return (*first[:2], step.place) if first is not None else None
    if isinstance(step, Work):
        defined = job.definitions.steps(step.stitch)
        if defined and isinstance(defined[0], Group):
            named = _drawn_together(defined[0], job)
            return (*named[:2], step.place) if named is not None else None
        inner = _drawn_together(defined[0], job) if defined and isinstance(defined[0], Decrease) else None
        if inner is not None and defined is not None and all(isinstance(s, Verbatim) for s in defined[1:]):
            return inner[0], inner[1], step.place
    return None


def _doubtful_at(steps: tuple[Step, ...], at: int) -> bool:
    return _doubtful(steps[at]) and not (goes_around(steps[at]) and goes_up_to_marker(steps[:at]))


def _doubtful(step: Step) -> bool:
    if isinstance(step, Work):
        return step.said_doubtful
    if not isinstance(step, Repeat):
        return False
    return step.said_doubtful or _may_count_spaces(step) or any(_doubtful(s) for s in step.steps)


def _may_count_spaces(step: Repeat) -> bool:
    """ "*Sc in next ch-1 sp, ch 1, sk next sc; rep from * to last 2 sts": where chains are stitches of the fabric, as
    in moss stitch, they may be among the last so many.
    """
    place = step.place
    if step.extent is not Extent.TO_LAST or place is None or place.what is not What.STITCH or place.also:
        return False
    places = [s.place for s in flat_steps(step.steps) if isinstance(s, Work | Skip) and s.place is not None]
    woven = any(p.what is What.SPACE for p in places) and any(p.what is What.STITCH for p in places)
    return place.of is None and place.number != 1 and woven and any(isinstance(s, Chain) for s in step.steps)


def _bare_repeat(steps: tuple[Step, ...]) -> int:
    """Where "inc x 6" ends a row that begins with plain stitches, without a bracket ("2 sc, inc x 6"): all of them may
    be what is worked six times. 0 where it does not.
    """
    made = [index for index, step in enumerate(steps) if not isinstance(step, (*_QUIET, Join, Slip, Verbatim))]
    last = steps[made[-1]] if len(made) > 1 else None
    before = all(isinstance(steps[index], Work) for index in made[:-1])
    whole = bool(made) and made == list(range(len(made)))
    return made[-1] if isinstance(last, Repeat) and last.said_bare and before and whole else 0


def goes_around(step: Step) -> bool:
    """Whether only "around" or "across" behind the step says that it is repeated, and leaves open what is."""
    if isinstance(step, Work):
        return step.said_doubtful and step.place is not None and step.place.which is Which.EACH
    return isinstance(step, Repeat) and step.said_doubtful and step.extent is Extent.END


def _chain_options(job: RowJob, edge: Edge) -> tuple[tuple[Counts | None, bool], ...]:
    """What the beginning chain may count as, with whether the text says so."""
    skipped_chain = next((s for s in flat_steps(job.steps) if isinstance(s, Chain) and s.skipped), None)
    if skipped_chain is not None:
        return ((skipped_chain.counts, True),)
    picked_up = on_hook(job.steps)
    if picked_up is not None:
        return ((Counts(picked_up), True),)
    if edge.foundation:
        return _on_foundation(job)
    chain = edge.pending or beginning_chain(job.steps, edge)
    if chain is None or not isinstance(chain.number, int):
        return ((None, True),)
    if extends(job.steps, chain.number, edge):
        skipped = skipped_chains(job.steps) or 0
        return ((Counts(None, skipped), True),) if _names_space(job.steps, skipped) else _on_foundation(job)
    if chain.counts is not None:
        return ((chain.counts, True),)
    if _begins_like_repeat(job.steps, chain):
        return ((Counts(None, chain.number), True),)
    if edge.fresh and edge.strip is not None and not edge.ring and not _makes_ring(job.steps):
        return _on_foundation(job)
    stitch, height = first_stitch(job.steps)
    if edge.strip is not None and begins_with_meshes(job.steps):
        stitch, height = stitch_of(edge.strip)
    said = next((c.counts for c in job.conventions if c.chains == chain.number), None)
    if said is not None:
        return ((said, True),)
    if not job.flat and not edge.joined and _passes_next(job.steps, chain):
        return _unsaid((Counts(None, chain.number), Counts()))
    options = _as_space(job, chain.number, stitch) or _unsaid_options(job, edge, chain, stitch, height)
    return _held_first(_still_none(options) if chain.number == 1 and job.held == Counts() else options, job.held)


def _as_space(job: RowJob, chains: int, stitch: str | None) -> tuple[tuple[Counts | None, bool], ...]:
    """So many chains as a space, where a later row works into it; nothing where the stitch may need them."""
    low = stitch is not None and not stitches()[stitch].counts
    return _unsaid((Counts(None, chains),)) if low and chains in job.spaces else ()


def _still_none(options: tuple[tuple[Counts | None, bool], ...]) -> tuple[tuple[Counts | None, bool], ...]:
    """One chain that was no stitch in the rows before is none here: a row that lacks a stitch lacks it."""
    return tuple(option for option in options if option[0] is None or option[0].stitch is None)


def extends(steps: tuple[Step, ...], chains: int, edge: Edge) -> bool:
    """Whether the chain that begins a row makes it longer: stitches are worked back along it, before the last row is
    met ("ch 6, sc in 2nd ch from hook and in next 4 ch, sc in each sc across"). Common practice, no source.
    """
    skipped = skipped_chains(steps)
    if edge.fresh or edge.foundation or edge.ring or skipped is None or skipped + 1 >= chains:
        return False
    places = [place for step in flat_steps(steps) if (place := getattr(step, "place", None)) is not None]
    further = (*places[0].also, *places[1:]) if places else ()
    return bool(further) and further[0].what is What.CHAIN and further[0].origin is None


def _begins_like_repeat(steps: tuple[Step, ...], chain: Chain) -> bool:
    """Whether the row begins with the very chain and group that it then repeats: "ch 3, 3 dc in same sp, *sl st in next
    ch-3 sp, ch 3, 3 dc in same sp; rep from *". The chain is then the space that it is in the repeat.
    """
    begun = next((pair for pair in pairwise(steps) if pair[0] is chain), None)
    place = getattr(begun[1], "place", None) if begun is not None else None
    repeats = (step for step in steps if isinstance(step, Repeat))
    here = place is not None and place.which is Which.SAME
    return here and any(pair == begun for step in repeats for pair in pairwise(step.steps))


def _names_space(steps: tuple[Step, ...], chains: int) -> bool:
    """Whether a row works into spaces of so many chains: those at the hook are one too, for the row above."""
    places = (getattr(step, "place", None) for step in flat_steps(steps))
    return any(place is not None and place.what is What.SPACE and place.chains == chains for place in places)


def _held_first(
    options: tuple[tuple[Counts | None, bool], ...], held: Counts | None
) -> tuple[tuple[Counts | None, bool], ...]:
    """The options, with what such a chain stood for in the rows before in front."""
    return tuple(sorted(options, key=lambda option: option[0] != held)) if held is not None else options


def _unsaid_options(
    job: RowJob, edge: Edge, chain: Chain, stitch: str | None, height: int | None
) -> tuple[tuple[Counts | None, bool], ...]:
    """What a beginning chain may count as of which nobody says anything, the likeliest first."""
    assert isinstance(chain.number, int)
    if chain.number == 1 and (height is None or height <= 1 or stitch == "hdc"):
        return _unsaid((Counts(), Counts("sc"), Counts(None, 1)))
    usual = beginning_readings(chain, chain.number, height, stitch)
    closed = _closed_on(job.steps, chain.number)
    if closed is not None:
        usual = tuple(dict.fromkeys((closed, *usual)))
    widened = mesh_before(job.steps, edge.strip, chain.number)
    if widened is not None:
        usual = tuple(dict.fromkeys((widened, *usual)))
    if _is_loop(job, edge, chain, stitch):
        usual = tuple(dict.fromkeys((Counts(None, chain.number), *usual)))
    return _unsaid(usual)


def _is_loop(job: RowJob, edge: Edge, chain: Chain, stitch: str | None) -> bool:
    """Whether the beginning chain is a loop and stands for no stitch: low stitches need none so long, where they go
    back into the place it stands on ("sl st in next loop, ch 5, sc in same loop") or the last round was not joined.
    """
    if not isinstance(chain.number, int) or stitch is None or stitches()[stitch].counts or chain.number < _LOOP:
        return False
    behind = job.steps.index(chain) + 1 if chain in job.steps else len(job.steps)
    place = getattr(job.steps[behind], "place", None) if behind < len(job.steps) else None
    goes_back = chain.number > _LOOP and place is not None and place.which is Which.SAME
    spiral = not job.flat and edge.flat is False and not (edge.joined or edge.fresh or edge.ring or edge.closing)
    return goes_back or spiral


_LOOP = 2
"""The fewest chains that a stitch as low as a single crochet (US) does not need to begin a round."""


def _passes_next(steps: tuple[Step, ...], chain: Chain) -> bool:
    """Whether stitches are skipped under the chain, in a round that is not joined: it spans them, as a thumb hole."""
    at = next((i for i, step in enumerate(steps) if step is chain), None)
    behind = steps[at + 1] if at is not None and at + 1 < len(steps) else None
    return isinstance(behind, Skip) and not any(isinstance(step, Join | Turn) for step in steps)


def _closed_on(steps: tuple[Step, ...], number: int) -> Counts | None:
    """What the join tells of the chain that began the round: "ch 9, ..., join in 4th ch of ch-9" is a stitch of four
    chains and five more. Common practice, no source.
    """
    last = next((step for step in reversed(steps) if isinstance(step, Join | Slip)), None)
    place = last.place if last is not None else None
    if place is None or place.what is not What.BEGINNING_CHAIN or place.chains != number or not place.nth:
        return None
    stitch = stood_for(place.nth)
    return Counts(stitch, number - place.nth) if stitch is not None and place.nth < number else None


def _on_foundation(job: RowJob) -> tuple[tuple[Counts | None, bool], ...]:
    """What the chains at the hook may count as where a row is worked on a foundation chain."""
    skipped, (stitch, height) = skipped_chains(job.steps), first_stitch(job.steps)
    if skipped is None:
        return ((None, True),)
    spaced = _as_space(job, skipped, stitch)
    if spaced:
        return spaced
    options = _foundation_readings(skipped, stitch, height)
    if Counts() in options and _leads_around(job.steps):
        options = tuple(dict.fromkeys((Counts(), *options)))  # both sides alike: the other one has no chain at its end
    return _unsaid(options)


def _leads_around(steps: tuple[Step, ...]) -> bool:
    """Whether chains lead around the end of the foundation to its other side, in work that is not joined to a round."""
    around = [isinstance(one, Chain) and _is_other_side(other) for one, other in pairwise(steps)]
    return any(around) and not any(isinstance(step, Join) for step in steps)


def _is_other_side(step: Step) -> bool:
    return isinstance(step, Begin) and step.start is Start.OTHER_SIDE


def _unsaid(options: tuple[Counts, ...]) -> tuple[tuple[Counts | None, bool], ...]:
    return tuple((option, False) for option in options)


def _foundation_readings(skipped: int, stitch: str | None, height: int | None) -> tuple[Counts, ...]:
    """What the chains before "4th ch from hook" stand for."""
    if stitch is None or height is None or skipped < 2:
        return (Counts(), Counts("sc")) if skipped == 1 else (Counts(),)
    over = skipped - height
    if not stitches()[stitch].counts:
        # Chains far longer than the stitch is tall make a loop at the edge: "sc in 8th ch from hook".
        return (Counts(), Counts(stitch, over // 2), Counts(stitch, over)) if over > 2 else (Counts(),)
    if over > 0 and over % 2 == 0:
        return (Counts(stitch, over // 2), Counts(stitch), Counts(stitch, over), Counts())
    if over > 0:
        return (Counts(stitch, over), Counts(stitch), Counts())
    if over == 0:
        return (Counts(stitch), Counts())
    return (Counts(), Counts(stitch))


def _makes_ring(steps: tuple[Step, ...]) -> bool:
    return any(isinstance(s, Begin) and s.start is not Start.OTHER_SIDE for s in steps)


def skipped_chains(steps: tuple[Step, ...]) -> int | None:
    """How many chains stand before the one that the first stitch is worked into, counted from the hook."""
    for step in flat_steps(steps):
        place = (
            step.place if isinstance(step, Work | Group | Slip) else step.places[0] if hasattr(step, "places") else None
        )
        if place is not None:
            of_chain = place.what is What.BEGINNING_CHAIN and (place.nth or 1) > 1
            return (place.nth or 1) - 1 if place.origin is Origin.HOOK or of_chain else None
    return None


@remembered
def flat_steps(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps with repeats opened: what is worked, in order, each once."""
    return tuple(leaf for s in steps for leaf in (flat_steps(s.steps) if isinstance(s, Repeat) else (s,)))


def first_stitch(steps: tuple[Step, ...]) -> tuple[str | None, int | None]:
    """The tallest stitch that begins the row's work, and its height in chains."""
    for step in flat_steps(steps):
        inner = step.steps if isinstance(step, Group) else (step,)
        for leaf in inner:
            named = getattr(leaf, "stitch", None)
            if isinstance(named, str):
                entry = stitches().get(named)
                if entry is not None and entry.height is not None and entry.id != "sl-st":
                    return entry.id, entry.height
    return None, None


def beginning_chain(steps: tuple[Step, ...], edge: Edge) -> Chain | None:
    """The chain that begins the row, if one does."""
    for index, step in enumerate(steps):
        if isinstance(step, Chain):
            return step
        if isinstance(step, (Slip, Begin, *_QUIET)) or (isinstance(step, Verbatim) and step.inert):
            continue
        if isinstance(step, Skip) and joins_behind(steps[index:]):
            continue
        return None
    return None


def beginning_readings(
    chain: Chain, number: int, first_height: int | None, first_stitch: str | None
) -> tuple[Counts, ...]:
    """What a beginning chain may stand for where nobody says it, the likeliest first (heights of the stitch
    table).
    """
    options: list[Counts] = []
    if first_height is not None and first_stitch is not None and stitches()[first_stitch].counts:
        if number == first_height:
            options += [Counts(first_stitch), Counts()]
        elif number > first_height:
            options += [Counts(first_stitch, number - first_height), Counts()]
        else:
            options += [Counts(), Counts(first_stitch)]
    else:
        options.append(Counts())
    options.append(Counts(None, number))
    return tuple(dict.fromkeys(options))


def otherwise(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps in their other reading: "sc in next st, 2 sc in next st around" repeats all that stands before."""
    at = next((index for index, step in enumerate(steps) if goes_around(step)), 0)
    bare = _bare_repeat(steps)
    if bare:
        last = steps[bare]
        assert isinstance(last, Repeat)
        body, span = (*steps[:bare], *last.steps), steps[0].span.to(last.span)
        return (replace(last, steps=body, said_bare=False, span=span), *steps[bare + 1 :])
    if not at:
        return tuple(_fewer(step) for step in steps)
    last = steps[at]
    whole = (*steps[:at], *(last.steps if isinstance(last, Repeat) else (into_next(last),)))
    return (Repeat(whole, Extent.END, span=steps[0].span.to(last.span)), *steps[at + 1 :])


def _fewer(step: Step) -> Step:
    """A doubtful step in its other reading: the number of times includes the first working; so many into each
    of the places.
    """
    if isinstance(step, Work) and step.said_doubtful and step.place is not None and not goes_around(step):
        return replace(step, each=step.place.number, said_doubtful=False)
    if not isinstance(step, Repeat):
        return step
    inner = tuple(_fewer(s) for s in step.steps)
    if step.place is not None and _may_count_spaces(step):
        return replace(step, steps=inner, place=replace(step.place, also=(Place(What.SPACE),)))
    times = plus(step.times, -1) if step.said_doubtful and step.extent is Extent.TIMES else step.times
    return replace(step, steps=inner, times=times, said_doubtful=False)
