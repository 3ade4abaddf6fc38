"""Tables on a sheet: where headings stand, which rows belong to them, and which rows are no data at all.

A sheet may hold title lines, several tables below or beside one another, two-line headings, totals and legends.
"""

import re
from collections import Counter
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import pairwise

from preflare.reading.dates import read_date
from preflare.reading.headings import ANCHORS, Heading, parse_heading
from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import parse_number
from preflare.reading.shorthand import parse_work
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.workbook import Sheet

SHORTHAND = re.compile(r"\d\s*(?:kg|lb)?\s*[x×@]\s*\d", re.I)


@dataclass(slots=True)
class Column:
    """One column of a table. heading None: nothing in its heading was known, so it is not read."""

    index: int
    written: str
    heading: Heading | None
    role: str = "unknown"
    day: Cell = None  # a date that stands in the heading itself


@dataclass(slots=True)
class Table:
    """Headings and the rows under them, as 0-based row numbers of the sheet."""

    columns: list[Column]
    header_rows: tuple[int, ...]
    body: list[int] = field(default_factory=list)
    titles: list[str] = field(default_factory=list)
    person: str | None = None  # whose table it is, when people stand across

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
    headers = _header_rows(sheet, lexicon, taught)
    starts = sorted(headers)
    if not starts:
        _without_tables(sheet, found)
        return found
    first = starts[0]
    pending: list[str] = []
    for row in range(first):
        if text := _joined(sheet.rows[row]):
            found.not_data[row] = "title"
            pending.append(text)
    found.titles = list(pending)
    used: set[int] = set()
    for start in starts:
        if start in used:
            continue
        rows = [start]
        if start + 1 in headers and _is_second_line(sheet, start, headers):
            rows.append(start + 1)
            used.add(start + 1)
        end = next((other for other in starts if other > rows[-1]), len(sheet.rows))
        body, trailing = _body(sheet, rows[-1] + 1, end, is_last=end == len(sheet.rows), lexicon=lexicon)
        for row in rows:
            found.not_data[row] = "headings"
        for columns in _side_by_side(_columns(sheet, rows, lexicon, taught)):
            found.tables.append(Table(columns, tuple(rows), body, list(pending)))
        pending = [text for row in trailing if (text := _joined(sheet.rows[row]))]
        for row in trailing:
            found.not_data[row] = "title"
    return found


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


def _header_rows(sheet: Sheet, lexicon: Lexicon, taught: dict[str, Heading]) -> dict[int, list[Heading | None]]:
    known: dict[str, Heading | None] = {}
    may_be: dict[Cell, bool] = {}  # many rows repeat their words
    headers = {}
    for index, row in enumerate(sheet.rows):
        for cell in row:
            if isinstance(cell, str) and cell not in may_be:
                may_be[cell] = _may_be_heading(cell, lexicon, taught)
        if not any(isinstance(cell, str) and may_be[cell] for cell in row):
            continue
        texts = [cell for cell in row if isinstance(cell, str)]
        if not len(texts) + sum(isinstance(cell, date) for cell in row) >= 2 or len(texts) < 1:
            continue
        if any(len(text) > 120 for text in texts) or sum(isinstance(cell, float) for cell in row) > len(texts) / 2:
            continue
        for text in texts:
            if text not in known:
                known[text] = taught.get(text) or parse_heading(text, lexicon)
        if _looks_like_headings(_with_dates(row, known, lexicon), known) or _names_across(row, known, index, sheet):
            headers[index] = [known[cell] if isinstance(cell, str) else None for cell in row]
    return headers


def _may_be_heading(text: str, lexicon: Lexicon, taught: dict[str, Heading]) -> bool:
    """A quick look: some known heading word, alone or at either end. Most rows of a sheet end here."""
    words = fold(text).split()
    if text.endswith("?"):
        return True
    if not words or len(words) > 8:
        return False
    known = lexicon.headings_of
    ends = {" ".join(words), words[0], words[-1], re.sub(r"\d+", "", words[0]), re.sub(r"\d+", "", words[-1])}
    return bool(ends & known.keys()) or text in taught or bool(ends & {"s", "w"}) or words[0] in lexicon.weekday.known


def _with_dates(row: list[Cell], known: dict[str, Heading | None], lexicon: Lexicon) -> list[Cell]:
    """The row with every text that is a date as a date: a CSV file has no typed cells, so its dates are texts."""
    return [
        date.min
        if isinstance(cell, str) and known[cell] is None and any(map(str.isdigit, cell)) and read_date(cell, lexicon)
        else cell
        for cell in row
    ]


def _looks_like_headings(row: list[Cell], known: dict[str, Heading | None]) -> bool:
    """At least two known headings that fill most of the row, one of them telling; dates may stand among them."""
    texts = [cell for cell in row if isinstance(cell, str)]
    headings = [heading for text in texts if (heading := known[text])]
    exact = {heading.roles[0] + str(heading.number or "") for heading in headings if heading.is_exact}
    dates = sum(isinstance(cell, date) for cell in row)
    if dates:
        return dates >= 3 and len(exact) >= 1 and len(headings) >= len(texts) / 2
    if any(parse_number(text) is not None for text in texts):
        return False
    anchored = any(set(heading.roles) & ANCHORS for heading in headings if heading.is_exact)
    weeks = sum(heading.roles[0] == "week_column" for heading in headings)
    if len({heading.number for heading in headings if heading.roles[0] == "weekday_column"}) >= 3:
        return len(headings) >= 0.5 * len(texts)
    enough = len(exact) >= 2 or weeks >= 2 or (len(exact) == 1 and len(headings) >= 3)
    return enough and (anchored or weeks >= 2) and len(headings) >= 0.5 * len(texts)


def _names_across(row: list[Cell], known: dict[str, Heading | None], index: int, sheet: Sheet) -> bool:
    """A date or week heading first, then two or more words that nobody knows, and a row with figures below."""
    texts = [cell for cell in row if cell is not None]
    first = known.get(texts[0]) if isinstance(texts[0], str) else None
    others = [
        cell for cell in texts[1:] if isinstance(cell, str) and known[cell] is None and not re.search(r"\d", cell)
    ]
    is_axis = first is not None and first.is_exact and bool({"date", "week", "weekday"} & set(first.roles))
    below = sheet.rows[index + 1] if index + 1 < len(sheet.rows) else []
    has_figures = any(isinstance(cell, float) or re.search(r"\d", as_text(cell)) for cell in below if cell is not None)
    return is_axis and len(others) >= 2 and len(others) == len(texts) - 1 and has_figures


def _is_second_line(sheet: Sheet, start: int, headers: dict[int, list[Heading | None]]) -> bool:
    """Whether the heading row after `start` continues it, and does not merely repeat it."""
    above, below = sheet.rows[start], sheet.rows[start + 1]
    same = [as_text(a) for a in above if a is not None] == [as_text(b) for b in below if b is not None]
    return not same and any(isinstance(a, str) and isinstance(b, str) for a, b in zip(above, below, strict=False))


def _columns(sheet: Sheet, rows: list[int], lexicon: Lexicon, taught: dict[str, Heading]) -> list[Column]:
    """One Column for every column with a heading; a two-line heading is both lines, the upper carried to the right."""
    width = max(len(sheet.rows[row]) for row in rows)
    columns = []
    carried = ""
    for index in range(width):
        lines = [sheet.rows[row][index] if index < len(sheet.rows[row]) else None for row in rows]
        day = next((line for line in lines if isinstance(line, date)), None)
        if len(lines) == 2:
            above, below = (as_text(line) for line in lines)
            carried = above or (carried if below else "")
            texts = [below if above in ("", below) and not carried else f"{carried} {below}".strip(), below, above]
            if not above and not below:
                continue
            if fold(carried) == fold(below):
                texts = [below]
        else:
            texts = [as_text(lines[0])]
        text = next((text for text in texts if text), "")
        if not text:
            continue
        heading = next((h for t in texts if t and (h := taught.get(t) or parse_heading(t, lexicon))), None)
        role = heading.roles[0] if heading else "unknown"
        columns.append(Column(index, text, heading, "day_column" if day is not None else role, day))
    _all_weekdays(columns, lexicon)
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


def _body(sheet: Sheet, start: int, end: int, is_last: bool, lexicon: Lexicon) -> tuple[list[int], list[int]]:
    """Rows of a table, and single-cell rows right before the next heading, which are that table's title."""
    rows = [row for row in range(start, end) if any(cell is not None for cell in sheet.rows[row])]
    trailing: list[int] = []
    while (
        not is_last
        and rows
        and sum(cell is not None for cell in sheet.rows[rows[-1]]) == 1
        and _is_text(sheet.rows[rows[-1]])
    ):
        trailing.insert(0, rows.pop())
    return rows, trailing


def _is_text(row: list[Cell]) -> bool:
    return all(isinstance(cell, str) for cell in row if cell is not None)


def _holds_dates(values: list[Cell], lexicon: Lexicon) -> bool:
    filled = [value for value in values if value is not None]
    return bool(filled) and sum(read_date(value, lexicon) is not None for value in filled) >= 0.5 * len(filled)


def settle_roles(table: Table, sheet: Sheet, lexicon: Lexicon) -> None:
    """Choose among a column's candidate roles by what it holds, and keep one column for each single role."""
    for column in table.columns:
        if column.heading is None or column.day is not None:
            continue
        values = [sheet.rows[row][column.index] for row in table.body[:400] if column.index < len(sheet.rows[row])]
        column.role = _settle(column.heading, [value for value in values if value is not None])
        if column.role == "weekday" and _holds_dates(values, lexicon):
            column.role = "date"
    _settle_remarks(table, sheet)
    _settle_short_work(table, sheet, lexicon)
    _settle_set_columns(table)
    seen: set[str] = set()
    for column in table.columns:
        if column.role in {"date", "timestamp", "person", "exercise", "set_number", "weekday", "session_number"}:
            if column.role in seen:
                column.role = "ignored"
            seen.add(column.role)


def _settle_remarks(table: Table, sheet: Sheet) -> None:
    """A column whose heading nobody knows is read by what it holds: set shorthand as work, whole phrases as remarks."""
    for column in table.columns:
        if column.role != "unknown" or column.day is not None:
            continue
        cells = [sheet.rows[row][column.index] for row in table.body if column.index < len(sheet.rows[row])]
        texts = [cell for cell in cells if isinstance(cell, str)]
        if texts and _share_of_shorthand(texts) >= 0.6:
            column.role = "work"
            column.heading = Heading(column.written, ("work",), False)
        elif texts and sum(cell.count(" ") >= 2 for cell in texts) >= 0.25 * sum(cell is not None for cell in cells):
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
        cells = [sheet.rows[row][column.index] for row in table.body[:400] if column.index < len(sheet.rows[row])]
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


def _settle(heading: Heading, values: list[Cell]) -> str:
    roles = heading.roles
    if (len(roles) == 1 and roles[0] not in {"sets", "session_number", "note", "time", "work"}) or not values:
        return roles[0]
    numbers = [
        n
        for value in values
        if (n := value if isinstance(value, float) else parse_number(value) if isinstance(value, str) else None)
        is not None
    ]
    share = len(numbers) / len(values)
    texts = [value for value in values if isinstance(value, str)]
    if roles[0] in {"session_number", "note", "time"} and texts and _share_of_shorthand(texts) >= 0.6:
        return "work"  # "Session" or "Comment" over a column of sets
    if roles[0] == "work" and not any(letter.isdecimal() for value in values for letter in as_text(value)):
        return "ignored"  # ticks under "Done"
    if {"sets", "set_number"} <= set(roles):
        return "set_number" if _counts_up(numbers) or max(numbers, default=1) <= 1 else "sets"
    if "session_number" in roles and "work" in roles:
        return "session_number" if share > 0.8 else "work"
    if roles[0] == "session_number" and share < 0.5 and any(len(as_text(value)) > 6 for value in values):
        return "ignored"
    if "note" in roles and len(roles) > 1 and share > 0.8:
        return next(role for role in roles if role != "note")
    return roles[0]


def _share_of_shorthand(texts: list[str]) -> float:
    return sum(SHORTHAND.search(text) is not None for text in texts) / len(texts)


def _counts_up(numbers: list[float]) -> bool:
    """1, 2, 3, 1, 2...: numbers of sets, not how many sets there were."""
    rises = sum(later == earlier + 1 or later == 1 for earlier, later in pairwise(numbers))
    return len(numbers) > 1 and rises >= 0.8 * (len(numbers) - 1) and numbers[0] == 1 and max(numbers) > 1


def _settle_set_columns(table: Table) -> None:
    """Repeated unnumbered load and repetition columns ("kg, reps, kg, reps") are sets 1, 2, 3 from left to right."""
    loads = [
        column
        for column in table.columns
        if column.role == "load" and column.heading and column.heading.number is None and not column.heading.exercise
    ]
    reps = [
        column
        for column in table.columns
        if column.role == "reps" and column.heading and column.heading.number is None and not column.heading.exercise
    ]
    efforts = [
        column
        for column in table.columns
        if column.role == "rpe" and column.heading and column.heading.number is None and not column.heading.exercise
    ]
    if len(loads) > 1 and len(reps) > 1:
        for group in (loads, reps, efforts if len(efforts) > 1 else []):
            for number, column in enumerate(group, start=1):
                column.heading = replace(column.heading, number=number)  # type: ignore[type-var]
