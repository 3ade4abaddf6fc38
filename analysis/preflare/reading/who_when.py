"""Who and when: the person and the day of each row, with what a blank cell takes over from the row above."""

import re
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from preflare.reading.context import SheetContext
from preflare.reading.dates import monday_of, read_date, years_in
from preflare.reading.numbered_weeks import numbered_week
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text
from preflare.reading.words import Gear

_CLOCK = re.compile(
    r"(\d{1,2})(?:\s*[:.h]\s*(\d{2})(?:[:.]\d{2})?(?:\.\d+)?)?\s*(?:uhr|h)?\s*([ap]\.?\s?m\.?)?(?:\s*[-–].*)?", re.I
)


@dataclass(slots=True)
class Carried:
    """What a blank cell takes over from the row above."""

    person: str | None = None
    day: date | None = None
    stamp: datetime | None = None
    exercise: str | None = None
    gear: Gear = field(default_factory=Gear)
    ordinal: int = 1
    set_number: str | None = None  # that of the row above, as written
    week: int | None = None
    weekday: int | None = None
    year: int | None = None
    refused: str | None = None  # why the day of this and the following rows is not known


@dataclass(slots=True)
class RowsInOrder:
    """A table whose rows are gone through in order; knows who and when at every row."""

    context: SheetContext
    table: Table
    carried: Carried = field(default_factory=Carried)
    _by_role: dict[str, Column] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for column in self.table.columns:
            if column.group is None:  # those under a name hold for its columns alone
                self._by_role.setdefault(column.role, column)

    def _column(self, *roles: str) -> Column | None:
        return next((self._by_role[role] for role in roles if role in self._by_role), None)

    def _text(self, row: int, role: str) -> str | None:
        column = self._by_role.get(role)
        cell = self.context.cell(row, column.index) if column else None
        return as_text(cell) if cell is not None else None

    def _who_and_when(self, row: int) -> bool:
        """Settle person and day for a row; rejects the row and answers False when one of them stays open."""
        self._person(row)
        problem = self._day(row)
        if self.carried.person is None:
            self.context.reject_row(
                row,
                "it is not known whose log this is",
                'name the person in season.toml: [[source]] file = "...", person = "..."',
            )
            return False
        if problem is not None:
            self.context.reject_row(row, *problem)
            return False
        return True

    def _person(self, row: int) -> None:
        context = self.context
        if context.rules.person:
            self.carried.person = context.rules.person
            return
        names = [name for role in ("first_name", "person", "last_name") if (name := self._text(row, role))]
        column = self._column("person", "first_name", "last_name")
        if not names or context.lexicon.sheet_word(names[0], "same"):
            if column is None:
                whose = (context.person, self.carried.person)
                named, otherwise = reversed(whose) if context.is_unnamed else whose
                self.carried.person = self.table.person or named or otherwise
            return
        name = " ".join(names)
        name = context.letters.get(name.strip(" ."), name)
        if name != self.carried.person:
            self.carried = Carried(
                person=name,
                day=self.carried.day,
                stamp=self.carried.stamp,
                week=self.carried.week,
                weekday=self.carried.weekday,
                year=self.carried.year,
                refused=self.carried.refused,
            )

    def _day(self, row: int) -> tuple[str, str] | None:
        """Settle the day; answers (reason, remedy) when it cannot be told."""
        context, carried = self.context, self.carried
        if (doubt := context.doubted_days.get(row)) is not None:
            carried.day, carried.refused = None, doubt[0]
            return doubt
        stamp_column, day_column = self._column("timestamp"), self._column("date")
        stamp = self._moment_in(row, stamp_column)
        cell = context.cell(row, day_column.index) if day_column else None
        if stamp_column is not None and context.cell(row, stamp_column.index) is not None:
            carried.stamp = stamp
            if stamp is not None and cell is None:
                return self._settled(row, stamp.date())
            if stamp is None and cell is None:
                return self._unread_date(context.cell(row, stamp_column.index))
        if day_column is None and stamp_column is None and (by_week := self._by_week(row)) is not None:
            return self._settled(row, by_week)
        if cell is None or (isinstance(cell, str) and context.lexicon.sheet_word(cell, "same")):
            if carried.day is None:
                return (carried.refused or "it has no date, and no row above it has one", "write the date into the row")
            return None
        written = read_date(cell, context.lexicon)
        if written is None:
            return self._unread_date(cell)
        day = context.calendar.resolve(written)
        if day is None:
            carried.day = None
            return self._open_date(cell, written.year is None)
        if written.clock and stamp_column is None:
            carried.stamp = datetime.combine(day, written.clock)
        elif stamp_column is None:
            carried.stamp = None
        return self._settled(row, day)

    def _by_week(self, row: int) -> date | None:
        """The day that a column of weeks and one of weekdays name together; both are carried down."""
        week, weekday = self._text(row, "week"), self._text(row, "weekday")
        if not {"week", "weekday"} <= self._by_role.keys() or (week is None and weekday is None):
            return None
        if week is not None and (number := re.search(r"(?<!\d)\d{1,2}(?!\d)", week)):
            self.carried.week, self.carried.year = int(number[0]), next(iter(years_in(week)), self.carried.year)
        if weekday is not None and (known := self.context.lexicon.weekday.exact(weekday.strip(" .:"))):
            self.carried.weekday = int(known)
        if self.carried.week is None or self.carried.weekday is None:
            return None
        year = self.carried.year
        monday = monday_of(year, self.carried.week) if year else numbered_week(self.context, self.carried.week)
        return None if monday is None else monday + timedelta(days=self.carried.weekday - 1)

    def _settled(self, row: int, day: date) -> tuple[str, str] | None:
        carried = self.carried
        if day != carried.day:
            carried.exercise = None if self._column("exercise") else carried.exercise
            carried.gear, carried.ordinal = Gear(), 1
        carried.day = day
        if day > self.context.today:
            carried.day, carried.refused = None, f"the date {day} lies in the future"
            return carried.refused, "correct the date and import again"
        carried.refused = None
        return None

    def _unread_date(self, cell: Cell) -> tuple[str, str]:
        self.carried.day, self.carried.refused = None, f'the date "{as_text(cell)}" was not understood'
        return self.carried.refused, "write it like 2026-03-05 and import again"

    def _open_date(self, cell: Cell, has_no_year: bool) -> tuple[str, str]:
        text = as_text(cell)
        calendar = self.context.calendar
        if calendar.doubts_true_dates and isinstance(cell, date):
            self.carried.refused = (
                f"the spreadsheet holds {text}, but day and month may be swapped: "
                "other dates of this file stayed text, and their first number is above 12"
            )
            return (
                self.carried.refused,
                f'correct the column, or say it is right: [[source]] file = "{self.context.file}", day_first = true',
            )
        if calendar.order == "undecided" and (not has_no_year or calendar.years):
            self.carried.refused = (
                f'in "{text}" day and month could stand either way round, and no date in this file shows which'
            )
            return (
                self.carried.refused,
                f'say so in season.toml: [[source]] file = "{self.context.file}", day_first = true (or false)',
            )
        self.carried.refused = f'the date "{text}" has no year, and neither title, sheet nor file name gives one'
        return self.carried.refused, f'say so in season.toml: [[source]] file = "{self.context.file}", year = 2026'

    def _moment_in(self, row: int, column: Column | None) -> datetime | None:
        cell = self.context.cell(row, column.index) if column else None
        written = read_date(cell, self.context.lexicon) if cell is not None else None
        day = self.context.calendar.resolve(written) if written else None
        if written is None or day is None:
            return None
        return datetime.combine(day, written.clock or self._clock(row) or time(0))

    def _clock(self, row: int) -> time | None:
        column = self._column("time")
        return read_clock(self.context.cell(row, column.index)) if column else None


def read_clock(cell: Cell) -> time | None:
    """The time of day in a cell ("07:30", "7.30 pm", "19h30", a spreadsheet's part of a day), or None."""
    if isinstance(cell, datetime):
        return cell.time()
    if isinstance(cell, time):
        return cell
    if isinstance(cell, float) and 0 <= cell < 1:  # a spreadsheet counts time in days
        minutes = round(cell * 24 * 60) % (24 * 60)
        return time(minutes // 60, minutes % 60)
    match = _CLOCK.fullmatch(as_text(cell).strip()) if cell is not None else None
    if match is None or (match[2] is None and match[3] is None):
        return None
    hour, minute, half = int(match[1]), int(match[2] or 0), (match[3] or "").casefold()[:1]
    if half and not 1 <= hour <= 12:
        half = ""
    hour = hour % 12 + (12 if half == "p" else 0) if half else hour
    return time(hour, minute) if hour < 24 and minute < 60 else None
