"""The sets of a lift whose loads, repetitions and efforts stand in rows below one another (see stacked.py)."""

from collections.abc import Iterable

from preflare.reading.body_counts import ON_THE_BODY
from preflare.reading.cell_parts import Beside, taken_apart
from preflare.reading.context import SheetContext
from preflare.reading.headings import Heading
from preflare.reading.lift_cells import (
    Lift,
    SetColumns,
    effort_in,
    is_missing,
    is_not_done,
    loads_in,
    n_sets_in,
    reps_in,
    reserve_in,
    with_looks,
)
from preflare.reading.stacked import SetAcross, Stack
from preflare.reading.stand_ins import is_ditto
from preflare.reading.tables import Column
from preflare.reading.text import Cell, as_text
from preflare.reading.words import Gear

_LEAST = 3  # blank loads behind a load that make a habit


def lifts_of_stack(context: SheetContext, stack: Stack, exercise: str | None) -> list[Lift]:
    """Every set of one lift, from left to right. What cannot be read is set aside cell by cell."""
    lifts: list[Lift] = []
    for place, one in enumerate(stack.sets):
        lifts += _sets_of_column(context, stack, place, one, exercise)
    return lifts


def _sets_of_column(
    context: SheetContext, stack: Stack, place: int, one: SetAcross, exercise: str | None
) -> list[Lift]:
    cells = {name: _cell(context, stack, place, name) for name in stack.rows}
    if all(cell is None or is_missing(context, cell) for name, cell in cells.items() if name != "reps"):
        cells = {name: None if name != "reps" else cell for name, cell in cells.items()}
    reps_cell = cells.get("reps")
    if all(cell is None for cell in cells.values()):
        return []
    group = _columns(stack, one)
    at_load, at_reps = (stack.rows.get(name, next(iter(stack.rows.values()))) for name in ("load", "reps"))
    if reps_cell is None or is_missing(context, reps_cell):
        _without_reps(context, at_load, at_reps, one, cells)
        return []
    if is_not_done(context, at_reps, group, reps_cell):
        return []
    load_cell = cells.get("load")
    if (load_cell is None or is_missing(context, load_cell)) and "load" in stack.rows:
        before = _load_before(context, stack, place)
        if before is not None and not _is_carried(context, exercise):
            reason = "repetitions without a load, beside sets that have one; no set was stored"
            context.reject_cell(at_reps, one.index, reps_cell, reason, "write the load above the repetitions")
            return []
        if before is None and _has_loads(context, stack):
            reason = "repetitions without a load, before sets that have one; no set was stored"
            context.reject_cell(at_reps, one.index, reps_cell, reason, "write the load above the repetitions")
            return []
        load_cell = before
    return _lifts(context, stack, one, group, {**cells, "load": load_cell}, exercise)


def _lifts(
    context: SheetContext,
    stack: Stack,
    one: SetAcross,
    group: SetColumns,
    cells: dict[str, Cell],
    exercise: str | None,
) -> list[Lift]:
    at_load, at_reps = (stack.rows.get(name, next(iter(stack.rows.values()))) for name in ("load", "reps"))
    bare, beside = taken_apart(context, {name: cells.get(name) for name in ("load", "reps")})
    n_rejected = len(context.out.rejected)
    loads = loads_in(context, at_load, group, bare["load"])
    if cells.get("load") is not None and not loads and len(context.out.rejected) > n_rejected:
        return []
    n_rejected = len(context.out.rejected)
    reps, is_failed = reps_in(context, at_reps, group, bare["reps"])
    if not reps and len(context.out.rejected) > n_rejected:
        del context.out.rejected[n_rejected:]
        reason = "the repetitions are no whole number that anyone does; no set was stored"
        context.reject_cell(at_reps, one.index, cells.get("reps"), reason, "correct the cell and import again")
        return []
    n_sets = n_sets_in(context, stack.rows["sets"], group, cells.get("sets")) if "sets" in stack.rows else 1
    counts = {len(loads), len(reps), n_sets} - {0, 1}
    if len(counts) > 1:
        reason = "loads and repetitions of one set do not agree in number"
        context.reject_cell(at_reps, one.index, cells.get("reps"), reason, "write one value for each set")
        return []
    n = max(counts, default=1)
    if not loads and not reps:
        return []
    effort = {name: _effort(context, stack, one.index, name, cells.get(name)) for name in ("rpe", "rir")}
    lifts = [
        Lift(
            loads[i % len(loads)] if loads else None,
            reps[i % len(reps)] if reps else None,
            beside.rpe if beside.rpe is not None else effort["rpe"],
            beside.rir if beside.rir is not None else effort["rir"],
            one.is_warm_up or beside.is_warm_up,
            (is_failed or beside.is_failed) and i == n - 1,
            exercise,
            None,
            one.index,
            gear=_gear_or_none(beside),
        )
        for i in range(n)
    ]
    for row in stack.rows.values():
        with_looks(context, row, group, lifts)
    return lifts


def _gear_or_none(beside: Beside) -> Gear | None:
    return beside.gear if beside.gear != Gear() else None


def _columns(stack: Stack, one: SetAcross) -> SetColumns:
    """The one column of a set in each of its roles, so that cells are told of where they stand."""
    labels = {"load": Heading("", ("load",), True, unit=stack.unit)}
    by_role = {name: Column(one.index, "", labels.get(name, Heading("", (name,), True)), name) for name in stack.rows}
    return SetColumns(load=by_role.get("load"), reps=by_role.get("reps"), sets=by_role.get("sets"))


def _cell(context: SheetContext, stack: Stack, place: int, name: str) -> Cell:
    """The cell of a set in one row of its lift; a mark for the same again is the cell of the set before it."""
    row = stack.rows[name]
    for one in reversed(stack.sets[: place + 1]):
        cell = context.cell(row, one.index)
        if cell is None or not is_ditto(cell, context.lexicon):
            return cell
    index = stack.sets[place].index
    reason = "it is not known what this mark repeats"
    context.reject_cell(row, index, context.cell(row, index), reason, "write the value again")
    return None


def _without_reps(context: SheetContext, at_load: int, at_reps: int, one: SetAcross, cells: dict[str, Cell]) -> None:
    """Set aside a load that has no repetitions: planned and not done, or left out."""
    load, mark = cells.get("load"), cells.get("reps")
    if mark is not None and (load is None or is_missing(context, load)):
        return  # a dash in both rows: no set was meant
    if load is None:
        return
    if mark is None and (sentence := context.legend.blank_reps):
        context.assume(f'From the legend ("{sentence}"): a load without repetitions was read as a set not done.')
        return
    reason = "a load without repetitions; no set was stored"
    if mark is not None:
        reason = f'"{as_text(mark)}" instead of repetitions was read as not done; no set was stored'
    row = at_reps if mark is not None else at_load
    context.reject_cell(
        row, one.index, mark if mark is not None else load, reason, "write the repetitions, if some were done"
    )


def _load_before(context: SheetContext, stack: Stack, place: int) -> Cell:
    """The load of the nearest set before this one, of its kind: of working sets or of warm-ups; None where none is."""
    own = stack.sets[place]
    for at in range(place - 1, -1, -1):
        if stack.sets[at].is_warm_up != own.is_warm_up:
            return None
        cell = _cell(context, stack, at, "load")
        if cell is not None and not is_missing(context, cell):
            return cell
    return None


def _has_loads(context: SheetContext, stack: Stack) -> bool:
    cells = (context.cell(stack.rows["load"], one.index) for one in stack.sets)
    return any(cell is not None and not is_missing(context, cell) for cell in cells)


def _is_carried(context: SheetContext, exercise: str | None) -> bool:
    """Whether a blank load is that of the set before: by the legend, or since the sheet leaves it so again and
    again; a lift done with the body's weight may have none."""
    if context.legend.blank_load:
        how = f'so says the legend ("{context.legend.blank_load}")'
    elif _n_blank(context) >= _LEAST and exercise is not None and not _is_on_body(context, exercise):
        how = "first sets have one, others none"
    else:
        return False
    context.assume(f"A load left blank behind a set of the same lift was read as the load of that set: {how}.")
    return True


def _is_on_body(context: SheetContext, exercise: str) -> bool:
    return context.words.exercise(exercise).exercise in ON_THE_BODY


def _n_blank(context: SheetContext) -> int:
    """How many sets of the sheet have repetitions, no load, and a load in a set before them."""
    return sum(
        context.cell(stack.rows["load"], one.index) is None
        and context.cell(stack.rows["reps"], one.index) is not None
        and _load_before(context, stack, place) is not None
        for stack in _distinct(context)
        for place, one in enumerate(stack.sets)
    )


def _distinct(context: SheetContext) -> Iterable[Stack]:
    return (
        stack
        for row, stack in context.stacks.items()
        if row == min(stack.rows.values()) and {"load", "reps"} <= stack.rows.keys()
    )


def _effort(context: SheetContext, stack: Stack, index: int, name: str, cell: Cell) -> float | None:
    if cell is None or name not in stack.rows:
        return None
    if name == "rpe" and reserve_in(cell) is not None:
        return None
    return effort_in(context, stack.rows[name], index, name.upper())


def head_of(stack: Stack) -> int:
    """The first row of a lift."""
    return min(stack.rows.values())
