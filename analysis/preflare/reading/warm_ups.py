"""Warm-ups by where they stand: a letter among the numbers of sets, a column of lighter sets before the load.

"U 1 2 3" numbers a warm-up and three sets; "55x5" in a column that nobody knows, before "90 | 3x5", is a warm-up too.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from preflare.reading.numbers import parse_load, parse_number
from preflare.reading.shorthand import parse_work
from preflare.reading.text import Cell, as_text, fold

if TYPE_CHECKING:
    from preflare.reading.context import SheetContext
    from preflare.reading.tables import Column, Table

LETTERS = frozenset("wraecou")  # warm-up, rozgrzewka, Aufwärmen, échauffement, calentamiento, opvarming, uppvärmning
_MOST = 0.8  # of the rows looked at that must agree
_SAMPLE = 400


def settle_warm_ups(context: "SheetContext", table: "Table") -> None:
    """Note the letter that stands for warm-ups in a column of set numbers, and tell columns of lighter sets."""
    settle_signs(context, [(table.columns, table.body)])
    for column in table.having("work"):
        if _is_lighter(context, table, column) and column.heading is not None:
            column.heading = replace(column.heading, roles=("warm_up",))
            context.assume(
                f'Sets under "{column.written}" were read as warm-ups: their loads are below those beside them.'
            )


def settle_signs(context: "SheetContext", parts: Iterable[tuple[Sequence["Column"], Sequence[int]]]) -> None:
    """Note the letters that stand for warm-ups in columns of set numbers: by the legend, or as they stand before set 1.

    parts: the columns and rows of each table.
    """
    context.warm_up_signs |= {sign for sign, what in context.marks.items() if what == "warm_up" and sign.isalpha()}
    for columns, body in parts:
        for column in (one for one in columns if one.role == "set_number"):
            letter = _letter_of_warm_ups([context.cell(row, column.index) for row in body[:_SAMPLE]])
            if letter is None or letter in context.warm_up_signs:
                continue
            context.warm_up_signs |= {letter}
            context.assume(
                f'Among the numbers of sets, "{letter.upper()}" was read as warm-up: it stands before set 1.'
            )


def _letter_of_warm_ups(cells: Sequence[Cell]) -> str | None:
    """The one letter among numbers of sets that always stands before set 1, or before itself."""
    filled = [fold(as_text(cell)) for cell in cells if cell is not None]
    letters = {text for text in filled if len(text) == 1 and text.isalpha()}
    if len(letters) != 1 or not letters <= LETTERS:
        return None
    letter = letters.pop()
    numbers = {number for text in filled if text != letter and (number := parse_number(text)) is not None}
    behind = [after for text, after in pairwise(filled) if text == letter]
    fits = sum(after == letter or parse_number(after) == 1 for after in behind)
    return letter if 1.0 in numbers and behind and fits >= _MOST * len(behind) else None


def _is_lighter(context: "SheetContext", table: "Table", column: "Column") -> bool:
    """Whether a column that no heading explains holds sets, beside a load and repetitions of their own, all lighter."""
    heading = column.heading
    is_open = heading is not None and heading.roles == ("work",) and not heading.is_exact and heading.exercise is None
    load = next((one for one in table.having("load") if one.heading and one.heading.exercise is None), None)
    if not is_open or load is None or not table.having("reps", "sets"):
        return False
    told = [
        pair for row in table.body[:_SAMPLE] if (pair := _loads(context, row, column.index, load.index)) is not None
    ]
    return len(told) >= 2 and all(heaviest <= least for heaviest, least in told)


def _loads(context: "SheetContext", row: int, work: int, load: int) -> tuple[float, float] | None:
    """(the heaviest load in short, the load beside it) of a row that has both."""
    text = context.cell(row, work)
    found = parse_work(text, context.lexicon).sets if isinstance(text, str) else ()
    loads = [one.load for one in found if one.load is not None]
    pieces = as_text(context.cell(row, load)).replace("/", " ").replace(";", " ").split()
    beside = [one.number for piece in pieces if (one := parse_load(piece)) is not None]
    return (max(loads), min(beside)) if loads and beside else None
