"""Weekly grids: weeks (or days) across, days and exercises down, the work in the cells."""

import re
from dataclasses import replace
from datetime import date, datetime, timedelta

from preflare.reading.cell_parts import with_own_gear
from preflare.reading.context import SheetContext
from preflare.reading.dates import Written, read_date
from preflare.reading.headings import Heading, parse_heading
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.lift_cells import Lift, SetColumns, is_missing, is_warm_up_tag
from preflare.reading.lifts import lifts_of_row
from preflare.reading.numbered_weeks import numbered_week
from preflare.reading.numbers import parse_effort
from preflare.reading.ratings import Answer, pain_in_notes, pain_of_row
from preflare.reading.rows import SessionRow, SetRow
from preflare.reading.shorthand import parse_work
from preflare.reading.stand_ins import is_ditto
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text
from preflare.reading.weeks import first_of_range
from preflare.reading.words import Gear
from preflare.reading.workbook import Sheet

ACROSS = ("week_column", "day_column", "weekday_column")


def is_grid(table: Table) -> bool:
    """Whether weeks or days run across the table."""
    is_across = len(table.having(*ACROSS)) >= (2 if table.person is None else 1)  # or one lifter's part of a whiteboard
    return is_across and not table.having("date", "load", "reps")


def read_grid(context: SheetContext, table: Table) -> None:
    """Read every cell of a grid. A row is stored when one of its cells is; other cells are rejected one by one."""
    context.person = table.person or context.person
    week = _week_in_titles(context, table)
    if table.having(
        "weekday_column"
    ):  # "Week 3 | Mon | Wed | Fri": the first column names the week, then the exercises
        for column in table.having("week_column"):
            column.role = "exercise"
            week = numbered_week(context, column.heading.number) if column.heading and column.heading.number else week
    starts = _starts(context, table)
    label_columns = _label_columns(table)
    person_column = table.first("person")
    weekday: int | None = None
    exercise: str | None = None
    own_label: dict[int, str | None] = {}  # column -> the exercise that its last cell of work named itself
    for row in table.body:
        if dates := _row_of_dates(context, table, row):
            starts |= dates
            context.not_data(row, "a line of dates")
            continue
        labels = [(column, cell) for column in label_columns if (cell := context.cell(row, column.index)) is not None]
        texts = [as_text(cell) for _, cell in labels]
        if any(names_total(text) for text in texts):
            context.not_data(row, "totals")
            continue
        if person_column is not None and (cell := context.cell(row, person_column.index)) is not None:
            context.person = as_text(cell)
        label = exercise if not texts else None
        is_warm_up = False
        for column, cell in labels:
            if column is person_column:
                continue
            if isinstance(cell, str) and (number := context.lexicon.weekday.exact(re.sub(r"[\s:.]+$", "", cell))):
                weekday = int(number)
            elif column.role in {"week", "date"} or not isinstance(cell, str):
                week = _week_of(context, cell) or week
            elif is_warm_up_tag(cell, context.lexicon):
                label, is_warm_up = exercise, True  # a row of warm-ups below its lift
            else:
                label = as_text(cell)
        if not is_other_row(context, label):
            exercise = label
        filled = [column for column in table.having(*ACROSS) if _is_filled(context, row, column)]
        if not filled:
            context.not_data(row, "a row with nothing filled in")
            continue
        if context.person is None:
            context.reject_row(
                row,
                "it is not known whose log this is",
                'name the person in season.toml: [[source]] file = "...", person = "..."',
            )
            continue
        for column in filled:
            stand_in_for_last_week(context, table, row, column)
            day = _day(column, starts, weekday, week)
            own = own_label.get(column.index) if is_warm_up else None
            n_before = len(context.out.sets)
            _read_cell(context, row, column, day, own or label, is_warm_up)
            if not is_warm_up and not is_other_row(context, label):
                own_label[column.index] = _named_itself(context.out.sets[n_before:], label)
        if context.key(row)[2] not in _touched(context):
            context.reject_row(row, "none of its cells could be read", 'write the work like "5x3 @140"')


def _is_filled(context: SheetContext, row: int, column: Column) -> bool:
    cell = context.cell(row, column.index)
    return cell is not None and (is_ditto(cell, context.lexicon) or not is_missing(context, cell))


def _label_columns(table: Table) -> list[Column]:
    """The columns that name days and exercises: those with such headings, and those left of the weeks without any."""
    headed = [column for column in table.columns if column.role not in (*ACROSS, "ignored")]
    first = min(column.index for column in table.having(*ACROSS))
    known = {column.index for column in table.columns}
    return [*(Column(index, "", None) for index in range(first) if index not in known), *headed]


def _named_itself(sets: list[SetRow], label: str | None) -> str | None:
    """The exercise that a cell of work names in place of its row's."""
    named = {one.exercise_written for one in sets}
    return named.pop() if len(named) == 1 and label not in named else None


def _row_of_dates(context: SheetContext, table: Table, row: int) -> dict[int, date]:
    """Column -> day, for a row that holds nothing but the dates, or ranges of dates, of its columns."""
    across = table.having(*ACROSS)
    written = _dates_of_row({one.index: context.cell(row, one.index) for one in across}, context.lexicon)
    days = {i: day for i, one in written.items() if (day := context.calendar.resolve(one)) is not None}
    return days if len(days) == len(written) else {}


def _dates_of_row(cells: dict[int, Cell], lexicon: Lexicon) -> dict[int, Written]:
    """What each cell that is filled says of a date; nothing when one of them is no date."""
    filled = {index: cell for index, cell in cells.items() if cell is not None}
    firsts = {i: first_of_range(cell, lexicon) if isinstance(cell, str) else cell for i, cell in filled.items()}
    found = {i: one for i, cell in firsts.items() if (one := read_date(cell, lexicon)) is not None}
    is_number = any(isinstance(cell, float | bool) for cell in filled.values())
    return found if len(found) == len(filled) and not is_number else {}


def dates_in_grid(sheet: Sheet, table: Table, lexicon: Lexicon) -> list[Written]:
    """What the rows of a grid that hold nothing but dates say."""
    if not is_grid(table):
        return []
    across = [column.index for column in table.having(*ACROSS)]
    rows = (sheet.rows[row] for row in table.body)
    found = (_dates_of_row({i: row[i] if i < len(row) else None for i in across}, lexicon) for row in rows)
    return [written for one in found for written in one.values()]


def stand_in_for_last_week(context: SheetContext, table: Table, row: int, column: Column) -> None:
    """Let a cell that says "same" in a grid stand for the week before, and say so."""
    cell = context.cell(row, column.index)
    before = [other for other in table.having(*ACROSS) if other.index < column.index]
    if not before or not is_ditto(cell, context.lexicon):
        return
    meant = context.cell(row, before[-1].index)
    if meant is None or is_missing(context, meant):
        return
    context.stand_ins[row, column.index] = meant
    reason = f'it was read as what stands before it in the row: "{as_text(meant)}"; it was stored'
    context.reject_cell(row, column.index, cell, reason, "write it out, if another cell is meant")


def _week_in_titles(context: SheetContext, table: Table) -> date | None:
    """The week that the line above a grid names ("Week 3", "Week of 5 January 2026")."""
    for title in reversed(table.titles):
        for piece in title.split(" | "):
            heading = parse_heading(piece, context.lexicon)
            if heading is not None and heading.roles[0] == "week_column" and heading.number is not None:
                return numbered_week(context, heading.number)
            words = piece.split()
            for start in range(min(4, len(words))):
                if (written := read_date(" ".join(words[start:]), context.lexicon)) is not None:
                    day = context.calendar.resolve(written)
                    return None if day is None else day - timedelta(days=day.weekday())
    return None


def _touched(context: SheetContext) -> set[int]:
    """Row numbers of this sheet for which something was stored or rejected; looked up once a row, so kept small."""
    where = (context.file, context.sheet.name)
    out = context.out
    last = [rows[-1].place for rows in (out.sets, out.sessions, out.pain, out.rejected) if rows]
    return {place.row for place in last if (place.file, place.sheet) == where}


def _week_of(context: SheetContext, cell: object) -> date | None:
    """The Monday of the week that a cell in the margin names."""
    if isinstance(cell, datetime | date | str) and (written := read_date(cell, context.lexicon)):
        day = context.calendar.resolve(written)
        return None if day is None else day - timedelta(days=day.weekday())
    number = re.search(r"\d{1,2}", as_text(cell)) if isinstance(cell, str | float) else None
    return numbered_week(context, int(number[0])) if number else None


def _starts(context: SheetContext, table: Table) -> dict[int, date]:
    """Column -> the date in its heading, or the Monday of its week."""
    starts = {}
    for column in table.having(*ACROSS):
        if column.role == "day_column" and column.day is not None:
            written = read_date(column.day, context.lexicon)
            day = context.calendar.resolve(written) if written else None
            if day is not None:
                starts[column.index] = day
        elif column.role == "week_column" and column.heading and column.heading.number is not None:
            monday = numbered_week(context, column.heading.number)
            if monday is not None:
                starts[column.index] = monday
    return starts


def _day(column: Column, starts: dict[int, date], weekday: int | None, week: date | None) -> date | None:
    """The day of a cell: its column's week and its row's weekday, or the column's own day."""
    if column.role == "weekday_column":
        return (
            None if week is None or column.heading is None else week + timedelta(days=(column.heading.number or 1) - 1)
        )
    start = starts.get(column.index)
    if start is None or weekday is None:
        return start
    return start - timedelta(days=start.weekday()) + timedelta(days=weekday - 1)


def is_other_row(context: SheetContext, label: str | None) -> bool:
    """Whether a row's label says that it holds ratings or remarks, no work."""
    heading = parse_heading(label, context.lexicon) if label else None
    is_told = heading is not None and heading.roles[0] in {"pain", "note", "session_rpe", "ignored"}
    return is_told and not context.lexicon.exercise.exact(label or "")


def _read_cell(
    context: SheetContext, row: int, column: Column, day: date | None, label: str | None, is_warm_up: bool = False
) -> None:
    cell = context.cell(row, column.index)
    if isinstance(cell, str) and (
        context.lexicon.sheet_word(cell, "missing") or context.lexicon.sheet_word(cell, "rest")
    ):
        if day is not None and context.lexicon.sheet_word(cell, "rest") and day <= context.today:
            context.out.sessions.append(
                SessionRow(context.person or "", day, 1, None, None, None, cell, context.place(row, column.index))
            )
        return
    if day is None or day > context.today:
        reason = "it is not known on which day this was" if day is None else f"the date {day} lies in the future"
        context.reject_cell(
            row,
            column.index,
            cell,
            reason,
            "give the year in season.toml: [[source]] year = 2026, or [season] from = 2026-01-05",
        )
        return
    answer = Answer(context.person or "", day, None, False)
    heading = parse_heading(label, context.lexicon) if label else None
    if heading is not None and is_other_row(context, label):
        _read_other(context, row, column, heading, answer)
        return
    _read_work(context, row, column, answer, label, is_warm_up)


def _read_other(context: SheetContext, row: int, column: Column, heading: Heading, answer: Answer) -> None:
    """A row of ratings, remarks or session efforts."""
    cell = context.cell(row, column.index)
    if heading.roles[0] == "pain":
        as_column = Column(column.index, heading.written, heading, "pain")
        context.out.pain += pain_of_row(context, Table([as_column], ()), row, answer)
    elif heading.roles[0] == "note":
        context.out.pain += pain_in_notes(context, row, column.index, as_text(cell), answer)
        context.out.sessions.append(
            SessionRow(answer.athlete, answer.day, 1, None, None, None, as_text(cell), context.place(row, column.index))
        )
    elif (
        heading.roles[0] == "session_rpe"
        and cell is not None
        and (effort := parse_effort(cell))
        and 0 <= effort[0] <= 10
    ):
        context.out.sessions.append(
            SessionRow(answer.athlete, answer.day, 1, effort[0], None, None, None, context.place(row, column.index))
        )
    else:
        context.reject_cell(
            row,
            column.index,
            cell,
            f'the row "{heading.written}" is not read in a grid',
            "nothing, unless it holds work",
        )


def _read_work(
    context: SheetContext, row: int, column: Column, answer: Answer, label: str | None, is_warm_up: bool
) -> None:
    as_work = Column(column.index, column.written, None, "work")
    lifts = lifts_of_row(context, row, [SetColumns(work=(as_work,))], label or context.exercise)
    text = as_text(context.cell(row, column.index))
    gear = gear_in_remarks(context, text)
    for lift in lifts:
        lift.is_warm_up = lift.is_warm_up or is_warm_up
        add_lift(context, row, column.index, answer, lift, label, gear)
    context.out.pain += [
        one for one in pain_in_notes(context, row, column.index, text, answer) if one.rating is not None
    ]
    if not lifts and not any(r.place == context.place(row, column.index) for r in context.out.rejected[-5:]):
        context.reject_cell(row, column.index, text, "there are no sets in it", 'write the work like "5x3 @140"')


def gear_in_remarks(context: SheetContext, text: str) -> Gear:
    """Grip and place of the bar that stand behind the work ("5x3 @140; narrow, low")."""
    gear = Gear()
    for remark in parse_work(text, context.lexicon).remarks:
        for piece in re.split(r"[,;]", remark):
            found, unknown = context.words.gear(piece.strip(), "grip")
            if not unknown and (found.bar or found.position or found.width or found.style):
                gear = gear.over(found)
    return gear


def _gear_of_set(named: Gear, told: Gear) -> Gear:
    """What rows or remarks tell of bar and grip, over what the lift's name says; a safety bar told so has no place."""
    if told.bar == "safety" and named.bar != "safety":
        named = replace(named, position=None)
    return told.over(named)


def add_lift(
    context: SheetContext, row: int, column: int, answer: Answer, lift: Lift, label: str | None, gear: Gear
) -> None:
    """Store one set. label: the exercise of the row, where the set itself names none."""
    written = lift.exercise or label or context.exercise or ""
    named = context.words.exercise(written) if written else None
    if named is not None:
        context.choose(
            "exercise", written, named.exercise if named.how != "not known" else None, named.how, named.nearest
        )
    full = with_own_gear(_gear_of_set(named.gear if named else Gear(), gear), lift.gear)
    is_warm_up = lift.is_warm_up or (named is not None and named.is_warm_up)
    context.out.sets.append(
        SetRow(
            answer.athlete,
            answer.day,
            1,
            0,
            named.exercise if named else "unknown",
            written,
            full.bar,
            full.bar_written,
            full.position,
            full.width,
            full.style,
            full.grip_written,
            lift.load_kg,
            lift.reps,
            lift.rpe,
            lift.rir,
            is_warm_up,
            lift.is_failed,
            lift.note,
            context.place(row, column),
        )
    )
