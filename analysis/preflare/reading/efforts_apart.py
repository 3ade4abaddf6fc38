"""Efforts that stand in rows apart from their sets: one for all, one for the last, or one for each ("7-8-8")."""

import re
from collections.abc import Iterable, Sequence

from preflare.reading.context import SheetContext
from preflare.reading.numbers import parse_effort, parse_number
from preflare.reading.text import Cell, as_text

_MOST = 10.0
_LEAST_STRUNG = 3  # of two, "7-8" may be a range
_ONE_FOR_ALL = "Where a row gives one effort for each set on other days, one alone was read as that of all sets."


def strung(cell: Cell) -> list[float]:
    """The efforts of "7-8-8" or "7/8/8"; [] where a text is no list of three or more from 0 to 10."""
    pieces = re.split(r"\s*[-–/;]\s*|\s*,\s+", cell.strip()) if isinstance(cell, str) else []
    found = [number for piece in pieces if (number := parse_number(piece)) is not None and 0 <= number <= _MOST]
    return found if len(found) == len(pieces) >= _LEAST_STRUNG else []


def are_strung(cells: Iterable[Cell]) -> bool:
    """Whether a row gives efforts set by set in more than one of its cells."""
    return sum(bool(strung(cell)) for cell in cells) >= 2


def effort_of(cell: Cell) -> float | None:
    """The one effort of a cell, from 0 to 10."""
    effort = parse_effort(cell)
    return effort[0] if effort is not None and 0 <= effort[0] <= _MOST else None


def shared_efforts(
    context: SheetContext, cell: Cell, own: Sequence[int], is_strung: bool, is_of_all: bool = False
) -> dict[int, float]:
    """Number of a set -> its effort. own: the working sets that the cell is about, in order. is_strung: its row gives
    efforts set by set, so that two are no range and one is that of all sets. is_of_all: a line of the log says that
    one effort is that of all sets. {} where it cannot be shared out."""
    pieces = strung(cell)
    if not pieces and is_strung and len(own) == 2:
        told = [parse_number(piece) for piece in re.split(r"\s*[-–/;]\s*", as_text(cell))]
        pieces = [number for number in told if number is not None] if len(told) == 2 else []
    if pieces:
        return dict(zip(own, pieces, strict=True)) if len(pieces) == len(own) else {}
    effort = effort_of(cell)
    if effort is None or not own:
        return {}
    if is_strung and parse_number(as_text(cell)) is not None and len(own) > 1:
        context.assume(_ONE_FOR_ALL)
        return dict.fromkeys(own, effort)
    return dict.fromkeys(own, effort) if is_of_all else {own[-1]: effort}
