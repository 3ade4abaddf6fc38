"""Tables on a sheet: where headings stand, which rows belong to them, and which rows are no data at all.

A sheet may hold title lines, several tables below or beside one another, two-line headings, totals and legends.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from preflare.reading.by_content import carry_on_headings, settle_by_content
from preflare.reading.coded import CodedRows, cells_in, distinct_in
from preflare.reading.corner_days import heading_of_corner
from preflare.reading.dates import read_date
from preflare.reading.grouped import (
    Group,
    date_of_week,
    grouped,
    is_sub_line,
    part_of_sets,
    rows_of_names,
    set_numbers,
    spans,
)
from preflare.reading.header_rows import header_rows, under_a_day
from preflare.reading.headings import Heading
from preflare.reading.lexicon import Lexicon
from preflare.reading.notes import pain_in_note
from preflare.reading.numbers import parse_effort, parse_number, parse_rating
from preflare.reading.planned_columns import Plan
from preflare.reading.settled_roles import settled_role, share_of_shorthand
from preflare.reading.shorthand import parse_work
from preflare.reading.text import Cell, as_text, fold, words_of
from preflare.reading.workbook import Sheet, cell_at


@dataclass(slots=True)
class Column:
    """One column of a table. heading None: nothing in its heading was known, so it is not read."""

    index: int
    written: str
    heading: Heading | None
    role: str = "unknown"
    day: Cell = None  # a date that stands in the heading itself
    group: Group | None = None  # the name over it and its neighbours, where it governs them alone


@dataclass(slots=True)
class Table:
    """Headings and the rows under them, as 0-based row numbers of the sheet."""

    columns: list[Column]
    header_rows: tuple[int, ...]
    body: Sequence[int] = field(default_factory=list)
    titles: list[str] = field(default_factory=list)
    person: str | None = None  # whose table it is, when people stand across
    reach: range | None = None  # the columns under that person's name
    plan: Plan | None = None  # what that person's loads stand beside

    def having(self, *roles: str) -> list[Column]:
        return [column for column in self.columns if column.role in roles]

    def first(self, role: str) -> Column | None:
        return next((column for column in self.columns if column.role == role), None)


@dataclass(slots=True)
class SheetTables:
    """All tables of a sheet, and the rows outside of them with what they hold."""

    tables: list[Table]
    not_data: dict[int, str]  # 0-based row -> title, heading, legend, totals
    titles: list[str]


def find_tables(sheet: Sheet, lexicon: Lexicon, taught: dict[str, Heading]) -> SheetTables:
    """The tables of `sheet`. taught: heading as written -> what season.toml says it is."""
    found = SheetTables([], {}, [])
    headers = header_rows(sheet, lexicon, taught)
    starts = sorted(headers)
    if not starts:
        _without_tables(sheet, found)
        return found
    heads = _heads(sheet, headers, lexicon)
    first = heads[0][0]
    pending: list[str] = []
    for row in range(first):
        if text := _joined(sheet.rows[row]):
            found.not_data[row] = "title"
            pending.append(text)
    found.titles = list(pending)
    for rows, following in zip(heads, [*heads[1:], [len(sheet.rows)]], strict=True):
        end = following[0]
        body, trailing = _body(sheet, rows[-1] + 1, end, is_last=end == len(sheet.rows), lexicon=lexicon)
        for row in rows:
            found.not_data[row] = "headings"
        corner = under_a_day(sheet.rows[rows[-1]], lexicon)
        pending += [corner[1]] if corner is not None else []
        for columns in _side_by_side(_columns(sheet, rows, lexicon, taught, corner[0] if corner else None)):
            found.tables.append(Table(columns, tuple(rows), body, list(pending)))
        pending = [text for row in trailing if (text := _joined(sheet.rows[row]))]
        for row in trailing:
            found.not_data[row] = "title"
    return found


def _heads(sheet: Sheet, headers: dict[int, list[Heading | None]], lexicon: Lexicon) -> list[list[int]]:
    """The rows of headings of each table, from top to bottom: names over groups, headings, and lines that go on."""
    heads: list[list[int]] = []
    for start in sorted(headers):
        floor = heads[-1][-1] + 1 if heads else 0
        if start < floor:
            continue
        rows = [*rows_of_names(sheet, start, floor, lexicon), start]
        if start + 1 in headers and _is_second_line(sheet, start, headers):
            rows.append(start + 1)
        if is_sub_line(sheet, rows[-1], lexicon):
            rows.append(rows[-1] + 1)
        heads.append(rows)
    return heads


def _without_tables(sheet: Sheet, found: SheetTables) -> None:
    """A sheet without headings: lines of text are no data; rows that look like a log stay open and will be rejected."""
    for row, cells in enumerate(sheet.rows):
        filled = [cell for cell in cells if cell is not None]
        if filled and (len(filled) == 1 or not any(letter.isdecimal() for cell in filled for letter in as_text(cell))):
            found.not_data[row] = "text without headings"
            if len(filled) == 1:
                found.titles.append(as_text(filled[0]))


def _joined(row: list[Cell]) -> str:
    return " | ".join(dict.fromkeys(as_text(cell) for cell in row if cell is not None))


def _is_second_line(sheet: Sheet, start: int, headers: dict[int, list[Heading | None]]) -> bool:
    """Whether the heading row after `start` continues it, and does not merely repeat it."""
    above, below = sheet.rows[start], sheet.rows[start + 1]
    same = [as_text(a) for a in above if a is not None] == [as_text(b) for b in below if b is not None]
    return not same and any(isinstance(a, str) and isinstance(b, str) for a, b in zip(above, below, strict=False))


def _columns(
    sheet: Sheet, rows: list[int], lexicon: Lexicon, taught: dict[str, Heading], under_day: int | None
) -> list[Column]:
    """One Column for every column with a heading: its lowest line, under the names that reach over it.

    under_day: the column at whose head the day of the rows stands.
    """
    *uppers, last = rows
    above = [spans(sheet, row, last) for row in uppers]
    numbers = set_numbers(sheet.rows[last])
    columns: list[Column] = []
    for index in range(max(len(sheet.rows[row]) for row in rows)):
        lines = [cell_at(sheet, row, index) for row in rows]
        names = [over[index] for over in above if index in over]
        own = next((line for line in reversed(lines) if line is not None), None)
        if own is None:
            continue
        text = as_text(own)
        names = [(start, name) for start, name in names if fold(name) != fold(text)]
        heading, group = grouped(text, numbers.get(index), names, lexicon, taught)
        if (part := part_of_sets(heading, index, names, lexicon)) is not heading:
            heading, group = part, None
        written = " ".join(dict.fromkeys([*(name for _, name in names), text]))
        day = next((line for line in lines if isinstance(line, date)), None)
        week_day = day if day is not None else date_of_week(written, lexicon)
        role = heading.roles[0] if heading else "unknown"
        if week_day is not None:
            role = "day_column"
        elif role == "warm_up" and heading is not None and len(heading.roles) > 1 and group is not None:
            role = heading.roles[1]  # sets, loads or repetitions under "Warm-up"
        columns.append(Column(index, written, heading, role, week_day, group))
    _all_weekdays(columns, lexicon)
    for column in columns:
        if column.index == under_day:
            column.heading = heading_of_corner(column.written, [one.heading for one in columns if one is not column])
            column.role, column.day = (column.heading.roles[0] if column.heading else "unknown"), None
    return columns


def _all_weekdays(columns: list[Column], lexicon: Lexicon) -> None:
    """Among weekdays across, a word that is also another heading ("Wo": where, or Wednesday) is a weekday."""
    if sum(column.role == "weekday_column" for column in columns) < 3:
        return
    for column in columns:
        if weekday := lexicon.weekday.exact(column.written):
            column.role = "weekday_column"
            column.heading = Heading(column.written, ("weekday_column",), False, int(weekday))


def _side_by_side(columns: list[Column]) -> list[list[Column]]:
    """Tables that stand beside one another: an empty column between, and the same leading role again."""
    groups: list[list[Column]] = [[]]
    for column in columns:
        if groups[-1] and column.index > groups[-1][-1].index + 1:
            groups.append([])
        groups[-1].append(column)
    leading = Counter(
        role
        for group in groups
        for role in {c.role for c in group}
        if role in {"date", "person", "exercise", "timestamp"}
    )
    if len(groups) > 1 and any(n > 1 for n in leading.values()) and all(len(group) > 1 for group in groups):
        return groups
    return [columns]


def _body(sheet: Sheet, start: int, end: int, is_last: bool, lexicon: Lexicon) -> tuple[Sequence[int], list[int]]:
    """Rows of a table, and single-cell rows right before the next heading, which are that table's title."""
    rows = _filled_rows(sheet, start, end)
    trailing: list[int] = []
    while (
        not is_last
        and rows
        and sum(cell is not None for cell in sheet.rows[rows[-1]]) == 1
        and _is_text(sheet.rows[rows[-1]])
    ):
        trailing.insert(0, rows[-1])
        rows = rows[:-1]
    return rows, trailing


def _filled_rows(sheet: Sheet, start: int, end: int) -> Sequence[int]:
    """The rows from `start` to before `end` that are not blank."""
    if isinstance(sheet.rows, CodedRows):
        filled = sheet.rows.filled()[start:end]
        return range(start, end) if filled.all() else [start + row for row in filled.nonzero()[0].tolist()]
    return [row for row in range(start, end) if any(cell is not None for cell in sheet.rows[row])]


def _is_text(row: list[Cell]) -> bool:
    return all(isinstance(cell, str) for cell in row if cell is not None)


def _holds_dates(values: list[Cell], lexicon: Lexicon) -> bool:
    filled = [value for value in values if value is not None]
    return bool(filled) and sum(read_date(value, lexicon) is not None for value in filled) >= 0.5 * len(filled)


def _names_site(value: Cell, lexicon: Lexicon) -> bool:
    return isinstance(value, str) and len(value) > 2 and any(True for _ in lexicon.site.find(words_of(value)))


def settle_roles(table: Table, sheet: Sheet, lexicon: Lexicon) -> None:
    """Choose among a column's candidate roles by what it holds, and keep one column for each single role."""
    for column in table.columns:
        if column.heading is None or column.day is not None:
            continue
        values = cells_in(sheet.rows, column.index, table.body[:400])
        column.role = settled_role(column.heading, [value for value in values if value is not None])
        if "site" in column.heading.roles and any(_names_site(value, lexicon) for value in set(values)):
            column.role = "site" if column.role == "bar_position" else column.role
        if column.role == "weekday" and _holds_dates(values, lexicon):
            column.role = "date"
    settle_by_content(table, sheet, lexicon)
    for headed, index in carry_on_headings(table, sheet):
        table.columns.append(replace(headed, index=index))
    table.columns.sort(key=lambda column: column.index)
    _settle_ratings(table, sheet)
    _settle_remarks(table, sheet, lexicon)
    _settle_short_work(table, sheet, lexicon)
    _settle_set_columns(table)
    seen: set[tuple[str, Group | None]] = set()
    for column in table.columns:
        if column.role in {"date", "timestamp", "person", "exercise", "set_number", "weekday", "session_number"}:
            if (column.role, column.group) in seen:
                column.role = "ignored"
            seen.add((column.role, column.group))


def _settle_ratings(table: Table, sheet: Sheet) -> None:
    """Beside a column of sites, a column of ratings whose heading says nothing of pain ("Number", "Intensity 0-10")."""
    if not table.having("site") or table.having("pain", "load", "reps", "work", "set_work"):
        return
    for column in table.columns:
        if column.role not in {"unknown", "percent", "value", "rpe", "note"} or column.day is not None:
            continue
        cells = distinct_in(sheet.rows, column.index, table.body) - {None}
        ratings = [parse_rating(as_text(cell)) for cell in cells]
        known = [rating for rating in ratings if rating is not None and rating.value <= 10]
        if len(cells) >= 2 and len(known) >= 0.6 * len(cells):
            column.role, column.heading = "pain", Heading(column.written, ("pain",), False, kind="pain")
            return


def _are_phrases(texts: list[str], cells: list[Cell]) -> bool:
    return sum(cell.count(" ") >= 2 for cell in texts) >= 0.25 * sum(cell is not None for cell in cells)


def _are_remarks(texts: list[str], cells: list[Cell], lexicon: Lexicon) -> bool:
    """Whether nearly all cells are text, and some say warm-up or failed, or report pain."""
    if len(texts) < 0.8 * sum(cell is not None for cell in cells):
        return False
    return any(
        lexicon.work.exact(text) in {"warm_up", "failed"} or pain_in_note(text, lexicon)
        for text in set(texts)
        if len(text) > 1
    )


_EFFORTS = frozenset({"rpe", "rir", "session_rpe"})
_FIGURES = re.compile(r"(?=.*\d)[\d\s.,;/|–-]+")  # "7; 8; 8,5"


def _settle_remarks(table: Table, sheet: Sheet, lexicon: Lexicon) -> None:
    """A column whose heading nobody knows is read by what it holds: set shorthand as work, whole phrases as remarks."""
    open_roles = {"unknown"} if table.having("pain") else {"unknown", "site", "side", "moment", "pain_kind"}
    for column in table.columns:
        if column.role not in open_roles | _EFFORTS or column.day is not None:
            continue
        cells = cells_in(sheet.rows, column.index, table.body)
        texts = [cell for cell in cells if isinstance(cell, str)]
        if column.role in _EFFORTS and any(
            parse_effort(c) or _FIGURES.fullmatch(as_text(c)) for c in cells if c is not None
        ):
            continue  # "Ressenti" holds efforts, or remarks on how it felt
        if column.role == "unknown" and texts and share_of_shorthand(texts) >= 0.6:
            column.role = "work"
            column.heading = Heading(column.written, ("work",), False)
        elif texts and (_are_phrases(texts, cells) or _are_remarks(texts, cells, lexicon)):
            column.role = "note"


_NEAR_WORK = frozenset({"sets", "set_number", "reps", "load", "session_number", "time", "note", "exercise", "percent"})


def _settle_short_work(table: Table, sheet: Sheet, lexicon: Lexicon) -> None:
    """A column whose cells are mostly work in short is work, whatever near heading it has ("Sets", "Reps").

    Beside a column of loads or repetitions it keeps its role: there, single cells in short are read with that column.
    """
    for column in table.columns:
        heading = column.heading
        if column.role not in _NEAR_WORK or heading is None or heading.number is not None or heading.exercise:
            continue
        cells = cells_in(sheet.rows, column.index, table.body[:400])
        filled = [cell for cell in cells if cell is not None]
        if any(other is not column for other in table.having("load", "reps", "set_work")):
            continue
        if filled and sum(_is_short_work(cell, lexicon) for cell in filled) >= 0.6 * len(filled):
            column.role = "work"


def _is_short_work(cell: Cell, lexicon: Lexicon) -> bool:
    """Whether all of a text's numbers are sets, repetitions and loads."""
    if not isinstance(cell, str) or parse_number(cell) is not None:
        return False
    work = parse_work(cell, lexicon)
    return bool(work.sets) and all(problem.is_doubt for problem in work.problems)


def _settle_set_columns(table: Table) -> None:
    """Repeated unnumbered load and repetition columns ("kg, reps, kg, reps") are sets 1, 2, 3 from left to right, those
    of each group by themselves; so are repetitions under the same heading again beside one load ("kg, reps, reps")."""
    for group in dict.fromkeys(column.group for column in table.columns):
        loads, reps, efforts = (_unnumbered(table, group, role) for role in ("load", "reps", "rpe"))
        is_shared = {len(loads), len(reps)} > {1} and len({fold(column.written) for column in loads + reps}) == 2
        if (len(loads) > 1 and len(reps) > 1) or is_shared:
            for columns in (columns for columns in (loads, reps, efforts) if len(columns) > 1):
                for number, column in enumerate(columns, start=1):
                    column.heading = replace(column.heading, number=number)  # type: ignore[type-var]


def _unnumbered(table: Table, group: Group | None, role: str) -> list[Column]:
    """The columns of a role under one name that no heading gives a number or, outside of groups, an exercise."""
    return [
        column
        for column in table.having(role)
        if column.group == group and column.heading and column.heading.number is None
        if group is not None or not column.heading.exercise
    ]
