"""First sets that a log's legend calls warm-ups, marked so among the sets that were read of a sheet."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from preflare.reading.context import SheetContext
from preflare.reading.legend_firsts import FirstSets
from preflare.reading.rows import SetRow
from preflare.reading.vocabulary import back_squats


def mark_first_sets(context: SheetContext, n_before: int) -> None:
    """Mark the first set of a session's lift as a warm-up where the legend says so. n_before: sets read before.

    It must be lighter than all behind it, and no set of them be marked already: what is written goes before a habit.
    """
    if not context.legend.firsts:
        return
    sets = context.out.sets
    sessions: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for i in range(n_before, len(sets)):
        one = sets[i]
        sessions[one.athlete, one.date, one.ordinal, one.exercise, one.exercise_written].append(i)
    for numbers in sessions.values():
        habit = _habit_of(sets[numbers[0]].exercise, context.legend.firsts)
        if habit is not None and _is_lightest([sets[i] for i in numbers]):
            sets[numbers[0]] = replace(sets[numbers[0]], is_warm_up=True)
            context.assume(habit.told())


def without_first(context: SheetContext, numbers: Sequence[int]) -> list[int]:
    """The sets of one lift and session, given by their numbers among all, less the first where it is a warm-up."""
    sets = [context.out.sets[i] for i in numbers]
    is_first = bool(sets) and _habit_of(sets[0].exercise, context.legend.firsts) is not None and _is_lightest(sets)
    return list(numbers[1:] if is_first else numbers)


def _habit_of(exercise: str, firsts: Sequence[FirstSets]) -> FirstSets | None:
    """What the legend says of a lift; a sentence about the squat holds for all with the bar on the back."""
    squats = back_squats()
    return next(
        (
            one
            for one in firsts
            if one.lift in {None, exercise} or (one.lift in squats and exercise in squats)
        ),
        None,
    )  # fmt: skip


def _is_lightest(sets: Sequence[SetRow]) -> bool:
    loads = [one.load_kg for one in sets]
    if len(sets) < 2 or any(one.is_warm_up for one in sets) or loads[0] is None:
        return False
    return all(load is None or load > loads[0] for load in loads[1:])
