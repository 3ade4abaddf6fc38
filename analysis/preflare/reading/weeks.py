"""Days in the headings of weeks: "Week 2 (5 Jan - 11 Jan)", "Sem 12/01", "w/c 5 Jan"; a range counts from its first."""

import re

from preflare.reading.dates import is_week_word, read_date
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import fold

_FROM_TO = re.compile(r"\s*[-–—]\s*|\s+(?:to|bis|au|al|a|à|til|till|t/m|tot|do|ate|até)\s+", re.I)
_BEGINNING = {
    "beginning", "commencing", "starting", "of", "from", "vom", "ab", "von", "der", "du", "de", "del", "la", "dal",
    "della", "da", "van", "od", "fra", "fran", "med", "the", "am", "den", "w", "c", "b", "wc",
}  # fmt: skip
_DASHED = re.compile(r"(?<![\d.,/-])\d{1,2}\s*[-–]\s*\d{1,2}(?![\d.,/-])")
_DAY_ALONE = re.compile(r"(?:[^\W\d_]+\.?\s*)?\d{1,2}")
_NUMBER = re.compile(r"\d{1,2}")


def day_behind_week_word(text: str, lexicon: Lexicon) -> str | None:
    """The day behind a word for a week: "Sem 12/01", "Week of 5 Jan", "Semaine du 12 janvier", "w/c 5 Jan"."""
    words = text.replace("\n", " ").split()
    if len(words) < 2 or not is_week_word(words[0].strip(".:"), lexicon):
        return None
    start = 1
    while start < len(words) - 1 and fold(words[start].strip(".:")) in _BEGINNING:
        start += 1
    if re.fullmatch(r"\d{1,2}\.?", words[start]) and words[start + 1 : start + 2] and words[start + 1][0].isdigit():
        return None  # "Sem 1, 2-mar": a number of the week, and its date behind it
    return first_of_range(" ".join(words[start:]), lexicon)


def first_of_range(text: str, lexicon: Lexicon) -> str | None:
    """The text of the first day of "5.1.-11.1.", "5-11 Jan", "29 Dec - 4 Jan", or of a single date; else None."""
    text = text.strip(" ()[],;")
    if not text or not any(map(str.isdigit, text)):
        return None
    if _DASHED.fullmatch(text):
        return None  # "Week 4-5", "3-5": two weeks, or repetitions
    is_two_days = _DASHED.search(text) is not None and any(map(str.isalpha, text))  # "5-11 Jan", not a day of 2011
    if not is_two_days and read_date(text, lexicon) is not None:
        return text
    for match in _FROM_TO.finditer(text):
        left, right = text[: match.start()].strip(" .,"), text[match.end() :].strip()
        if read_date(right, lexicon) is None and not re.fullmatch(r"\d{1,2}\.?", right):
            continue
        for written in (left, f"{left}."):
            if read_date(written, lexicon) is not None:
                return written
        day = _with_month_of(left, right, lexicon) if _DAY_ALONE.fullmatch(left) else None
        if day is not None:
            return day
    return None


def _with_month_of(left: str, right: str, lexicon: Lexicon) -> str | None:
    """A day alone ("5") with the month of the range's last day ("11 Jan"); None when the month changes between."""
    number = _NUMBER.search(right)
    own = _NUMBER.search(left)
    if number is None or own is None or int(own[0]) > int(number[0]):
        return None
    day = f"{right[: number.start()]}{own[0]}{right[number.end() :]}"
    return day if read_date(day, lexicon) is not None else None


def dated_weekday(text: str, lexicon: Lexicon) -> str | None:
    """The weekday with its date that a text gives beside the number of a week ("Uge 37, tirsdag d. 8/9")."""
    for piece in re.split(r"\s*[,;:|()\n]\s*|\s+[-–—]\s+", text):
        written = read_date(piece, lexicon) if any(map(str.isdigit, piece)) else None
        if written is not None and written.weekday is not None and written.week is None:
            return piece
    return None


def day_among(title: str, lexicon: Lexicon) -> str | None:
    """The day that a heading or title gives among its words ("Session of Monday 2 March 2026")."""
    words = title.replace("|", " ").split()
    for start in range(len(words)):
        for end in range(len(words), start, -1):
            text = " ".join(words[start:end]).strip(" ,;:-–—")
            if any(map(str.isdigit, text)) and read_date(text, lexicon) is not None:
                return text
    return None


def pieces_of(text: str) -> list[str]:
    """The parts of a heading: its lines, what stands in brackets, what a dash or colon sets off."""
    for sign in "()[]:|–—\n":
        text = text.replace(sign, "\n")
    return [piece.strip() for piece in text.replace(" - ", "\n").split("\n") if piece.strip()]
