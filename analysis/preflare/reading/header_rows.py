"""Which rows of a sheet hold headings."""

import re
from collections.abc import Iterable
from datetime import date

import numpy as np

from preflare.reading.coded import CodedRows
from preflare.reading.corner_days import are_headings_beside, day_in_corner
from preflare.reading.dates import is_week_word, read_date
from preflare.reading.grouped import set_numbers
from preflare.reading.headings import ANCHORS, Heading, parse_heading
from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import parse_number
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.workbook import Sheet

_AS_WORK = re.compile(r"\d\s*[x×]\s*\w", re.I)
_LOADED_WORK = re.compile(
    r"(?<![\d.,])[1-9]\d{1,2}(?:[.,]\d+)?\s*(?:kgs?|lbs?)?\s*[x×]\s*\d{1,2}(?:\s*[x×]\s*\d{1,2})?", re.I
)


def header_rows(sheet: Sheet, lexicon: Lexicon, taught: dict[str, Heading]) -> dict[int, list[Heading | None]]:
    """Every row that holds headings, 0-based -> what each of its cells says."""
    known: dict[str, Heading | None] = {}
    may_be: dict[Cell, bool] = {}  # many rows repeat their words
    headers = {}
    for index, row in _rows_to_look_at(sheet, lexicon, taught):
        row = _without_set_numbers(row, lexicon)
        for cell in row:
            if isinstance(cell, str) and cell not in may_be:
                may_be[cell] = _may_be_heading(cell, lexicon, taught)
        if not any(isinstance(cell, str) and may_be[cell] for cell in row):
            continue
        if under_a_day(row, lexicon) is not None:
            headers[index] = [parse_heading(cell, lexicon) if isinstance(cell, str) else None for cell in row]
            continue
        texts = _texts(row)
        if not len(texts) + sum(isinstance(cell, date) for cell in row) >= 2 or len(texts) < 1:
            continue
        if any(len(text) > 120 for text in texts) or sum(isinstance(cell, float) for cell in row) > len(texts) / 2:
            continue
        for text in texts:
            if text not in known:
                known[text] = taught.get(text) or parse_heading(text, lexicon)
        if not any(known[text] for text in texts):
            continue
        is_head = _looks_like_headings(_with_dates(row, known, lexicon), known)
        if is_head or _names_across(row, known, index, sheet) or _stands_over_dates(row, known, index, sheet, lexicon):
            headers[index] = [known[cell] if isinstance(cell, str) else None for cell in row]
    return _without_data(headers, sheet, lexicon)


def _without_data(
    headers: dict[int, list[Heading | None]], sheet: Sheet, lexicon: Lexicon
) -> dict[int, list[Heading | None]]:
    kept: dict[int, list[Heading | None]] = {}
    above: int | None = None
    for index, cells in headers.items():
        if above is None or not _is_data(sheet, index, above, kept, lexicon):
            kept[index], above = cells, index
    return kept


def _is_data(sheet: Sheet, index: int, above: int, headers: dict[int, list[Heading | None]], lexicon: Lexicon) -> bool:
    """Whether a row with words of headings is one of data ("Bench | medium | kg | 40 | 82.5 | wrist 3"): a lift stands
    in it where the nearest headings above have their column of lifts. Right below them it may be their second line."""
    named = [i for i, found in enumerate(headers[above]) if found is not None and found.roles[0] == "exercise"]
    cells = sheet.rows[index]
    told = [cells[i] for i in named if i < len(cells) and cells[i] != sheet.rows[above][i]]
    has_figures = any(isinstance(cell, float) or (isinstance(cell, str) and parse_number(cell)) for cell in cells)
    return (has_figures or index > above + 1) and any(
        isinstance(cell, str) and lexicon.exercise.exact(cell) is not None for cell in told
    )


def under_a_day(row: list[Cell], lexicon: Lexicon) -> tuple[int, str] | None:
    """(column, day) of a row that is a day and headings beside it ("Mon 7 Sept | Bar | Set 1 | Set 2"); else None."""
    if (corner := day_in_corner(row, lexicon)) is None:
        return None
    rest: list[Cell] = [None if column <= corner[0] else cell for column, cell in enumerate(row)]
    rest = _without_set_numbers(rest, lexicon)
    headings = {text: parse_heading(text, lexicon) for text in _texts(rest)}
    is_bare = not any(isinstance(cell, float | date) for cell in rest)
    are_headings = is_bare and _looks_like_headings(rest, headings)
    return corner if are_headings and are_headings_beside(list(headings.values()), lexicon) else None


def _texts(row: list[Cell]) -> list[str]:
    return [cell for cell in row if isinstance(cell, str)]


def _without_set_numbers(row: list[Cell], lexicon: Lexicon) -> list[Cell]:
    """The row without numbers that count its sets (1, 2, 3), where all else is words and none is a word for a week."""
    numbers = set_numbers(row)
    others = [cell for column, cell in enumerate(row) if column not in numbers and cell is not None]
    is_head = all(isinstance(cell, str) and parse_number(cell) is None for cell in others)
    is_of_weeks = any(is_week_word(cell, lexicon) for cell in others if isinstance(cell, str))
    if not numbers or not is_head or is_of_weeks or not others:
        return row
    return [f"Set {numbers[column]}" if column in numbers else cell for column, cell in enumerate(row)]


_FIRST = 30  # rows of a long sheet that are looked at whatever they hold


def _rows_to_look_at(sheet: Sheet, lexicon: Lexicon, taught: dict[str, Heading]) -> Iterable[tuple[int, list[Cell]]]:
    """Every row that may hold headings, with its number. Of a long sheet only those in which some cell looks like one
    (beside figures: two) and no other is a plain number, save among three dates: what `_looks_like_headings`,
    `_names_across` and `_stands_over_dates` ask."""
    if not isinstance(sheet.rows, CodedRows):
        return enumerate(sheet.rows)
    has_number = np.zeros(len(sheet.rows), np.bool_)
    n_headings, n_dates, n_texts, n_figures = (np.zeros(len(sheet.rows), np.int32) for _ in range(4))
    for column in sheet.rows.columns:
        texts = [cell if isinstance(cell, str) else "" for cell in column.cells]
        n_headings += column.where(bool(text) and _may_be_heading(text, lexicon, taught) for text in texts)
        has_number |= column.where(parse_number(text) is not None for text in texts)
        n_dates += column.where(_may_be_date(cell, lexicon) for cell in column.cells)
        n_texts += column.where(map(bool, texts))
        n_figures += column.where(isinstance(cell, float) for cell in column.cells)
    may_be = (n_headings >= 2) | ((n_headings == 1) & ((n_figures == 0) | (n_dates >= 3)))
    rows = np.flatnonzero(may_be & (2 * n_figures <= n_texts) & (~has_number | (n_dates >= 3))).tolist()
    return ((row, sheet.rows[row]) for row in sorted({*range(min(_FIRST, len(sheet.rows))), *rows}))


def _may_be_date(cell: Cell, lexicon: Lexicon) -> bool:
    is_text_date = isinstance(cell, str) and any(map(str.isdigit, cell)) and read_date(cell, lexicon) is not None
    return isinstance(cell, date) or is_text_date


def _may_be_heading(text: str, lexicon: Lexicon, taught: dict[str, Heading]) -> bool:
    """A quick look: some known heading word, alone or at either end. Most rows of a sheet end here."""
    words = fold(text).split()
    if text.endswith("?"):
        return True
    if not words or len(words) > 8:
        return False
    known = lexicon.headings_of
    ends = {" ".join(words), words[0], words[-1], re.sub(r"\d+", "", words[0]), re.sub(r"\d+", "", words[-1])}
    return bool(ends & known.keys()) or text in taught or bool(ends & {"s", "w"}) or words[0] in lexicon.weekday.known


def _with_dates(row: list[Cell], known: dict[str, Heading | None], lexicon: Lexicon) -> list[Cell]:
    """The row with every text that is a date as a date: a CSV file has no typed cells, so its dates are texts."""
    return [
        date.min
        if isinstance(cell, str) and known[cell] is None and any(map(str.isdigit, cell)) and read_date(cell, lexicon)
        else cell
        for cell in row
    ]


def _looks_like_headings(row: list[Cell], known: dict[str, Heading | None]) -> bool:
    """At least two known headings that fill most of the row, one of them telling; dates may stand among them."""
    texts = [cell for cell in row if isinstance(cell, str)]
    if sum(bool(_AS_WORK.search(text)) for text in texts) >= max(2, len(texts) / 2):
        return False  # "8 x BW | 7 x BW": sets, however their words could be headings
    if any(_LOADED_WORK.fullmatch(text.strip()) for text in texts):
        return False  # "Ada | 165x3x2 | R 1": a load and its repetitions head nothing
    headings = [heading for text in texts if (heading := known[text])]
    exact = {heading.roles[0] + str(heading.number or "") for heading in headings if heading.is_exact}
    dates = sum(isinstance(cell, date) for cell in row)
    if dates:
        return dates >= 3 and len(exact) >= 1 and len(headings) >= len(texts) / 2
    if any(parse_number(text) is not None for text in texts):
        return False
    anchored = any(set(heading.roles) & ANCHORS for heading in headings if heading.is_exact)
    weeks = sum(heading.roles[0] == "week_column" for heading in headings)
    if len({heading.number for heading in headings if heading.roles[0] == "weekday_column"}) >= 3:
        return len(headings) >= 0.5 * len(texts)
    headings = [heading for heading in headings if heading.roles[0] != "weekday_column"]  # a day's row, not its heading
    enough = len(exact) >= 2 or weeks >= 2 or (len(exact) == 1 and len(headings) >= 3)
    return enough and (anchored or weeks >= 2) and len(headings) >= 0.5 * len(texts)


def _names_across(row: list[Cell], known: dict[str, Heading | None], index: int, sheet: Sheet) -> bool:
    """A date or week heading first, then two or more words that nobody knows, and a row with figures below."""
    texts = [cell for cell in row if cell is not None]
    first = known.get(texts[0]) if isinstance(texts[0], str) else None
    others = [
        cell for cell in texts[1:] if isinstance(cell, str) and known[cell] is None and not re.search(r"\d", cell)
    ]
    is_axis = first is not None and first.is_exact and bool({"date", "week", "weekday"} & set(first.roles))
    below = sheet.rows[index + 1] if index + 1 < len(sheet.rows) else []
    has_figures = any(isinstance(cell, float) or re.search(r"\d", as_text(cell)) for cell in below if cell is not None)
    return is_axis and len(others) >= 2 and len(others) == len(texts) - 1 and has_figures


def _stands_over_dates(
    row: list[Cell], known: dict[str, Heading | None], index: int, sheet: Sheet, lexicon: Lexicon
) -> bool:
    """Words that differ, one of them for dates with a date right below it, and another known heading beside it."""
    filled = [(column, cell) for column, cell in enumerate(row) if cell is not None]
    texts = [cell for _, cell in filled if isinstance(cell, str)]
    if len(texts) != len(filled) or len(set(texts)) != len(texts) or index + 1 >= len(sheet.rows):
        return False
    exact = {column: found for column, cell in filled if (found := known.get(str(cell))) is not None and found.is_exact}
    below = sheet.rows[index + 1]
    dated = [column for column, found in exact.items() if {"date", "timestamp"} & set(found.roles)]
    has_dates = any(column < len(below) and read_date(below[column], lexicon) is not None for column in dated)
    return has_dates and len({found.roles[0] for found in exact.values()}) >= 2
