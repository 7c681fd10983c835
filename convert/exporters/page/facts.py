"""What the maker needs to know before the first stitch: sizes, materials, gauge."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_CEILING, Decimal

from convert.document.lengths import Length, tidy
from convert.document.materials import Hook, Yarn
from convert.document.prose import Form, Prose, Term
from convert.document.records import TermSystem
from convert.document.sizing import Gauge
from convert.exporters.page.edition import Edition
from convert.exporters.page.measures import Reckoned, fitting, grams, length_text, per_size, yarn_amount, yarn_length
from convert.exporters.page.phrases import measure_name
from convert.exporters.page.records import Fact, Flow, Table
from convert.exporters.page.typeset import text_flow
from convert.grader.results import Chosen
from convert.grader.shapes import finished
from convert.trade.hooks import hook_size
from convert.trade.outlines import outlines
from convert.trade.yarns import yarn_weight


def size_table(edition: Edition) -> Table | None:
    """Every size with whom it fits and what it measures; None for a pattern that says nothing of the kind."""
    sizes = edition.document.sizes
    measured = {index: measures_of(edition, index) for index in edition.shown}
    names = tuple(dict.fromkeys(name for lengths in measured.values() for name in lengths))
    fits = any(sizes[index].to_fit for index in edition.shown if sizes)
    if not names and not fits and len(sizes) < 2:
        return None
    heads = [edition.say("size"), *([edition.say("to-fit")] if fits else ())]
    heads += [measure_name(name, edition.system) for name in names]
    lines = []
    for index in edition.shown:
        size = sizes[index] if sizes else None
        cells = [size.name or size.id if size else edition.say("one-size")]
        cells += [fitting(size.to_fit, edition.system) if size else ""] if fits else []
        cells += [_length(edition, measured[index].get(name)) for name in names]
        lines.append(tuple(cells))
    return Table(edition.say("sizes-caption"), tuple(heads), tuple(lines))


MOST_COLUMNS = 4
"""Columns of a table that large print has room for."""


def size_facts(sizes: Table) -> tuple[Fact, ...]:
    """What a table says of each size, line by line, if it has too many columns for large print."""
    if len(sizes.heads) <= MOST_COLUMNS:
        return ()
    return tuple(
        Fact(line[0], tuple(text_flow(f"{head}: {cell}") for head, cell in zip(sizes.heads[1:], line[1:], strict=True)))
        for line in sizes.lines
    )


def _length(edition: Edition, length: Length | None) -> str:
    return "–" if length is None else length_text(length, edition.system)


def measures_of(edition: Edition, index: int) -> dict[str, Length]:
    """What a size measures: what the grader found, and the author's target where it found nothing."""
    found: dict[str, Length] = {}
    if edition.document.sizes:
        found = {measure.name: measure.length for measure in edition.document.sizes[index].target}
    if edition.grading and index < len(edition.grading.sizes):
        graded = edition.grading.sizes[index]
        found |= {measure.name: measure.length for measure in graded.measures}
        found |= {one.fit.target: Reckoned(one.measures.cm, one.measures.unit) for one in graded.chosen}
        found |= _by_outline(edition, graded.chosen)
    return found


def _by_outline(edition: Edition, chosen: Sequence[Chosen]) -> dict[str, Length]:
    """Sides and diagonals of the outline, where the measurements that they follow from were chosen by the grader."""
    known = {one.fit.target: one.measures for one in chosen}
    unit = next(iter(known.values())).unit if known else "cm"
    more = finished(edition.document.shape, {name: float(length.cm) for name, length in known.items()})
    outline = outlines().get(edition.document.shape)
    unasked = outline.unasked if outline is not None else ()
    return {name: Reckoned(Decimal(f"{cm:.2f}"), unit) for name, cm in more if name not in unasked}


def sizes_note(edition: Edition) -> str:
    """How to read numbers such as "48 (56, 64)"; empty where only one size is shown."""
    names = [size.name or size.id for size in edition.document.sizes]
    if edition.size is not None or len(names) < 2:
        return ""
    return edition.say("sizes-order", first=names[0], others=", ".join(names[1:]))


def materials(edition: Edition) -> tuple[Fact, ...]:
    """Yarns, hooks and everything else, each with a heading."""
    things = edition.document.materials
    facts = [Fact(_yarn_label(edition, yarn), _yarn(edition, yarn)) for yarn in things.yarns]
    if things.hooks:
        label = edition.say("hook" if len(things.hooks) == 1 else "hooks")
        facts.append(Fact(label, tuple(_hook(edition, hook) for hook in things.hooks), tool=True))
    if things.notions:
        facts.append(Fact(edition.say("notions"), edition.flows(things.notions)))
    return tuple(facts)


def _yarn_label(edition: Edition, yarn: Yarn) -> str:
    return edition.say("yarn-keyed", key=yarn.key) if yarn.key else edition.say("yarn")


def _yarn(edition: Edition, yarn: Yarn) -> tuple[Flow, ...]:
    named = f"{yarn.name}, {yarn.colour}" if yarn.colour and yarn.name else yarn.name or yarn.colour
    lines = [named, "; ".join(filter(None, _qualities(edition, yarn))), *_amount(edition, yarn)]
    flows = [text_flow(line, sizes=edition.listed) for line in lines if line]
    return (*flows, edition.flow(yarn.note)) if yarn.note else tuple(flows)


def _qualities(edition: Edition, yarn: Yarn) -> tuple[str, ...]:
    weight = yarn_weight(yarn.weight) if yarn.weight is not None else None
    weighed = f"{weight.called(edition.system)} weight ({weight.number})" if weight else ""
    ball = [grams([yarn.ball_grams])] if yarn.ball_grams is not None else []
    ball += [yarn_length([yarn.ball_metres], edition.system)] if yarn.ball_metres is not None else []
    return yarn.fibre, weighed, edition.say("a-ball", content=", ".join(ball)) if ball else ""


_MOST_IN_A_LINE = 4
"""Sizes whose balls and lengths fit side by side."""


def _amount(edition: Edition, yarn: Yarn) -> tuple[str, ...]:
    """What every size takes, in one line; of many sizes each measure has a line of its own, and no bracket breaks."""
    amount = yarn.amount
    said = []
    balls = amount.balls or _balls_of(yarn)
    if balls:
        said.append(_balls(edition, edition.pick(balls)))
    if amount.metres:
        said.append(yarn_amount(edition.pick(amount.metres), edition.system))
    if amount.grams:
        said.append(grams(edition.pick(amount.grams)))
    lines = said if len(edition.shown) > _MOST_IN_A_LINE else ["; ".join(said)]
    return tuple(edition.say("amount", amount=line) for line in lines if line)


def _balls_of(yarn: Yarn) -> tuple[Decimal, ...]:
    """How many balls hold the lengths or weights that the author gives: whole ones, as they are sold."""
    amount = yarn.amount
    for needed, ball in ((amount.metres, yarn.ball_metres), (amount.grams, yarn.ball_grams)):
        if needed and ball:
            return tuple((one / ball).to_integral_value(ROUND_CEILING) for one in needed)
    return ()


def _balls(edition: Edition, balls: Sequence[Decimal]) -> str:
    unit = edition.say("ball" if all(number == 1 for number in balls) else "balls")
    return f"{per_size([tidy(number) for number in balls])} {unit}"


def _hook(edition: Edition, hook: Hook) -> Flow:
    return edition.flow((f"{_hook_name(edition.system, hook)}{' ' if hook.use else ''}", *hook.use))


def _hook_name(system: TermSystem, hook: Hook) -> str:
    """The hook as readers look for it: by its packet name in the US, by its millimetres in the UK."""
    size = hook_size(hook.mm)
    metric = f"{tidy(hook.mm)} mm"
    if size and size.us and system is TermSystem.US:
        return f"US {size.us} ({metric})"
    return f"{metric} (old UK {size.uk})" if size and size.uk and system is TermSystem.UK else metric


def gauge(edition: Edition) -> tuple[Flow, ...]:
    """The gauge as a sentence, and what the author says about it."""
    found = edition.document.gauge
    if found is None:
        return ()
    counted = _counted(edition, found)
    lines = [edition.flow(counted)] if counted else []
    return (*lines, edition.flow(found.words)) if found.words else tuple(lines)


def _counted(edition: Edition, gauge: Gauge) -> Prose:
    counts = []
    if gauge.stitches is not None:
        counts.append(f"{tidy(gauge.stitches)} {edition.say('stitches-word')}")
    elif gauge.repeats is not None:
        counts.append(edition.say("gauge-repeats", number=tidy(gauge.repeats), stitches=str(gauge.repeat)))
    if gauge.rows is not None:
        counts.append(f"{tidy(gauge.rows)} {edition.say('rounds-word' if gauge.rounds else 'rows-word')}")
    if not counts:
        return ()
    stitch: Prose = (" in ", Term(gauge.stitch, Form.ABBREVIATION)) if gauge.stitch else ()
    return (" and ".join(counts), *stitch, f" {edition.say('over', length=length_text(gauge.over, edition.system))}")
