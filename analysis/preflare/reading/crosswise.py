"""Sheets with days, weeks or people across, whatever stands in the rows: what each cell is governed by.

A cell of such a sheet belongs to the day, week or person above it (across, merged or written once over several
columns), to the words at its left, and to the last line of text above. Nothing here asks for one certain layout: lines
of headings are found by what they hold, and columns under the same day and person belong together. crosswise_rows.py
reads the cells.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from preflare.reading.coded import CodedRows
from preflare.reading.dates import Written, read_date, without_frame
from preflare.reading.headings import Heading, parse_heading
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.people_across import names_someone
from preflare.reading.shorthand import parse_work
from preflare.reading.tables import SHORTHAND, Column, SheetTables, Table
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.weeks import dated_weekday, day_behind_week_word, first_of_range
from preflare.reading.whiteboard import day_within, may_be_a_name
from preflare.reading.workbook import Sheet

_ROWS_TO_SEARCH = 120  # for the first line of days, weeks or people
_MOST_ROWS = 20_000  # of a sheet with days or people across; longer ones are lists
_AXES = ("day", "week", "weekday", "person")
_MOST_WORDS_OF_A_DAY = 8  # "Session 3 - Monday 2 March 2026"; a longer text with a date in it is a remark
_GEAR = frozenset({"bar", "grip", "bar_position"})
_ABOUT_SETS = frozenset({"load", "reps", "sets", "rpe", "rir", "pain", "note", "session_rpe"}) | _GEAR
_ONE_FOR_ALL = frozenset({"date", "person", "week", "weekday", "exercise"}) | _GEAR


@dataclass(frozen=True, slots=True)
class Mark:
    """What one cell says of who, when or what. kind: day, week, weekday, person, heading, exercise, or other."""

    kind: str
    text: str
    day: Cell = None
    number: int | None = None  # of a week or weekday
    heading: Heading | None = None


@dataclass(frozen=True, slots=True)
class Above:
    """The day, week, weekday and person that stand above a column; empty over columns that serve the whole row."""

    day: Cell = None
    week: Mark | None = None
    weekday: int | None = None
    person: str | None = None


@dataclass(slots=True)
class Group:
    """The columns under one day or person."""

    above: Above
    columns: list[Column]


@dataclass(slots=True)
class Block:
    """Rows under the same lines of headings."""

    groups: list[Group]
    common: list[Column]  # what stands at the left, or in columns that belong to no day or person
    header_rows: tuple[int, ...]
    body: list[int] = field(default_factory=list)
    lines: dict[int, Mark] = field(
        default_factory=dict
    )  # rows of a single text: a day, a person, an exercise, a remark


@dataclass(slots=True)
class Crosswise:
    """A sheet with days or people across: its blocks, the rows outside of them, and titles."""

    blocks: list[Block]
    not_data: dict[int, str]
    titles: list[str]

    def tables(self) -> SheetTables:
        """The same as tables, one for each day or person, as the summary of a sheet shows them."""
        tables = [
            Table([*block.common, *group.columns], block.header_rows, block.body, self.titles, group.above.person)
            for block in self.blocks
            for group in block.groups
        ]
        return SheetTables(tables, self.not_data, self.titles)

    def dates(self, sheet: Sheet, lexicon: Lexicon) -> list[Written]:
        """All that it says of dates, for the order of day and month."""
        cells = [group.above.day for block in self.blocks for group in block.groups]
        cells += [mark.day for block in self.blocks for mark in block.lines.values()]
        for block in self.blocks:
            for column in block.common:
                cells += [cell_at(sheet, row, column.index) for row in block.body]
        found = (read_date(cell, lexicon) for cell in cells if cell is not None and not isinstance(cell, float))
        return [written for written in found if written is not None]


def find_crosswise(sheet: Sheet, lexicon: Lexicon) -> Crosswise | None:
    """The blocks of a sheet with days, weeks or people across, or None when nothing stands across."""
    if not _may_run_across(sheet, lexicon):
        return None
    found = Crosswise([], {}, [])
    heads: list[tuple[int, dict[int, Mark]]] = []
    lines: dict[int, Mark] = {}
    block: Block | None = None
    is_below_head = False
    for row in range(len(sheet.rows)):
        filled = _distinct(sheet, row)
        if not filled:
            continue
        if (line := _date_line(filled, lexicon)) is not None and heads:
            lines = lines if block is None else block.lines
            lines[row] = line
            is_below_head = False
            continue
        marks = _names_over_work(sheet, row, filled, lexicon) or _heads_of(filled, lexicon)
        if marks is not None:
            if (corner := _day_in_corner(marks)) is not None:
                lines = {**lines, row: corner}
                marks = {index: mark for index, mark in marks.items() if mark is not corner}
            heads = [*(heads if is_below_head else _kept(heads, marks)), (row, marks)]
            found.not_data[row] = "headings"
            block, is_below_head = None, True
            continue
        is_below_head = False
        if not any(mark.kind in _AXES for _, one in heads for mark in one.values()):
            found.not_data[row] = "title"
            found.titles.append(" | ".join(dict.fromkeys(as_text(cell) for _, cell in filled)))
            continue
        if block is None:
            block = _block(sheet, heads)
            block.lines |= lines
            lines = {}
            found.blocks.append(block)
        if len(filled) == 1 and (mark := _line(filled[0][1], lexicon)) is not None:
            block.lines[row] = mark
        else:
            block.body.append(row)
    _settle_columns(found.blocks, sheet, lexicon)
    is_across = any(len(block.groups) > 1 or len(found.blocks) > 1 for block in found.blocks if block.body)
    return found if is_across else None


def _may_run_across(sheet: Sheet, lexicon: Lexicon) -> bool:
    """A quick look at the first rows of a sheet: whether days, weeks or people stand across in one of them."""
    n_rows = min(len(sheet.rows), _ROWS_TO_SEARCH)
    if isinstance(sheet.rows, CodedRows) and len(sheet.rows) > _MOST_ROWS:
        return False
    for row in range(n_rows):
        filled = _distinct(sheet, row)
        marks = _names_over_work(sheet, row, filled, lexicon) or _heads_of(filled, lexicon)
        if marks is not None and any(mark.kind in _AXES for mark in marks.values()):
            return True
    return False


def _kept(heads: list[tuple[int, dict[int, Mark]]], new: dict[int, Mark]) -> list[tuple[int, dict[int, Mark]]]:
    """The lines of headings that still hold when another one stands below data: those about something else."""
    kinds = {mark.kind for mark in new.values()}
    return [(row, marks) for row, marks in heads if not kinds & {mark.kind for mark in marks.values()}]


def _distinct(sheet: Sheet, row: int) -> list[tuple[int, Cell]]:
    """The filled cells of a row, a merged one once."""
    cells = sheet.rows[row]
    return [
        (index, cell)
        for index, cell in enumerate(cells)
        if cell is not None and not ((row, index) in sheet.merged and index > 0 and cells[index - 1] == cell)
    ]


def _date_line(filled: Sequence[tuple[int, Cell]], lexicon: Lexicon) -> Mark | None:
    """A day told over two or three cells ("Tuesday | 22 Sept 2026"), or None for any other row."""
    if not 2 <= len(filled) <= 3:
        return None
    marks = [mark_of(cell, lexicon) for _, cell in filled]
    kinds = [mark.kind for mark in marks]
    is_day = kinds.count("day") == 1 and set(kinds) <= {"day", "weekday", "week"} and len(set(kinds)) == len(kinds)
    return next(mark for mark in marks if mark.kind == "day") if is_day else None


def _day_in_corner(marks: dict[int, Mark]) -> Mark | None:
    """The day, week or weekday that stands at the left of people across: that of the rows below them."""
    first = marks[min(marks)]
    others = [mark.kind for mark in marks.values() if mark is not first]
    is_corner = first.kind in {"day", "week", "weekday"} and others.count("person") >= 2
    return first if is_corner and first.kind not in others else None


_ROWS_TO_LOOK_AT = 12
_LEAST_WORK = 2  # cells of work below a word that may be a name


def _names_over_work(
    sheet: Sheet, row: int, filled: Sequence[tuple[int, Cell]], lexicon: Lexicon
) -> dict[int, Mark] | None:
    """Words that nobody knows, two or more, each over a column of work and none of them a lift: they name people.

    So initials ("BW", "CO") and nicknames are found that look like no name.
    """
    if len(filled) < 2:
        return None
    marks = {index: mark_of(cell, lexicon) for index, cell in filled}
    over_work = {i for i, mark in marks.items() if _is_over_work(sheet, row, i, lexicon)}
    names = {i for i in over_work if _may_name_someone(marks[i], lexicon)}
    others = [mark for i, mark in marks.items() if i not in names]
    is_all = len(names) >= 2 and names == over_work and len({marks[i].text for i in names}) == len(names)
    corner = None if min(marks) in names else marks[min(marks)].heading
    if corner is not None and corner.roles[0] in _ABOUT_SETS:
        return None  # "Bar | SSB | straight": what the lifts below were done with
    if not is_all or any(mark.kind in {"work", "number", "text"} for mark in others if mark is not marks[min(marks)]):
        return None
    return {i: replace(mark, kind="person", heading=None) if i in names else mark for i, mark in marks.items()}


def _may_name_someone(mark: Mark, lexicon: Lexicon) -> bool:
    is_word = mark.kind in {"text", "person"} or (
        mark.heading is not None and mark.text.isupper() and len(mark.text) <= 3
    )
    return is_word and len(mark.text.split()) <= 3 and not any(map(str.isdigit, mark.text))


def _is_over_work(sheet: Sheet, row: int, index: int, lexicon: Lexicon) -> bool:
    cells = [cell_at(sheet, below, index) for below in range(row + 1, min(row + 1 + _ROWS_TO_LOOK_AT, len(sheet.rows)))]
    return sum(isinstance(cell, str) and _is_work(cell, lexicon) for cell in cells) >= _LEAST_WORK


def mark_of(cell: Cell, lexicon: Lexicon) -> Mark:
    """What a cell says of who, when or what."""
    text = as_text(cell)
    if isinstance(cell, date):
        return Mark("day", text, cell)
    if not isinstance(cell, str):
        return Mark("number", text)
    if names_total(cell):
        return Mark("total", text)
    plain = without_frame(cell)
    if weekday := lexicon.weekday.exact(plain.rstrip(" .")):
        return Mark("weekday", text, number=int(weekday))
    if len(cell.split()) <= _MOST_WORDS_OF_A_DAY and (of_week := dated_weekday(plain, lexicon)) is not None:
        return Mark("day", text, of_week)
    if (range_start := day_behind_week_word(plain, lexicon)) is not None:
        return Mark("week", text, range_start)
    if read_date(plain, lexicon) is not None:
        return Mark("day", text, plain)
    if _is_work(cell, lexicon):
        return Mark("work", text)
    heading = parse_heading(cell, lexicon) if len(plain) > 1 else None  # a letter may be anything
    if heading is not None and heading.roles[0] == "week_column":
        in_pieces = (first_of_range(piece, lexicon) for piece in _pieces(cell))
        behind = next((day for day in in_pieces if day is not None), None) or day_within(cell, lexicon)
        return Mark("week", text, behind, heading.number)
    if len(cell.split()) <= _MOST_WORDS_OF_A_DAY:
        found = (day_within(piece, lexicon) for piece in (*_pieces(cell), cell))
        if (day := next((one for one in found if one is not None), None)) is not None:
            return Mark("day", text, day)
    if heading is not None:
        return Mark("exercise" if lexicon.exercise.exact(cell) else "heading", text, heading=heading)
    if lexicon.exercise.exact(cell):
        return Mark("exercise", text)
    return Mark("person" if names_someone(cell, lexicon) else "text", text)


def _pieces(text: str) -> list[str]:
    """The parts of a heading: its lines, what stands in brackets, what a dash or colon sets off."""
    for sign in "()[]:|–—\n":
        text = text.replace(sign, "\n")
    return [piece.strip() for piece in text.replace(" - ", "\n").split("\n") if piece.strip()]


def _is_work(text: str, lexicon: Lexicon) -> bool:
    return bool(SHORTHAND.search(text)) and bool(parse_work(text, lexicon).sets)


def _heads_of(filled: Sequence[tuple[int, Cell]], lexicon: Lexicon) -> dict[int, Mark] | None:
    """Column -> what stands there, for a row of headings; None for any other row.

    A row of headings holds no work and no numbers: two days, weeks, weekdays or people, or nearly all headings.
    """
    if len(filled) < 2:
        return None
    marks = {index: mark_of(cell, lexicon) for index, cell in filled}
    if sum(mark.kind == "person" for mark in marks.values()) >= 2:
        marks = {index: _as_person(mark, lexicon) for index, mark in marks.items()}
    marks = _with_days_for_numbers(marks)
    kinds = [mark.kind for mark in marks.values()]
    if "work" in kinds or "number" in kinds:
        return None
    axes = {kind: sum(mark.kind == kind for index, mark in marks.items() if index > 0) for kind in _AXES}
    across = max(axes, key=lambda kind: axes[kind])
    first = min((index for index, mark in marks.items() if mark.kind == across and index > 0), default=0)
    left = [mark.heading for index, mark in marks.items() if index < first and mark.heading is not None]
    if any(heading.roles[0] in _ABOUT_SETS for heading in left):
        return None  # "reps | 6/6 | 5/4": no days
    n_axes = max(axes.values())
    n_headings = kinds.count("heading") + kinds.count("exercise")
    n_known = len(kinds) - kinds.count("text")
    if n_axes >= 2 and n_known >= 0.6 * len(kinds):
        return marks if max(axes, key=lambda kind: axes[kind]) != "person" or _are_people(marks) else None
    told = [mark.heading for mark in marks.values() if mark.heading and mark.heading.number is None]
    roles = {heading.roles[0] for heading in told if heading.is_exact}
    numbers = {mark.heading.number for mark in marks.values() if mark.heading and mark.heading.number is not None}
    if len(numbers) >= 2:
        roles.add("set_work")  # S1, S2, S3
    return (
        marks if len(roles - {"note", "ignored"}) >= 1 and len(roles) >= 2 and n_headings >= 0.7 * len(kinds) else None
    )


_DAY_AND_MONTH = re.compile(r"(\d{1,2})\.(\d{1,2})")


def _with_days_for_numbers(marks: dict[int, Mark]) -> dict[int, Mark]:
    """Among three days or more, 6.1 is the day of a number: 6.1., or 6.10. where the months beside it say so."""
    days = [i for i, mark in marks.items() if mark.kind == "day"]
    if len(days) < 3:
        return marks
    made = dict(marks)
    for i, mark in marks.items():
        if mark.kind in {"number", "day"} and (match := _DAY_AND_MONTH.fullmatch(mark.text)):
            months = [match[2], "10"] if match[2] == "1" else [match[2]]
            fitting = [month for month in months if int(month) in _months_beside(marks, i)]
            made[i] = Mark("day", mark.text, f"{match[1]}.{(fitting or months)[0]}.")
    return made


def _months_beside(marks: dict[int, Mark], index: int) -> set[int]:
    """The months of the nearest days at the left and right of a column."""
    found: set[int] = set()
    for side in (sorted((i for i in marks if i < index), reverse=True), sorted(i for i in marks if i > index)):
        for i in side:
            day = marks[i].day
            if isinstance(day, date):
                found.add(day.month)
            elif isinstance(day, str) and (match := _DAY_AND_MONTH.search(day)):
                found.add(int(match[2]))
            else:
                continue
            break
    return found


def _as_person(mark: Mark, lexicon: Lexicon) -> Mark:
    """Among names, words that nobody knows are names too ("Tobias R.")."""
    return replace(mark, kind="person") if mark.kind == "text" and may_be_a_name(mark.text, lexicon) else mark


def _are_people(marks: dict[int, Mark]) -> bool:
    """Whether the names of a row differ, or each comes as often as the others (a name over each of its columns)."""
    names = [mark.text for mark in marks.values() if mark.kind == "person"]
    counts = {names.count(name) for name in names}
    return len(set(names)) >= 2 and len(counts) == 1


def _line(cell: Cell, lexicon: Lexicon) -> Mark | None:
    """A row of one text: what it says, or None when it holds work."""
    mark = mark_of(cell, lexicon)
    return None if mark.kind in {"work", "number"} else mark


def _block(sheet: Sheet, heads: list[tuple[int, dict[int, Mark]]]) -> Block:
    """The columns under lines of headings, those under the same day and person together."""
    width = max(len(cells) for cells in sheet.rows)
    by_above: dict[Above, list[Column]] = {}
    for index in range(width):
        marks = [mark for row, _ in heads if (mark := _over(sheet, heads, row, index)) is not None]
        if any(mark.kind == "total" for mark in marks):
            continue
        heading = next((mark.heading for mark in reversed(marks) if mark.heading is not None), None)
        is_for_all = heading is not None and not any(index in one for _, one in heads if _has_axis(one, index))
        above = Above() if is_for_all and _is_alone(heads, index) else _above(marks)
        written = next((mark.text for mark in reversed(marks)), "")
        role = heading.roles[0] if heading else "unknown"
        by_above.setdefault(above, []).append(Column(index, written, heading, role))
    common = by_above.pop(Above(), [])
    groups = [Group(above, columns) for above, columns in by_above.items()]
    return Block(groups, common, tuple(row for row, _ in heads))


def _has_axis(marks: dict[int, Mark], index: int) -> bool:
    return index in marks and marks[index].kind in _AXES


def _is_alone(heads: list[tuple[int, dict[int, Mark]]], index: int) -> bool:
    """Whether a column's own heading stands in a line of days or people itself ("Mon | Wed | Remarks")."""
    return any(index in marks and any(mark.kind in _AXES for mark in marks.values()) for _, marks in heads)


def _over(sheet: Sheet, heads: list[tuple[int, dict[int, Mark]]], row: int, index: int) -> Mark | None:
    """What a line of headings says over a column; a day or person holds for the blank cells at its right as well."""
    marks = next(one for at, one in heads if at == row)
    if index in marks:
        return marks[index]
    cells = sheet.rows[row]
    if index < len(cells) and (row, index) in sheet.merged:
        before = [at for at in marks if at < index and cells[at] == cells[index]]
        return marks[before[-1]] if before else None
    before = [at for at in marks if at < index]
    is_carried = bool(before) and marks[before[-1]].kind in (*_AXES, "total")
    has_own = any(index in one for at, one in heads if at > row) or len(heads) == 1
    return marks[before[-1]] if is_carried and has_own else None


def _above(marks: Iterable[Mark]) -> Above:
    by_kind = {mark.kind: mark for mark in marks}
    day, week, weekday, person = (by_kind.get(kind) for kind in _AXES)
    return Above(day.day if day else None, week, weekday.number if weekday else None, person.text if person else None)


def cell_at(sheet: Sheet, row: int, index: int) -> Cell:
    """The cell of a sheet, None beyond its end."""
    cells = sheet.rows[row]
    return cells[index] if index < len(cells) else None


def _settle_columns(blocks: list[Block], sheet: Sheet, lexicon: Lexicon) -> None:
    """Leave out columns that are empty; give those without a heading of their own the role of what they hold."""
    for block in blocks:
        kept = []
        for group in block.groups:
            group.columns = [
                column
                for column in group.columns
                if any(cell_at(sheet, row, column.index) is not None for row in block.body)
            ]
            if group.columns:
                kept.append(group)
        block.groups = kept
        block.common = [column for column in block.common if column.heading or _holds_something(sheet, block, column)]
        for group in block.groups:
            for column in group.columns:
                _settle(column, sheet, block.body, lexicon)


def _holds_something(sheet: Sheet, block: Block, column: Column) -> bool:
    return any(cell_at(sheet, row, column.index) is not None for row in block.body)


def _settle(column: Column, sheet: Sheet, body: Sequence[int], lexicon: Lexicon) -> None:
    """Work for a column under a day or person that says nothing else; labels where it holds names of exercises."""
    if column.heading is not None:
        if {"sets", "set_number", "session_number"} & set(column.heading.roles[:1]):
            texts = [cell for row in body if isinstance(cell := cell_at(sheet, row, column.index), str)]
            if texts and sum(_is_work(text, lexicon) for text in texts) >= 0.5 * len(texts):
                column.role = "work"
        return
    texts = [cell for row in body if isinstance(cell := cell_at(sheet, row, column.index), str)]
    n_lifts = sum(bool(lexicon.exercise.exact(text)) for text in texts)
    role = "exercise" if texts and n_lifts >= 0.5 * len(texts) else "work"
    column.heading, column.role = Heading(column.written, (role,), False), role


def is_label(column: Column) -> bool:
    """Whether a column says what its row is about, and holds no work itself."""
    return column.role in _ONE_FOR_ALL or column.heading is None


def is_number_of_a_set(text: str, lexicon: Lexicon) -> bool:
    """Whether a label counts sets ("Set 2", "2."), and names no exercise."""
    words = fold(text).split()
    numbers = [word for word in words if word.isdecimal()]
    named = [word for word in words if not word.isdecimal()]
    roles = {role for word in named for role in lexicon.headings_of.get(word, ["?"])}
    return len(numbers) <= 1 and (not named or bool(roles & {"set_number", "sets"})) and "?" not in roles
