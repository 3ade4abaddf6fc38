"""Number columns beside work in short: number of sets, repetitions and load fill what the work leaves open.

A number that the work says too is a check and changes nothing; one that contradicts it is set aside with the reason.
"""

from dataclasses import replace

from preflare.reading.context import SheetContext
from preflare.reading.lift_cells import (
    Lift,
    SetColumns,
    in_kg,
    is_missing,
    loads_in,
    n_sets_in,
    reps_in,
    unit_of_column,
)
from preflare.reading.numbers import parse_load
from preflare.reading.tables import Column
from preflare.reading.text import Cell, fold

_NEAR_KG = 0.06


def with_columns_beside(context: SheetContext, row: int, group: SetColumns, lifts: list[Lift]) -> list[Lift]:
    """The sets of one cell of work, with what the row's other number columns say of them."""
    if not lifts:
        return lifts
    _check_load(context, row, group.load, lifts)
    return _times_sets(context, row, group, _with_reps(context, row, group, lifts))


def is_part(context: SheetContext, column: Column) -> bool:
    """Whether a column of work holds a part of it ("Top set", "Back-offs"): other columns then hold other sets."""
    if column.heading is not None and column.heading.roles[0] == "warm_up":
        return True
    words = fold(column.written).split()
    return any(hit == "part" for _, _, hit in context.lexicon.work.find(words)) and fold(column.written) != "work"


def _filled(context: SheetContext, row: int, column: Column | None) -> Cell:
    cell = context.cell(row, column.index) if column else None
    return None if is_missing(context, cell) else cell


def _with_reps(context: SheetContext, row: int, group: SetColumns, lifts: list[Lift]) -> list[Lift]:
    cell = _filled(context, row, group.reps)
    if cell is None or group.reps is None:
        return lifts
    reps, _ = reps_in(context, row, group, cell)
    is_open = all(lift.reps is None for lift in lifts)
    if is_open and len(reps) in {1, len(lifts)}:
        return [replace(lift, reps=reps[min(i, len(reps) - 1)]) for i, lift in enumerate(lifts)]
    if not set(reps) <= {lift.reps for lift in lifts}:
        said = ", ".join(dict.fromkeys("none" if lift.reps is None else str(lift.reps) for lift in lifts))
        reason = f"the work beside it says other repetitions ({said}); the work was stored as it is written"
        context.reject_cell(row, group.reps.index, cell, reason, "correct one of the two and import again")
    return lifts


def _times_sets(context: SheetContext, row: int, group: SetColumns, lifts: list[Lift]) -> list[Lift]:
    """A single working set is done as often as the column says; several must be as many as it says."""
    cell = _filled(context, row, group.sets)
    if cell is None or group.sets is None:
        return lifts
    n = n_sets_in(context, row, group, cell)
    working = [lift for lift in lifts if not lift.is_warm_up]
    if n in {len(lifts), len(working), 1}:
        return lifts
    if len(working) == 1:
        at = lifts.index(working[0])
        again = [replace(working[0], is_failed=working[0].is_failed and i == n - 1) for i in range(n)]
        return [*lifts[:at], *again, *lifts[at + 1 :]]
    reason = f"the work beside it holds {len(lifts)} sets, not {n}; the work was stored as it is written"
    context.reject_cell(row, group.sets.index, cell, reason, "correct one of the two and import again")
    return lifts


def _check_load(context: SheetContext, row: int, column: Column | None, lifts: list[Lift]) -> None:
    """Set a load aside that the work contradicts; a load that is no number is told of too."""
    cell = _filled(context, row, column)
    if cell is None or column is None:
        return
    load = parse_load(cell)
    if load is None:
        loads_in(context, row, SetColumns(load=column), cell)
        return
    if all(lift.load_kg is None for lift in lifts):
        return
    kg = in_kg(context, load.number, load.unit or unit_of_column(column))
    if any(lift.load_kg is not None and abs(lift.load_kg - kg) < _NEAR_KG for lift in lifts):
        return
    said = ", ".join(dict.fromkeys(format(lift.load_kg, "g") for lift in lifts if lift.load_kg is not None))
    reason = f"the work beside it says other loads ({said} kg); the work was stored as it is written"
    context.reject_cell(row, column.index, cell, reason, "correct one of the two and import again")
