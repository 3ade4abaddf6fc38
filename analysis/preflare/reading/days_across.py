"""Days that stand across in one row: whether they are days without a doubt, and their month where a title gives it."""

import re
from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from preflare.reading.dates import Calendar, Order, Written, read_date
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import Cell, words_of
from preflare.reading.workbook import Sheet

_ORDERS: tuple[Order, ...] = ("day first", "month first")
_FEWEST = 3  # days that show an order
_MOST_BETWEEN = 35  # days from one column to the next
_DAYS_OF_A_YEAR = 366
_ANY_YEAR = 2024  # a leap year, for days without one
_MONTHS = 12
_DAY_ALONE = re.compile(
    r"(?P<weekday>[^\W\d_]{1,10}(?:-feira)?)?\.?,?\s*(?P<day>\d{1,2})(?P<end>st|nd|rd|th|\.|er|º)?", re.I
)
_LAST_DAY = 31
_MOST_WORDS_OF_A_TITLE = 12


def are_days_in_order(cells: Sequence[Cell], lexicon: Lexicon) -> bool:
    """Whether three cells or more follow one another by days, and one at least can be nothing but a day.

    "6/6 | 5/6 | 4/6" may be repetitions done of those planned; "07/09 | 14/09 | 21/09" may not.
    """
    written = [one for cell in cells if (one := read_date(cell, lexicon)) is not None]
    if len(written) < _FEWEST or not any(_is_sure(one) for one in written):
        return False
    return any(_follow(written, order) for order in _ORDERS)


def _is_sure(written: Written) -> bool:
    """Whether a cell can only be a day: a true date, a weekday, a year, a word for the month, a number above 12."""
    numbers = (written.first, written.second)
    is_open = written.first is not None and all(number is not None and number <= _MONTHS for number in numbers)
    return written.is_true_date or written.weekday is not None or written.year is not None or not is_open


def _follow(written: Sequence[Written], order: Order) -> bool:
    """Whether each day lies a few weeks at most behind the one before, New Year between them or not."""
    calendar = Calendar(order, (_ANY_YEAR,))
    days = [calendar.resolve(one) for one in written]
    if any(day is None for day in days):
        return False
    steps = [_step(before, behind) for before, behind in pairwise(days) if before is not None and behind is not None]
    return all(0 <= step <= _MOST_BETWEEN for step in steps) and sum(step > 0 for step in steps) >= _FEWEST - 1


def _step(before: date, behind: date) -> int:
    return (behind - before).days % _DAYS_OF_A_YEAR if before.year == behind.year else (behind - before).days


def with_months(
    sheet: Sheet, row: int, filled: Sequence[tuple[int, Cell]], lexicon: Lexicon
) -> Sequence[tuple[int, Cell]] | None:
    """The cells of a row with the month of the lines above at days of a month ("Mon 7 | Mon 14 | Mon 21" below
    "September"), each smaller day in the next month; None where no three days stand there, or no one month above."""
    found = {column: match for column, cell in filled if (match := _day_alone(cell, lexicon)) is not None}
    if len(found) < _FEWEST or (month := _month_above(sheet, row, lexicon)) is None:
        return None
    before, told = 0, {}
    for column, match in found.items():
        day = int(match["day"])
        month = month % _MONTHS + 1 if day < before else month
        told[column], before = f"{match['weekday'] or ''} {day}.{month}.".strip(), day
    return [(column, told.get(column, cell)) for column, cell in filled]


def _day_alone(cell: Cell, lexicon: Lexicon) -> re.Match[str] | None:
    """The day of a month in a cell, with its weekday or an ordinal sign: a bare number may be anything."""
    match = _DAY_ALONE.fullmatch(cell.strip()) if isinstance(cell, str) else None
    if match is None or not 1 <= int(match["day"]) <= _LAST_DAY:
        return None
    weekday = lexicon.weekday.exact(match["weekday"]) if match["weekday"] else None
    is_day = bool(weekday) if match["weekday"] else match["end"] is not None
    return match if is_day else None


def _month_above(sheet: Sheet, row: int, lexicon: Lexicon) -> int | None:
    """The first month that the nearest line above names, or else the sheet's name; None where none does."""
    lines = [[cell for cell in sheet.rows[above] if cell is not None] for above in range(row - 1, -1, -1)]
    texts = [str(cells[0]) for cells in lines if len(cells) == 1 and isinstance(cells[0], str)]
    for text in (*texts, sheet.name or ""):
        words = words_of(text.replace("_", " "))
        months = [hit for _, _, hit in lexicon.month.find(words)] if len(words) <= _MOST_WORDS_OF_A_TITLE else []
        if months:
            return int(months[0])
    return None
