"""What the dates of a sheet say, in the order of its rows, and what its names and titles say of their year."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import PurePosixPath

from preflare.reading.coded import distinct_in_order
from preflare.reading.context import SheetContext, Yield
from preflare.reading.dates import Order, Written, read_date
from preflare.reading.diary import diary_dates, title_lines
from preflare.reading.grid import dates_in_grid
from preflare.reading.lexicon import Lexicon
from preflare.reading.lines import dates_in_lines, dates_in_titles
from preflare.reading.plain_rules import dates_seen
from preflare.reading.rows import PainRow, RejectedRow, SetRow
from preflare.reading.survey import all_titles
from preflare.reading.tables import SheetTables
from preflare.reading.workbook import Sheet, cell_at
from preflare.reading.years import DatedSheet, Hint, Told, hints_in, lacks_years, settle_years
from preflare.settings import Settings, Source

_SAMPLE = 400  # rows looked at


class YearsOpenError(Exception):
    """Dates lack their year, and nothing in their own file tells it."""


@dataclass(frozen=True, slots=True)
class OtherDates:
    """The dates of the other files of the import. are_unread: some of those are still to be read."""

    days: Sequence[date]
    are_unread: bool
    today: date


def dates_of(sheet: Sheet, tables: SheetTables, lexicon: Lexicon) -> list[Written]:
    """What the dates of a sheet say, table by table in the order of their rows."""
    found = [] if tables.tables else diary_dates(sheet, lexicon)
    for table in tables.tables:
        in_columns: list[Written] = []
        for column in table.having("date", "timestamp"):
            cells = distinct_in_order(sheet.rows, column.index, table.body)
            in_columns += [written for cell in cells if cell is not None and (written := read_date(cell, lexicon))]
        if not in_columns:  # none, or a column that stands blank
            found += dates_in_lines(sheet, table.body, lexicon)
        if not table.having("date", "timestamp"):
            found += dates_in_titles(table.titles, lexicon)
        found += dates_in_grid(sheet, table, lexicon)
        found += in_columns
        found += [
            written
            for column in table.columns
            if column.day is not None and (written := read_date(column.day, lexicon))
        ]
    return found


def has_days_in_rows(sheet: Sheet, tables: SheetTables, lexicon: Lexicon) -> bool:
    """Whether nearly every row of every table gives its day in a column of its own, so that none stands across."""
    shares = []
    for table in tables.tables:
        columns = [column.index for column in table.having("date", "timestamp")]
        dated = sum(
            any(cell is not None and read_date(cell, lexicon) for cell in (cell_at(sheet, row, at) for at in columns))
            for row in table.body[:_SAMPLE]
        )
        shares.append(dated >= 0.9 * len(table.body[:_SAMPLE]) > 0)
    return bool(shares) and all(shares)


def lines_above(sheet: Sheet, lexicon: Lexicon) -> list[str]:
    """The lines of a diary before its first day."""
    return [line for line in title_lines(sheet, lexicon) if line]


def hints_of_sheet(sheet: Sheet, tables: SheetTables, lexicon: Lexicon, today: date) -> list[Hint]:
    """The years that a sheet's name and title lines hold; of a diary only the lines before its first date."""
    titles = all_titles(tables)
    if not tables.tables:
        titles = lines_above(sheet, lexicon)
    told = hints_in(sheet.name, "the sheet's name", today)
    return told + [hint for title in titles for hint in hints_in(title, "the title", today)]


def hints_of_file(name: str, today: date) -> list[Hint]:
    """The years that the name of a file and of its folders hold, the nearest first."""
    path = PurePosixPath(name)
    told = hints_in(path.stem, "the file's name", today)
    return told + [hint for one in path.parents for hint in hints_in(one.name, "the folder's name", today)]


def dated_sheet(
    sheet: Sheet, rules: Source, tables: SheetTables, seen: list[Written], lexicon: Lexicon, today: date
) -> DatedSheet:
    """What the years of a sheet's dates are told by; season.toml's own word stands for all hints."""
    hints = hints_of_sheet(sheet, tables, lexicon, today)
    return DatedSheet(seen, [Hint((rules.year,), "season.toml")] if rules.year else hints)


def years_of_file(
    name: str, sheets: list[DatedSheet], told: list[int | None], order: Order, settings: Settings, others: OtherDates,
) -> list[Told]:  # fmt: skip
    """The years of every sheet of a file. told: what season.toml says of each.

    Raises YearsOpenError while nothing but the other files can tell, and they are not read yet.
    """
    season = (settings.season.from_, settings.season.to)
    hints = hints_of_file(name, others.today)
    alone = [at for at, year in enumerate(told) if year]
    together = [at for at in range(len(sheets)) if at not in alone]
    found = {at: _first_hint(sheets[at], hints) for at in range(len(sheets))}
    for group in (together, *([at] for at in alone)):
        some = [sheets[at] for at in group]
        if lacks_years(some) and (years := settle_years(some, order, hints, season, others.days, others.today)):
            found |= dict(zip(group, years, strict=True))
    if others.are_unread and any(one.is_assumed for one in found.values()):
        raise YearsOpenError
    return [found[at] for at in range(len(sheets))]


def _first_hint(sheet: DatedSheet, hints: Sequence[Hint]) -> Told:
    """The year of weeks with a number, and of dates that stand in headings: a hint's, or that of all dates."""
    dated = sorted({written.year for written in sheet.seen if written.year is not None})
    otherwise = tuple(dated) if len(dated) == 1 else ()
    return Told(next((hint.years for hint in (*sheet.hints, *hints)), otherwise))


def other_dates(out: Yield) -> list[date]:
    """The dates of everything read so far, without the few at either end."""
    seen = Counter(row.date for rows in (out.sets, out.sessions, out.pain, out.screens) for row in rows)
    for counted in dates_seen(out).values():
        seen.update(counted)
    days = sorted(seen.elements())
    few = len(days) // 50
    return days[few : len(days) - few]


def say_years(context: SheetContext, told: Told) -> None:
    """Say which year was taken for dates without one, and why."""
    if not told.how:
        return
    years = " and ".join(map(str, told.years))
    remedy = f" If that is wrong, say so in season.toml: {_entry(context, told)}" if told.is_assumed else ""
    context.assume(f"Dates without a year were taken to be of {years}: {told.how}.{remedy}")


def _entry(context: SheetContext, told: Told) -> str:
    return f'[[source]] file = "{context.file}", year = {told.years[0]}'


def doubt_years(context: SheetContext, told: Told, stored: Sequence[SetRow | PainRow]) -> None:
    """Say at the first row read that its year is assumed."""
    if not told.is_assumed or not stored:
        return
    first = stored[0]
    reason = f"the date has no year, and nothing tells it; {first.date.year} was taken for it and stored"
    remedy = f"check it, and say so in season.toml: {_entry(context, told)}"
    context.out.rejected.append(RejectedRow(first.place, first.date.isoformat(), reason, remedy, False))
