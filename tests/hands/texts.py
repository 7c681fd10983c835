"""A whole pattern as a text in one hand, with the lines that each of its rows takes."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator

from msgspec import Struct

from convert.document.records import CountItem, CountKind, Document, Label, Part, Remark, Row, RowKind
from convert.document.steps import (
    Again,
    Chain,
    ChangeColour,
    FastenOff,
    Join,
    Step,
    Turn,
    Verbatim,
)
from tests.hands.hand import Hand
from tests.hands.places import Unwritable, Values, ordinal
from tests.hands.rows import has_step, is_end, kinds_of, mixed_chains, on_chain, rows_of
from tests.hands.wording import Words

NEXT = (RowKind.NEXT_ROW, RowKind.NEXT_ROUND)


class Line(Struct, frozen=True):
    """A row in the text: the record it was written from, and its first and last line there."""

    row: Row
    first: int
    last: int
    counted: bool
    """Whether its count is said."""


class Text(Struct, frozen=True):
    """A pattern in one hand."""

    text: str
    lines: tuple[Line, ...]
    system: str


class Clauses(Struct):
    """A row taken apart: what a hand may put elsewhere."""

    row: Row
    before: list[str]
    chain: str
    body: list[str]
    turn: bool


def write(document: Document, hand: Hand, values: Values, off: tuple[int, int] = (-1, 0)) -> Text:
    """The document as text. `off` adds a number to the stated count of one row, by its index."""
    return _Page(document, hand, values, off).text()


class _Page:
    def __init__(self, document: Document, hand: Hand, values: Values, off: tuple[int, int]) -> None:
        self.document, self.hand, self.off = document, hand, off
        self.words = Words(hand, values)
        self.words.mixed = mixed_chains(document)
        self.plain = {kind for row in rows_of(document) for kind in kinds_of(row.steps)} == {"sc"}
        self.said: list[str] = []
        self.lines: list[Line] = []
        self.count = ""

    def text(self) -> Text:
        body: list[tuple[str, Row | None, bool]] = []
        for part in self.document.parts:
            body += self._part(part)
        self._head()
        gap = self.hand.form("between").count("\n")
        for words, row, counted in body:
            first = len(self.said)
            self.said += self._wrapped(words) if row is not None else words.split("\n")
            if row is not None:
                self.lines.append(Line(row, first, len(self.said) - 1, counted))
                self.said += [""] * (gap - 1)
        text = _typeset("\n".join(self.said) + "\n", self.hand.form("typography"))
        return Text(text, tuple(self.lines), self.words.system)

    def _head(self) -> None:
        self.said += [self.document.title, ""]
        terms = self.hand.form("terms").format(system=self.words.system.upper())
        if terms:
            self.said += [terms, ""]
        if self.document.sizes:
            names = [size.name or size.id for size in self.document.sizes]
            self.said += [f"Sizes: {names[0]} ({', '.join(names[1:])})" if names[1:] else f"Size: {names[0]}", ""]
        colours = sorted(
            {
                step.colour
                for part in self.document.parts
                for row in part.rows
                for step in row.steps
                if isinstance(step, ChangeColour)
            }
        )
        self.said += ["Materials", *(f"Yarn {colour}: soft cotton" for colour in colours), "4 mm hook", ""]
        if self.words.notes:
            self.said += ["Notes", *self.words.notes.values(), ""]

    def _part(self, part: Part) -> Iterator[tuple[str, Row | None, bool]]:
        title = part.name.title() + (self.hand.form("make").format(n=part.make) if part.make != 1 else "")
        form = self.hand.form("heading")
        yield "\n" + (title.upper() if form == "UPPER" else form.replace("Title", title)), None, False
        if part.worked == "spiral" and (said := self.hand.form("spiral")):
            yield said, None, False
        yield from self._rows(part)

    def _rows(self, part: Part) -> Iterator[tuple[str, Row | None, bool]]:
        before: Row | None = None
        rows = [self._clauses(row, part) for row in part.rows if not is_end(row)]
        self._order(rows)
        taken = {id(clauses.row): clauses for clauses in rows}
        self.count = ""
        self.last = 0
        for item in part.items:
            if isinstance(item, Remark):
                if not all(isinstance(word, str) for word in item.words):
                    raise Unwritable("remark")
                yield "".join(map(str, item.words)), None, False
            elif is_end(item):
                yield self._ending(item), None, False
            else:
                for foundation in taken[id(item)].before[:]:
                    if foundation.startswith("\n"):
                        yield foundation.strip().capitalize(), None, False
                        taken[id(item)].before.remove(foundation)
                yield self._line(taken[id(item)], before)
                before = item

    def _ending(self, row: Row) -> str:
        if not any(isinstance(step, FastenOff) for step in row.steps):
            return self.hand.form("colour").format(c=row.steps[0].colour) + "."  # type: ignore[union-attr]
        if len(row.steps) > 1:
            return "Fasten off, " + self.words.steps(row.steps)[-1] + "."
        return self.hand.form("fasten")

    # ------------------------------------------------------------ a row

    def _clauses(self, row: Row, part: Part) -> Clauses:
        if (
            row.sizes
            or row.shaping
            or row.block
            or (row.before and not all(isinstance(word, str) for word in row.before))
        ):
            raise Unwritable("row by size")
        if row.label.every or row.label.rest or row.label.starts is not None or row.label.ends is not None:
            raise Unwritable("label")
        words, steps = self.words, list(row.steps)
        words.rounds = row.label.kind.is_round or (row.label.kind is RowKind.UNLABELLED and part.worked != "rows")
        working = [
            step for step in steps if not isinstance(step, Chain | Join | Turn | FastenOff | Verbatim | ChangeColour)
        ]
        words.alone = len(working) == 1
        words.one_kind = self.plain
        turn = bool(steps) and isinstance(steps[-1], Turn)
        if turn:
            steps.pop()
        before: list[str] = []
        if steps and isinstance(steps[0], ChangeColour):
            first = steps.pop(0)
            before.append(self.hand.form("colour").format(c=first.colour))  # type: ignore[union-attr]
        chain = ""
        if len(steps) > 1 and isinstance(steps[0], Chain) and not on_chain(steps):
            chain = words.step(steps.pop(0))
        if on_chain(steps):
            self.own = ""
            said = self._foundation(steps)
            return Clauses(row, [*(["\n" + self.own] if self.own else []), *before], "", said, turn)
        return Clauses(
            row, before, chain, [] if any(isinstance(step, Again) for step in steps) else words.steps(steps), turn
        )

    def _foundation(self, steps: list[Step]) -> list[str]:
        chain = steps[0]
        assert isinstance(chain, Chain)
        said = self.words.steps(steps[1:])
        if chain.counts is not None:
            if chain.counts.chains or chain.counts.stitch is None:
                raise Unwritable("skipped chains")
            said[0] = said[0].replace(
                " from hook", f" from hook (skipped ch count as {self.words.stitch(chain.counts.stitch)})", 1
            )
        if self.hand.form("foundation") != "in row":
            self.own = self.words.chain(chain.number) + ("." if "period" in self.hand.form("foundation") else "")
            return said
        return [self.words.chain(chain.number), *said]

    def _order(self, rows: list[Clauses]) -> None:
        """Puts the beginning chains and the turns where the hand has them."""
        form = self.hand.form("beginning")
        whole = all(rows[at].turn for at in range(len(rows) - 1)) and not any(
            has_step(clauses.row, Again) for clauses in rows
        )
        begun = len({clauses.chain for clauses in rows[1:]}) == 1 and all(clauses.chain for clauses in rows[1:])
        colours = any(clauses.before for clauses in rows[1:])
        if form == "own row" or not (whole and begun and not colours and len(rows) > 1 and not rows[0].chain):
            self.hand.used["beginning"] = 0
            return
        chain = rows[1].chain
        for clauses in rows[1:]:
            clauses.chain = "" if form == "end of row before" else f"turn, {clauses.chain}"
        for clauses in rows[:-1]:
            clauses.turn = False
            if form == "end of row before":
                clauses.body.append(f"{chain}, {self.hand.form('turn')}")

    def _line(self, clauses: Clauses, before: Row | None) -> tuple[str, Row, bool]:
        row, hand = clauses.row, self.hand
        if has_step(row, Again):
            return self._again(row)
        self.words.rounds = bool(row.label.kind.is_round)
        said = [*clauses.before, *([clauses.chain] if clauses.chain else []), *clauses.body]
        count, counted = self._counted(row)
        turn = [hand.form("turn")] if clauses.turn else []
        joiner = hand.form("then")
        if count and hand.form("count-place") == "behind label" and count[0] in "([" and row.label.first is not None:
            words = f"\0{count}\0" + self._joined([*said, *turn], joiner) + hand.form("stop")
        elif count and turn and hand.form("count-place") == "before turn" and count[0] in "([{<":
            words = self._joined(said, joiner) + f" {count}, {turn[0]}{hand.form('stop')}"
        else:
            stop = hand.form("stop") or ("." if hand.form("count") == "{c}." and count else "")
            words = (
                self._joined([*said, *turn], joiner)
                + (stop if count[:1] != ":" else "")
                + (" " if count[:1] != ":" else "") * bool(count)
                + count
            )
        if row.before:
            words = "".join(map(str, row.before)) + " " + words
        words = (
            self._label(row.label, words).replace("..", ".")
            if hand.form("count") != "... {c}"
            else self._label(row.label, words)
        )
        return words.upper() if hand.form("caps") == "UPPER" else words, row, counted

    def _joined(self, said: list[str], joiner: str) -> str:
        plain = ", " if "then" in joiner else joiner
        words = plain.join(said[:-1]) + (joiner if said[1:] else "") + said[-1]
        return words if self.hand.form("caps") == "lower" else words[:1].upper() + words[1:]

    def _label(self, label: Label, words: str) -> str:
        if label.kind is RowKind.UNLABELLED:
            return words
        hand = self.hand
        named = self._named(label)
        mark = ": " if label.kind in NEXT and hand.form("mark") in (" ", ".- ") else hand.form("mark")
        bare = not any(letter.isalpha() for letter in named)
        if hand.form("label") == "({n})" and bare:
            mark = " "
        elif (bare and mark not in (": ", ". ", ") ", ".) ", ":\n")) or (
            mark == " " and (not words[:1].isalpha() or words.lower().startswith("turn"))
        ):
            mark = ". "
        elif not bare and mark in (") ", ".) "):
            mark = ": "
        if named.endswith("**") and mark in (": ", ". ", ":", ":\n"):
            named, mark = named[:-2] + mark[0] + "**", mark[1:]
        if words.startswith("\0"):
            _, count, words = words.split("\0")
            if named[-1].isdigit() and not bare:
                named = f"{named} {count}"
            else:
                words = f"{words} {count}"
        bullet = hand.form("bullet") if not bare else ""
        return f"{bullet}{named}{mark}{words}"

    def _named(self, label: Label) -> str:
        hand, rounds = self.hand, label.kind.is_round
        one, many = hand.form("rnd" if rounds else "row").split()
        side = {"right": " (RS)", "wrong": " (WS)"}.get(label.side or "", "")
        if label.kind in NEXT:
            if one == "R" or (rounds and one == "Row"):
                one, many = ("Rnd", "Rnds") if rounds else ("Row", "Rows")
            return f"Next {one}" if label.repeat == 1 else f"Next {self.words.number(label.repeat)} {many}"
        if label.first is None or label.kind not in (RowKind.ROW, RowKind.ROUND):
            raise Unwritable(label.kind)
        form = hand.form("label")
        if label.last is None or label.last == label.first:
            if ("{nth}" in form or "#" in form) and one == "R":
                form = "{Rnd}{n}"
            return (
                form.format(Rnd=one, rnd=one.lower(), RND=one.upper(), n=label.first, nth=ordinal(label.first)) + side
            )
        many_words = {"Rnd": one, "Rnds": many, "rnds": many.lower(), "a": label.first, "b": label.last}
        span = hand.form("range").format(**many_words, k=label.last - label.first + 1)
        if not any(letter.isalpha() for letter in form.format(Rnd="a", rnd="a", RND="a", n=1, nth="1")):
            span = f"{label.first}-{label.last}"
        if one == "R":
            span = span.replace("R ", "R").replace("Rs ", "R")
        return (
            form.replace("{nth} {rnd}", "{n}")
            .replace("{nth} {Rnd}", "{n}")
            .replace("#", "")
            .replace("{Rnd} ", "")
            .replace("{Rnd}", "")
            .replace("{RND} ", "")
            .replace("{rnd} ", "")
            .format(n=span)
            + side
        )

    # ------------------------------------------------------------ rows worked again

    def _again(self, row: Row) -> tuple[str, Row, bool]:
        (again, *more) = row.steps
        if more or not isinstance(again, Again) or again.words or again.part or again.first < 1:
            raise Unwritable("again")
        hand, rounds = self.hand, row.label.kind.is_round or again.rounds
        word = ("Rnd", "Rnds") if rounds else ("Row", "Rows")
        rows = str(again.first)
        if again.last != again.first:
            rows = hand.form("rows-two").format(a=again.first, b=again.last)
            if again.last - again.first > 1:
                rows = f"{again.first}-{again.last}"
        many = word[again.last != again.first]
        names = {"Rows": many, "rows-word": many.lower(), "rows": rows}
        if row.label.first is not None:
            named = self._named(row.label).strip("*")
            said = named + hand.form("again-labelled").format(**names)
        else:
            times = again.times
            if again.until is not None:
                found = self.words.values.get(f"until:{again.until.words}")
                if found is None or None in found:
                    raise Unwritable("until")
                length = again.last - again.first + 1
                times = found[0] // length if len(set(found)) == 1 else None  # type: ignore[operator]
            if times is None:
                raise Unwritable("times")
            number = self.words.number(times)
            form = hand.form("again")
            if "{p}" in form and self.document.parts:
                form = "Repeat {Rows} {rows} {n} more times."
            said = (
                form.format(**names, n=number)
                .replace(" 1 times more", " once more")
                .replace(" 1 more times", " once more")
            )
        count, counted = self._counted(row)
        return said + (" " + count if count else ""), row, counted

    # ------------------------------------------------------------ counts

    def _counted(self, row: Row) -> tuple[str, bool]:
        items = row.stated
        if not items:
            return "", False
        hand = self.hand
        items = tuple(item for item in items if item.kind is not CountKind.ROWS)
        said = hand.form("and-count").join(self._item(item, len(items) == 1) for item in items)
        if hand.form("count-said") == "where it changes" and said == self.count:
            return "", False
        self.count = said
        at = next((at for at, other in enumerate(rows_of(self.document)) if other is row), -1)
        if at == self.off[0]:
            said = hand.form("and-count").join(
                self._item(item, len(items) == 1, self.off[1] if number == 0 else 0)
                for number, item in enumerate(items)
            )
        form = hand.form("count")
        if (
            "{c}" in form
            and said.isdigit()
            and form
            in (
                "{c}.",
                ": {c}",
                "... {c}",
                "You should have {c}.",
                "You now have {c}.",
                "There are {c}.",
                "- {c} made.",
                "({c} made)",
            )
        ):
            said += " " + self.words.sts()
        return form.format(c=said), True

    def _item(self, item: CountItem, only: bool, more: int = 0) -> str:
        values = [None if value is None else value + more for value in self.words.in_sizes(item.number)]
        if None in values:
            raise Unwritable("count")
        if len(set(values)) == 1:
            number = str(values[0])
        else:
            from convert.document.numbers import PerSize

            number = self.words.number(PerSize(tuple(values)))
        many = number != "1"
        if item.kind is CountKind.SPACE:
            if item.of is not None:
                raise Unwritable("corner")
            return f"{number} {self.words.space(item.chains)}{'s' if many else ''}"
        if item.kind is CountKind.STITCH and item.of is not None:
            name = self.words.stitch(item.of)
            if not only:
                return f"{number} {name}"
            form = self.hand.form("count-words")
        elif item.kind is CountKind.TOTAL:
            name = self.words.sts(many)
            form = self.hand.form("count-words") if only else "{n} {sts}"
        else:
            raise Unwritable(item.kind)
        if item.of is not None and item.of not in ("sc", "hdc", "dc", "tr"):
            form = "{n} {s}"
        if form == "{n}{s}" and " " in name:
            form = "{n} {s}"
        return form.format(n=number, s=name, sts=self.words.sts(many))

    def _wrapped(self, words: str) -> list[str]:
        form = self.hand.form("wrap").split()
        if form[0] == "0":
            return words.split("\n")
        hanging = "   " if form[1:] else ""
        return [
            line
            for one in words.split("\n")
            for line in textwrap.wrap(
                one, int(form[0]), subsequent_indent=hanging, break_long_words=False, break_on_hyphens=False
            )
        ]


def _typeset(text: str, form: str) -> str:
    """The text with the signs that a word processor puts in."""
    if form == "curly":
        return text.replace("'", "’")
    if form == "nbsp":
        return re.sub(r"(?<=\d) (?=[a-z])", "\u00a0", text)
    if form == "fullwidth times":
        return re.sub(r"(?<=[)\]*\s])x(?=\s?\d)", "×", text)
    return text.replace(" - ", " — ") if form == "em dash" else text
