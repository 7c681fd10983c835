"""A reading position in the words of a line, with the small questions that every reader asks."""

from __future__ import annotations

from msgspec import Struct, field

from convert.document.numbers import Number
from convert.document.records import CountItem, Special, TermSystem
from convert.document.steps import Counts
from convert.findings import Finding
from convert.instructions.words.lexicon import Lexeme
from convert.source import Passage, Span
from convert.trade.patterns import lists_begun_by, lists_of

_NONE: frozenset[str] = frozenset()
_END = Lexeme("end", "", 0, 0, 0, False, "")


class Context(Struct, frozen=True):
    """What the reading of a line depends on.

    `sizes` are (id, name) pairs in order, `colours` the letters or names by which rows call the yarns, `names`
    the numbers that formulas may use. `stitch` is the one that the row before was worked in ("plain" goes on in it).
    """

    system: TermSystem = TermSystem.US
    specials: tuple[Special, ...] = ()
    sizes: tuple[tuple[str, str], ...] = ()
    colours: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    stitch: str = ""
    passes: bool = False
    """Whether the text speaks of rows in two passes, as in Tunisian crochet."""
    around: bool = False
    """The rows before go around, as far as their labels tell: "Next:" is another round."""
    shaped: str = ""
    """The stitch by which the last row is called, if it is one of decreases or increases: "Rep Dec Row" is that row."""


class ChainsBetween(Struct, frozen=True):
    """What a stated count says of "17 tr with ch 1 between every tr": stitches, length of the chains, the words."""

    number: Number
    chains: int
    words: str
    span: Span


class Counting(Struct, frozen=True):
    """What a stated count says of the beginning chain ("counting ch 3 as 1 dc"), and its words."""

    counts: Counts
    words: str
    span: Span


class Cursor(Struct):
    """The words of a line and how far they have been read. Readers move `at` forward only when they succeed."""

    passage: Passage
    words: list[Lexeme]
    context: Context
    at: int = 0
    depth: int = 0
    findings: list[Finding] = field(default_factory=list)
    stated: list[CountItem] = field(default_factory=list)
    counting: Counting | None = None
    """What the beginning chain stands for, where a stated count tells it."""
    between: list[ChainsBetween] = field(default_factory=list)
    around: bool | None = None
    """Whether the row goes around, as far as its label tells."""
    rows: int = 1
    """How many rows the line stands for, as far as its label tells."""
    last_row: int = 0
    """The number of the last row that the line stands for, where its label tells."""
    sizes: int = 0
    """How many sizes the line says that it is for; 0 where it is for all of them."""
    alone: bool = False
    """The row is worked on one side of the piece, and leaves the rest of the row below."""
    defined: list[Special] = field(default_factory=list)
    """Stitches that the row explains where it first uses them."""
    partners: dict[int, int] | None = None
    """The closing mark of every bracket, once one has been asked for."""
    plus_marks: bool | None = None
    """Whether a plus is a mark of a repeat in this row, once that has been asked."""
    stitch: str = ""
    """The stitch of the last clause that named one."""
    clauses: int = 0
    verbatim: int = 0
    ids: list[str] = field(default_factory=list)
    """What `is_word` and `is_mark` ask about: for each word of the tables its id, for each mark the mark, for all else
    nothing; and nothing once more behind the end. Readers ask so often that a look at each lexeme would cost most of
    the reading.
    """

    holds: frozenset[str] = frozenset()
    """The same, to ask whether the row holds a word at all."""
    begun: frozenset[str] = frozenset()
    """The lists of `shared/signs.yaml` of which a phrase may begin in the row; of the other lists nothing is there."""
    end: int = 0
    """How many words there are."""
    ended: list[Lexeme] = field(default_factory=list)
    """The words with the empty one behind the end."""

    def __post_init__(self) -> None:
        self.ids = [word.id if word.kind in ("word", "mark") else "" for word in self.words]
        self.ids.append("")
        self.holds = frozenset(self.ids)
        self.ended = [*self.words, _END]
        self.end = len(self.words)
        self.begun = _NONE.union(*[lists_begun_by(word.text) for word in self.words])

    def peek(self, ahead: int = 0) -> Lexeme:
        """The word `ahead` places on; an empty one behind the end."""
        try:
            return self.ended[self.at + ahead]
        except IndexError:
            return _END

    @property
    def done(self) -> bool:
        """Whether every word has been read."""
        return self.at >= self.end

    def is_word(self, *ids: str, ahead: int = 0) -> bool:
        """Whether the word there is one of these."""
        try:
            return self.ids[self.at + ahead] in ids
        except IndexError:
            return False

    def is_mark(self, *marks: str, ahead: int = 0) -> bool:
        """Whether a mark of punctuation stands there."""
        try:
            return self.ids[self.at + ahead] in marks
        except IndexError:
            return False

    def is_listed(self, name: str, ahead: int = 0) -> bool:
        """Whether the word there stands in a list of `shared/signs.yaml`, in the form that the text has."""
        return name in self.begun and name in lists_of(self.peek(ahead).text)

    def take_listed(self, name: str) -> bool:
        """Reads a word of a list of `shared/signs.yaml`, if one stands next."""
        if name not in self.begun or not self.is_listed(name):
            return False
        self.at += 1
        return True

    def take_word(self, *ids: str) -> bool:
        """Reads one of these words, if it stands next."""
        if self.ids[self.at] in ids:
            self.at += 1
            return True
        return False

    def take_mark(self, *marks: str) -> bool:
        """Reads one of these marks, if it stands next."""
        if self.ids[self.at] in marks:
            self.at += 1
            return True
        return False

    def take_words(self, *ids: str) -> int:
        """Reads as many of these words as stand next, in any order; how many there were."""
        at = start = self.at
        found = self.ids
        while found[at] in ids:
            at += 1
        self.at = at
        return at - start

    def take_kind(self, kind: str) -> Lexeme | None:
        """Reads a word of this kind, if it stands next."""
        lexeme = self.peek()
        if lexeme.kind != kind:
            return None
        self.at += 1
        return lexeme

    def span(self, first: int, last: int | None = None) -> Span:
        """The stretch of the file from word `first` up to, not including, word `last` (the position, if not
        given).
        """
        stop = self.at if last is None else last
        if not self.words:
            return self.passage.whole
        first = min(first, len(self.words) - 1)
        stop = max(stop, first + 1)
        return self.passage.span(self.words[first].start, self.words[stop - 1].end)

    def text(self, first: int, last: int) -> str:
        """The author's own text of these words."""
        return self.passage.text[self.words[first].start : self.words[last - 1].end]
