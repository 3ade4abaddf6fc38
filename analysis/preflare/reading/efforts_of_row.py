"""One effort written for a whole row of sets: whose it is."""

from preflare.reading.context import SheetContext
from preflare.reading.lift_cells import Lift, effort_in, reserve_in
from preflare.reading.tables import Column
from preflare.reading.text import fold
from preflare.reading.work_of_log import is_effort_of_all, is_effort_of_last

_LAST = frozenset(
    {"last", "final", "letzter", "letzten", "letzte", "derniere", "dernier", "ultima", "ultimo", "laatste"}
)
_LAST |= {"ostatnia", "ostatniej", "siste", "sidste", "sista"}


def is_of_last_set(column: Column) -> bool:
    """Whether a heading says that its effort is that of the last set ("RPE last set")."""
    return bool(_LAST & set(fold(column.written).split()))


def give_effort(
    context: SheetContext, row: int, kind: str, column: Column, lifts: list[Lift], about: list[int]
) -> None:
    """One effort for a whole row of sets is that of its heaviest working sets; an effort written at a set stands."""
    effort = effort_in(context, row, column.index, kind)
    if effort is None and (reserve := reserve_in(context.cell(row, column.index))) is not None:
        kind, effort = "RIR", reserve
    if effort is None or not about:
        return
    working = [i for i in about if not lifts[i].is_warm_up] or about
    if is_of_last_set(column) or is_effort_of_last(context):
        working = working[-1:]
    if not is_effort_of_all(context):
        heaviest = max(lifts[i].load_kg or 0.0 for i in working)
        working = [i for i in working if (lifts[i].load_kg or 0.0) == heaviest]
    for i in working:
        lift = lifts[i]
        if kind == "RPE" and lift.rpe is None:
            lift.rpe = effort
        elif kind == "RIR" and lift.rir is None:
            lift.rir = effort
