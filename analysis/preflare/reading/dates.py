"""Dates as people write them. The order of day and month is settled for a whole file; see date_order.py.

A date without a year takes it from what surrounds it; see years.py.
"""

import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Literal

from preflare.reading.lexicon import Lexicon
from preflare.reading.text import Cell, fold

Order = Literal["day first", "month first", "undecided"]

_CLOCK = re.compile(
    r"[T\s,]+(?:(?:um|at|kl\.?|à|a las|alle)\s*)?(\d{1,2})[:.h](\d{2})(?:[:.]\d{2}(?:\.\d+)?)?"
    r"\s*(am|pm|uhr)?\s*(?:Z|[+-]\d{2}:?\d{2})?$",
    re.I,
)
_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})")
_COMPACT = re.compile(r"(19|20)(\d{2})(\d{2})(\d{2})")
_THREE = re.compile(r"(\d{1,2})\s*([./-])\s*(\d{1,2})\s*\2\s*(\d{4}|\d{2})")
_TWO = re.compile(r"(\d{1,2})\s*([./-])\s*(\d{1,2})\s*\.?")
_YEAR = re.compile(r"(?<!\d)(?:19|20)\d{2}(?!\d)")
_SPAN = re.compile(r"(?<!\d)((?:19|20)\d{2})\s*[/–-]\s*(?:(?:19|20))?(\d{2})(?!\d)")
_EXCEL_EPOCH = date(1899, 12, 30)


@dataclass(frozen=True, slots=True)
class Written:
    """What a cell says of a date. first and second are numbers whose order is open; year None: not written."""

    year: int | None
    month: int | None = None
    day: int | None = None
    first: int | None = None
    second: int | None = None
    by_dots: bool = False
    weekday: int | None = None
    clock: time | None = None
    is_true_date: bool = False
    week: int | None = None  # an ISO 8601 week, with its weekday, in place of month and day


def read_date(cell: Cell, lexicon: Lexicon) -> Written | None:
    """What `cell` says of a date, or None when it holds none."""
    if isinstance(cell, datetime):
        clock = cell.time() if cell.time() != time(0) else None
        return Written(cell.year, cell.month, cell.day, clock=clock, is_true_date=True)
    if isinstance(cell, date):
        return Written(cell.year, cell.month, cell.day, is_true_date=True)
    if isinstance(cell, float):
        return _from_number(cell)
    return _from_text(cell, lexicon) if isinstance(cell, str) else None


def without_frame(text: str) -> str:
    """A line without the signs that set it off: "=== mar 13/01 ===", "-- 5 Jan --", "# Monday 5/1"."""
    return text.strip(" =-–—*#_~|:>")


def _from_number(number: float) -> Written | None:
    """A bare number as a date: a spreadsheet serial (1900 system, ECMA-376 part 1, 18.17.4.1) or YYYYMMDD."""
    if number == int(number) and (match := _COMPACT.fullmatch(str(int(number)))):
        return _checked(Written(int(match[1] + match[2]), int(match[3]), int(match[4])))
    if 32_000 <= number < 60_000:  # 1987 to 2064
        day = _EXCEL_EPOCH + timedelta(days=int(number))
        seconds = round((number % 1) * 86_400)
        clock = time(seconds // 3600 % 24, seconds // 60 % 60) if seconds else None
        return Written(day.year, day.month, day.day, clock=clock)
    return None


def _from_text(text: str, lexicon: Lexicon) -> Written | None:
    if (by_week := _week_and_day(text, lexicon)) is not None:
        return by_week
    text, clock = _split_clock(_plain_date(text))
    weekday, rest = _split_weekday(text, lexicon)
    rest = rest.strip(" ,.;:()")
    if match := _ISO.fullmatch(rest):
        return _checked(Written(int(match[1]), int(match[2]), int(match[3]), weekday=weekday, clock=clock))
    if match := _COMPACT.fullmatch(rest):
        return _checked(Written(int(match[1] + match[2]), int(match[3]), int(match[4]), clock=clock))
    if match := _THREE.fullmatch(rest):
        first, mark, second, year = match.groups()
        return _ordered(int(first), int(second), _full_year(int(year)), mark == ".", weekday, clock)
    if match := _TWO.fullmatch(rest):
        return _ordered(int(match[1]), int(match[3]), None, match[2] == ".", weekday, clock)
    return _with_month_word(rest, weekday, clock, lexicon)


_JOINING = re.compile(r"(?<=[^\W\d_])[.,]?\s+(?:d\.|den|der|le|el|il|o|dia|día|dnia|the|op|vom|am|on)\s+(?=\d)", re.I)
_ROMAN_MONTH = re.compile(r"(?<![\d.])(\d{1,2})[.\s]+(IX|IV|V?I{1,3}|V|XI{0,2})\b\.?(?=\s|$|\d|\.)")
_ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII")


def _plain_date(text: str) -> str:
    """The text without words that join weekday and day ("tirsdag d. 8/9"), a Roman month as its number ("8 IX")."""
    text = _JOINING.sub(" ", text)
    return _ROMAN_MONTH.sub(lambda match: f"{match[1]}.{_ROMAN.index(match[2]) + 1}.", text)


def _split_clock(text: str) -> tuple[str, time | None]:
    match = _CLOCK.search(text)
    if match is None or not any(letter.isdecimal() for letter in text[: match.start()]):
        return text, None  # without a day before it, "Thu 05.03.26" is a date and no clock
    hour, minute = int(match[1]), int(match[2])
    if match[3] and match[3].casefold() == "pm" and hour < 12:
        hour += 12
    if match[3] and match[3].casefold() == "am" and hour == 12:
        hour = 0
    if hour > 23 or minute > 59:
        return text, None
    return text[: match.start()], time(hour, minute)


def _split_weekday(text: str, lexicon: Lexicon) -> tuple[int | None, str]:
    """A leading or trailing weekday word, and the rest of the text."""
    text = re.sub(r"(?<=\d)\s*(?:r|roku|g)\.?$", "", text)  # Polish "14.4.2026 r."
    match = re.match(r"\s*([^\W\d_]+(?:-feira)?)\.?,?\s*(?=\d)", text)
    if match and _is_month_of(match[1], text[match.end() :], lexicon) and _YEAR.search(text):
        return None, text
    if match and (number := lexicon.weekday.exact(match[1])):
        return int(number) or None, text[match.end() :]  # 0: a letter for some weekday
    match = re.search(r"(?<=[\d.])\s*\(?([^\W\d_]+)\.?\)?\s*$", text)
    if match and _is_month_of(match[1], text[: match.start()], lexicon):
        return None, text
    if match and (number := lexicon.weekday.exact(match[1])):
        return int(number) or None, text[: match.start()]
    return None, text


def _is_month_of(word: str, rest: str, lexicon: Lexicon) -> bool:
    """Whether a word that may be a weekday too ("mar": March, or mardi) is the month of the bare day beside it."""
    return lexicon.month.exact(word) is not None and re.fullmatch(r"[\s.,]*\d{1,2}[\s.,]*(?:\d{4})?", rest) is not None


def _ordered(
    first: int, second: int, year: int | None, by_dots: bool, weekday: int | None, clock: time | None
) -> Written | None:
    """Two numbers whose order may be open; a number above 12 or dots between settle it."""
    if first > 12 >= second >= 1 or by_dots:
        return _checked(
            Written(year, second, first, by_dots=by_dots, weekday=weekday, clock=clock, first=first, second=second)
        )
    if second > 12 >= first >= 1:
        return _checked(Written(year, first, second, weekday=weekday, clock=clock, first=first, second=second))
    if not (1 <= first <= 12 and 1 <= second <= 12):
        return None
    return Written(year, first=first, second=second, weekday=weekday, clock=clock)


def _with_month_word(text: str, weekday: int | None, clock: time | None, lexicon: Lexicon) -> Written | None:
    words = [word for word in fold(text).split() if word not in {"de", "of", "the", "den", "del", "di"}]
    if words[:1] == ["set"] and len(words) == 2:
        return None  # "Set 1" is a set; in Italian and Portuguese, whose September this is, the day comes first
    numbers, month, first = [], None, ""
    for word in words:
        digits = re.sub(r"(?<=\d)(?:st|nd|rd|th|er|e|a|o)$", "", word)
        if digits.isdecimal():
            numbers.append(int(digits))
        elif word in lexicon.month.known and (month is None or first in lexicon.weekday.known):
            month, first = int(lexicon.month.known[word]), word  # "mar. 8 oct.": the first was Tuesday
        elif weekday is None and word in lexicon.weekday.known:
            weekday = int(lexicon.weekday.known[word])
        else:
            return None
    days = [number for number in numbers if 1 <= number <= 31]
    years = [number for number in numbers if number > 31]
    if month is None or not days or len(numbers) > 2 or len(years) > 1:
        return None
    if len(days) == 2 and not words[-1].isdecimal():
        return None  # "1 - 2 March": a year of two digits stands last
    year = years[0] if years else _full_year(days[1]) if len(days) == 2 else None
    return _checked(Written(year, month, days[0], weekday=weekday, clock=clock))


def _full_year(year: int) -> int:
    return year if year > 99 else 2000 + year if year < 70 else 1900 + year


def _checked(written: Written) -> Written | None:
    """`written` if such a day exists (a leap year where none is given). There is no month, day or year 0."""
    parts = ((written.year, 2024), (written.month, 1), (written.day, 1))
    try:
        date(*(default if part is None else part for part, default in parts))
    except ValueError:
        return None
    return written


@dataclass(slots=True)
class Calendar:
    """Turns what cells say into dates: one file's order, and the year for dates that lack it."""

    order: Order
    years: tuple[int, ...] = ()  # from title, sheet or file name, or season.toml; two for a season over New Year
    season: tuple[date | None, date | None] = (None, None)
    doubts_true_dates: bool = False  # day and month of true dates may have been swapped; none is taken
    turn: tuple[int, int] = (7, 1)  # (month, day) from which on a date belongs to the first of two years
    near: date | None = None  # of a log over more than a year: the date before, to which the next lies nearest

    def resolve(self, written: Written) -> date | None:
        """The date, or None when day and month, or the year, stay open."""
        if written.week is not None and written.weekday is not None:
            return self._of_week(written.week, written.weekday, written.year)
        month, day = written.month, written.day
        if self.doubts_true_dates and written.is_true_date and month != day:
            return None
        if month is None or day is None:
            if written.first is None or written.second is None:
                return None
            if written.first == written.second:
                month = day = written.first
            elif self.order == "undecided":
                return None
            else:
                day, month = (
                    (written.first, written.second) if self.order == "day first" else (written.second, written.first)
                )
        year = written.year if written.year is not None else self._year_for(month, day)
        if year is None:
            return None
        try:
            found = date(year, month, day)
        except ValueError:
            return None
        if self.near is not None:
            self.near = found
        return found

    def _of_week(self, week: int, weekday: int, year: int | None) -> date | None:
        """The day of an ISO week; of several years the one whose week lies in the season, else as the year turns."""
        first, last = self.season
        years = [year] if year else list(self.years) or ([*range(first.year, last.year + 1)] if first and last else [])
        days = [day for one in years if (day := _day_of_week(one, week, weekday)) is not None]
        inside = [day for day in days if first and last and first <= day <= last] or days
        return None if not inside else inside[0] if len(inside) == 1 or week >= 27 else inside[-1]

    def _year_for(self, month: int, day: int) -> int | None:
        """The year of a date written without one. Of two years the one whose date lies in the season (season.toml);
        without a season the year turns at `turn`."""
        if self.near is not None:
            near = self.near
            return min((near.year - 1, near.year, near.year + 1), key=lambda y: abs((_safe(y, month, day) - near).days))
        first, last = self.season
        candidates = list(self.years) or ([*range(first.year, last.year + 1)] if first and last else [])
        if first and last:
            inside = [year for year in candidates if first <= _safe(year, month, day) <= last]
            candidates = inside or (candidates if self.years else [])
        if not candidates:
            return None
        return candidates[0] if len(candidates) == 1 or (month, day) >= self.turn else candidates[-1]


def _safe(year: int, month: int, day: int) -> date:
    try:
        return date(year, month, day)
    except ValueError:
        return date(year, month, 28)


def years_in(text: str) -> tuple[int, ...]:
    """The year, or the two years of a season over New Year ("2025/26"), that a title or name holds."""
    if match := _SPAN.search(text):
        start = int(match[1])
        end = start // 100 * 100 + int(match[2])
        if end == start + 1:
            return (start, end)
    found = sorted({int(match[0]) for match in _YEAR.finditer(text)})
    return tuple(found) if len(found) <= 2 else ()


def _day_of_week(year: int, week: int, weekday: int) -> date | None:
    monday = monday_of(year, week)
    return None if monday is None else monday + timedelta(days=weekday - 1)


def monday_of(year: int, week: int) -> date | None:
    """The Monday of an ISO 8601 week, or None when the year has no such week."""
    try:
        return date.fromisocalendar(year, week, 1)
    except ValueError:
        return None


def is_week_word(text: str, lexicon: Lexicon) -> bool:
    """Whether a text is nothing but a word for a week ("Sem.", "Woche", "w/c")."""
    return "week" in lexicon.headings_of.get(fold(text), []) or fold(text) in {"w c", "w b", "wc"}


_ISO_WEEK = re.compile(r"(?P<year>(?:19|20)\d\d)?[\s-]*W(?P<week>\d{1,2})[\s-]*(?P<day>[1-7])", re.I)
_WEEK_AND_DAY = re.compile(
    r"(?P<word>[^\W\d_]+)\s*[.:]?\s*(?P<week>\d{1,2})(?:\s*[/-]\s*(?P<year>(?:19|20)\d\d))?\s*[,;/|. –-]*\s*"
    r"(?P<day>[^\W\d_]+(?:-feira)?)\.?"
)
_DAY_AND_WEEK = re.compile(
    r"(?P<day>[^\W\d_]+(?:-feira)?)\.?\s*[,;/|. –-]*\s*(?P<word>[^\W\d_]+)\s*[.:]?\s*(?P<week>\d{1,2})"
    r"(?:\s*[/-]\s*(?P<year>(?:19|20)\d\d))?"
)


def _week_and_day(text: str, lexicon: Lexicon) -> Written | None:
    """A week's number with a weekday in one cell: "KW 33 Mo", "v.33 tors", "Mon wk 3", "2026-W33-1"."""
    if match := _ISO_WEEK.fullmatch(text.strip()):
        return _of_week(match, int(match["day"]))
    for pattern in (_WEEK_AND_DAY, _DAY_AND_WEEK):
        match = pattern.fullmatch(text.strip(" ()[]"))
        if match is None or not is_week_word(match["word"], lexicon):
            continue
        if (day := lexicon.weekday.exact(match["day"])) is not None:
            return _of_week(match, int(day))
    return None


def _of_week(match: re.Match[str], weekday: int) -> Written | None:
    week = int(match["week"])
    year = int(match["year"]) if match["year"] else None
    return Written(year, weekday=weekday, week=week) if 1 <= week <= 53 else None
