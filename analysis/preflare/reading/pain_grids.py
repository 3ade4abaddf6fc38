"""Sheets of ratings with days across and people down, a side below each day or none, the site in the line above.

Elbow pain 0-10, asked the next morning
Athlete | 28/9 |     | 1/10 |
        | L    | R   | L    | R
Ada     | 0    | 2   | 1    | 3
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from preflare.reading.context import SheetContext
from preflare.reading.crosswise_days import day_of
from preflare.reading.crosswise_marks import mark_of
from preflare.reading.headings import Heading, parse_heading
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.numbers import parse_rating
from preflare.reading.ratings import Answer, pain_of_row
from preflare.reading.side_letters import side_of_letter
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text
from preflare.reading.workbook import Sheet, cell_at

_FEWEST_DAYS = 2
_MOST = 0.6  # of the cells that must be ratings, or words for them
_MOST_ROWS = 2_000
_MOST_WORDS_OF_A_NAME = 3
_ENDS_OF_TITLE = re.compile(r"[(\[]|\.\s")
_SIDES = {"left", "right", "both"}
_CORNERS = {"person", "first_name", "last_name", "date"}


@dataclass(frozen=True, slots=True)
class PainGrid:
    """One block: its heading, its days and sides by column, and the rows of people."""

    heading: Heading
    days: dict[int, Cell]
    sides: dict[int, str]
    heads: tuple[int, ...]
    body: list[int]


def find_pain_grids(sheet: Sheet, lexicon: Lexicon) -> list[PainGrid]:
    """The blocks of a sheet that holds nothing else than such blocks and lines of text; [] for any other sheet."""
    found: list[PainGrid] = []
    title: Heading | None = None
    row, n_rows = 0, len(sheet.rows)
    while row < n_rows <= _MOST_ROWS:
        filled = _filled(sheet, row)
        if len({as_text(cell) for _, cell in filled}) <= 1:
            title = (_title(as_text(filled[0][1]), lexicon) or title) if filled else title
            row += 1
            continue
        grid = _grid_at(sheet, row, title, lexicon) if title is not None else None
        if grid is None:
            return []
        found.append(grid)
        title, row = None, max(*grid.heads, *grid.body) + 1
    return found if n_rows <= _MOST_ROWS else []


def read_pain_grids(context: SheetContext, grids: Sequence[PainGrid]) -> None:
    """Read every rating of the blocks; a row without any is said to hold nothing."""
    for row in range(len(context.sheet.rows)):
        if any(cell is not None for cell in context.sheet.rows[row]):
            context.not_data(row, "a line of text")
    several = len({grid.heading.site for grid in grids}) > 1
    for grid in grids:
        told = f", {grid.heading.moment}" if grid.heading.moment else ""
        context.assume(f'The ratings below "{grid.heading.written}" were read as of the {grid.heading.site}{told}.')
        for row in grid.heads:
            context.not_data(row, "headings")
        for row in grid.body:
            _read_row(context, grid, row, several)


def _read_row(context: SheetContext, grid: PainGrid, row: int, is_told_apart: bool) -> None:
    """The ratings of one person. is_told_apart: another block is about another site, so "arm" here is no elbow."""
    out, person = context.out, as_text(context.cell(row, 0)).strip()
    n_before = len(out.pain) + len(out.rejected)
    for column, cell in grid.days.items():
        if context.cell(row, column) is None:
            continue
        day = day_of(context, cell)
        if day is None or day > context.today:
            reason = "it is not known on which day this was" if day is None else f"the date {day} lies in the future"
            context.reject_cell(row, column, context.cell(row, column), reason, "correct the date above, with its year")
            continue
        heading = replace(grid.heading, side=grid.sides.get(column, grid.heading.side))
        written = "" if is_told_apart else heading.written  # which a legend may say to mean another part of the arm
        table = Table([Column(column, heading.written, replace(heading, written=written), "pain")], ())
        out.pain += pain_of_row(context, table, row, Answer(person, day, None, False))
    if len(out.pain) + len(out.rejected) == n_before:
        context.not_data(row, "a row with nothing filled in")
    else:
        out.not_data.pop(context.key(row), None)


def _filled(sheet: Sheet, row: int) -> list[tuple[int, Cell]]:
    return [(index, cell) for index, cell in enumerate(sheet.rows[row]) if cell is not None and as_text(cell).strip()]


def _title(text: str, lexicon: Lexicon) -> Heading | None:
    """What a line says of the ratings below it, by all of its words or those before a bracket or full stop."""
    before = _ENDS_OF_TITLE.split(text)[0]
    for part in (before, text):
        heading = parse_heading(part, lexicon)
        if heading is not None and heading.roles[0] == "pain" and heading.site:
            moments = {hit for _, _, hit in lexicon.moments_in(text)}
            moment = heading.moment or (moments.pop() if len(moments) == 1 else None)
            return replace(heading, moment=moment)  # type: ignore[arg-type]
    return None


def _grid_at(sheet: Sheet, row: int, title: Heading, lexicon: Lexicon) -> PainGrid | None:
    """The block whose days stand in `row`."""
    days = {index: cell for index, cell in _filled(sheet, row) if index > 0}
    first = cell_at(sheet, row, 0)
    heading = parse_heading(first, lexicon) if isinstance(first, str) else None
    is_corner = first is None or (heading is not None and heading.roles[0] in _CORNERS)
    if not is_corner or len(days) < _FEWEST_DAYS or any(mark_of(c, lexicon).kind != "day" for c in days.values()):
        return None
    sides = _sides(sheet, row + 1, lexicon)
    for index in sides:
        if index not in days:  # a day written once over its two sides
            before = [at for at in days if at < index]
            if not before:
                return None
            days[index] = days[max(before)]
    heads = (row, row + 1) if sides else (row,)
    body = _body(sheet, heads[-1] + 1, lexicon)
    cells = [cell for at in body for index, cell in _filled(sheet, at) if index > 0]
    is_within = all(index in days for at in body for index, _ in _filled(sheet, at) if index > 0)
    told = sum(_is_rating(cell, lexicon) for cell in cells)
    if not body or not is_within or not told or told < _MOST * len(cells):
        return None
    return PainGrid(title, dict(sorted(days.items())), sides, heads, body)


def _sides(sheet: Sheet, row: int, lexicon: Lexicon) -> dict[int, str]:
    """The side in each column of a row that holds nothing but sides, a left and a right one among them."""
    if row >= len(sheet.rows) or cell_at(sheet, row, 0) is not None:
        return {}
    told = {index: _side(as_text(cell), lexicon) for index, cell in _filled(sheet, row)}
    sides = {index: side for index, side in told.items() if side is not None}
    return sides if len(sides) == len(told) and {"left", "right"} <= set(sides.values()) else {}


def _side(text: str, lexicon: Lexicon) -> str | None:
    word = lexicon.side.exact(text) or side_of_letter(text)
    return word if word in _SIDES else None


def _body(sheet: Sheet, start: int, lexicon: Lexicon) -> list[int]:
    """The rows of people from `start` to the next blank row or row of headings."""
    body: list[int] = []
    for row in range(start, len(sheet.rows)):
        filled = _filled(sheet, row)
        first = cell_at(sheet, row, 0)
        if not filled or not isinstance(first, str) or names_total(first) or _title(first, lexicon) is not None:
            break
        days = [cell for index, cell in filled if index > 0 and mark_of(cell, lexicon).kind == "day"]
        if len(days) > 0.5 * (len(filled) - 1) or (len(filled) == 1 and len(first.split()) > _MOST_WORDS_OF_A_NAME):
            break  # "2-3" is a rating, a row of such is none; a sentence alone is a remark
        body.append(row)
    return body


def _is_rating(cell: Cell, lexicon: Lexicon) -> bool:
    """Whether a cell is a rating from 0 to 10, or a word for one or for none given."""
    text = as_text(cell)
    rating = parse_rating(text)
    is_word = lexicon.severity.exact(text) is not None or lexicon.sheet_word(text, "missing")
    return is_word or (rating is not None and rating.value <= 10)
