"""Sheets without headings: columns told by season.toml by their letters, or by what they hold where that is plain.

Plain is: one column of dates, one of known exercises, and either work in short or loads beside repetitions; or dates
beside text that names exercises with their sets, as in a diary. Names may stand in one more. Everything else stays
open, and the remedy says which entry to write.
"""

import re
from collections.abc import Sequence
from itertools import dropwhile, takewhile
from statistics import median

from preflare.reading.dates import read_date
from preflare.reading.headings import Heading
from preflare.reading.lexicon import Lexicon, generic_words
from preflare.reading.numbers import parse_number
from preflare.reading.people import looks_like_a_name
from preflare.reading.settled_roles import SHORTHAND
from preflare.reading.shorthand import parse_work
from preflare.reading.tables import Column, SheetTables, Table, settle_roles
from preflare.reading.text import Cell, as_text, column_index, column_letters
from preflare.reading.workbook import Sheet

TOLD = "work with its exercises"
MOST_TOLD = 0.6  # of the cells of a diary's text; some days are rest or remarks
MOST = 0.8  # of a column's filled cells that must be of its kind
FEWEST_ROWS = 3
_SAMPLE = 400


def guessed_roles(sheet: Sheet, lexicon: Lexicon) -> dict[int, str]:
    """Column -> what its cells plainly are; columns that stay open are left out."""
    sample = [sheet.rows[index] for index in range(min(_SAMPLE, len(sheet.rows)))]
    sample = list(dropwhile(_is_wordy, sample))  # titles and headings that nobody knows
    widest = max((sum(cell is not None for cell in row) for row in sample), default=0)
    rows = [row for row in sample if sum(cell is not None for cell in row) >= min(max(widest, 2), 3)]
    if len(rows) < FEWEST_ROWS:
        rows = [row for row in sample if sum(cell is not None for cell in row) >= 2]
    if len(rows) < FEWEST_ROWS:
        return {}
    columns = {
        index: [row[index] for row in rows if index < len(row) and row[index] is not None]
        for index in range(max(len(row) for row in rows))
    }
    roles: dict[int, str] = {}
    for index, cells in columns.items():
        role = _role_of_texts(cells, lexicon) if len(cells) >= 0.5 * len(rows) else None
        if role is not None and (role == "note" or role not in roles.values()):
            roles[index] = role
    numbers = {
        index: found
        for index, cells in columns.items()
        if index not in roles and len(found := _numbers(cells)) >= MOST * max(len(cells), 1) and found
    }
    is_told = {"work", TOLD} & set(roles.values())
    return roles | ({} if is_told else _loads_and_reps(numbers))


def _is_wordy(cells: list[Cell]) -> bool:
    """Whether a row holds nothing but text without any figure."""
    return all(cell is None or (isinstance(cell, str) and not re.search(r"\d", cell)) for cell in cells)


def _role_of_texts(cells: Sequence[Cell], lexicon: Lexicon) -> str | None:
    def share(fits: list[bool]) -> float:
        return sum(fits) / len(fits)

    texts = [cell if isinstance(cell, str) else "" for cell in cells]
    if share([read_date(cell, lexicon) is not None for cell in cells]) >= MOST:
        return "date"
    if share([bool(lexicon.exercise.exact(text)) for text in texts]) >= MOST:
        return "exercise"
    if share([_is_told_work(text, lexicon) for text in texts]) >= MOST_TOLD:
        return TOLD
    if share([SHORTHAND.search(text) is not None for text in texts]) >= MOST:
        return "work"
    if share([_is_name(text, lexicon) for text in texts]) >= MOST:
        return "person"
    return "note" if share([text.count(" ") >= 2 for text in texts]) >= 0.5 else None


def _is_told_work(text: str, lexicon: Lexicon) -> bool:
    """Whether a text names exercises with their sets."""
    is_short = SHORTHAND.search(text) is not None
    return is_short and any(one.exercise for one in parse_work(text, lexicon).sets)


def _is_name(text: str, lexicon: Lexicon) -> bool:
    phrases = (lexicon.exercise, lexicon.bar, lexicon.width, lexicon.position)
    name = looks_like_a_name(text, generic_words(), *(one.known for one in phrases))
    return name is not None and text[:1].isupper() and len(name.split()) == len(text.replace(",", " ").split())


def _numbers(cells: Sequence[Cell]) -> list[float]:
    found = (cell if isinstance(cell, float) else parse_number(as_text(cell)) for cell in cells)
    return [number for number in found if number is not None]


def _loads_and_reps(numbers: dict[int, list[float]]) -> dict[int, str]:
    """Two columns of numbers: the heavier one holds loads, the other whole repetitions. More columns stay open."""
    if len(numbers) != 2:
        return {}
    reps, load = sorted(numbers, key=lambda index: median(numbers[index]))
    is_plain = (
        median(numbers[load]) >= 20
        and all(number == int(number) and 0 <= number <= 30 for number in numbers[reps])
        and median(numbers[load]) > 2 * median(numbers[reps])
    )
    return {load: "load", reps: "reps"} if is_plain else {}


def is_plain(roles: dict[int, str]) -> bool:
    """Whether the columns are enough to read the sheet by."""
    held = set(roles.values())
    return ({"date", "exercise"} <= held and ("work" in held or {"load", "reps"} <= held)) or {"date", TOLD} <= held


def by_letters(told: dict[str, Heading]) -> dict[int, Heading]:
    """The columns that season.toml names by their letters ("A" = "date"): column -> heading."""
    return {column_index(written): heading for written, heading in told.items() if re.fullmatch(r"[A-Z]{1,2}", written)}


def table_without_headings(sheet: Sheet, headings: dict[int, Heading], lexicon: Lexicon) -> SheetTables:
    """The whole sheet as one table, its columns named by a row of words nobody knows above it, else by their letters.

    Rows of text above the first date are title lines.
    """
    filled_rows = [row for row, cells in enumerate(sheet.rows) if any(cell is not None for cell in cells)]
    day = next((index for index, heading in headings.items() if heading.roles[0] == "date"), None)
    above = list(takewhile(lambda row: _is_above(sheet.rows[row], day, lexicon), filled_rows))
    head = sheet.rows[above[-1]] if above and sum(cell is not None for cell in sheet.rows[above[-1]]) > 1 else []
    body = filled_rows[len(above) :]
    filled = {index for row in body for index, cell in enumerate(sheet.rows[row]) if cell is not None}
    columns = []
    for index in sorted(filled | headings.keys()):
        heading = headings.get(index)
        own = head[index] if index < len(head) else None
        written = as_text(own) or f"column {column_letters(index)}"
        columns.append(Column(index, written, heading, heading.roles[0] if heading else "unknown"))
    not_data = dict.fromkeys(above, "title")
    if head:
        not_data[above[-1]] = "headings that are not known"
    titles = [" | ".join(as_text(cell) for cell in sheet.rows[row] if cell is not None) for row in above]
    titles = titles[:-1] if head else titles
    return SheetTables([Table(columns, (), body, titles)], not_data, titles)


def _is_above(cells: list[Cell], day: int | None, lexicon: Lexicon) -> bool:
    """Whether a row stands above what was done: text alone, and no date where dates stand."""
    own = cells[day] if day is not None and day < len(cells) else None
    texts = [cell for cell in cells if cell is not None]
    has_date = own is not None and read_date(own, lexicon) is not None
    return not has_date and all(isinstance(cell, str) and not SHORTHAND.search(cell) for cell in texts)


def find_without_headings(sheet: Sheet, told: dict[str, Heading], lexicon: Lexicon) -> SheetTables | None:
    """The sheet as a table by the letters that season.toml names, else by what its columns plainly hold; else None."""
    headings = by_letters(told)
    if not headings and is_plain(roles := guessed_roles(sheet, lexicon)):
        headings = {
            index: Heading(f"column {column_letters(index)}", ("work" if role == TOLD else role,), True)
            for index, role in roles.items()
        }
    if not headings:
        return None
    found = table_without_headings(sheet, headings, lexicon)
    settle_roles(found.tables[0], sheet, lexicon)
    return found


def entry(file: str, roles: dict[str, str]) -> str:
    """The line for season.toml that names the columns, by letter or by the unknown heading above them."""
    pairs = ", ".join(f'"{written}" = "{role}"' for written, role in roles.items())
    return f'[[source]] file = "{file}", columns = {{ {pairs} }}'


def entry_of_guess(file: str, sheet: Sheet, lexicon: Lexicon) -> str:
    """The line for a sheet that could not be read: what its columns seem to hold, for the user to complete."""
    roles = guessed_roles(sheet, lexicon) or dict(enumerate(("date", "person", "exercise", "load", "reps")))
    return entry(file, {column_letters(i): "work" if role == TOLD else role for i, role in sorted(roles.items())})


def entry_of_table(file: str, table: Table) -> str:
    """The line for a sheet that was read by what its columns hold."""
    return entry(file, {c.written.removeprefix("column "): c.role for c in table.columns if c.heading})
