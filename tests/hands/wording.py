"""One row's steps in the words of a hand."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from convert.document.numbers import Number
from convert.document.steps import (
    Begin,
    Chain,
    ChangeColour,
    Counts,
    Decrease,
    Ending,
    EndingKind,
    Extent,
    FastenOff,
    Group,
    Join,
    Loops,
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
from tests.hands.places import SHORT, Places, Unwritable


class Words(Places):
    """The steps of a row."""

    # ------------------------------------------------------------ steps

    def steps(self, steps: Sequence[Step], inner: bool = False) -> list[str]:
        """The clauses of several steps."""
        said: list[str] = []
        steps = list(steps)
        index = 0
        while index < len(steps):
            step, after = steps[index], steps[index + 1] if index + 1 < len(steps) else None
            if isinstance(step, Begin) and step.start is Start.ADJUSTABLE_RING:
                ring, taken = self._ring(after)
                said.append(ring)
                index += taken
                continue
            if isinstance(step, Work) and isinstance(after, Work) and _goes_on(step, after):
                said.append(self._and_in(step, after))
                index += 2
                continue
            said.append(self.step(step, inner))
            index += 1
        return [words for words in said if words]

    def step(self, step: Step, inner: bool = False) -> str:
        """One step."""
        writers: dict[type, Callable[..., str]] = {
            Work: self._work,
            Group: self._group,
            Chain: self._chain,
            Slip: self._slip,
            Decrease: self._decrease,
            Skip: self._skip,
            Join: self._join,
            Turn: lambda step: self.hand.form("turn"),
            FastenOff: lambda step: "fasten off",
            Verbatim: self._kept,
            ChangeColour: lambda step: self.hand.form("change").format(c=step.colour),
            Begin: self._begin,
        }
        if isinstance(step, Repeat):
            return self._repeat(step, inner)
        if type(step) not in writers:
            raise Unwritable(type(step).__name__)
        return writers[type(step)](step)

    def _kept(self, step: Verbatim) -> str:
        if not all(isinstance(word, str) for word in step.words):
            raise Unwritable("words")
        return "".join(map(str, step.words))

    def _ring(self, after: Step | None) -> tuple[str, int]:
        ring = self.hand.form("ring-name")
        if isinstance(after, Work) and after.place is not None and after.place.what is What.RING:
            form = self.hand.form("ring")
            return self._say(form, after.stitch, self.number(after.each), ring=ring), 2
        return self._say(self.hand.form("ring-open"), ring=ring), 1

    def _begin(self, step: Begin) -> str:
        if step.start is not Start.CHAIN_RING:
            raise Unwritable(step.start)
        return self.hand.form("chain-ring").format(n=self.number(step.number))

    def _and_in(self, step: Work, after: Work) -> str:
        assert after.place is not None
        place = self.place(after.place)
        form = self.hand.form("and-in")
        return self._say(form, step.stitch, a=self._work(step), b=self._work(after), place=place)

    def _chain(self, step: Chain) -> str:
        return self.chain(step.number) + (self.counting(step) if step.counts is not None else "")

    def chain(self, number: Number) -> str:
        """So many chains."""
        return self.hand.form("chain").format(n=self.number(number))

    def counting(self, step: Chain) -> str:
        """What a beginning chain stands for, in brackets, in the notes, or unsaid."""
        counts = step.counts
        assert counts is not None
        key = (self.number(step.number), counts)
        what = self._counted(counts)
        single = counts.stitch is not None and not counts.chains
        form = self._form(
            "counts" if counts.stitch else "counts-not",
            lambda form: (
                (single or "{c}" in form or not counts.stitch) and ("notes" != form or key[0] not in self.mixed)
            ),
        )
        if counts.stitch and not single and "first" in form:
            form = " (counts as {c})"
        if form == "notes":
            verb = f"counts as {what}" if counts.stitch else "does not count as a st"
            self.notes[key] = f"Ch {key[0]} at the beginning of a {'round' if self.rounds else 'row'} {verb}."
            return ""
        if "throughout" in form and key[0] in self.mixed:
            form = " (counts as {c})" if counts.stitch else " (does not count as st)"
        if "throughout" in form and key in self.told:
            return ""
        self.told.add(key)
        return form.format(c=what, s=self.stitch("sc"))

    def _counted(self, counts: Counts) -> str:
        if counts.stitch is None:
            return ""
        return self.stitch(counts.stitch) + (f" and {self.chain(counts.chains)}" if counts.chains else "")

    def _slip(self, step: Slip) -> str:
        return f"{self.hand.form('slip')} in {self.place(step.place)}"

    def _skip(self, step: Skip) -> str:
        skip = self.hand.form("skip")
        if step.leave:
            raise Unwritable("left")
        place = step.place
        if place.what is What.STITCH and place.of is None and place.which is Which.NEXT:
            return self._say(self.hand.form("skip-each"), count=self.number(place.number), skip=skip)
        return f"{skip} {self.place(place)}"

    def _join(self, step: Join) -> str:
        place = step.place
        if place is None:
            return "join"
        form = self._form("join", lambda form: place.what is What.STITCH or "first st" not in form)
        return self._say(form, to=self.place(place))

    def _decrease(self, step: Decrease) -> str:
        (place, *others) = step.places
        if others or place.what is not What.STITCH or place.which is not Which.NEXT or place.number != step.legs:
            raise Unwritable("decrease")
        return self.decrease(step.stitch, step.legs)

    def decrease(self, stitch: str, legs: int) -> str:
        """A decrease over the next stitches."""
        plain = self.one_kind and legs == 2
        form = self._form("decrease", lambda form: plain or ("{k}" in form and "{s}" in form))
        return self._say(form, stitch, k=legs)

    def _work(self, step: Work) -> str:
        if step.stitch in SHORT and step.place == Place():
            return self._short(step)
        place = step.place
        if place is None:
            return self.number(step.each) + " " + self.stitch(step.stitch)
        if place.loops in (Loops.FRONT_POST, Loops.BACK_POST):
            return self._post(step, place)
        if place.loops is Loops.BACK and place.which is Which.EACH:
            return self._say("{s} in back loop only of each {st} {around}", step.stitch)
        plain = place.what is What.STITCH and place.of is None and place.loops is Loops.BOTH and not place.also
        if plain and place.which is Which.NEXT:
            return self._next(step, place)
        if plain and place.which is Which.EACH and place.every == 1:
            return self._each(step)
        ending = (
            f" {'around' if self.rounds else 'across'}"
            if place.which is Which.EACH and place.what is not What.CHAIN
            else ""
        )
        form = self.hand.form("other-one" if step.each == 1 else "other-in")
        return self._say(form, step.stitch, k=self.number(step.each), place=self.place(place)) + ending

    def _short(self, step: Work) -> str:
        if step.stitch == "inc":
            return self.increase("sc")
        return self.decrease("sc", 2)

    def increase(self, stitch: str) -> str:
        """Two stitches into the next one."""
        named = not self.one_kind
        return self._say(self._form("increase", lambda form: not named or "{s}" in form), stitch)

    def _post(self, step: Work, place: Place) -> str:
        name = ("FP" if place.loops is Loops.FRONT_POST else "BP") + self.stitch(step.stitch, 0)
        return f"{name} around next " + (
            self.sts(False) if place.number == 1 else f"{self.number(place.number)} {self.sts()}"
        )

    def _next(self, step: Work, place: Place) -> str:
        single = place.number == 1
        if step.each == 1:
            form = self.hand.form("one" if single else "several")
            return self._say(form, step.stitch, self.number(place.number))
        if single:
            if step.each == 2:
                return self.increase(step.stitch)
            return self._say(self.hand.form("many"), step.stitch, k=self.number(step.each))
        return self._say(self.hand.form("many-each"), step.stitch, self.number(place.number), k=self.number(step.each))

    def _each(self, step: Work) -> str:
        if step.each == 1:
            whole = ("{s} {around}", "even", "all {around}", "previous", "every and")
            form = self._form("each", lambda form: self.alone or not any(word in form for word in whole))
            return self._say(form, step.stitch)
        named = not self.one_kind or step.each != 2
        form = self._form("increase-each", lambda form: not named or "{k}" in form)
        return self._say(form, step.stitch, k=self.number(step.each))

    def _group(self, step: Group) -> str:
        inside = [self.step(each) for each in step.steps]
        together = ", ".join(inside[:-1]) + f" and {inside[-1]}"
        form = self.hand.form("group")
        return self._say(form, steps=", ".join(inside), **{"steps-and": together}, place=self.place(step.place))

    # ------------------------------------------------------------ repeats

    def _repeat(self, step: Repeat, inner: bool) -> str:
        if step.extent is Extent.TO_LAST or step.extent is Extent.TO_PLACE:
            return self._repeat_to(step)
        if step.extent is Extent.END:
            said = self._filled("end", step)
            return said + self._ending(step.ending)
        if step.ending is not None:
            raise Unwritable("ending")
        only = step.steps[0] if len(step.steps) == 1 else None
        short = isinstance(only, Decrease) or (isinstance(only, Work) and (only.stitch in SHORT or only.each == 2))
        return self._filled("inner" if inner else "times-one" if short else "times", step)

    def _filled(self, notation: str, step: Repeat) -> str:
        body = self.hand.form("then").replace("then ", "").join(self.steps(step.steps, inner=True))
        times = self.number(step.times)
        figure = times.isdigit()
        whole = self.alone and figure
        form = self._form(
            notation,
            lambda form: (
                (whole or notation == "end" or ("{around}" not in form and not form.startswith("{b}")))
                and (figure or "{m" not in form)
            ),
        )
        if not figure and "{m" in form:
            form = "({b}) {n} times"
        if "*" in body and "*" in form:
            form = "[{b}] {around}" if notation == "end" else "[{b}] {n} times"
        if "(" in body and "(" in form:
            form = form.replace("(", "[").replace(")", "]")
        if notation == "times-one" and form == "{n} {x}" and " " in body:
            form = "({x}) {n} times"
        more = int(times) - 1 if figure else 0
        said = self._say(
            form, count=times, b=body, x=body, m=more, more="once more" if more == 1 else f"{more} more times"
        )
        return said.replace(" 1 times more", " 1 time more").replace(" 1 more times", " 1 more time")

    def _ending(self, ending: Ending | None) -> str:
        if ending is None:
            return ""
        if ending.kind is not EndingKind.WITH:
            raise Unwritable("ending")
        return self.hand.form("ending").format(e=", ".join(self.steps(ending.steps, inner=True)))

    def _repeat_to(self, step: Repeat) -> str:
        place, only = step.place, step.steps[0]
        if place is None or step.ending is not None:
            raise Unwritable("no place")
        each = isinstance(only, Work) and only.each == 1 and len(step.steps) == 1 and only.place is not None
        of = self.thing(only.place) + self._also(only.place) if each else ""  # type: ignore[union-attr, arg-type]
        body = "" if each else self.hand.form("then").replace("then ", "").join(self.steps(step.steps, inner=True))
        stitch = only.stitch if each else "sc"  # type: ignore[union-attr]
        if step.extent is Extent.TO_PLACE:
            form = self.hand.form("each-up-to" if each else "up-to")
            return self._say(_nested(form, body), stitch, of=of, place=self.thing(place), b=body)
        plain = place.what is What.STITCH and place.of is None
        if not plain or (each and only.place != Place()):  # type: ignore[union-attr]
            if not each:
                raise Unwritable("to last")
            return self._say("{s} in each {of} to last {place}", stitch, of=of, place=self.thing(place))
        form = self.hand.form("each-to" if each else "to-last")
        said = self._say(_nested(form, body), stitch, self.number(place.number), b=body)
        return re.sub(r"(\b1 \S+) (remain|are)\b", lambda m: f"{m[1]} {'remains' if m[2] == 'remain' else 'is'}", said)


def _nested(form: str, body: str) -> str:
    if "*" in body and "*" in form:
        form = "[{b}] to last {n} {sts}" if "{n}" in form else "[{b}] to {next} {place}"
    if "(" in body and "(" in form:
        form = form.replace("(", "[").replace(")", "]")
    return form


def _goes_on(step: Work, after: Work) -> bool:
    """Whether the second goes on with the stitch of the first, along a chain."""
    alike = step.stitch == after.stitch and step.each == after.each == 1
    places = step.place is not None and after.place is not None and step.place.what is after.place.what is What.CHAIN
    return alike and places
