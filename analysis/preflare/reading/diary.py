"""Diaries found: lines of text without columns, a date, what was done, how it felt. diary_rows.py reads them."""

from preflare.reading.coded import CodedRows
from preflare.reading.dates import Written, read_date
from preflare.reading.diary_lines import (
    day_heads,
    first_day,
    has_sets,
    in_lines,
    lines_of,
    names_week,
    week_date,
    without_bullet,
)
from preflare.reading.lexicon import Lexicon
from preflare.reading.settled_roles import SHORTHAND
from preflare.reading.shorthand import parse_work
from preflare.reading.tables import SheetTables, Table
from preflare.reading.text import Cell, as_text
from preflare.reading.workbook import Sheet


def diary_dates(sheet: Sheet, lexicon: Lexicon) -> list[Written]:
    """What the lines of a sheet that begin with dates say."""
    lines = lines_of(sheet)
    heads = day_heads(lines, lexicon)
    weeks = (week_date(line, lexicon) for line in lines if not heads and names_week(line, lexicon))
    return [head.written for head in heads.values()] + [week for week in weeks if week is not None]


def title_lines(sheet: Sheet, lexicon: Lexicon) -> list[str]:
    """The lines of a diary before its first day."""
    lines = lines_of(sheet)
    return lines[: first_day(lines, day_heads(lines, lexicon), lexicon)]


def is_diary(sheet: Sheet, lexicon: Lexicon) -> bool:
    """Whether a sheet without headings has lines that are dates, lines that are work, and a lift named with some."""
    rows = [cells for cells in sheet.rows if any(cell is not None for cell in cells)]
    if _is_of_many(rows, lexicon):
        return False
    lines = [line for line in lines_of(sheet) if line]
    if first_day(lines, day_heads(lines, lexicon), lexicon) == len(lines):
        return False
    work = [(at, line) for at, line in enumerate(lines) if has_sets(line) and parse_work(line, lexicon).sets]
    if any(one.exercise for _, line in work for one in parse_work(line, lexicon).sets):
        return True
    return any(_names_lift(above, lexicon) for at, _ in work for above in lines[max(0, at - 4) : at])


def _names_lift(line: str, lexicon: Lexicon) -> bool:
    words = without_bullet(line).split(":")[0].split(",")[0].split("(")[0]
    return lexicon.exercise.exact(words) is not None


def is_of_lines(sheet: Sheet) -> bool:
    """Whether a text file is lines rather than cells: most of them have no delimiter."""
    rows = [cells for cells in sheet.rows if cells] if sheet.lines else []
    return sum(len(cells) == 1 for cells in rows) > len(rows) / 2


def has_columns(sheet: Sheet, tables: SheetTables) -> bool:
    """Whether any table has rows of the shape of its headings: most of those below fill two of its columns or more.

    A line that explains the signs of a diary may read like headings; nothing but lines stands below it.
    """
    return any(_is_filled(sheet, table) for table in tables.tables)


def _is_filled(sheet: Sheet, table: Table) -> bool:
    if isinstance(sheet.rows, CodedRows) or not is_of_lines(sheet):
        return True
    filled = [sum(cell is not None for cell in sheet.rows[row]) for row in table.body]
    return sum(n > 1 for n in filled) > sum(n == 1 for n in filled)


def unfolded(sheet: Sheet, lexicon: Lexicon) -> Sheet | None:
    """A sheet of text alone as the lines of a diary; None for any other sheet."""
    if isinstance(sheet.rows, CodedRows) or (not is_of_lines(sheet) and _is_of_many(list(sheet.rows), lexicon)):
        return None
    found = None if any(_is_row_of_table(cells, lexicon) for cells in sheet.rows) else in_lines(sheet)
    return found if found is not None and is_diary(found, lexicon) else None


def _is_row_of_table(cells: list[Cell], lexicon: Lexicon) -> bool:
    """Whether a row has a date and behind it several cells that are sets and name no lift."""
    texts = [as_text(cell) for cell in cells]
    bare = [text for text in texts[1:] if SHORTHAND.search(text) and not any(map(str.isalpha, text.replace("x", "")))]
    return len(bare) > 1 and read_date(texts[0], lexicon) is not None


def _is_of_many(rows: list[list[Cell]], lexicon: Lexicon) -> bool:
    """Whether rows of one width hold an exercise and then work in several cells: whose each is stands above them, if
    anywhere. Lines that commas cut have as many cells as it happens."""
    texts = [[as_text(cell) for cell in cells if cell is not None] for cells in rows]
    many = [cells for cells in texts if sum(SHORTHAND.search(cell) is not None for cell in cells[1:]) > 1]
    named = [cells for cells in many if not any(map(str.isdigit, cells[0]))]
    is_bare = all(lexicon.exercise.exact(cells[0]) for cells in named)
    return bool(named) and is_bare and len({len(cells) for cells in named}) == 1
