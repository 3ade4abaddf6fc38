"""The parts of a long table of one set a row, and what the row reader says of every combination of their cells.

A part is the columns that settle some fields of a set and nothing else: the person, the day, the exercise with bar and
grip, load with repetitions, the effort. Each combination of cells that a part has is put into two rows that are
otherwise ordinary, a bare one and one in which every other part says something else. It is ordinary when the row reader
makes one set of both, with the same in the part's own fields and nothing changed in the others.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from preflare.reading.coded import CodedColumn, CodedRows, Mask
from preflare.reading.context import SheetContext, Yield
from preflare.reading.numbers import parse_number
from preflare.reading.other_units import other_unit
from preflare.reading.records import TableReader, table_reader
from preflare.reading.rows import PainRow, SetRow
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text
from preflare.reading.who_when import Carried
from preflare.reading.words import ChoiceBook
from preflare.reading.workbook import Sheet

Numbers = NDArray[np.int64]
NOT_READ = frozenset({"unknown", "ignored", "weekday"})
ONLY_BLANK = frozenset({"note", "session_rpe", "duration"})  # rows with something there go through the row reader
LOOKED_THROUGH = 300  # rows in which an ordinary one must be found
MOST_BY_READER = 0.5  # share of the rows; with more, reading all of them one by one is as quick
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
SET_FIELDS = tuple(name for name in SetRow.__slots__ if name != "place")
_OF_RATING = tuple(name for name in PainRow.__slots__ if name not in {"athlete", "date", "place"})


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


def columns_by_part(table: Table) -> list[tuple[Part, list[int]]] | None:
    """Each part with its columns; None when the table has a column that no part knows, or lacks one that is needed."""
    roles = {column.role for column in table.columns} - NOT_READ - ONLY_BLANK
    known = frozenset[str]().union(*(part.roles for part in PARTS), PAIN.roles)
    if not roles <= known or "date" not in roles or not roles & {"load", "reps"}:
        return None
    if any(column.group is not None for column in table.columns) or any(map(_in_other_unit, table.having("load"))):
        return None
    found = [(part, [column.index for column in table.columns if column.role in part.roles]) for part in PARTS]
    found += [(PAIN, [column.index]) for column in table.having("pain")]
    return [(part, columns) for part, columns in found if columns]


def _in_other_unit(column: Column) -> bool:
    return other_unit(column.written) is not None


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


def model_row(context: SheetContext, table: Table, rows: CodedRows, width: int) -> tuple[list[Cell], Read] | None:
    """An ordinary row with the least in it, and what it says: the frame into which cells are put one part at a time."""
    keep = {column.index: column.role for column in table.having("person", "date", "exercise", "load", "reps")}
    tried = [[cell if i in keep else None for i, cell in enumerate(rows[row])] for row in table.body[:LOOKED_THROUGH]]
    bare = [
        [*row, *[None] * width][:width]
        for row in tried
        if all(_is_figure(row[i]) for i, role in keep.items() if role in {"load", "reps"} and i < len(row))
    ]
    found = zip(bare, _read_alone(context, table, bare), strict=True)
    return next(((row, one) for row, one in found if one is not None and not _says_more(one)), None)


def _is_figure(cell: Cell) -> bool:
    return parse_number(as_text(cell)) is not None


def _says_more(one: Read) -> bool:
    return one.pain is not None or one.lift_set.note is not None or any(getattr(one.lift_set, name) for name in MARKS)


# Parts --------------------------------------------------------------------------------------------


def read_parts(
    context: SheetContext,
    table: Table,
    rows: CodedRows,
    body: Numbers,
    columns: list[tuple[Part, list[int]]],
    model: tuple[list[Cell], Read],
) -> list[PartRead] | None:
    """Every part with what its combinations say; None when they are too many for reading them to be worth it."""
    combined = [_combined([rows.columns[index] for index in used], body) for _, used in columns]
    if sum(len(cells) for cells, _ in combined) > MOST_BY_READER * len(body):
        return None
    bare, one = model
    read = []
    for (part, used), (combinations, codes) in zip(columns, combined, strict=True):
        said = list(_read_alone(context, table, [_with(bare, used, cells) for cells in combinations]))
        read.append(PartRead(part, codes, [_own(part, other, one) for other in said]))
    for enriched in _rows_that_differ(read, one):
        rich, told = list(bare), []
        for at, other in enriched.items():
            rich = _with(rich, columns[at][1], combined[at][0][other])
            told.append((at, read[at].part, cast(Read, read[at].read[other])))
        for at, ((_, used), (combinations, _)) in enumerate(zip(columns, combined, strict=True)):
            again = _read_alone(context, table, [_with(rich, used, cells) for cells in combinations])
            around = _fields(one, [(part, said) for k, part, said in told if k != at])
            read[at].read = [
                said if said is not None and _stays(read[at].part, said, then, around) else None
                for said, then in zip(read[at].read, again, strict=True)
            ]
    return read


def _rows_that_differ(read: list[PartRead], model: Read) -> list[dict[int, int]]:
    """Rows that say something else than the model in every part that can, as part -> combination.

    Mostly one row; two when two parts settle the same mark, which would hide one another.
    """
    rows: list[dict[int, int]] = []
    for at, one in enumerate(read):
        other = _another(one, model)
        if other is None:
            continue
        free = (row for row in rows if not any(set(one.part.fields) & set(read[k].part.fields) for k in row))
        row = next(free, None)
        if row is None:
            rows.append(row := {})
        row[at] = other
    return rows


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


def _with(row: list[Cell], used: list[int], cells: tuple[Cell, ...]) -> list[Cell]:
    row = list(row)
    for index, cell in zip(used, cells, strict=True):
        row[index] = cell
    return row


def _fields(model: Read, told: list[tuple[Part, Read]]) -> dict[str, Any]:
    """The fields of a set whose parts say so, each in its own fields; the model's where no part speaks."""
    fields = {name: getattr(model.lift_set, name) for name in SET_FIELDS}
    for part, one in told:
        for name in part.fields:
            value = getattr(one.lift_set, name)
            fields[name] = fields[name] or value if name in MARKS else value
    return fields


def _own(part: Part, one: Read | None, model: Read) -> Read | None:
    """What a combination says through its own part; None when it reaches into another part's fields."""
    if one is None or (one.pain is not None and part is not PAIN):
        return None
    if any(getattr(one.lift_set, name) != value for name, value in _fields(model, [(part, one)]).items()):
        return None
    return replace(one, choices=Counter({key: n for key, n in one.choices.items() if key[2] in part.choices}))


def _another(read: PartRead, model: Read) -> int | None:
    """A combination that says something else than the model; None for loads, repetitions and ratings."""
    if "load_kg" in read.part.fields:
        return None
    said = [None if one is None else _fields(model, [(read.part, one)]) for one in read.read]
    return next((at for at, fields in enumerate(said) if fields is not None and fields != _fields(model, [])), None)


def _stays(part: Part, said: Read, then: Read | None, around: dict[str, Any]) -> bool:
    """Whether a combination says the same when the other parts say something else. around: the fields of those."""
    if then is None or (said.pain is None) != (then.pain is None):
        return False
    for name, value in around.items():
        own = getattr(said.lift_set, name)
        expected = value if name not in part.fields else value or own if name in MARKS else own
        if getattr(then.lift_set, name) != expected:
            return False
    reports = (said.pain, then.pain)
    first, second = ([getattr(report, name) for name in _OF_RATING] if report else [] for report in reports)
    return first == second
