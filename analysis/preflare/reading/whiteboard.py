"""Whiteboards: lifters across, exercises down, and the day in the corner, on a line of its own, or in the sheet's name.

Each lifter's column becomes a grid of one day, so that rows of ratings and remarks are read as in any grid.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from preflare.reading.dates import read_date, without_frame
from preflare.reading.headings import Heading, parse_heading
from preflare.reading.lexicon import Lexicon
from preflare.reading.people_across import names_someone
from preflare.reading.tables import SHORTHAND, Column, SheetTables, Table
from preflare.reading.text import Cell, as_text, fold, spaces, words_of
from preflare.reading.workbook import Sheet

_LEAST_NAMES = 2


@dataclass(slots=True)
class _Board:
    """The lifters across and the rows of one day below them."""

    header: int
    names: list[tuple[int, str]]
    day: Cell
    body: list[int] = field(default_factory=list)


def find_whiteboards(sheet: Sheet, lexicon: Lexicon) -> SheetTables | None:
    """A table a lifter and day, or None when the sheet is no whiteboard."""
    boards, not_data, titles = _boards(sheet, lexicon)
    boards = [board for board in boards if board.body]
    if not boards or not any(_holds_work(sheet, board, lexicon) for board in boards):
        return None
    tables = [_table(board, index, name, titles) for board in boards for index, name in board.names]
    return SheetTables(tables, not_data, titles)


def _boards(sheet: Sheet, lexicon: Lexicon) -> tuple[list[_Board], dict[int, str], list[str]]:
    """Boards in order, the rows that are none of their bodies with what they hold, and the title lines."""
    boards: list[_Board] = []
    not_data: dict[int, str] = {}
    titles: list[str] = []
    day: Cell = sheet.name if read_date(sheet.name, lexicon) is not None else None
    for row, cells in enumerate(sheet.rows):
        filled = [(index, cell) for index, cell in enumerate(cells) if cell is not None]
        if not filled:
            continue
        if (names := _names_across(filled, lexicon)) is not None:
            corner = filled[0][1] if filled[0][0] < names[0][0] else None
            day = corner if _is_day(corner, lexicon) else day
            boards.append(_Board(row, names, _framed(day)))
            not_data[row] = "headings"
        elif len(filled) == 1 and _is_day(filled[0][1], lexicon):
            day = filled[0][1]
            not_data[row] = "a date line"
            if boards:
                boards.append(_Board(boards[-1].header, boards[-1].names, _framed(day)))
        elif not boards:
            not_data[row] = "title"
            titles.append(" | ".join(dict.fromkeys(as_text(cell) for _, cell in filled)))
            day = day_within(titles[-1], lexicon) or day
        else:
            boards[-1].body.append(row)
    return boards, not_data, titles


def _names_across(filled: Sequence[tuple[int, Cell]], lexicon: Lexicon) -> list[tuple[int, str]] | None:
    """The names of a row that holds nothing else, save one cell in its corner that is a day or a heading."""
    first = filled[0][1]
    is_corner = _is_day(first, lexicon) or (isinstance(first, str) and _is_heading(first, lexicon))
    rest = filled[1:] if is_corner else filled
    names = [(i, spaces(cell)) for i, cell in rest if isinstance(cell, str) and may_be_a_name(cell, lexicon)]
    n_sure = sum(names_someone(name, lexicon) for _, name in names)  # "Jan" and "Mai" are months as well
    is_all = len(names) == len(rest) >= _LEAST_NAMES and len({name for _, name in names}) == len(names)
    return names if is_all and 2 * n_sure >= len(names) and names[0][0] > 0 else None


def may_be_a_name(text: str, lexicon: Lexicon) -> bool:
    """Whether a text is one to three capitalised words that are neither a heading nor an exercise or bar."""
    parts = spaces(text).replace(".", " ").split()
    if not 1 <= len(parts) <= 3 or not all(part.isalpha() and part[0].isupper() for part in parts):
        return names_someone(text, lexicon)
    words = {fold(part) for part in parts} - lexicon.month.known.keys()
    return not words & {*lexicon.exercise.known, *lexicon.bar.known} and fold(text) not in lexicon.headings_of


def _is_heading(text: str, lexicon: Lexicon) -> bool:
    heading = parse_heading(text, lexicon)
    return heading is not None and bool({"exercise", "date", "weekday", "person"} & set(heading.roles))


def _is_day(cell: Cell, lexicon: Lexicon) -> bool:
    return cell is not None and not isinstance(cell, float) and read_date(_framed(cell), lexicon) is not None


def _framed(cell: Cell) -> Cell:
    return without_frame(cell) if isinstance(cell, str) else cell


def day_within(title: str, lexicon: Lexicon) -> str | None:
    """The day that a title line gives among its words ("Session of Monday 2 March 2026")."""
    words = title.replace("|", " ").split()
    for start in range(len(words)):
        for end in range(len(words), start, -1):
            text = " ".join(words[start:end]).strip(" ,;:-–—")
            if any(map(str.isdigit, text)) and read_date(text, lexicon) is not None:
                return text
    return None


def _holds_work(sheet: Sheet, board: _Board, lexicon: Lexicon) -> bool:
    """Whether some row below the names has a known exercise at its left and work in short under a name."""
    for row in board.body:
        cells = sheet.rows[row]
        label = next((as_text(cell) for cell in cells[: board.names[0][0]] if cell is not None), "")
        is_lift = any(True for _ in lexicon.exercise.find(words_of(label)))
        under = (cells[index] for index, _ in board.names if index < len(cells))
        if is_lift and any(isinstance(cell, str) and SHORTHAND.search(cell) for cell in under):
            return True
    return False


def _table(board: _Board, index: int, name: str, titles: list[str]) -> Table:
    label = Column(board.names[0][0] - 1, "exercise", Heading("exercise", ("exercise",), True), "exercise")
    own = Column(index, name, None, "day_column", board.day)
    return Table([label, own], (board.header,), board.body, titles, name)
