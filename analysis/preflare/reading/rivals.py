"""Two ways to read one sheet, and which of them explains more of it."""

from collections.abc import Callable, Sequence
from dataclasses import fields, replace

from preflare.reading.context import SheetContext, Yield
from preflare.reading.words import ChoiceBook

_UNKNOWN = 0.05  # what an unknown lift counts less than a known one

Way = Callable[[SheetContext], None]


def read_by_best(context: SheetContext, ways: Sequence[Way]) -> int:
    """Read a sheet in each of the ways, keep what the one found that explains most; answers its position.

    Of equals the first stays; where none finds anything, the last that says why. What a way finds, assumes and refuses
    stays apart until it is chosen.
    """
    tried = [_tried(context, way) for way in ways]
    best = max(range(len(ways)), key=lambda i: (_explained(tried[i]), -i))
    if not any(one.out.sets or one.out.pain or one.out.screens for one in tried):
        best = next((i for i in reversed(range(len(tried))) if tried[i].out.rejected), best)
    _take_over(context, tried[best])
    return best


def _tried(context: SheetContext, way: Way) -> SheetContext:
    apart = replace(
        context,
        out=Yield(),
        choices=ChoiceBook(),
        assumptions=list(context.assumptions),
        units_met=set(),
        stand_ins={},
        line_gear={},
        stacks={},
    )
    way(apart)
    return apart


def _explained(context: SheetContext) -> float:
    """Sets and ratings found, less half of what had to be set aside; a lift that is named but not known counts too,
    for a little less: a bar in the place of a lift is a name that nobody knows."""
    out = context.out
    named = [one.exercise for one in out.sets if one.exercise_written and one.reps is not None]
    return len(named) - _UNKNOWN * named.count("unknown") + len(out.pain) - 0.5 * len(out.rejected)


def _take_over(context: SheetContext, chosen: SheetContext) -> None:
    """Put what the chosen way found into the yield of the whole import."""
    for one in fields(Yield):
        into, found = getattr(context.out, one.name), getattr(chosen.out, one.name)
        if isinstance(into, list):
            into += found
        else:
            into |= found
    for (file, sheet, kind, written), entry in chosen.choices.seen.items():
        understood, how, nearest, n = entry
        for _ in range(n):  # type: ignore[call-overload]
            context.choices.note(file, sheet, kind, written, understood, how, nearest)  # type: ignore[arg-type]
    context.assumptions = chosen.assumptions
    context.units_met |= chosen.units_met
    for name in ("stand_ins", "line_gear", "stacks", "has_open_units", "unit", "person", "exercise", "is_diary"):
        setattr(context, name, getattr(chosen, name))
