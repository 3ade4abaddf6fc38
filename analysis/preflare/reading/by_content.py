"""Columns whose headings nobody knows, told by what they hold: dates, lifts, bars, grips, sites, sides, moments.

Only where most of what a column holds is of one kind, and no other column of its table or group has that kind.
"""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from preflare.reading.coded import cells_in, distinct_in
from preflare.reading.dates import read_date
from preflare.reading.headings import Heading
from preflare.reading.lexicon import Lexicon
from preflare.reading.settled_roles import SETS
from preflare.reading.side_letters import SHORT_SIDES
from preflare.reading.text import Cell, column_letters, fold, words_of
from preflare.reading.workbook import Sheet

if TYPE_CHECKING:
    from preflare.reading.context import SheetContext
    from preflare.reading.tables import Column, Table

_MOST_UNHEADED = 12  # columns behind the last heading that are looked at
_MOST = 0.6  # of a column's cells, and of its different ones, that must be of its kind
_SAMPLE = 400

Fits = Callable[[Cell, Lexicon], bool]


def _is_date(cell: Cell, lexicon: Lexicon) -> bool:
    return not isinstance(cell, float) and read_date(cell, lexicon) is not None


def _is_exercise(cell: Cell, lexicon: Lexicon) -> bool:
    if not isinstance(cell, str):
        return False
    words = words_of(cell)
    found = {i for start, end, _ in lexicon.exercise.find(words) for i in range(start, end)}
    if not found:
        return False
    for phrases in (lexicon.position, lexicon.modifier, lexicon.bar, lexicon.width, lexicon.style):
        found |= {i for start, end, _ in phrases.find(words) for i in range(start, end)}
    return 2 * len(found) > len(words)


def _is_bar(cell: Cell, lexicon: Lexicon) -> bool:
    return isinstance(cell, str) and (lexicon.bar.exact(cell) is not None)


def _is_grip(cell: Cell, lexicon: Lexicon) -> bool:
    return isinstance(cell, str) and any(phrases.exact(cell) for phrases in (lexicon.width, lexicon.style))


def _is_position(cell: Cell, lexicon: Lexicon) -> bool:
    """ "high", "low bar", or a letter that a legend gives this meaning."""
    return isinstance(cell, str) and lexicon.position.exact(cell) is not None


def _is_site(cell: Cell, lexicon: Lexicon) -> bool:
    """A site alone, several, or one with its side; a longer text is a remark."""
    if not isinstance(cell, str):
        return False
    words = words_of(cell)
    found = list(lexicon.site.find(words))
    named = {i for start, end, _ in (*found, *lexicon.sides_in(words)) for i in range(start, end)}
    return bool(found) and all(i in named or len(word) < 3 for i, word in enumerate(words))


def _is_side(cell: Cell, lexicon: Lexicon) -> bool:
    return isinstance(cell, str) and (lexicon.side.exact(cell) is not None or fold(cell) in SHORT_SIDES)


def _is_moment(cell: Cell, lexicon: Lexicon) -> bool:
    if not isinstance(cell, str):
        return False
    return lexicon.moment.exact(cell) is not None or (len(cell.split()) <= 5 and bool(lexicon.moments_in(cell)))


_KINDS: tuple[tuple[str, Fits], ...] = (
    ("date", _is_date),
    ("side", _is_side),
    ("moment", _is_moment),
    ("bar", _is_bar),
    ("grip", _is_grip),
    ("bar_position", _is_position),
    ("exercise", _is_exercise),
    ("site", _is_site),
)
_OF_PAIN = frozenset({"side", "moment", "site"})
_MAYBE_A_DAY = frozenset({"work", "note", "session_number", "ignored", "moment", "time"})  # "Training of", over days
_MAYBE_LIFTS = frozenset({"note", "session_number", "ignored", "person", "week", "weekday", "bar", "set_number"})
_LOGGED = frozenset({"load", "reps", "sets", "work", "set_work"})


def settle_by_content(table: "Table", sheet: Sheet, lexicon: Lexicon) -> None:
    """Give every column whose heading nobody knows the role that its cells show, if they show one."""
    for column in table.columns:
        is_nearly_open = column.role in _MAYBE_A_DAY | _MAYBE_LIFTS and column.day is None
        if not _is_open(column) and not is_nearly_open:
            continue
        cells = [cell for cell in cells_in(sheet.rows, column.index, table.body[:_SAMPLE]) if cell is not None]
        role = _kind_of(cells, lexicon)
        if role is None or not _may_be(table, column, role):
            continue
        is_told = _is_open(column) or (role == "date" and column.role in _MAYBE_A_DAY)
        if not is_told and not (role == "exercise" and _are_the_lifts(table, column, cells, lexicon)):
            continue
        column.role, column.heading = role, Heading(column.written, (role,), False)


def _are_the_lifts(table: "Table", column: "Column", cells: Sequence[Cell], lexicon: Lexicon) -> bool:
    """Whether a column whose heading may mean something else ("Session", "Name") holds names of lifts, two at least,
    where no other column does; so no lift that the sheet's name gives stands over those of its rows."""
    is_only = not any(other.role in {"exercise", "set_work"} for other in table.columns)
    return column.role in _MAYBE_LIFTS and is_only and len(lexicon.lifts_named(cells)) >= 2


def _is_open(column: "Column") -> bool:
    """Whether a heading leaves open what its column holds; "What" may be work, or the name of a lift."""
    is_no_work = column.role == "ignored" and column.heading is not None and column.heading.roles[0] == "work"
    is_near = column.role in {"note", "pain"} and column.heading is not None and not column.heading.is_exact
    return column.day is None and (column.role == "unknown" or is_no_work or is_near)


def _kind_of(cells: Sequence[Cell], lexicon: Lexicon) -> str | None:
    distinct = list(dict.fromkeys(cells))
    for role, fits in _KINDS:
        told = {cell: fits(cell, lexicon) for cell in distinct}
        if distinct and _share([told[cell] for cell in cells]) >= _MOST and _share(list(told.values())) >= _MOST:
            return role
    return None


def _share(fits: Sequence[bool]) -> float:
    return sum(fits) / len(fits)


def _may_be(table: "Table", column: "Column", role: str) -> bool:
    """Whether a column may have a role: no other has it, lifts and gear beside sets, sites and sides beside ratings."""
    same = (other for other in table.columns if other.group in (None, column.group) and other.role == role)
    if any(other.group == column.group for other in same):
        return False
    roles = {other.role for other in table.columns}
    if role in {"exercise", "bar", "grip", "bar_position"}:
        return bool(roles & _LOGGED)
    if role == "date":
        return "date" not in roles
    return role not in _OF_PAIN or not roles & _LOGGED or "pain" in roles


def carry_on_headings(table: "Table", sheet: Sheet) -> list[tuple["Column", int]]:
    """Columns of sets in short without a heading, behind one of the same lift, with the headed column that they go on.

    "Squat" over the first of three columns of sets holds for all three. The others are (headed column, column).
    """
    head = sheet.rows[table.header_rows[-1]] if table.header_rows else []
    by_index = {column.index: column for column in table.columns}
    found = []
    last: Column | None = None
    for index in range(max(by_index, default=-1) + _MOST_UNHEADED):
        if index in by_index:
            last = by_index[index]
            continue
        is_blank = index >= len(head) or head[index] is None
        cells = [cell for cell in distinct_in(sheet.rows, index, table.body) if cell is not None] if is_blank else []
        is_of_sets = last is not None and last.role in {"work", "set_work"} and last.heading is not None
        if not cells or not is_of_sets:
            last = None
        elif last is not None and _share([_is_sets(cell) for cell in cells]) >= _MOST:
            found.append((last, index))
    return found


def _is_sets(cell: Cell) -> bool:
    return isinstance(cell, str) and SETS.search(cell) is not None


def say_unheaded(context: "SheetContext", table: "Table") -> None:
    """Say which columns without a heading hold values, so that nobody takes them for read."""
    head = context.sheet.rows[table.header_rows[-1]] if table.header_rows else []
    read = {column.index for column in table.columns}
    first, last = (min(read), max(read) + _MOST_UNHEADED) if read and table.header_rows else (0, 0)
    for index in range(first, last):
        is_headed = index < len(head) and head[index] is not None
        if (
            index in read
            or is_headed
            or not any(
                cell is not None and not isinstance(cell, bool)
                for cell in distinct_in(context.sheet.rows, index, table.body)
            )
        ):
            continue
        context.assume(f"Column {column_letters(index)} has no heading, and nothing was read from it.")
