"""Finding things in a tree of records, whatever holds them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, TypeVar

from msgspec import Struct

from convert.document.steps import STEP_KINDS, Step, Verbatim
from convert.source import NOWHERE, Span

Kind = TypeVar("Kind")


def placed(node: Any, kind: type[Kind], span: Span = NOWHERE) -> Iterator[tuple[Kind, Span]]:
    """Every record of a kind, in the order of the text, each with the span of the closest record around it that has
    one (`span` where none has).
    """
    if isinstance(node, kind):
        yield node, span
        return
    if isinstance(node, Struct):
        own = getattr(node, "span", NOWHERE)
        span = span if own == NOWHERE else own
        inner: Iterable[Any] = (getattr(node, name) for name in node.__struct_fields__)
    else:
        inner = node if isinstance(node, tuple) and not hasattr(node, "_fields") else ()
    for item in inner:
        # Most of what records hold is plain; to ask here saves a walk into each number and word.
        if isinstance(item, (tuple, Struct, kind)):
            yield from placed(item, kind, span)


def each(node: Any, kind: type[Kind]) -> Iterator[Kind]:
    """Every record of a kind.

    >>> from convert.document.numbers import PerSize
    >>> from convert.document.steps import Chain, Repeat
    >>> [number.values for number in each((Repeat((Chain(PerSize((4, 6))),)), Chain(3)), PerSize)]
    [(4, 6)]
    """
    return (found for found, _ in placed(node, kind))


def all_steps(node: Any) -> Iterator[Step]:
    """Every step, those inside other steps and in the ending of a repeat too.

    >>> from convert.document.steps import Chain, Ending, EndingKind, Repeat, Turn
    >>> [type(s).__name__ for s in all_steps((Repeat((Chain(3),), ending=Ending(EndingKind.WITH, (Turn(),))),))]
    ['Repeat', 'Chain', 'Turn']
    """
    if isinstance(node, STEP_KINDS):
        yield node  # type: ignore[misc]  # the kinds are those of the union
    inner: Iterable[Any] = ()
    if isinstance(node, Struct):
        inner = (getattr(node, name) for name in node.__struct_fields__)
    elif isinstance(node, tuple) and not hasattr(node, "_fields"):
        inner = node
    for item in inner:
        if isinstance(item, (tuple, Struct)):
            yield from all_steps(item)


def unread(node: Any) -> Iterator[Verbatim]:
    """Every step that stands as its words because nobody understood it; words known to do nothing are left out."""
    return (step for step in each(node, Verbatim) if not step.inert)
