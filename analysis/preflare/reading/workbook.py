"""Workbooks (XLSX, XLS, ODS) to sheets of cells: merged cells filled, error cells and hidden sheets made known.

The XLSX parts are scanned first: one stray cell in the far corner of a sheet would otherwise exhaust the memory, and
error cells would look empty (both are properties of the dense reader beneath). XLS and ODS are scanned for errors too.
"""

import io
import re
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import PurePosixPath

from preflare.reading.coded import code_rows, is_long
from preflare.reading.old_workbook import error_cells_of_xls
from preflare.reading.open_document import error_cells
from preflare.reading.text import Cell, column_index, tidy

MAX_CELLS = 20_000_000  # of a sheet's bounding box
_CELL = re.compile(rb'<(?:\w+:)?c [^>]*?r="([A-Z]{1,3})(\d{1,7})"([^>]*?)(/?)>')
_ROW = re.compile(rb'r="[A-Z]{0,3}(\d{1,7})"')  # without a boundary before it: that would take twice as long
_LETTERS = re.compile(rb'r="([A-Z]{1,3})\d')
_ERROR_ATTRIBUTE = re.compile(rb'\bt="e"')
_VALUE = re.compile(rb"<(?:\w+:)?v>([^<]*)</")
_HIDDEN_ROW = re.compile(rb'<(?:\w+:)?row [^>]*\bhidden="(?:1|true)"')


class CannotReadError(Exception):
    """The file cannot be read at all; the message is the plain reason with its remedy."""


@dataclass(slots=True)
class Sheet:
    """One sheet as a grid. line_numbers[i] is the row number of rows[i] as the user sees it."""

    name: str
    rows: Sequence[list[Cell]]
    line_numbers: Sequence[int]
    is_hidden: bool = False
    merged: set[tuple[int, int]] = field(default_factory=set)  # (row, column) filled from a merged cell, 0-based
    errors: dict[tuple[int, int], str] = field(default_factory=dict)  # (row, column) -> error text, 0-based
    remarks: tuple[str, ...] = ()
    refused: str | None = None
    lines: Sequence[str] = ()  # of a text file that is not long: its lines as they stand, blanks in front included


def cell_at(sheet: Sheet, row: int, index: int) -> Cell:
    """The cell of a sheet, None beyond its end."""
    cells = sheet.rows[row]
    return cells[index] if index < len(cells) else None


@dataclass(frozen=True, slots=True)
class _Scan:
    """What the XML of a sheet says before it is read: its extent, error cells, hidden rows."""

    n_rows: int
    n_columns: int
    errors: dict[tuple[int, int], str]
    hidden_rows: int


def read_workbook(content: bytes) -> list[Sheet]:
    """Every worksheet of a workbook. Raises CannotReadError with a plain reason."""
    from python_calamine import CalamineError, PasswordError, SheetTypeEnum, XmlError, ZipError, load_workbook

    scans = _scan_xlsx(content) if content.startswith(b"PK") else {}
    errors = {} if scans else error_cells(content) if content.startswith(b"PK") else error_cells_of_xls(content)
    _refuse_absurd(scans)
    try:
        with load_workbook(io.BytesIO(content)) as book:
            kept = [meta for meta in book.sheets_metadata if meta.typ is SheetTypeEnum.WorkSheet]
            sheets = [_read_sheet(book, meta, scans.get(meta.name), errors.get(meta.name, {})) for meta in kept]
    except PasswordError:
        raise CannotReadError("it is protected by a password. Save it without one and import again.") from None
    except (ZipError, XmlError, CalamineError, OSError, ValueError) as problem:
        raise CannotReadError(
            f"it is damaged or no workbook ({_first_line(problem)}). Open it, save it again and import the copy."
        ) from None
    except BaseException as problem:  # the reader beneath reports some broken files by a panic, which is no Exception
        if isinstance(problem, KeyboardInterrupt | SystemExit | MemoryError):
            raise
        raise CannotReadError(
            f"it is damaged ({_first_line(problem)}). Open it, save it again and import the copy."
        ) from None
    if not sheets:
        raise CannotReadError("it holds no worksheet.")
    return sheets


def _first_line(problem: BaseException) -> str:
    return (str(problem).splitlines() or [type(problem).__name__])[0][:120]


def _read_sheet(book: object, meta: object, scan: _Scan | None, told_errors: dict[tuple[int, int], str]) -> Sheet:
    from python_calamine import SheetVisibleEnum

    sheet = book.get_sheet_by_name(meta.name)  # type: ignore[attr-defined]
    name: str = meta.name  # type: ignore[attr-defined]
    height, width = sheet.total_height, sheet.total_width
    if height * max(width, 1) > MAX_CELLS:
        return Sheet(name, [], [], refused=_absurd(name, height, width))
    rows = sheet.to_python(skip_empty_area=False)
    hidden = meta.visible is not SheetVisibleEnum.Visible  # type: ignore[attr-defined]
    ranges = sheet.merged_cell_ranges or []
    by_columns = is_long(len(rows)) and not ranges
    if not by_columns:
        rows = [[tidy(cell) for cell in row] for row in rows]
    merged = _fill_merged(rows, ranges)
    remarks = []
    if hidden:
        remarks.append("This sheet is hidden in the workbook; it was read.")
    if scan and scan.hidden_rows:
        remarks.append(f"{scan.hidden_rows} hidden rows were read like the others.")
    errors = scan.errors if scan else told_errors
    for (row, column), text in errors.items():
        if row < len(rows) and column < len(rows[row]):
            rows[row][column] = text
    kept = code_rows(rows) if by_columns else rows
    return Sheet(name, kept, range(1, len(rows) + 1), hidden, merged, errors, tuple(remarks))


def _fill_merged(rows: list[list[Cell]], ranges: list[tuple[tuple[int, int], tuple[int, int]]]) -> set[tuple[int, int]]:
    """Give every cell of a merged range the value of its first; returns the cells that were filled."""
    filled = set()
    for (top, left), (bottom, right) in ranges:
        if top >= len(rows) or left >= len(rows[top]):
            continue
        value = rows[top][left]
        if value is None or (bottom - top) * (right - left) > 100_000:
            continue
        for row in range(top, min(bottom, len(rows) - 1) + 1):
            for column in range(left, min(right, len(rows[row]) - 1) + 1):
                if (row, column) != (top, left) and rows[row][column] is None:
                    rows[row][column] = value
                    filled.add((row, column))
    return filled


def _refuse_absurd(scans: dict[str, _Scan]) -> None:
    for name, scan in scans.items():
        if scan.n_rows * max(scan.n_columns, 1) > MAX_CELLS:
            raise CannotReadError(_absurd(name, scan.n_rows, scan.n_columns))


def _absurd(name: str, height: int, width: int) -> str:
    return (
        f'sheet "{name}" reaches to row {height:,} and column {width:,}, so one stray cell lies far from the log. '
        "Delete the empty rows and columns after the log, save and import again."
    )


def _scan_xlsx(content: bytes) -> dict[str, _Scan]:
    """Extent and error cells of each sheet of an XLSX, by sheet name; {} where the parts cannot be found (ODS)."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            parts = sheet_parts(archive)
            return {name: _scan_part(archive.read(part)) for name, part in parts.items()}
    except (zipfile.BadZipFile, KeyError, OSError, RuntimeError, ValueError, NotImplementedError, EOFError):
        return {}
    except Exception:  # zlib.error and struct.error on damaged archives: the reader beneath will say what is wrong
        return {}


def sheet_parts(archive: zipfile.ZipFile) -> dict[str, str]:
    """Sheet name -> path of its XML part (ECMA-376 part 1, 18.2.19, and part 2, relationships)."""
    from html import unescape

    if "xl/workbook.xml" not in archive.namelist():
        return {}
    book = archive.read("xl/workbook.xml").decode("utf-8", "replace")
    relations = archive.read("xl/_rels/workbook.xml.rels").decode("utf-8", "replace")
    targets = {}
    for tag in re.findall(r"<(?:\w+:)?Relationship\b[^>]*>", relations):
        found = dict(re.findall(r'(\w+)="([^"]*)"', tag))
        targets[found.get("Id", "")] = found.get("Target", "")
    parts = {}
    for tag in re.findall(r"<(?:\w+:)?sheet\b[^>]*>", book):
        found = dict(re.findall(r'([\w:]+)="([^"]*)"', tag))
        relation = next((value for key, value in found.items() if key.endswith(":id")), "")
        target = targets.get(relation, "")
        path = target.lstrip("/") if target.startswith("/") else str(PurePosixPath("xl") / target)
        if path in archive.namelist():
            parts[unescape(found.get("name", ""))] = path
    return parts


def _scan_part(xml: bytes) -> _Scan:
    n_rows = max((int(number) for number in set(_ROW.findall(xml))), default=0)
    n_columns = max((column_index(letters.decode()) + 1 for letters in set(_LETTERS.findall(xml))), default=0)
    errors = {}
    if b't="e"' in xml:
        for match in _CELL.finditer(xml):
            if _ERROR_ATTRIBUTE.search(match[0]):
                value = _VALUE.search(xml, match.end(), match.end() + 4000)
                place = int(match[2]) - 1, column_index(match[1].decode())
                errors[place] = value[1].decode("utf-8", "replace") if value else "#ERROR"
    n_hidden = len(_HIDDEN_ROW.findall(xml)) if b"hidden=" in xml else 0
    return _Scan(n_rows, n_columns, errors, n_hidden)
