"""Loads, repetitions and efforts in rows below one another, each row labelled, with the sets of a lift across.

"kg | 60 | 80 | 80" over "reps | 5 | 5 | 5" over "RPE | | 7 | 8": one lift in two or three rows. The labels stand in a
column of their own, with or without a heading, or where the lifts stand.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from preflare.reading.coded import CodedRows, cells_in
from preflare.reading.crosswise_labels import part_of_a_lift
from preflare.reading.grouped import counted
from preflare.reading.headings import Heading, parse_heading
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.numbers import parse_load
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text, column_letters, fold

if TYPE_CHECKING:
    from preflare.reading.context import SheetContext

PARTS = frozenset({"load", "reps", "rpe", "rir", "sets"})
_KEPT = frozenset({"date", "timestamp", "person", "first_name", "last_name", "exercise", "bar", "grip", "bar_position"})
_KEPT |= frozenset({"note", "pain", "site", "side", "moment", "week", "weekday", "session_number", "session_rpe"})
_KEPT |= frozenset({"duration", "time"})  # columns that hold no sets, whatever stands in them
_GEAR = ("bar", "grip", "bar_position")
_SIGNS = {"x": "reps", "×": "reps", "@": "rpe"}
_MOST = 0.9  # of the cells of a column that must be labels
_LEAST_PAIRS = 0.6  # of the lifts that must have both loads and repetitions
_SAMPLE = 400
_MOST_UNHEADED = 12  # columns behind the last heading that are looked at


@dataclass(frozen=True, slots=True)
class SetAcross:
    """One column of sets. is_warm_up: by its heading."""

    index: int
    is_warm_up: bool


@dataclass(frozen=True, slots=True)
class Stack:
    """The rows of one lift. rows: load, reps, rpe... -> row, from top to bottom. unit: that of the label of loads."""

    rows: dict[str, int]
    sets: tuple[SetAcross, ...]
    unit: str | None = None


def settle_stacks(context: "SheetContext", table: Table) -> None:
    """Find the lifts of a table whose loads and repetitions stand below one another; the context keeps them by row."""
    if isinstance(context.sheet.rows, CodedRows) and len(context.sheet.rows) > 20_000:
        return
    found = _column_of_labels(context, table)
    if found is None:
        return
    column, labels = found
    lifts = table.first("exercise")
    is_own = lifts is None or column != lifts.index
    stacks = _stacks(context, table, column, labels, is_own)
    if not stacks:
        return
    across = _sets_across(context, table, column, stacks)
    if not across:
        return
    for rows in stacks:
        unit = next((labels[row].unit for row in rows.values() if labels[row].roles[0] == "load"), None)
        stack = Stack(rows, across, unit if unit in {"kg", "lb"} else None)
        context.stacks |= dict.fromkeys(rows.values(), stack)
        _join_gear(context, table, list(rows.values()))
        if not is_own and (named := labels[min(rows.values())].exercise):
            context.stand_ins[min(rows.values()), column] = named
    if not is_own:
        context.stand_ins |= {(row, column): None for row in labels if (row, column) not in context.stand_ins}
    _settle_columns(table, column, across, is_own)
    context.assume("Rows labelled as loads, repetitions or efforts were read together, as the sets of one lift.")


def _column_of_labels(context: "SheetContext", table: Table) -> tuple[int, dict[int, Heading]] | None:
    """The column whose cells say what their rows hold, with each row's label; None when no column does."""
    kept = {column.index: column.role for column in table.columns}
    sample = table.body[:_SAMPLE]
    for index in range(max((len(context.sheet.rows[row]) for row in sample), default=0)):
        if kept.get(index) in _KEPT - {"exercise", "note"}:
            continue
        cells = [cell for cell in cells_in(context.sheet.rows, index, sample) if cell is not None]
        parts = [label for cell in cells if (label := label_of_part(cell, context.lexicon)) is not None]
        roles = [label.roles[0] for label in parts]
        least = 0.4 if kept.get(index) == "exercise" else _MOST
        if not {"load", "reps"} <= set(roles) and not (kept.get(index) == "exercise" and "reps" in roles):
            continue
        if len(parts) >= least * len(cells):
            told = ((row, label_of_part(context.cell(row, index), context.lexicon)) for row in table.body)
            return index, {row: label for row, label in told if label is not None}
    return None


def label_of_part(cell: Cell, lexicon: Lexicon) -> Heading | None:
    """What a label says its row holds: loads, repetitions, efforts or numbers of sets; None for any other cell."""
    if not isinstance(cell, str) or len(cell) > 30 or parse_load(cell) is not None:
        return None
    text = cell.strip(" :.-–>→")
    if text.casefold() in _SIGNS:
        return Heading(cell, (_SIGNS[text.casefold()],), True)
    heading = parse_heading(text, lexicon)
    if heading is not None and heading.is_exact and heading.number is None and not heading.exercise:
        return heading if heading.roles[0] in PARTS else None
    part = part_of_a_lift(text, lexicon) if lexicon.exercise.exact(text) is None else None  # "Squat kg"
    if part is None or part.heading is None or part.heading.roles[0] not in PARTS:
        return None
    return replace(part.heading, exercise=part.exercise)


def _stacks(
    context: "SheetContext", table: Table, column: int, labels: dict[int, Heading], is_own: bool
) -> list[dict[str, int]]:
    """The rows of each lift, as what they hold -> row. A lift ends where a label comes again, or another is named."""
    found: list[dict[str, int]] = []
    opens = [one.index for role in ("date", "person", "exercise") for one in table.having(role) if one.index != column]
    rows = list(table.body)
    for at, row in enumerate(rows):
        label = labels.get(row)
        role = label.roles[0] if label is not None else None
        if role is None and not is_own and _next_is_reps(rows, at, labels) and _has_figures(context, row, column):
            role = "load"  # the lift's name stands where its loads do
            labels[row] = Heading(as_text(context.cell(row, column)), ("load",), True)
            context.stand_ins[row, column] = context.cell(row, column)
        if role is None:
            found.append({})
            continue
        first = next(iter(found[-1].values())) if found and found[-1] else None
        is_new = first is not None and _names_another(context, row, first, opens)
        if first is not None and label is not None and label.exercise is not None:
            is_new = is_new or fold(label.exercise) != fold(labels[first].exercise or "")
        if not found or role in found[-1] or is_new or _is_after_gap(found[-1], rows, at):
            found.append({})
        found[-1][role] = row
    found = [one for one in found if one]
    paired = sum({"load", "reps"} <= one.keys() for one in found)
    return found if paired >= _LEAST_PAIRS * len(found) else []


def _names_another(context: "SheetContext", row: int, first: int, columns: Iterable[int]) -> bool:
    """Whether a row names a day, person or lift that the first row of the lift above it does not."""
    pairs = ((context.cell(row, index), context.cell(first, index)) for index in columns)
    return any(own is not None and fold(as_text(own)) != fold(as_text(other)) for own, other in pairs)


def _is_after_gap(stack: dict[str, int], rows: Sequence[int], at: int) -> bool:
    return bool(stack) and rows[at] > max(stack.values()) + 1


def _next_is_reps(rows: Sequence[int], at: int, labels: dict[int, Heading]) -> bool:
    below = rows[at + 1] if at + 1 < len(rows) else None
    return below == rows[at] + 1 and below in labels and labels[below].roles[0] == "reps"


def _has_figures(context: "SheetContext", row: int, column: int) -> bool:
    cells = context.sheet.rows[row][column + 1 :]
    return sum(isinstance(cell, float) or parse_load(cell) is not None for cell in cells) >= 1


def _sets_across(
    context: "SheetContext", table: Table, labels: int, stacks: Sequence[dict[str, int]]
) -> tuple[SetAcross, ...]:
    """The columns of sets: those that hold repetitions in most of the lifts that use them, and are no totals."""
    by_index = {column.index: column for column in table.columns}
    width = max(by_index, default=-1) + _MOST_UNHEADED
    head = context.sheet.rows[table.header_rows[-1]] if table.header_rows else []
    found = []
    for index in (i for i in range(width) if i != labels):
        column = by_index.get(index)
        written = as_text(head[index]) if index < len(head) and head[index] is not None else ""
        is_apart = column is not None and (column.role in _KEPT or column.role == "ignored")
        is_headed = column is not None and column.role in {"set_work", "warm_up"}
        if not is_apart and not names_total(written) and (is_headed or _holds_sets(context, index, stacks)):
            found.append(SetAcross(index, _is_warm_up(column, written, context.lexicon)))
    return tuple(found)


def _holds_sets(context: "SheetContext", index: int, stacks: Sequence[dict[str, int]]) -> bool:
    used = [one for one in stacks if any(context.cell(row, index) is not None for row in one.values())]
    with_reps = sum("reps" in one and context.cell(one["reps"], index) is not None for one in used)
    return bool(used) and with_reps >= 0.5 * len(used)


def _is_warm_up(column: Column | None, written: str, lexicon: Lexicon) -> bool:
    if column is not None and column.heading is not None and "warm_up" in column.heading.roles:
        return True
    return (
        bool(written) and counted(written) is None and lexicon.work.exact(written.rstrip(" .0123456789")) == "warm_up"
    )


def _join_gear(context: "SheetContext", table: Table, rows: list[int]) -> None:
    """Let the first row of a lift hold what its other rows say of bar and grip."""
    for column in table.having(*_GEAR):
        told = [as_text(cell) for row in rows if (cell := context.cell(row, column.index)) is not None]
        if len(told) and context.cell(rows[0], column.index) != ", ".join(told):
            context.stand_ins[rows[0], column.index] = ", ".join(told)
            context.stand_ins |= {(row, column.index): None for row in rows[1:]}


def _settle_columns(table: Table, labels: int, across: Iterable[SetAcross], is_own: bool) -> None:
    """Give the columns of labels and sets roles of their own, so that they are not read row by row."""
    roles = {one.index: "set_below" for one in across} | ({labels: "label_of_row"} if is_own else {})
    for column in table.columns:
        if column.index in roles:
            column.role = roles.pop(column.index)
    for index, role in roles.items():
        table.columns.append(Column(index, column_letters(index), Heading("", (role,), False), role))
    table.columns.sort(key=lambda column: column.index)
