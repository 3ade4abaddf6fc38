"""Dates that contradict the rows around them or the weekday beside them: settled where one reading fits, and said so.

A wrong year, day and month the other way round, a date whose order nothing else in the file shows. What fits in no one
way is left as it is written, or set aside where it lies far from the time at which it was written.
"""

import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby, pairwise
from operator import itemgetter

from preflare.reading.coded import CodedRows, cells_beside, distinct_in
from preflare.reading.context import SheetContext
from preflare.reading.dates import Calendar, Order, Written, read_date
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text, words_of

_DAY_ALONE = re.compile(r"(?:[^\W\d_]{2,10}\.?,?\s+)?(\d{1,2})(?:st|nd|rd|th|\.|er|º)?", re.I)
_MOSTLY = 0.9  # of the steps from date to date that go one way in a log kept in order
_FEWEST = 4  # dates that show an order
_AHEAD = timedelta(days=31)  # how far the first or last date may lie from the only one beside it
_LATE = timedelta(days=60)  # how long after a day a form about it may be filled in
_FAR = timedelta(days=180)
_SOON = timedelta(days=14)
_DAY = timedelta(days=1)
_ORDERS: tuple[Order, ...] = ("day first", "month first")


@dataclass(slots=True)
class Dated:
    """A date on end: its rows, what its cell says, the day that this is (None: open), the weekday told beside it."""

    rows: list[int]
    cell: Cell
    written: Written
    day: date | None
    weekday: int | None
    person: str = ""


def settle_days(context: SheetContext, table: Table) -> None:
    """Let date cells that contradict their neighbours or their time stamp stand for the day that fits, and say so."""
    _by_month(context, table)
    column = table.first("date")
    if column is None or column.group is not None:
        return
    stamp = table.first("timestamp")
    dated = _dated(context, table, column, stamp)
    if stamp is not None:
        _by_stamps(context, column, stamp, dated)
        return
    if len(dated) >= _FEWEST:
        _by_order(context, column, dated)


def _dated(context: SheetContext, table: Table, column: Column, stamp: Column | None) -> list[Dated]:
    """The dates of a table in their order; rows on end with the same date, weekday, name and time stamp are one."""
    beside = (column, table.first("weekday"), table.first("person"), stamp)
    cells = [_cells(context, table, one) for one in beside]
    calendar = replace(context.calendar)  # a copy: it may remember the date before
    said = {cell: read_date(cell, context.lexicon) for cell in dict.fromkeys(cells[0])}  # each written form once
    found, person = [], ""
    for (cell, day_cell, name, _), rows in groupby(zip(*cells, table.body, strict=True), itemgetter(0, 1, 2, 3)):
        person = as_text(name) or person
        written = said[cell]
        if written is None:
            continue
        told = context.lexicon.weekday.exact(day_cell.strip(" .:")) if isinstance(day_cell, str) else None
        weekday_told = int(told) if told else written.weekday
        at = [row[-1] for row in rows]
        found.append(Dated(at, cell, written, calendar.resolve(written), weekday_told, person))
    return found


def _cells(context: SheetContext, table: Table, column: Column | None) -> list[Cell]:
    """The cells of a column in the rows of its table; blanks for a column that there is not."""
    if column is None:
        return [None] * len(table.body)
    if isinstance(context.sheet.rows, CodedRows):
        return cells_beside(context.sheet.rows, column.index, table.body)
    return [context.cell(row, column.index) for row in table.body]


def _readings(written: Written, years: Sequence[int]) -> set[date]:
    """Every day that a date may be, with day and month either way round and in any of the years."""
    first, second = written.first or written.day, written.second or written.month
    found = set()
    for year in {*years, *([written.year] if written.year else [])}:
        for day, month in ((first, second), (second, first)):
            try:
                found.add(date(year, int(month or 0), int(day or 0)))
            except ValueError:
                continue
    return found


def _only(one: Dated, low: date, high: date) -> date | None:
    """The only reading of a date from low to high that has the weekday told beside it, if there is just one.

    Without a slip nearer to hand: what keeps the year, or keeps day and month, goes before what changes both.
    """
    fits = [day for day in _readings(one.written, (low.year, high.year)) if low <= day <= high]
    fits = [day for day in fits if one.weekday is None or day.isoweekday() == one.weekday]
    as_written = (one.written.day or one.written.first, one.written.month or one.written.second)
    near = [day for day in fits if day.year == one.written.year or (day.day, day.month) == as_written]
    chosen = near if len(near) == 1 else fits
    return chosen[0] if len(chosen) == 1 else None


# By the rows around it ------------------------------------------------------------------------------------------------


def _by_order(context: SheetContext, column: Column, dated: list[Dated]) -> None:
    known = [i for i, one in enumerate(dated) if one.day is not None and not _is_far(dated, i)]
    days = [day for i in known if (day := dated[i].day) is not None]
    is_open = [one for one in dated if one.day is None and one.written.first is not None]
    if is_open and not context.calendar.doubts_true_dates:
        _by_weekdays(context, column, dated)
    turned = _direction(days)
    if turned is None:
        return
    kept = {known[i] for i in _in_order(days, turned)}
    first, last = min(dated[k].day or date.max for k in kept), max(dated[k].day or date.min for k in kept)
    for i, one in enumerate(dated):
        is_told = one.day is None and (one.written.first is None or context.calendar.doubts_true_dates)
        if i in kept or is_told or not _stands_alone(dated, kept, i) or _has_stand_in(context, column, one):
            continue
        before = next((dated[k] for k in range(i - 1, -1, -1) if k in kept), None)
        behind = next((dated[k] for k in range(i + 1, len(dated)) if k in kept), None)
        is_of_another = all(other is None or other.person != one.person for other in (before, behind))
        if is_of_another and one.day is not None and first <= one.day <= last:
            continue  # the log may go on person by person
        ends = (before.day if before else None, behind.day if behind else None)
        low, high = _window(*(ends if turned == 1 else ends[::-1]))
        day = None if low is None or high is None else _only(one, low, high)
        if low is not None and high is not None and day is not None and day != one.day and day <= context.today:
            _settle(context, column, one, day, low, high)


def _is_far(dated: Sequence[Dated], i: int) -> bool:
    """Whether a date lies half a year and more from the two nearest other dates, which lie close together."""
    own = dated[i].day
    others = [one.day for one in dated[max(0, i - 3) : i] if one.day not in (None, own)][-2:]
    behind = [one.day for one in dated[i + 1 : i + 4] if one.day not in (None, own)][:2]
    pair = (others[-1:] + behind[:1]) if others and behind else (others or behind)
    if own is None or len(pair) < 2 or pair[0] is None or pair[1] is None:
        return False
    return all(day is not None and abs(own - day) > _FAR for day in pair) and abs(pair[0] - pair[1]) <= _LATE


def _stands_alone(dated: Sequence[Dated], kept: set[int], i: int) -> bool:
    """Whether the dates on both sides of one that is out of order are in order, save its own copies."""
    for step in (-1, 1):
        k = i + step
        while 0 <= k < len(dated) and k not in kept and (dated[k].cell == dated[i].cell or dated[k].day is None):
            k += step
        if 0 <= k < len(dated) and k not in kept:
            return False
    return True


def _direction(days: Sequence[date]) -> int | None:
    """1 where dates rise from row to row, -1 where they fall, None where they do neither."""
    steps = [(b - a).days for a, b in pairwise(days) if a != b]
    if len(set(days)) < _FEWEST:
        return None
    rises = sum(step > 0 for step in steps)
    # one date out of order makes one step of the other way, at times two
    if rises >= _MOSTLY * len(steps) or len(steps) - rises <= 1:
        return 1
    return -1 if len(steps) - rises >= _MOSTLY * len(steps) or rises <= 1 else None


def _in_order(days: Sequence[date], turned: int) -> list[int]:
    """The places of a longest run of days that never go back (Schensted 1961: patience sorting)."""
    values = [day.toordinal() * turned for day in days]
    tails: list[int] = []
    last: list[int] = []
    before: list[int] = []
    for i, value in enumerate(values):
        place = bisect_right(tails, value)
        before.append(last[place - 1] if place else -1)
        tails[place : place + 1] = [value]
        last[place : place + 1] = [i]
    found, at = [], last[-1]
    while at >= 0:
        found.append(at)
        at = before[at]
    return found[::-1]


def _window(low: date | None, high: date | None) -> tuple[date | None, date | None]:
    if low is None:
        return (None if high is None else high - _AHEAD), high
    return low, (low + _AHEAD if high is None else high)


def _has_stand_in(context: SheetContext, column: Column, one: Dated) -> bool:
    return any((row, column.index) in context.stand_ins for row in one.rows)


def _settle(context: SheetContext, column: Column, one: Dated, day: date, low: date, high: date) -> None:
    context.stand_ins |= {(row, column.index): day for row in one.rows}
    if one.day is None:
        context.assume(
            f'"{as_text(one.cell)}" (row {context.sheet.line_numbers[one.rows[0]]}) was read as {day}, because '
            f"it stands between {low} and {high}."
        )
        return
    reason = f"the date contradicts the rows around it, which go from {low} to {high}; it was read as {day}"
    for row in one.rows:
        context.reject_cell(row, column.index, one.cell, reason, "correct the cell, if another day is meant")


def _by_weekdays(context: SheetContext, column: Column, dated: list[Dated]) -> None:
    """Settle dates of open order by the weekdays told beside them, when all of them agree on one order."""
    told = [one for one in dated if one.day is None and one.written.first is not None and one.weekday is not None]
    fits = {
        order: [(one, day) for one in told if (day := replace(context.calendar, order=order).resolve(one.written))]
        for order in _ORDERS
    }
    right = {order: sum(day.isoweekday() == one.weekday for one, day in found) for order, found in fits.items()}
    orders = [order for order, n in right.items() if told and n == len(told)]
    if len(orders) != 1:
        return
    context.assume(f"Dates are {orders[0]}: the weekdays beside them show it.")
    calendar = Calendar(orders[0], context.calendar.years, context.calendar.season)
    for one in dated:
        if one.day is None and (day := calendar.resolve(one.written)) is not None:
            context.stand_ins |= {(row, column.index): day for row in one.rows}
            one.day = day


# By the time stamp ----------------------------------------------------------------------------------------------------


def _by_stamps(context: SheetContext, column: Column, stamp: Column, dated: list[Dated]) -> None:
    """A form's day lies before its time stamp, and not long before: else it is another day, or set aside."""
    for one in dated:
        written = read_date(context.cell(one.rows[0], stamp.index), context.lexicon)
        filled = context.calendar.resolve(written) if written else None
        if filled is None or (one.day is not None and filled - _LATE <= one.day <= filled + _DAY):
            continue
        day = _only(one, filled - _SOON, filled)
        if day is not None:
            _settle(context, column, one, day, filled - _SOON, filled)
        elif one.day is not None:
            reason = f"the day {one.day} does not go with the time stamp of {filled}"
            remedy = "correct the day, or leave it blank: then the stamp's date counts"
            context.doubted_days |= dict.fromkeys(one.rows, (reason, remedy))


# By the month of the sheet --------------------------------------------------------------------------------------------


def _by_month(context: SheetContext, table: Table) -> None:
    """Days of the month alone ("2", "3rd", "Mon 5") take the month that the sheet's name or a title gives, and say so.

    Under "Day", low numbers may count the days of a block; they are taken for those of a month where they pass a week.
    """
    column = table.first("date") or table.first("weekday")
    if column is None or table.first("timestamp") is not None:
        return
    if not any(_day_of_month(cell) for cell in distinct_in(context.sheet.rows, column.index, table.body)):
        return  # as in most logs: no need to go through all rows
    cells = {row: cell for row in table.body if (cell := context.cell(row, column.index)) is not None}
    days = {row: day for row, cell in cells.items() if (day := _day_of_month(cell)) is not None}
    if not days or len(days) < _MOSTLY * len(cells):
        return
    in_order = list(days.values())
    if column.role == "weekday" and (max(in_order) <= 7 or in_order != sorted(in_order)):
        return
    for text in (context.sheet.name, *table.titles):
        months = {int(hit) for _, _, hit in context.lexicon.month.find(words_of(text))}
        if len(months) != 1:
            continue
        month = months.pop()
        calendar = replace(context.calendar)
        resolved = {row: calendar.resolve(Written(None, month, day)) for row, day in days.items()}
        if any(day is None for day in resolved.values()):
            return
        column.role = "date"
        context.stand_ins |= {(row, column.index): day for row, day in resolved.items()}
        context.assume(f'The days under "{column.written}" were taken to be of the month that "{text}" names.')
        return


def _day_of_month(cell: Cell) -> int | None:
    """The day of the month that a cell holds and nothing else but a weekday: "2", "3rd", "Mon 5", "7."."""
    match = _DAY_ALONE.fullmatch(as_text(cell).strip()) if isinstance(cell, str | float) else None
    return int(match[1]) if match and 1 <= int(match[1]) <= 31 else None
