"""The fast way through a long table of one set a row: each distinct cell is read once, by the row reader itself.

A row whose parts (plain_parts.py) are all ordinary is put together from them, without being read. Any other row (blanks
that take over from above, figures that are none, remarks), the row before it, and the first row of every distinct cell
go through the row reader in their order, so that what they say, and what is noted of words, units and assumptions, is
the same as when all rows do.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, cast

import numpy as np
import polars as pl
from numpy.typing import NDArray

from preflare.reading import plain_parts
from preflare.reading.coded import BLANK, CodedRows, Mask
from preflare.reading.context import SheetContext
from preflare.reading.framed import TYPES
from preflare.reading.lines import line_at
from preflare.reading.plain_parts import (
    MARKS,
    ONLY_BLANK,
    PAIN,
    SET_FIELDS,
    Numbers,
    PartRead,
    Read,
    columns_by_part,
    model_row,
    read_parts,
)
from preflare.reading.records import table_reader
from preflare.reading.rows import PainRow, SetRow
from preflare.reading.tables import Table
from preflare.reading.text import Cell
from preflare.reading.workbook import Sheet


@dataclass(slots=True)
class PlainRows:
    """The ordinary rows of one sheet. sets, pain: frames of rows with `at`, the row's number in the sheet from 0."""

    file: str
    sheet: Sheet
    sets: pl.DataFrame
    pain: pl.DataFrame

    def other_rows(self) -> Iterator[tuple[int, list[Cell]]]:
        """The rows of the sheet that are in no frame, with their numbers from 0."""
        is_framed = np.zeros(len(self.sheet.rows), np.bool_)
        is_framed[self.sets["at"].to_numpy()] = True
        return ((row, self.sheet.rows[row]) for row in np.flatnonzero(~is_framed).tolist())

    @property
    def source(self) -> tuple[str, str]:
        return self.file, self.sheet.name


def read_plain(context: SheetContext, table: Table) -> PlainRows | None:
    """Read a long table the fast way; None, and nothing read, when it has no such layout or few ordinary rows.

    Rows that are not ordinary are read into the context's yield, as ever.
    """
    columns = columns_by_part(table)
    if columns is None or not isinstance(context.sheet.rows, CodedRows):
        return None
    rows, body = context.sheet.rows, np.asarray(table.body, np.int64)
    model = model_row(context, table, rows, max(index for _, used in columns for index in used) + 1)
    read = read_parts(context, table, rows, body, columns, model) if model else None
    if read is None or model is None:
        return None
    is_ordinary = _ordinary(context, table, rows, body, read)
    used = [rows.columns[index].codes[body] for _, part_columns in columns for index in part_columns]
    by_reader = _for_the_reader(is_ordinary, used)
    if table.first("set_number"):
        by_reader |= _twice(rows, body)
    if by_reader.sum() > plain_parts.MOST_BY_READER * len(body):
        return None
    if any(_governs(context, row) for row in body[by_reader].tolist()):
        return None
    reader = table_reader(context, table)
    for row in body[by_reader].tolist():
        reader.read_row(row)
    return _put_together(context, body, ~by_reader, read, model)


def _governs(context: SheetContext, row: int) -> bool:
    """Whether a row is a line of text that holds for the rows below it."""
    line = line_at(context.sheet, row, context.words)
    return line is not None and line.kind in {"day", "weekday", "week", "exercise", "bar"}


# Which rows ---------------------------------------------------------------------------------------


def _ordinary(context: SheetContext, table: Table, rows: CodedRows, body: Numbers, read: list[PartRead]) -> Mask:
    """bool (n_body,): rows of which every part is ordinary and that hold nothing else."""
    ordinary = np.ones(len(body), np.bool_)
    for one in read:
        ordinary &= one.is_ordinary()
    for column in table.having(*ONLY_BLANK):
        ordinary &= rows.columns[column.index].codes[body] == BLANK
    if context.sheet.errors:
        ordinary &= ~np.isin(body, [row for row, _ in context.sheet.errors])
    return ordinary


def _for_the_reader(is_ordinary: Mask, codes: list[NDArray[np.int32]]) -> Mask:
    """bool (n_body,): rows that are not ordinary, the row before each, and the first ordinary one of every cell.

    So what is noted of words and people stands in the order of their first use.
    """
    chosen = ~is_ordinary
    chosen[:-1] |= ~is_ordinary[1:]
    ordinary = np.flatnonzero(is_ordinary)
    for column in codes:
        chosen[ordinary[_firsts(column[ordinary])]] = True
    return chosen


def _firsts(codes: NDArray[np.int32]) -> Numbers:
    """The first place of every code."""
    first = np.full(int(codes.max(initial=0)) + 1, -1, np.int64)
    first[codes[::-1]] = np.arange(len(codes) - 1, -1, -1)
    return first[first >= 0]


def _twice(rows: CodedRows, body: Numbers) -> Mask:
    """bool (n_body,): rows that stand a second time in the sheet, cell by cell, and the rows that they repeat."""
    cells = pl.DataFrame({str(i): column.codes[body] for i, column in enumerate(rows.columns)})
    return cells.is_duplicated().to_numpy()


# Putting together ---------------------------------------------------------------------------------


def _put_together(
    context: SheetContext, body: Numbers, chosen: Mask, read: list[PartRead], model: tuple[list[Cell], Read]
) -> PlainRows:
    """The sets and reports of the chosen rows of the body, field by field from their parts."""
    at = body[chosen]
    lines = np.asarray(context.sheet.line_numbers, np.int32)[at]
    place = {"file": context.file, "sheet": context.sheet.name}
    plain: dict[str, Any] = {name: getattr(model[1].lift_set, name) for name in SET_FIELDS}
    columns: dict[str, pl.Series | pl.Expr] = {"at": pl.Series(at, dtype=pl.UInt32), "row": pl.Series(lines)}
    for one in read:
        codes = one.codes[chosen]
        for name in one.part.fields:
            told = _spread(name, [None if r is None else getattr(r.lift_set, name) for r in one.read], codes)
            columns[name] = told | columns[name] if name in MARKS and name in columns else told
        if "load_kg" in one.part.fields:
            columns["column"] = _spread(
                "column", [None if r is None else r.lift_set.place.column for r in one.read], codes
            )
        _count_choices(context, one, codes)
    rest = {name: value for name, value in (plain | place).items() if name not in columns}
    types = TYPES[SetRow]
    sets = pl.DataFrame({name: columns[name] for name in columns}).with_columns(
        pl.lit(value, dtype=types[name]).alias(name) for name, value in rest.items()
    )
    sets = sets.select("at", *(pl.col(name).cast(dtype) for name, dtype in types.items()))
    return PlainRows(context.file, context.sheet, sets, _reports(sets, chosen, read))


def _count_choices(context: SheetContext, one: PartRead, codes: Numbers) -> None:
    """Count the words of rows that were not read; the first row of each word was, so the word is noted already."""
    for read, n in zip(one.read, np.bincount(codes, minlength=len(one.read)).tolist(), strict=True):
        for key, times in read.choices.items() if read is not None and n else ():
            entry = context.choices.seen[key]
            entry[3] = cast(int, entry[3]) + n * times


def _spread(name: str, values: list[Any], codes: Numbers) -> pl.Series:
    """Each row's value, from those of the combinations."""
    return pl.Series(name, values, dtype=TYPES[SetRow][name]).gather(codes)


def _reports(sets: pl.DataFrame, chosen: Mask, read: list[PartRead]) -> pl.DataFrame:
    """The pain reports of the chosen rows, in the order of rows and of columns."""
    types = TYPES[PainRow]
    of_set = ("at", "athlete", "date", "file", "sheet", "row")
    found = [pl.DataFrame(schema={"at": pl.UInt32, **types})]
    for one in (one for one in read if one.part is PAIN):
        reports = [None if r is None else r.pain for r in one.read]
        has_report = np.fromiter((report is not None for report in reports), np.bool_, len(reports))
        codes = one.codes[chosen]
        rows = np.flatnonzero(has_report[codes])
        own: dict[str, list[Any]] = {
            name: [None if report is None else getattr(report, name) for report in reports]
            for name in types if name not in (*of_set, "column")
        }  # fmt: skip
        own["column"] = [None if report is None else report.place.column for report in reports]
        told = pl.DataFrame(own, schema={name: types[name] for name in own})[codes[rows]]
        found.append(sets[rows].select(of_set).hstack(told).select("at", *types))
    return pl.concat(found).sort("at", maintain_order=True)
