"""Diaries found: lines of text without columns, a date, what was done, how it felt. diary_rows.py reads them."""

from dataclasses import replace
from itertools import pairwise

from preflare.reading.dates import Written, read_date
from preflare.reading.lexicon import Lexicon
from preflare.reading.shorthand import Work, parse_work
from preflare.reading.tables import SHORTHAND
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.workbook import Sheet

_MARKS = " :,;|-–—."
_BREAKS = frozenset({"-", "–", "—", "|", ":"})
_LONGEST_DATE = 5  # words: "Wednesday 5 March 2026 -"


def line_of(cells: list[Cell]) -> str:
    """A row as the line of text that it was before commas cut it."""
    return ", ".join(as_text(cell) for cell in cells if cell is not None)


def diary_dates(sheet: Sheet, lexicon: Lexicon) -> list[Written]:
    """What the lines of a sheet that open a day say."""
    return [opened[0] for cells in sheet.rows if (opened := day_opened(cells, lexicon)) is not None]


def day_opened(cells: list[Cell], lexicon: Lexicon) -> tuple[Written, str] | None:
    """(what a line says of its date, the rest of the line), for a line that is a date or begins with one."""
    filled = [cell for cell in cells if cell is not None]
    if not filled:
        return None
    whole = filled[0] if len(filled) == 1 else line_of(cells) if len(filled) <= 3 else None
    if whole is not None and (written := read_date(whole, lexicon)) is not None:
        return written, ""
    return _leading_date(line_of(cells), lexicon)


def _leading_date(text: str, lexicon: Lexicon) -> tuple[Written, str] | None:
    """A date at the head of a line that goes on: "Fri 10 Oct - Squat 5x100", "5 Jan: squat 3x5 100"."""
    words = text.split()
    if not words or not any(map(str.isdigit, text[:20])) or fold(words[0]) in lexicon.work.known:
        return None  # "Set 1: 60x5", though Italian shortens September so
    for n in range(min(_LONGEST_DATE, len(words) - 1), 0, -1):
        head, rest = " ".join(words[:n]), " ".join(words[n:])
        written = read_date(head.strip(_MARKS), lexicon)
        if written is None:
            continue
        is_set_off = head[-1] in ":,;" or words[n] in _BREAKS
        is_worded = any(map(str.isalpha, head))
        rest = rest.strip(_MARKS)
        is_plain = rest[:1].isalpha() and any(one.exercise for one in parse_work(rest, lexicon).sets)
        return (written, rest) if rest and (is_set_off or is_worded or is_plain) else None
    return None


def work_line(text: str, lexicon: Lexicon) -> Work | None:
    """The sets of a line, if it holds any and names their exercise."""
    work = parse_work(text, lexicon)
    return work if any(one.exercise for one in work.sets) else None


def is_diary(sheet: Sheet, lexicon: Lexicon) -> bool:
    """Whether a sheet without headings has lines that open a day and lines that are work."""
    rows = [cells for cells in sheet.rows if any(cell is not None for cell in cells)]
    if _is_of_many(rows, lexicon):
        return False
    opened = [day for cells in rows if (day := day_opened(cells, lexicon)) is not None]
    texts = [rest for _, rest in opened] + [line_of(cells) for cells in rows]
    return bool(opened) and (any(work_line(text, lexicon) for text in texts) or _has_sets_below_names(texts, lexicon))


def _has_sets_below_names(texts: list[str], lexicon: Lexicon) -> bool:
    """Whether a line that is the name of an exercise is followed by one of sets."""
    return any(
        lexicon.exercise.exact(name.strip(_MARKS)) and parse_work(sets, lexicon).sets for name, sets in pairwise(texts)
    )


def unfolded(sheet: Sheet, lexicon: Lexicon) -> Sheet | None:
    """A sheet of single cells that hold a day with all its lines, as the lines of a diary; None for any other sheet.

    Every line keeps the number of the row that it stands in.
    """
    rows = [[cell for cell in cells if cell is not None] for cells in sheet.rows]
    has_folded = any(len(cells) == 1 and "\n" in as_text(cells[0]) for cells in rows)
    if not has_folded or any(len(cells) > 1 for cells in rows):
        return None
    lines: list[tuple[int, list[Cell]]] = [
        (number, [line.strip()])
        for number, cells in zip(sheet.line_numbers, rows, strict=True)
        for cell in cells
        for line in as_text(cell).splitlines()
        if line.strip()
    ]
    cells, numbers = [cells for _, cells in lines], [number for number, _ in lines]
    found = replace(sheet, rows=cells, line_numbers=numbers, merged=set(), errors={})
    return found if is_diary(found, lexicon) else None


def _is_of_many(rows: list[list[Cell]], lexicon: Lexicon) -> bool:
    """Whether rows of one width hold an exercise and then work in several cells: whose each is stands above them, if
    anywhere. Lines that commas cut have as many cells as it happens."""
    texts = [[as_text(cell) for cell in cells if cell is not None] for cells in rows]
    many = [cells for cells in texts if sum(SHORTHAND.search(cell) is not None for cell in cells[1:]) > 1]
    named = [cells for cells in many if not any(map(str.isdigit, cells[0]))]
    is_bare = all(lexicon.exercise.exact(cells[0]) for cells in named)
    return bool(named) and is_bare and len({len(cells) for cells in named}) == 1
