"""The fast way through a long table of one set a row: each distinct cell is read once, by the row reader itself.

The columns of such a table fall into parts that settle some fields of a set and nothing else: the person, the day, the
exercise with bar and grip, load with repetitions, the effort. Each combination of cells that a part has is put into a
row that is otherwise ordinary, and the row reader says what it makes of it. A row whose parts are all ordinary is then
put together from them, without being read. Any other row (blanks that take over from above, figures that are none,
remarks), the row before it, and the first row of every distinct cell go through the row reader in their order, so that
what they say, and what is noted of words, units and assumptions, is the same as when all rows do.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, cast

import numpy as np
import polars as pl
from numpy.typing import NDArray

from preflare.reading.coded import BLANK, CodedColumn, CodedRows, Mask
from preflare.reading.context import SheetContext, Yield
from preflare.reading.framed import TYPES
from preflare.reading.records import TableReader, table_reader
from preflare.reading.rows import PainRow, SetRow
from preflare.reading.tables import Table
from preflare.reading.text import Cell
from preflare.reading.who_when import Carried
from preflare.reading.words import ChoiceBook
from preflare.reading.workbook import Sheet

Numbers = NDArray[np.int64]
NOT_READ = frozenset({"unknown", "ignored", "weekday"})
ONLY_BLANK = frozenset({"note", "session_rpe", "duration"})  # rows with something there go through the row reader
LOOKED_THROUGH = 300  # rows in which an ordinary one must be found
MOST_COMBINATIONS = 30_000_000  # of the cells of one part, met or not


@dataclass(frozen=True, slots=True)
class Part:
    """Columns that together settle some fields of a set. choices: the kinds of words that are noted with them."""

    roles: frozenset[str]
    fields: tuple[str, ...]
    choices: tuple[str, ...] = ()


_GEAR = ("exercise", "exercise_written", "bar", "bar_written", "bar_position", "grip_width", "grip_style",
         "grip_written")  # fmt: skip
PARTS = (
    Part(frozenset({"person"}), ("athlete",)),
    Part(frozenset({"date"}), ("date",)),
    Part(frozenset({"exercise", "bar", "bar_position", "grip"}), _GEAR, ("exercise", "bar", "bar position", "grip")),
    Part(frozenset({"load", "reps", "sets", "percent"}), ("load_kg", "reps", "is_failed", "note")),
    Part(frozenset({"rpe"}), ("rpe",)),
    Part(frozenset({"rir"}), ("rir",)),
    Part(frozenset({"warm_up"}), ("is_warm_up",)),
    Part(frozenset({"set_number"}), ("is_warm_up",)),
    Part(frozenset({"failed"}), ("is_failed",)),
)
PAIN = Part(frozenset({"pain"}), (), ("severity",))  # each column of ratings is a part of its own
MARKS = ("is_warm_up", "is_failed")  # true when any part says so
NEEDED = ("date", "load_kg")


@dataclass(frozen=True, slots=True)
class Read:
    """What the row reader made of a row on its own: one set, at most one report, and the words noted."""

    lift_set: SetRow
    pain: PainRow | None
    choices: Counter[Any]


@dataclass(slots=True)
class PartRead:
    """A part as read. codes: which combination each row of the body has; read: what each says, None if not ordinary."""

    part: Part
    codes: NDArray[np.int64]
    read: list[Read | None]

    def is_ordinary(self) -> Mask:
        return np.fromiter((one is not None for one in self.read), np.bool_, len(self.read))[self.codes]


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
    columns = _columns_by_part(table)
    if columns is None or not isinstance(context.sheet.rows, CodedRows):
        return None
    rows, body = context.sheet.rows, np.asarray(table.body, np.int64)
    model = _model_row(context, table, rows, [index for _, used in columns for index in used])
    read = _read_parts(context, table, rows, body, columns, model) if model else None
    if read is None or model is None:
        return None
    is_ordinary = _ordinary(context, table, rows, body, read)
    used = [rows.columns[index].codes[body] for _, part_columns in columns for index in part_columns]
    by_reader = _for_the_reader(is_ordinary, used)
    if table.first("set_number"):
        by_reader |= _twice(rows, body)
    if by_reader.sum() > 0.5 * len(body):
        return None
    reader = table_reader(context, table)
    for row in body[by_reader].tolist():
        reader.read_row(row)
    return _put_together(context, body, ~by_reader, read, model)


def _columns_by_part(table: Table) -> list[tuple[Part, list[int]]] | None:
    """Each part with its columns; None when the table has a column that no part knows, or lacks one that is needed."""
    roles = {column.role for column in table.columns} - NOT_READ - ONLY_BLANK
    known = frozenset[str]().union(*(part.roles for part in PARTS), PAIN.roles)
    if not roles <= known or "date" not in roles or not roles & {"load", "reps"}:
        return None
    found = [(part, [column.index for column in table.columns if column.role in part.roles]) for part in PARTS]
    found += [(PAIN, [column.index]) for column in table.having("pain")]
    return [(part, columns) for part, columns in found if columns]


# Reading single rows on their own -----------------------------------------------------------------


def _read_alone(context: SheetContext, table: Table, rows: Sequence[list[Cell]]) -> Iterator[Read | None]:
    """What the row reader makes of each row when nothing stands above it; None unless it is one plain set."""
    sheet = Sheet(context.sheet.name, rows, range(1, len(rows) + 1))
    alone = replace(context, sheet=sheet, out=Yield(), choices=ChoiceBook(), assumptions=[], units_met=set())
    reader = table_reader(alone, replace(table, body=range(len(rows))))
    for row in range(len(rows)):
        alone.out, alone.choices, reader.carried = Yield(), ChoiceBook(), Carried()
        reader.read_row(row)
        yield _one_set(alone, table, reader)


def _one_set(alone: SheetContext, table: Table, reader: TableReader) -> Read | None:
    out = alone.out
    is_more = out.sessions or out.screens or out.rejected or out.not_data or len(out.sets) != 1 or len(out.pain) > 1
    needs_above = reader.carried.exercise is None and table.first("exercise") is not None
    if is_more or needs_above or reader.carried.stamp is not None:
        return None
    counts = Counter({key: cast(int, entry[3]) for key, entry in alone.choices.seen.items()})
    return Read(out.sets[0], out.pain[0] if out.pain else None, counts)


def _model_row(context: SheetContext, table: Table, rows: CodedRows, used: list[int]) -> tuple[list[Cell], Read] | None:
    """An ordinary row with the least in it, and what it says: the frame into which cells are put one part at a time."""
    keep = {"person", "date", "exercise", "load", "reps"}
    kept = {column.index for column in table.columns if column.role in keep}
    width = max(used) + 1
    tried = [rows[row] for row in table.body[:LOOKED_THROUGH]]
    bare = [[row[i] if i in kept and i < len(row) else None for i in range(width)] for row in tried]
    found = zip(bare, _read_alone(context, table, bare), strict=True)
    return next(((row, one) for row, one in found if one is not None and not _says_more(one)), None)


def _says_more(one: Read) -> bool:
    return one.pain is not None or one.lift_set.note is not None or any(getattr(one.lift_set, name) for name in MARKS)


# Parts --------------------------------------------------------------------------------------------


def _read_parts(
    context: SheetContext,
    table: Table,
    rows: CodedRows,
    body: Numbers,
    columns: list[tuple[Part, list[int]]],
    model: tuple[list[Cell], Read],
) -> list[PartRead] | None:
    """Every part with what its combinations say; None when they are too many for reading them to be worth it."""
    combined = [_combined([rows.columns[index] for index in used], body) for _, used in columns]
    if sum(len(cells) for cells, _ in combined) > max(0.5 * len(body), 1):
        return None
    read = []
    for (part, used), (combinations, codes) in zip(columns, combined, strict=True):
        tried = [_with(model[0], used, cells) for cells in combinations]
        said = (_own(part, one, model[1]) for one in _read_alone(context, table, tried))
        read.append(PartRead(part, codes, list(said)))
    return read


def _combined(columns: list[CodedColumn], body: Numbers) -> tuple[list[tuple[Cell, ...]], Numbers]:
    """The combinations of cells that the rows have in these columns, and which of them each row has."""
    sizes = [len(column.cells) for column in columns]
    keys = np.zeros(len(body), np.int64)
    for column, size in zip(columns, sizes, strict=True):
        keys = keys * size + column.codes[body]
    if np.prod(sizes, dtype=float) > MOST_COMBINATIONS:
        met, codes = np.unique(keys, return_inverse=True)
    else:  # counting is far quicker than sorting
        counts = np.bincount(keys)
        met = np.flatnonzero(counts)
        codes = (np.cumsum(counts > 0) - 1)[keys]
    places = np.unravel_index(met, sizes)
    cells = [[column.cells[i] for i in place.tolist()] for column, place in zip(columns, places, strict=True)]
    return list(zip(*cells, strict=True)), codes


def _with(model: list[Cell], used: list[int], cells: tuple[Cell, ...]) -> list[Cell]:
    row = list(model)
    for index, cell in zip(used, cells, strict=True):
        row[index] = cell
    return row


def _own(part: Part, one: Read | None, model: Read) -> Read | None:
    """What a combination says through its own part; None when it reaches into another part's fields."""
    if one is None or (one.pain is not None and part is not PAIN):
        return None
    others = [name for name in TYPES[SetRow] if name in SetRow.__slots__ and name not in part.fields]
    if any(getattr(one.lift_set, name) != getattr(model.lift_set, name) for name in others):
        return None
    return replace(one, choices=Counter({key: n for key, n in one.choices.items() if key[2] in part.choices}))


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
    """bool (n_body,): rows that are not ordinary, the row before each, and the first of every distinct cell.

    The first of the ordinary ones too: what is noted of words and people stands in the order of their first use.
    """
    chosen = ~is_ordinary
    chosen[:-1] |= ~is_ordinary[1:]
    ordinary = np.flatnonzero(is_ordinary)
    for column in codes:
        chosen[_firsts(column)] = True
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
    plain: dict[str, Any] = {name: getattr(model[1].lift_set, name) for name in SetRow.__slots__ if name != "place"}
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
