"""Columns whose heading nobody knows, told by what they hold: names of people, lifts, days, bars, grips, places.

Only where no other column of the table has that role already, and nearly all of the cells are of that kind.
"""

import re
from collections.abc import Callable, Sequence

from preflare.reading.coded import cells_in
from preflare.reading.dates import read_date
from preflare.reading.headings import Heading
from preflare.reading.lexicon import Lexicon
from preflare.reading.people_across import names_someone
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell
from preflare.reading.workbook import Sheet

_MOST = 0.8  # of the filled cells that must be of a kind
_FEWEST = 4  # filled cells
_SAMPLE = 400  # rows that are looked at
_MOST_WITH_INITIALS = 0.6  # of the filled cells
_AGAIN = 0.7  # names come again: this share of the filled cells at most is different

_Kind = tuple[tuple[str, ...], Callable[[Cell, Lexicon], bool]]  # roles that exclude it, and whether a cell is of it


def _is_lift(cell: Cell, lexicon: Lexicon) -> bool:
    return isinstance(cell, str) and lexicon.exercise.exact(cell) is not None


def _is_day(cell: Cell, lexicon: Lexicon) -> bool:
    return cell is not None and not isinstance(cell, float) and read_date(cell, lexicon) is not None


_WITH_INITIAL = re.compile(r"(?P<name>[^\W\d_]{2,}(?:-[^\W\d_]+)?)\s+[^\W\d_]\.?")


def _is_name(cell: Cell, lexicon: Lexicon) -> bool:
    """A name, one with an initial behind it ("Ada B."), or a first name in small letters."""
    if not isinstance(cell, str):
        return False
    match = _WITH_INITIAL.fullmatch(cell.strip())
    name = match["name"] if match else cell
    return names_someone(name if name.casefold() != name else name.capitalize(), lexicon)


def _is_bar(cell: Cell, lexicon: Lexicon) -> bool:
    return isinstance(cell, str) and lexicon.bar.exact(cell) is not None


def _is_width(cell: Cell, lexicon: Lexicon) -> bool:
    return isinstance(cell, str) and lexicon.width.exact(cell) is not None


def _is_place(cell: Cell, lexicon: Lexicon) -> bool:
    return isinstance(cell, str) and lexicon.site.exact(cell) is not None


_KINDS: dict[str, _Kind] = {
    "date": (("date", "timestamp", "week", "weekday"), _is_day),
    "exercise": (("exercise",), _is_lift),
    "person": (("person", "first_name", "last_name"), _is_name),
    "bar": (("bar",), _is_bar),
    "grip": (("grip",), _is_width),
    "site": (("site",), _is_place),
}


def settle_by_contents(table: Table, sheet: Sheet, lexicon: Lexicon) -> None:
    """Give columns of unknown heading the role of what they hold."""
    if any(column.heading and column.heading.exercise for column in table.columns):
        _settle_people(table, sheet, lexicon)
        return
    for column in table.columns:
        if column.role == "unknown" and column.heading is None and column.day is None and column.written:
            role = _role_of(table, sheet, column, lexicon)
            if role is not None:
                column.role, column.heading = role, Heading(column.written, (role,), False)


def _settle_people(table: Table, sheet: Sheet, lexicon: Lexicon) -> None:
    """The first column, beside columns of lifts, as that of people where it plainly holds them ("Ada B.", "Bo L.")."""
    first = table.columns[0]
    if first.role == "unknown" and first.heading is None and first.day is None and first.written:
        cells = [cell for cell in cells_in(sheet.rows, first.index, table.body[:_SAMPLE]) if cell is not None]
        if not table.having(*_KINDS["person"][0]) and _are_with_initials(cells, lexicon):
            first.role, first.heading = "person", Heading(first.written, ("person",), False)


def _are_with_initials(cells: Sequence[Cell], lexicon: Lexicon) -> bool:
    """Whether there are three names or more, nearly all of them with an initial behind; one word may be a total."""
    plain = [cell for cell in cells if isinstance(cell, str) and _is_name(cell, lexicon)]
    full = [cell for cell in plain if _WITH_INITIAL.fullmatch(cell.strip()) and cell[:1].isupper()]
    return len(set(full)) >= 3 and len(full) >= _MOST_WITH_INITIALS * len(cells)


def _role_of(table: Table, sheet: Sheet, column: Column, lexicon: Lexicon) -> str | None:
    cells = [cell for cell in cells_in(sheet.rows, column.index, table.body[:_SAMPLE]) if cell is not None]
    if len(cells) < _FEWEST:
        return None
    for role, (taken, is_of) in _KINDS.items():
        is_open = _may_be_people(cells) or (column is table.columns[0] and _are_with_initials(cells, lexicon))
        if table.having(*taken) or (role == "person" and not is_open):
            continue
        if role == "person" and _are_with_initials(cells, lexicon):
            return role
        if sum(is_of(cell, lexicon) for cell in cells) >= _MOST * len(cells):
            return role
    return None


def _may_be_people(cells: Sequence[Cell]) -> bool:
    """Whether words come again as names do, and most of them begin with a capital."""
    n_capital = sum(isinstance(cell, str) and cell[:1].isupper() for cell in cells)
    return len(set(cells)) <= _AGAIN * len(cells) and n_capital >= 0.5 * len(cells)
