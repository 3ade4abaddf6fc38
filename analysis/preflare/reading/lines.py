"""Lines within a table that hold one text alone, in one cell or merged across: what they say and what they govern.

A day ("Montag, 12.01.2026 - Unterkörper", "Tue 3rd - heavy"), a week, a lift or a bar holds for the rows below it; a
total is no data; a remark may tell of pain.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Literal

from preflare.reading.dates import Calendar, Written, is_week_word, read_date, without_frame
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.text import Cell, words_of
from preflare.reading.weeks import dated_weekday, day_behind_week_word, first_of_range
from preflare.reading.words import Gear, WordReader
from preflare.reading.workbook import Sheet

_SETS = re.compile(r"\d\s*(?:kgs?|lbs?)?\s*[x×]\s*\d|\d\s*@\s*\d", re.I)
_LONGEST_DATE = 6  # words: "Freitag, den 3. April 2026 um"
_MOST_WORDS = 8  # of a line that names a day; a longer one is a remark
_NUMBERED = re.compile(r"^\s*(?:\(?[A-Za-z\d]{1,2}[.)]\)?|[-–•*#>]+)\s+(?=[^\W\d])")  # "A) Squat", "- Squat"
_DAY_ALONE = re.compile(r"(?P<day>\d{1,2})(?:st|nd|rd|th|\.|er|º|o|e)?$", re.I)
_NOT_WHOLE = re.compile(r"(?:19|20)\d\d[-/.]\d{0,2}(?:[-/.]\d?)?|\d{1,2}[-/.]\d{1,2}[-/.]\d{0,3}|\d{1,2}[-/.]")
_AS_FAR = 45  # days ahead of the day before, in which "Tue 3rd" is looked for

Kind = Literal["day", "week", "weekday", "exercise", "bar", "total", "cut off", "sets", "remark"]


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text and what it is. said: its part that is a date, or the name of a lift or bar."""

    column: int
    text: str
    kind: Kind
    said: str = ""
    is_merged: bool = False


def text_alone(sheet: Sheet, row: int) -> tuple[int, str, bool] | None:
    """(column, text, whether merged across) where a row holds one text and nothing else; else None."""
    filled = [(column, cell) for column, cell in enumerate(sheet.rows[row]) if cell is not None]
    if not filled or not isinstance(filled[0][1], str):
        return None
    first, text = filled[0]
    others = filled[1:]
    if any(cell != text or (row, column) not in sheet.merged for column, cell in others):
        return None
    return first, str(text), bool(others)


def line_at(sheet: Sheet, row: int, words: WordReader) -> Line | None:
    """The line of text that a row is, and what it says; None where it holds more than one text."""
    alone = text_alone(sheet, row)
    if alone is None:
        return None
    column, text, is_merged = alone
    kind, said = _kind_of(without_frame(text), words)
    return Line(column, text, kind, said, is_merged)


def line_of_title(text: str, words: WordReader) -> Line:
    """What a title line above a table says, as if it stood within."""
    piece = leading_piece(text, words.lexicon)
    kind, said = _kind_of(without_frame(piece), words)
    return Line(0, piece, kind, said)


def leading_piece(title: str, lexicon: Lexicon) -> str:
    """The first cell of a row of titles where that alone begins with a weekday and its date ("MON 9/14 - SQUAT", with a
    goal beside it); else the whole row."""
    pieces = pieces_of_title(title)
    leads = len(pieces) > 1 and _weekday_and_date(pieces[0], lexicon)
    return pieces[0] if leads and not any(day_within(piece, lexicon) for piece in pieces[1:]) else title


def _weekday_and_date(text: str, lexicon: Lexicon) -> bool:
    said = day_within(without_frame(text), lexicon)
    written = read_date(said, lexicon) if said is not None else None
    return written is not None and written.weekday is not None and text.strip().startswith(said or "")


def pieces_of_title(text: str) -> list[str]:
    """The cells of a row of titles."""
    return text.split(" | ")


def _kind_of(text: str, words: WordReader) -> tuple[Kind, str]:
    lexicon = words.lexicon
    if names_total(text):
        return "total", ""
    if _NOT_WHOLE.fullmatch(text) and read_date(text, lexicon) is None:
        return "cut off", ""
    if _SETS.search(text):
        return ("remark" if lexicon.sheet_word(re.split(r"[\s:]+", text)[0], "legend") else "sets"), ""
    if (of_week := dated_weekday(text, lexicon)) is not None:
        return "day", of_week
    if _week_in(text, lexicon) is not None:
        return "week", text
    if (day := day_within(text, lexicon)) is not None or (day := _day_of_month(text, lexicon)) is not None:
        return "day", day
    if (weekday := _weekday_leading(text, lexicon)) is not None:
        return "weekday", weekday
    bare = _NUMBERED.sub("", text).strip(" :.")
    if any(map(str.isdigit, bare)) or len(bare) > 60:
        return "remark", ""
    if words.exercise(bare).how not in {"not known", "assumed"}:
        return "exercise", bare
    gear, unknown = words.gear(bare, "bar")
    return ("bar", bare) if gear.bar is not None and not unknown else ("remark", "")


# Days -----------------------------------------------------------------------------------------------------------------


def day_within(text: str, lexicon: Lexicon) -> str | None:
    """The part of a short text that is plainly a date, at its head or behind two words.

    Plainly: it has a weekday, a month's name or a year, or dots and leads the text.
    """
    words = text.split()
    for length in range(min(_LONGEST_DATE, len(words)), 0, -1):
        for start in range(min(3, len(words) - length + 1) if len(words) <= _MOST_WORDS else 0):
            piece = " ".join(words[start : start + length]).strip(" ,;:()[]–—-|")
            if not any(map(str.isdigit, piece)) or (written := read_date(piece, lexicon)) is None:
                continue
            if _is_plain(written, piece) or (start == 0 and (written.by_dots or len(words) == length)):
                return piece
    return None


def _is_plain(written: Written, piece: str) -> bool:
    has_month = any(map(str.isalpha, piece)) and written.month is not None and written.weekday is None
    return written.weekday is not None or written.year is not None or has_month


def _day_of_month(text: str, lexicon: Lexicon) -> str | None:
    """A weekday and a day of the month without the month, at the head of a text: "Tue 3rd - heavy"."""
    words = text.replace(",", " ").split()
    if len(words) < 2 or lexicon.weekday.exact(words[0].strip(".:")) is None:
        return None
    return " ".join(words[:2]) if _DAY_ALONE.fullmatch(words[1].strip(".:-–()")) else None


def _weekday_leading(text: str, lexicon: Lexicon) -> str | None:
    """The weekday that a text without numbers begins with, alone or before a sign: "Monday", "Fri - upper body"."""
    first = re.split(r"\s+[-–—|(]\s*|[:,(]\s*", text, maxsplit=1)[0]
    return first if lexicon.weekday.exact(first.strip(" .")) and not any(map(str.isdigit, text)) else None


def resolve_day(
    said: str, lexicon: Lexicon, calendar: Calendar, last: date | None, titles: Sequence[str]
) -> date | None:
    """The day of a line. last: the day before it, titles: where a month may stand for a day without one."""
    if (written := read_date(said, lexicon)) is not None:
        return calendar.resolve(written)
    weekday, number = said.split()
    day, of_week = int(re.sub(r"\D", "", number)), int(lexicon.weekday.exact(weekday.strip(".:")) or 0)
    if last is not None:
        ahead = (last + timedelta(days=n) for n in range(_AS_FAR))
        return next((one for one in ahead if one.day == day and one.isoweekday() == of_week), None)
    for title in titles:
        months = [int(hit) for _, _, hit in lexicon.month.find(words_of(title))]
        if len(months) == 1 and (found := calendar.resolve(Written(None, months[0], day))) is not None:
            return found if found.isoweekday() == of_week else None
    return None


def _week_in(text: str, lexicon: Lexicon) -> str | None:
    """The number or first day of a week that a text begins with: "Week 3 - heavy", "KW 12", "Woche 5.1.-11.1."."""
    words = text.split()
    if len(words) < 2 or not is_week_word(words[0].strip(".:"), lexicon):
        return None
    return words[1] if any(map(str.isdigit, words[1])) or day_behind_week_word(text, lexicon) else None


def week_of_line(text: str, lexicon: Lexicon) -> tuple[int | None, Cell]:
    """(number, first day) of the week that a line names, as far as it does."""
    number = re.match(r"[^\W\d_/.]+\.?\s*(\d{1,2})(?![\d./-])", text)
    behind = None if number else day_behind_week_word(text, lexicon)
    if behind is None:
        rest = text[number.end() :] if number else text
        pieces = [piece for piece in re.split(r"[()\[\]:|]|\s[-–]\s(?=\D)", rest) if piece.strip()]
        behind = next((day for piece in pieces if (day := first_of_range(piece, lexicon)) is not None), None)
    return (int(number[1]) if number else None), behind


def dates_in_lines(sheet: Sheet, rows: Sequence[int], lexicon: Lexicon) -> list[Written]:
    """What the lines among `rows` say of dates."""
    found = []
    for row in rows:
        alone = text_alone(sheet, row)
        said = day_within(without_frame(alone[1]), lexicon) if alone and not _SETS.search(alone[1]) else None
        if said is not None and (written := read_date(said, lexicon)) is not None:
            found.append(written)
    return found


def dates_in_titles(titles: Sequence[str], lexicon: Lexicon) -> list[Written]:
    """What title lines say of dates that hold for the rows below them."""
    plain = (without_frame(leading_piece(title, lexicon)) for title in titles)
    said = (dated_weekday(title, lexicon) or day_within(title, lexicon) for title in plain)
    found = (read_date(one, lexicon) for one in said if one is not None)
    return [written for written in found if written is not None]


@dataclass(slots=True)
class Governing:
    """What lines above a row say of it. A lift or bar named under a day ends with that day; one named before, not."""

    exercise: str | None = None
    gear: Gear = field(default_factory=Gear)
    monday: date | None = None
    has_day: bool = False
    is_under_day: bool = False

    def open_day(self) -> None:
        """A day begins."""
        if self.is_under_day:
            self.exercise, self.gear = None, Gear()
        self.has_day = True

    def open_exercise(self, written: str) -> None:
        """A lift begins."""
        self.exercise, self.gear, self.is_under_day = written, Gear(), self.has_day

    def open_bar(self, gear: Gear) -> None:
        """A bar begins, for the lift above it if there is one."""
        self.gear, self.is_under_day = gear, self.has_day


def monday_before(day: date) -> date:
    """The Monday of a day's week."""
    return day - timedelta(days=day.weekday())
