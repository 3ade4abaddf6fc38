"""A long sheet as columns: the distinct cells of each column once, and for every row the number of its cell.

A log of many thousand rows repeats its words and figures. What is found out about a distinct cell holds for every row
that has it, so that a rule over a column costs as much as the column has different cells.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, zip_longest
from typing import TYPE_CHECKING, Any, overload

import numpy as np
from numpy.typing import NDArray

from preflare.reading.text import Cell, tidy

if TYPE_CHECKING:
    import polars as pl

LONG = 3_000  # rows from which the sheet is worth keeping by columns
LINES_AT_ONCE = 200_000  # of a text file; bounds what splitting them takes for a moment
RECORDS_AT_ONCE = 20_000
BLANK = 0  # the code of a cell that is empty, or beyond the end of its row

_SURROGATE = re.compile(r"[\ud800-\udfff]")
_NEVER = "\x1f"  # the unit separator of ASCII: no log has it

Codes = NDArray[np.int32]
Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class CodedColumn:
    """One column. cells: its distinct cells, first of them None. codes: int (n_rows,), which of them a row has."""

    cells: list[Cell]
    codes: Codes

    def where(self, flags: Iterable[bool]) -> Mask:
        """bool (n_rows,): the rows whose cell is flagged; flags: one for each of `cells`."""
        flagged = np.fromiter(flags, np.bool_, len(self.cells))
        return flagged[self.codes] if flagged.any() else np.zeros(len(self.codes), np.bool_)


@dataclass(frozen=True, slots=True, eq=False)
class CodedRows(Sequence[list[Cell]]):
    """All rows of a sheet by columns; a row is put together when asked for. widths: int (n_rows,), cells a row."""

    columns: list[CodedColumn]
    widths: Codes

    def __len__(self) -> int:
        return len(self.widths)

    @overload
    def __getitem__(self, at: int) -> list[Cell]: ...
    @overload
    def __getitem__(self, at: slice) -> "CodedRows": ...
    def __getitem__(self, at: int | slice) -> "list[Cell] | CodedRows":
        if isinstance(at, slice):
            return CodedRows([CodedColumn(one.cells, one.codes[at]) for one in self.columns], self.widths[at])
        return [column.cells[column.codes[at]] for column in self.columns[: self.widths[at]]]

    def __iter__(self) -> Iterator[list[Cell]]:
        for start in range(0, len(self), LINES_AT_ONCE):
            part = slice(start, start + LINES_AT_ONCE)
            columns = [[column.cells[code] for code in column.codes[part].tolist()] for column in self.columns]
            for width, cells in zip(self.widths[part].tolist(), zip(*columns, strict=True), strict=True):
                yield list(cells[:width])

    def filled(self) -> Mask:
        """bool (n_rows,): the rows with any cell that is not blank."""
        is_filled = np.zeros(len(self), np.bool_)
        for column in self.columns:
            is_filled |= column.codes != BLANK
        return is_filled


def cells_in(rows: Sequence[list[Cell]], column: int, at: Sequence[int]) -> list[Cell]:
    """The cells of one column in the rows `at`; rows that end before it are passed over."""
    if not isinstance(rows, CodedRows):
        return [rows[row][column] for row in at if column < len(rows[row])]
    if column >= len(rows.columns) or not len(at):
        return []
    asked = np.asarray(at)
    coded = rows.columns[column]
    return [coded.cells[code] for code in coded.codes[asked[rows.widths[asked] > column]].tolist()]


def cells_beside(rows: CodedRows, column: int, at: Sequence[int]) -> list[Cell]:
    """The cell of one column in each of the rows `at`; None in rows that end before it."""
    if column >= len(rows.columns):
        return [None] * len(at)
    coded = rows.columns[column]
    return [coded.cells[code] for code in coded.codes[np.asarray(at, np.int64)].tolist()]


def distinct_in(rows: Sequence[list[Cell]], column: int, at: Sequence[int]) -> set[Cell]:
    """The distinct cells of one column in the rows `at`."""
    if not isinstance(rows, CodedRows) or column >= len(rows.columns):
        return set(cells_in(rows, column, at))
    coded = rows.columns[column]
    counts = np.bincount(coded.codes[np.asarray(at, np.int64)], minlength=len(coded.cells))
    return {cell for cell, n in zip(coded.cells, counts.tolist(), strict=True) if n}


def distinct_in_order(rows: Sequence[list[Cell]], column: int, at: Sequence[int]) -> list[Cell]:
    """The cells of one column in the rows `at`, in their order; of a long sheet each distinct one where it is first."""
    if not isinstance(rows, CodedRows) or column >= len(rows.columns):
        return cells_in(rows, column, at)
    coded = rows.columns[column]
    codes, first = np.unique(coded.codes[np.asarray(at, np.int64)], return_index=True)
    return [coded.cells[code] for code in codes[np.argsort(first)].tolist()]


def code_rows(rows: Sequence[Sequence[object]]) -> CodedRows:
    """Rows of cells by columns, tidied."""
    widths = np.fromiter(map(len, rows), np.int32, len(rows))
    return CodedRows([_code_cells(cells) for cells in zip_longest(*rows)], widths)


def code_records(records: Iterable[list[str]]) -> CodedRows:
    """Records of text as they come, by columns, tidied; only so many at once are held as they are."""
    coming = iter(records)
    widths: list[Codes] = []
    columns: list[tuple[dict[str | None, int], list[Codes]]] = []
    while chunk := list(islice(coming, RECORDS_AT_ONCE)):
        for at, cells in enumerate(zip_longest(*chunk)):
            if at == len(columns):
                columns.append(({None: BLANK}, [np.zeros(len(part), np.int32) for part in widths]))
            place, parts = columns[at]
            for cell in dict.fromkeys(cells):
                place.setdefault(cell, len(place))
            parts.append(np.fromiter(map(place.__getitem__, cells), np.int32, len(cells)))
        widths.append(np.fromiter(map(len, chunk), np.int32, len(chunk)))
        for _, parts in columns:
            if len(parts) < len(widths):
                parts.append(np.zeros(len(chunk), np.int32))
    coded = [_tidied(place, len(place), np.concatenate(parts)) for place, parts in columns]
    return CodedRows(coded, np.concatenate(widths or [np.zeros(0, np.int32)]))


def _code_cells(cells: Sequence[object]) -> CodedColumn:
    keys: Sequence[Any] = cells
    if bool in set(map(type, cells)):  # True and 1.0 are equal, but not the same cell
        keys = [(type(cell), cell) for cell in cells]
    place = {key: at for at, key in enumerate(dict.fromkeys(keys))}
    codes = np.fromiter(map(place.__getitem__, keys), np.int32, len(cells))
    return _tidied((key if keys is cells else key[1] for key in place), len(place), codes)


def _tidied(distinct: Iterable[object], n: int, codes: Codes) -> CodedColumn:
    """A column of distinct raw cells with these tidied; those that are then the same share one code."""
    index: dict[Any, int] = {(type(None), None): BLANK}
    cells: list[Cell] = [None]
    new = np.empty(n, np.int32)
    for at, raw in enumerate(distinct):
        cell = tidy(raw)
        new[at] = index.setdefault((type(cell), cell), len(cells))
        if new[at] == len(cells):
            cells.append(cell)
    return CodedColumn(cells, new[codes])


def is_long(n_rows: int) -> bool:
    """Whether a sheet of so many rows is worth keeping by columns."""
    return n_rows >= LONG


def is_plain(text: str) -> bool:
    """Whether every line of the text is a row and every delimiter ends a cell: no quotation marks, no odd line ends."""
    is_text = text.isascii() or _SURROGATE.search(text) is None
    return is_text and '"' not in text and text.count("\r") == text.count("\r\n") and _NEVER not in text


def code_lines(text: str, delimiter: str) -> CodedRows:
    """The lines of a plain text, split at every delimiter and tidied, by columns."""
    import polars as pl

    lines = pl.read_csv(
        text.encode(), has_header=False, infer_schema=False, quote_char=None, separator=_NEVER, new_columns=["line"]
    )["line"]
    widths = (lines.str.count_matches(delimiter, literal=True) + 1).fill_null(0).cast(pl.Int32).to_numpy()
    width = int(widths.max()) if len(widths) else 0
    names = [f"field_{i}" for i in range(width)]
    kinds = pl.Schema({name: pl.Categorical(pl.Categories.random()) for name in names})
    parts = [
        lines.slice(start, LINES_AT_ONCE).str.split_exact(delimiter, width - 1).struct.unnest().cast(kinds)
        for start in range(0, len(lines), LINES_AT_ONCE)
    ]
    return CodedRows([_coded_texts(pl.concat([part[name] for part in parts])) for name in names], widths)


def _coded_texts(texts: "pl.Series") -> CodedColumn:
    """A categorical column with its texts tidied; texts that are then the same share one code."""
    import polars as pl

    distinct = texts.unique(maintain_order=True).drop_nulls()
    numbers, words = distinct.to_physical().to_list(), distinct.cast(pl.String).to_list()
    by_number = [""] * (max(numbers, default=-1) + 2)  # the last for cells that are not there
    for number, word in zip(numbers, words, strict=True):
        by_number[number] = word
    codes = texts.to_physical().cast(pl.Int32).fill_null(len(by_number) - 1).to_numpy()
    return _tidied(by_number, len(by_number), codes)
