"""Rows of a table whose first cell says that they hold ratings or remarks of the session, not sets.

"Elbow | before | 2 | after | R 3 / L 0 | next morning | 2": words for moments hold for the cells behind them.
"""

from dataclasses import replace
from typing import cast

from preflare.reading.context import SheetContext
from preflare.reading.crosswise_labels import label_of
from preflare.reading.headings import Heading
from preflare.reading.lift_cells import is_missing
from preflare.reading.ratings import Answer, pain_in_notes, pain_of_row
from preflare.reading.rows import Moment, SessionRow
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text


def heading_of_row(context: SheetContext, column: Column | None, row: int) -> Heading | None:
    """What a row holds in place of an exercise and its sets; None for an ordinary row. column: that of exercises."""
    cell = context.cell(row, column.index) if column is not None else None
    if not isinstance(cell, str) or context.lexicon.exercise.exact(cell):
        return None
    label = label_of(context.lexicon, cell)
    is_told = label.kind == "whole" and label.heading is not None and label.heading.roles[0] in {"pain", "note"}
    return label.heading if is_told else None


def read_labelled_row(
    context: SheetContext, row: int, column: Column, heading: Heading, answer: Answer, reach: range | None = None
) -> int:
    """Ratings or remarks of such a row; answers how much was stored. reach: the columns under one person's name, where
    others stand beside it: what is under theirs is not this one's."""
    beside: list[tuple[int, Cell]] = [
        (i, cell)
        for i, cell in enumerate(context.sheet.rows[row])
        if cell is not None and i != column.index and not is_missing(context, cell) and (reach is None or i in reach)
    ]
    if heading.roles[0] == "pain":
        return _ratings(context, row, beside, heading, answer)
    return _remarks(context, row, beside, answer)


def _ratings(context: SheetContext, row: int, cells: list[tuple[int, Cell]], heading: Heading, answer: Answer) -> int:
    n_before, moment = len(context.out.pain), heading.moment
    for index, cell in cells:
        told = context.lexicon.moment.exact(cell) if isinstance(cell, str) else None
        if told is not None:
            moment = cast(Moment, told)
            continue
        as_pain = Column(index, heading.written, replace(heading, moment=moment), "pain")
        context.out.pain += pain_of_row(context, Table([as_pain], ()), row, answer)
    return len(context.out.pain) - n_before


def _remarks(context: SheetContext, row: int, cells: list[tuple[int, Cell]], answer: Answer) -> int:
    for index, cell in cells:
        text, place = as_text(cell), context.place(row, index)
        context.out.pain += pain_in_notes(context, row, index, text, answer)
        context.out.sessions.append(SessionRow(answer.athlete, answer.day, 1, None, None, None, text, place))
    return len(cells)
