"""A day at the head of the first column, beside headings: "Mon 7 Sept | Bar | Set 1 | Set 2". It holds for the rows
below, and stands over the names of their lifts."""

from collections.abc import Sequence
from datetime import date

from preflare.reading.dates import read_date, without_frame
from preflare.reading.headings import Heading
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import Cell, as_text
from preflare.reading.weeks import day_among, pieces_of

_FEWEST = 2  # headings of different kinds beside the day
_NEARLY_ALL = 0.7
_MOST_WORDS = 8  # "Session 3 - Monday 2 March 2026"; a longer text with a date in it is a remark


def day_in_corner(row: Sequence[Cell], lexicon: Lexicon) -> tuple[int, str] | None:
    """(column, day) of the first filled cell, where it names a day and more stands beside it; else None."""
    column = next((at for at, cell in enumerate(row) if cell is not None), None)
    if column is None or sum(cell is not None for cell in row[column + 1 :]) < _FEWEST:
        return None
    first = row[column]
    if isinstance(first, date):
        return column, as_text(first)
    day = _day_of(first, lexicon) if isinstance(first, str) and any(map(str.isdigit, first)) else None
    return (column, day) if day is not None else None


def _day_of(text: str, lexicon: Lexicon) -> str | None:
    plain = without_frame(text)
    if read_date(plain, lexicon) is not None:
        return plain
    if len(plain.split()) > _MOST_WORDS:
        return None
    found = (day_among(piece, lexicon) for piece in pieces_of(plain))
    return next((day for day in found if day is not None), None)


def are_headings_beside(headings: Sequence[Heading | None], lexicon: Lexicon) -> bool:
    """Whether the texts beside a day are headings, and not the lift, bar and grip of a row of data.

    headings: what each of the texts says, None where it is no heading.
    """
    sure = [one for one in headings if one is not None and one.is_exact and one.exercise is None]
    names_lift = any(lexicon.exercise.exact(one.written) for one in sure if one.roles[0] != "bar")
    kinds = {(one.roles[0], one.number) for one in sure}
    return not names_lift and len(kinds) >= _FEWEST and len(sure) >= _NEARLY_ALL * len(headings)


def heading_of_corner(cell: Cell, others: Sequence[Heading | None]) -> Heading | None:
    """What the column under a day holds: lifts, unless another column is headed so; then None, for its cells to say."""
    has_own = any(one is not None and one.roles[0] == "exercise" for one in others)
    return None if has_own else Heading(as_text(cell), ("exercise",), False)
