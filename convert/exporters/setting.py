"""Sets a flow as markup: clumps that must not break are held together, repeats grouped, terms explain themselves."""

from __future__ import annotations

import re

from markupsafe import Markup, escape

from convert.exporters.page.groups import Groups, repeat_groups
from convert.exporters.page.records import Clump, Flow, Mark, Piece, continues_list, items_of
from convert.exporters.page.typeset import LONGEST_CLUMP, LONGEST_LIST, plain_text, text_flow

_LISTED = '<span class="i">'
_LIST_BLANK = '<span class="list"> </span>'


def set_flow(flow: Flow) -> Markup:
    """A flow as markup. Every text goes through `escape`; what is put around it is ours.

    >>> set_flow((((Piece("3 "), Piece("dc", Mark.TERM, "double crochet"))), (Piece("<in>"),)))
    Markup('<span class="t">3 <abbr title="double crochet" tabindex="-1">dc</abbr></span> &lt;in&gt;')
    """
    groups = repeat_groups(flow)
    said = []
    for number, clump in enumerate(flow):
        if number:
            said.append(_LIST_BLANK if continues_list(clump) else " ")
        said.append(_clump(clump, number, groups))
    return Markup("".join(said))  # noqa: S704 - put together below from escaped texts


def set_count(count: Flow) -> Markup:
    """A count, each of its figures in one piece.

    >>> set_count(((Piece("8"),), (Piece("dc,"),), (Piece("2"),)))
    Markup('<span class="i">8 dc,</span> <span class="i">2</span>')
    """
    items = [set_flow(item) for item in items_of(count)]
    alone = [len(item) == 1 and markup.startswith(_LISTED) for item, markup in zip(items_of(count), items, strict=True)]
    said = " ".join(item if one else f"{_LISTED}{item}</span>" for item, one in zip(items, alone, strict=True))
    return Markup(said)  # noqa: S704 - put together from escaped texts


_LIST = re.compile(r"[\d¼½¾⅛⅜⅝⅞–] \([\d¼½¾⅛⅜⅝⅞–][^()]*, ")
_LONGEST_LIST = 44
"""Characters of a list with its unit that are kept on one line at most."""


def set_fact(flow: Flow) -> Markup:
    """A line of facts. Lists of the sizes' numbers stay in one piece each, where there is room: "18 (20, 22) cm".

    >>> set_fact(((Piece("Wool,"),), (Piece("4 (5,"),), (Piece("6)"),), (Piece("balls"),)))
    Markup('<span class="i">Wool,</span> <span class="i"><span class="t">4 (5,</span> 6) balls</span>')
    """
    items = items_of(flow)
    short = all(len(plain_text(item)) <= _LONGEST_LIST for item in items)
    return set_count(flow) if short and _LIST.search(plain_text(flow)) else set_ending(flow)


def set_cell(text: str, crowded: bool) -> Markup:
    """A cell of a table; in a crowded one what stands in brackets has a line of its own.

    >>> set_cell("7 in (18 cm)", True)
    Markup('<span class="t">7 in</span> <span class="other"><span class="t">(18 cm)</span></span>')
    """
    own, bracket, other = text.partition(" (")
    if not crowded or not bracket:
        return set_flow(text_flow(text))
    parts = set_flow(text_flow(own)), set_flow(text_flow(f"({other}"))
    return Markup('{} <span class="other">{}</span>').format(*parts)


def set_ending(flow: Flow) -> Markup:
    """A paragraph whose last line is not a single short word: the last few stay together."""
    last = _last_words(flow)
    return set_flow((*flow[: len(flow) - len(last)], _one_clump(last)) if last else flow)


SHORTEST_LINE = 12
"""Characters of the last line of a paragraph at least."""


def _last_words(flow: Flow) -> Flow:
    """The last clumps that are kept on one line; none where the last is long enough, or all of it would be."""
    length = 0
    for count, clump in enumerate(reversed(flow), start=1):
        length += sum(len(piece.text) for piece in clump) + (count > 1)
        if length > LONGEST_CLUMP:
            return flow[len(flow) - count + 1 :] if count > 2 else ()
        if length >= SHORTEST_LINE:
            return flow[len(flow) - count :] if 1 < count < len(flow) else ()
    return ()


def _one_clump(flow: Flow) -> Clump:
    found: list[Piece] = []
    for clump in flow:
        found += [*([_BLANK_OF_LIST if continues_list(clump) else _BLANK] if found else []), *clump]
    return tuple(found)


_BLANK, _BLANK_OF_LIST = Piece(" "), Piece(" ", Mark.LIST)


def set_figures(flow: Flow) -> Markup:
    """The figures of a drawing: a flow as parts of an SVG text, the numbers of the sizes kept apart.

    >>> set_figures(((Piece("48", Mark.SIZE, size=0),), (Piece("<cm"),)))
    Markup('<tspan class="n n0">48</tspan> &lt;cm')
    """
    said = []
    for number, clump in enumerate(flow):
        if number:
            said.append(_LIST_BLANK.replace("span", "tspan") if continues_list(clump) else " ")
        said.append("".join(map(_piece, clump)).replace("<span", "<tspan").replace("</span", "</tspan"))
    return Markup("".join(said))  # noqa: S704 - put together from escaped texts


def _clump(clump: Clump, number: int, groups: Groups) -> str:
    """The clump, on one line if it may be; where a repeat begins or ends inside, either side is tied alone."""
    if len(clump) == 1 and not groups.opens:
        return _run([_piece(clump[0])], _tie(clump[0].text))
    tied = _tie("".join([piece.text for piece in clump]), several=len(clump) > 1)
    said: list[str] = []
    run: list[str] = []
    for place, piece in enumerate(clump):
        if (number, place) in groups.opens:
            said += [_run(run, tied), '<span class="again">']
            run = []
        run.append(_piece(piece))
        if (number, place) in groups.closes:
            said += [_run(run, tied), "</span>"]
            run = []
    return "".join((*said, _run(run, tied)))


def _tie(text: str, *, several: bool = False) -> str:
    """How what a browser could break stays whole: "t" always, "i" where there is room (see the style sheets).

    Empty for what cannot break, and for what is too long.
    """
    if not (several or " " in text or "-" in text):
        return ""
    if len(text) <= LONGEST_CLUMP:
        return "t"
    return "i" if len(text) <= LONGEST_LIST and "(" in text else ""


def _run(pieces: list[str], tied: str) -> str:
    inner = "".join(pieces)
    return f'<span class="{tied}">{inner}</span>' if tied and inner else inner


def _escaped(text: str) -> str:
    return text if text.isalnum() else str(escape(text))


def _piece(piece: Piece) -> str:
    text = _escaped(piece.text)
    mark = piece.mark
    if mark is Mark.PLAIN:
        return text
    if mark is Mark.REPEAT:
        return f'<b class="repeat">{text}</b>'
    if mark is Mark.SIZE:
        return f'<span class="n n{piece.size}">{text}</span>'
    if mark is Mark.LIST:
        return f'<span class="list">{text}</span>'
    if piece.title:
        # -1: a finger can open it; 0: so can the keyboard, which would have to pass hundreds if all were so.
        return f'<abbr title="{escape(piece.title)}" tabindex="{0 if piece.first else -1}">{text}</abbr>'
    return text
