"""The days of numbered weeks: those of a block, counted from a first day that is known, or those of the calendar."""

import re
from collections.abc import Iterable
from datetime import date, timedelta

from preflare.reading.context import SheetContext, cells_text
from preflare.reading.dates import is_week_word, monday_of, read_date
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import fold

# Words that only a week of the calendar has ("KW 12"); "Week 1" may be the first of a block.
_OF_CALENDAR = ("kw", "kalenderwoche", "cw", "calendar week", "iso week", "iso", "kalenderuge", "kalenderuke")
_HEAD = 60  # rows in which such a word or the first day may stand


def numbered_week(context: SheetContext, number: int) -> date | None:
    """The Monday of week `number`, or None when it cannot be told.

    Counted from the season's first day, else from a date in a line above the log. A week of the calendar where the word
    says so, or where the weeks begin with no first one; weeks that begin with 1 may be those of a block, so none is
    guessed. Weeks of the calendar: ISO 8601.
    """
    context.first_week = number if context.first_week is None else context.first_week
    first = context.settings.season.from_
    if first is not None:
        context.assume(f"Week 1 was taken to be the week of {first}, the first day of the season in season.toml.")
        return first - timedelta(days=first.weekday()) + timedelta(days=7 * (number - 1))
    is_of_calendar = context.first_week > 1 or _names_calendar(context)
    if not is_of_calendar and (start := _first_day(context)) is not None:
        context.assume(f"Week 1 was taken to be the week of {start}, which a line above the log names.")
        return start - timedelta(days=start.weekday()) + timedelta(days=7 * (number - 1))
    if is_of_calendar and len(context.calendar.years) == 1:
        context.assume(f"Week numbers were read as ISO 8601 weeks of {context.calendar.years[0]}.")
        return monday_of(context.calendar.years[0], number)
    if not is_of_calendar:
        context.assume(
            "The weeks are numbered from 1, and no date says when the first of them was, so nothing was dated by them: "
            "give the first day in season.toml, [season] from = 2026-01-05."
        )
    return None


_NAMED_WEEK = re.compile(r"(?P<word>[^\W\d_]+)[ ._-]*(?P<number>\d{1,2})\b")


def first_week_in(names: Iterable[str], lexicon: Lexicon) -> int | None:
    """The lowest week that the names of a file's sheets count ("Wk 1", "Wk 2 plan"); None where fewer than two do."""
    matches = (_NAMED_WEEK.match(name.strip()) for name in names)
    numbers = [int(match["number"]) for match in matches if match and is_week_word(match["word"], lexicon)]
    return min(numbers) if len(numbers) >= 2 else None


def _head(context: SheetContext) -> list[str]:
    rows = (context.sheet.rows[row] for row in range(min(_HEAD, len(context.sheet.rows))))
    return [context.sheet.name, *(cells_text(cells) for cells in rows)]


def _names_calendar(context: SheetContext) -> bool:
    words = [f" {fold(line)} " for line in _head(context)]
    return any(f" {name} " in line for line in words for name in _OF_CALENDAR)


def _pieces(text: str) -> list[str]:
    """Every run of two to five words, and every word with a digit, that may be a date."""
    words = text.replace("(", " ").replace(")", " ").split()
    runs = (" ".join(words[i : i + n]) for n in range(1, 6) for i in range(len(words) - n + 1))
    return [run.strip(" ,;:–—-") for run in runs if any(map(str.isdigit, run))]


def _first_day(context: SheetContext) -> date | None:
    """The only full date that a line above the first table or the names of sheet and file give."""
    found = set()
    for row in range(min(10, len(context.sheet.rows))):
        filled = [cell for cell in context.sheet.rows[row] if cell is not None]
        if len(filled) > 2:
            break
        texts = [piece for cell in filled if isinstance(cell, str) for piece in _pieces(cell)]
        written = [read_date(cell, context.lexicon) for cell in (*texts, *filled) if not isinstance(cell, float)]
        found |= {context.calendar.resolve(one) for one in written if one is not None and one.year is not None}
    return found.pop() if len(found) == 1 else None
