"""Bar, place and grip left blank below the first set of a lift: "Squat | SSB | 1", "Squat | | 2".

A table that leaves out what stands above leaves it out here too, while the numbers of the sets run on.
"""

from typing import TYPE_CHECKING

from preflare.reading.lift_cells import is_warm_up_tag
from preflare.reading.numbers import parse_number

if TYPE_CHECKING:
    from preflare.reading.context import SheetContext
    from preflare.reading.tables import Table

_SAMPLE = 400  # rows looked at


def settle_gear_below(context: "SheetContext", table: "Table") -> None:
    """Note whether a table leaves its lift out below the first set, and so may leave out its bar and grip."""
    exercise, number = table.first("exercise"), table.first("set_number")
    gear = table.having("bar", "bar_position", "grip")
    if exercise is None or number is None or not gear:
        return
    context.is_gear_carried |= any(
        context.cell(row, exercise.index) is None
        and context.cell(row, number.index) is not None
        and all(context.cell(row, one.index) is None for one in gear)
        for row in table.body[:_SAMPLE]
    )


def names_lift_again(
    context: "SheetContext", above: str | None, written: str | None, before: str | None, number: str | None
) -> bool:
    """Whether a row names the lift of the row above once more, as its next set. before, number: of the two sets."""
    if not context.is_gear_carried or above is None or written is None or not runs_on(context, before, number):
        return False
    return context.words.exercise(written).exercise == context.words.exercise(above).exercise


def runs_on(context: "SheetContext", before: str | None, number: str | None) -> bool:
    """Whether the number of a set follows that of the row before: 2 after 1, 1 after a warm-up, another warm-up."""
    if before is None or number is None:
        return False
    was_warm_up = is_warm_up_tag(before, context.lexicon, context.warm_up_signs)
    if is_warm_up_tag(number, context.lexicon, context.warm_up_signs):
        return was_warm_up
    count, last = parse_number(number), parse_number(before)
    return count is not None and (count == 1 if was_warm_up else last is not None and count == last + 1)
