"""The days and weeks of sheets with days, weeks or people across: of a cell, of a label, of the whole sheet."""

import re
from collections import Counter
from datetime import date, timedelta

from preflare.reading.coded import distinct_in
from preflare.reading.context import SheetContext
from preflare.reading.crosswise import Crosswise
from preflare.reading.crosswise_marks import Mark, mark_of
from preflare.reading.dates import read_date
from preflare.reading.diary import is_of_lines
from preflare.reading.lexicon import Lexicon
from preflare.reading.numbered_weeks import numbered_week
from preflare.reading.text import Cell
from preflare.reading.weeks import first_of_range
from preflare.reading.workbook import Sheet


def has_days_side_by_side(found: Crosswise, sheet: Sheet) -> bool:
    """Whether two days or more stand across in cells of their own, over each of most blocks."""
    many = [len({group.above.day for group in block.groups} - {None}) > 1 for block in found.blocks]
    return sum(many) > len(many) / 2 and not is_of_lines(sheet)


def names_lifts_at_left(found: Crosswise, sheet: Sheet, lexicon: Lexicon) -> bool:
    """Whether a column names two lifts or more: then no title or sheet's name stands for the lift of the rows."""
    rows = [row for block in found.blocks for row in (*block.body, *block.lines)]
    columns = {column.index for block in found.blocks for column in block.common}
    columns |= {column.index for block in found.blocks for group in block.groups for column in group.columns}
    return any(len(lexicon.lifts_named(distinct_in(sheet.rows, column, rows))) >= 2 for column in columns)


def day_of(context: SheetContext, cell: Cell) -> date | None:
    """The day that a cell names, or None when it stays open."""
    written = read_date(cell, context.lexicon) if cell is not None else None
    return context.calendar.resolve(written) if written is not None else None


def day_of_sheet(context: SheetContext, titles: list[str]) -> date | None:
    """The one day that the sheet's name and titles give for all of it; where they differ, that named most often."""
    marks = [mark_of(text, context.lexicon) for text in (context.sheet.name, *titles) if text]
    days = [day for mark in marks if mark.kind == "day" and (day := day_of(context, mark.day)) is not None]
    if not days:
        return None
    named = day_of(context, mark_of(context.sheet.name, context.lexicon).day) if context.sheet.name else None
    day = named or Counter(days).most_common(1)[0][0]  # titles are copied from the sheet before, names must differ
    if others := sorted({str(other) for other in days if other != day}):
        context.assume(f"The day of this sheet was taken to be {day}, not {', '.join(others)}: check it.")
    return day


def monday_of_titles(context: SheetContext, titles: list[str]) -> date | None:
    """The Monday of the week that a title or the sheet's name gives for all of it."""
    for text in (*titles, context.sheet.name):
        if not text:
            continue
        if (mark := mark_of(text, context.lexicon)).kind == "week":
            return monday_of_mark(context, mark)
        for piece in re.split(r"\s[-–—]\s|[|:()]", text):
            if (start := first_of_range(piece.strip(), context.lexicon)) is not None:
                return _monday(day_of(context, start))
    return None


def monday_of_mark(context: SheetContext, week: Mark, text: str = "") -> date | None:
    """The Monday of a week named by a day in it or by its number; text: a label that may hold the number alone."""
    if week.day is not None:
        return _monday(day_of(context, week.day))
    number = week.number
    if number is None and (digits := re.search(r"(?<!\d)\d{1,2}(?!\d)", text)):
        number = int(digits[0])
    return numbered_week(context, number) if number is not None else None


def _monday(day: date | None) -> date | None:
    return None if day is None else day - timedelta(days=day.weekday())
