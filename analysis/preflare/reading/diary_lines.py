"""The lines of a diary, and which of them name a day, a week, a total, or nothing."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from preflare.reading.dates import Written, is_week_word, read_date, years_in
from preflare.reading.diary_words import begins_with, diary_words
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.lines import week_of_line
from preflare.reading.loads_led import has_loads_led
from preflare.reading.text import Cell, as_text, fold, words_of
from preflare.reading.weeks import day_behind_week_word
from preflare.reading.workbook import Sheet

_LONGEST_DATE = 6  # words
_MOST_BEFORE = 2  # words before a date: "Session 12", "am", "le"
_LEAST_OF_SLIP = 4  # letters: of three almost any may be meant
_YEARS = range(1990, 2101)
_BULLET = re.compile(r"^\s*(?:[-–—•*+>#]+|\(?[a-zA-Z\d]{1,2}[.)]\)?)\s+(?=[^\W\d_])|^\s*[•*]\s*(?=\S)")
_FRAME = " =#*_~|-–—\t"
_ORNAMENT = re.compile(r"[\W_]*")
_SETS = re.compile(
    r"\d\s*(?:kgs?|lbs?)?\s*[x×*]\s*\d|\d\s*@\s*\d|(?<![^\W_])[^\W\d_]{2,}\.?\s+[x×]\s*\d"
    r"|(?<![^\W_])(?:bw|kv|kg|pc|lg|mc|kgw|pdc)x\d",  # letters for the weight of the body
    re.I,
)
_RANGE = re.compile(r"\s*(?:-|–|—|to|bis|au|à|al|a|até|tot|do|til|till)\s*(?=\d|[^\W\d_]+\.?\s+\d)", re.I)
_SEPARATED = re.compile(r"\s*[:,;.–—(\[|-]|\s+[^\W\d_(]|\s{2,}")
_NUMBER_OF_DAY = re.compile(r"\d{1,2}(?:st|nd|rd|th|\.|er|º|o|e)?", re.I)
_ALL_NUMBERS = re.compile(r"\d{1,4}\s*[./-]\s*\d{1,2}\s*[./-]\s*(?:\d{2,4})?|\d{1,2}/\d{1,2}")
_LOAD_AND_LIST = re.compile(
    r"\d{1,3}\s+(?:1?\d|20)(?:-(?:1?\d|20))+(?![-./]?\d)"
)  # "20 10-9": a load and repetitions, no day
_SIGN = re.compile(r"[^\s=]\s*=\s*[^\s=]")


@dataclass(frozen=True, slots=True)
class DayHead:
    """A date at the head of a line, and what stands behind it. is_plain: with a weekday, month's name or year.

    written_as: the word for a month or weekday that was put right, as it stands.
    """

    written: Written
    rest: str
    is_plain: bool
    written_as: str | None = None


def lines_of(sheet: Sheet) -> list[str]:
    """Every row of a sheet as the line of text that it was before commas cut it."""
    return [", ".join(as_text(cell) for cell in cells if cell is not None) for cells in sheet.rows]


def in_lines(sheet: Sheet) -> Sheet | None:
    """A sheet of text alone as lines, each with its blanks in front; None where rows have several cells that no text
    file cut. A cell of several lines is unfolded; its lines keep the number of the row."""
    if sheet.lines:
        numbered: Iterable[tuple[int, str]] = enumerate(sheet.lines, start=1)
    else:
        rows = [[cell for cell in cells if cell is not None] for cells in sheet.rows]
        if any(len(cells) > 1 for cells in rows):
            return None
        numbered = [
            (number, line)
            for number, cells in zip(sheet.line_numbers, rows, strict=True)
            for cell in cells
            for line in (as_text(cell).splitlines() or [""])
        ]
    kept: list[tuple[int, Cell]] = [(number, line.rstrip() or None) for number, line in numbered]
    return replace(
        sheet, rows=[[cell] for _, cell in kept], line_numbers=[n for n, _ in kept], merged=set(), errors={}, lines=()
    )


def without_bullet(text: str) -> str:
    """A line without the mark or number of a list at its head."""
    return _BULLET.sub("", text).strip()


def is_ornament(text: str) -> bool:
    """Whether a line has neither letters nor figures."""
    return _ORNAMENT.fullmatch(text) is not None


def explains(text: str) -> bool:
    """Whether a line says what a sign means."""
    return _SIGN.search(text) is not None


def has_sets(text: str) -> bool:
    """Whether a text holds a number times or at a number."""
    return _SETS.search(text) is not None or has_loads_led(text)


def is_total(text: str) -> bool:
    """Whether a line is a sum: it begins with a word for totals or says "tonnage" with a number behind."""
    if has_sets(text) or not any(map(str.isdigit, text)):
        return False
    return names_total(text.split(":")[0]) or begins_with("tonnage", text) > 0


def totals_sets(text: str, lexicon: Lexicon) -> bool:
    """Whether a line names a total before its colon, no lift, and sets behind ("TOTAL: best squat 3x5x70")."""
    before, colon, behind = text.partition(":")
    is_lift = any(True for _ in lexicon.exercise.find(words_of(before)))
    return bool(colon) and not has_sets(before) and has_sets(behind) and names_total(before) and not is_lift


def names_week(text: str, lexicon: Lexicon) -> bool:
    """Whether a line names a week: "--- week 3 (deload) ---", "KW 12", "Semaine du 7 sept."."""
    words = text.strip(_FRAME + ":").split()
    if len(words) < 2 or has_sets(text) or not is_week_word(words[0].strip(".:"), lexicon):
        return False
    return any(map(str.isdigit, words[1])) or day_behind_week_word(text.strip(_FRAME), lexicon) is not None


# Days -----------------------------------------------------------------------------------------------------------------


def day_head(text: str, lexicon: Lexicon) -> DayHead | None:
    """The date at the head of a line; None where there is none, or the line is one of a range of days or a legend."""
    plain = text.strip(_FRAME)
    if (
        not plain
        or text.lstrip().startswith(">")
        or explains(plain)
        or _LOAD_AND_LIST.match(plain)
        or not any(map(str.isdigit, plain[:40]))
    ):
        return None
    ends = [match.end() for match in re.finditer(r"\S+", plain)][: _LONGEST_DATE + _MOST_BEFORE]
    starts = [match.start() for match in re.finditer(r"\S+", plain)][: _MOST_BEFORE + 1]
    for at, start in enumerate(starts):
        if at and not _may_stand_before(plain[: starts[at]], lexicon):
            return None
        for end in reversed(ends[at : at + _LONGEST_DATE]):
            found = _head_of(plain[start:end], plain[end:], lexicon)
            if found is not None and (at == 0 or found.is_plain or not found.rest):
                return found
    return None


def _may_stand_before(text: str, lexicon: Lexicon) -> bool:
    words = [word for word in words_of(text) if not word.isdecimal()]
    own = diary_words("before_a_day").known
    return all(word in own or lexicon.weekday.exact(word) is not None for word in words)


def _head_of(piece: str, rest: str, lexicon: Lexicon) -> DayHead | None:
    bare = piece.strip(" ,;:()[]–—|*_").rstrip("-")
    trail = piece[len(piece.rstrip(" ,;:()[]–—|-*_")) :]
    if not any(map(str.isdigit, bare)) or bare.isdecimal():
        return None
    written, slip = read_date(bare, lexicon), None
    if written is None:
        written, slip = _with_slip(bare, lexicon)
    if written is None or (written.year is not None and written.year not in _YEARS):
        return None
    if _RANGE.match(rest) and read_date(_RANGE.sub("", rest).split("(")[0].split(",")[0].strip(), lexicon):
        return None
    has_month = any(map(str.isalpha, bare)) and written.month is not None and written.weekday is None
    is_plain = written.weekday is not None or written.year is not None or has_month
    if rest and not is_plain and _SEPARATED.match(trail.strip(" *_") + rest) is None:
        return None
    return DayHead(written, rest.strip(" :,;–—|-)]*_" if "(" not in rest else " :,;–—|-*_"), is_plain, slip)


def _with_slip(text: str, lexicon: Lexicon) -> tuple[Written | None, str | None]:
    """A date whose one unknown word is a slip of the name of a month or weekday: "Lundi 14 spet.", "Mnodag 3.4."."""
    words = re.findall(r"[^\W\d_]+", text)
    for word in words:
        is_known = lexicon.month.exact(word) or lexicon.weekday.exact(word) or begins_with("before_a_day", word)
        if len(word) < _LEAST_OF_SLIP or is_known:
            continue
        for near in _near(word, lexicon):
            mended = re.sub(rf"(?<![^\W\d_]){re.escape(word)}(?![^\W\d_])", near, text, count=1)
            if (written := read_date(mended, lexicon)) is not None:
                return written, word
    return None, None


def _near(word: str, lexicon: Lexicon) -> list[str]:
    """The names of months and weekdays of which a word is a slip, where all of them mean the same."""
    from rapidfuzz.distance import OSA

    folded = fold(word)
    for table in (lexicon.month, lexicon.weekday):
        near = [name for name in table.known if len(name) > 2 and OSA.distance(folded, name) == 1]
        if len({table.known[name] for name in near}) == 1:
            return near[:1]
    return []


def weekday_head(text: str, lexicon: Lexicon) -> tuple[int, str] | None:
    """(weekday, rest) of a line that begins with a weekday and has no date: "vendredi : congé", "Monday"."""
    plain = text.strip(_FRAME)
    match = re.match(r"([^\W\d_]+(?:-feira)?)\.?\s*(?:$|[:–—(,-]|\s-\s)", plain)
    if match is None or (number := lexicon.weekday.exact(match[1])) is None or text.lstrip().startswith(">"):
        return None
    return int(number), plain[match.end(1) :].strip(" .:–—-,")


def day_of_month(text: str, lexicon: Lexicon) -> str | None:
    """The weekday and number of a line that is nothing else: "Tue 3rd"."""
    words = text.strip(_FRAME + ":.,").replace(",", " ").split()
    is_one = len(words) == 2 and _NUMBER_OF_DAY.fullmatch(words[1]) is not None
    return " ".join(words) if is_one and lexicon.weekday.exact(words[0].strip(".:")) is not None else None


def is_broken_day(text: str, lexicon: Lexicon) -> bool:
    """Whether a line looks like a date and is none: a weekday with a number and few words, or numbers between dots."""
    plain = text.strip(_FRAME + ":")
    if has_sets(plain) or len(plain.split()) > _LONGEST_DATE:
        return False
    match = re.match(r"([^\W\d_]+)\.?,?\s+(?:[^\W\d_]+\.?\s+)?\d{1,2}(?!\s*/\s*10\b)", plain)
    is_weekday = match is not None and lexicon.weekday.exact(match[1]) is not None
    is_weekday = is_weekday and not any(True for _ in lexicon.site.find(words_of(plain)))
    return is_weekday or _ALL_NUMBERS.fullmatch(plain) is not None


def next_weekday(day: date, number: int) -> date:
    """The first day after `day` that is this weekday (1 Monday to 7 Sunday)."""
    return day + timedelta(days=(number - day.isoweekday() - 1) % 7 + 1)


def day_heads(lines: Sequence[str], lexicon: Lexicon) -> dict[int, DayHead]:
    """Line -> the date that it begins with. Dates of two numbers with text behind count only where no other form of
    date stands anywhere, and no place that hurts behind them ("3/10 elbow")."""
    found = {at: head for at, line in enumerate(lines) if (head := day_head(line, lexicon)) is not None}
    if not any(weekday_head(line, lexicon) for line in lines):
        found |= {at: head for at, line in enumerate(lines) if (head := _behind_week(line, lexicon)) is not None}
    has_plain = any(head.is_plain for head in found.values())
    return {
        at: head
        for at, head in found.items()
        if head.is_plain or not head.rest or not (has_plain or _is_rating(lines[at], head.rest, lexicon))
    }


def _behind_week(line: str, lexicon: Lexicon) -> DayHead | None:
    """The date with its weekday that is all that stands behind a week: "Week 3, Mon 14/9"; None for any other line."""
    if not names_week(line, lexicon):
        return None
    _, comma, behind = line.strip(_FRAME).partition(",")
    head = day_head(behind, lexicon) if comma else None
    return head if head is not None and head.written.weekday is not None and not head.rest else None


def first_day(lines: Sequence[str], heads: dict[int, DayHead], lexicon: Lexicon) -> int:
    """The first line that names a day: a date, or a weekday under a week whose days are known; else their number."""
    first = min(heads, default=len(lines))
    is_known = False
    for at, line in enumerate(lines[:first]):
        is_known = is_known or (names_week(line, lexicon) and week_date(line, lexicon) is not None)
        if is_known and weekday_head(line, lexicon) is not None:
            return at
    return first


def week_date(line: str, lexicon: Lexicon) -> Written | None:
    """The date that a line that names a week holds, with a year written beside it."""
    _, behind = week_of_line(line.strip(_FRAME), lexicon)
    written = read_date(behind, lexicon) if behind is not None else None
    if written is not None and written.year is None and (years := years_in(line)):
        written = replace(written, year=years[0])
    return written


def _is_rating(line: str, rest: str, lexicon: Lexicon) -> bool:
    """Whether a line begins with a rating out of ten and a place: "3/10 elbow"."""
    is_of_ten = re.match(r"\W*\d{1,2}\s*/\s*10(?!\d)", line) is not None
    return is_of_ten and any(True for _ in lexicon.site.find(words_of(rest)[:3]))
