"""A load left blank below a set of the same lift, person and day: that of the set above, where the log leaves it out.

The legend says so; or barbell lifts have a load in their first set and none below it, again and again. A blank below a
warm-up, or where the numbers of the sets begin anew, stays blank. What was taken is said.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from preflare.reading.gear_below import runs_on
from preflare.reading.lift_cells import is_missing, is_warm_up_tag
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.vocabulary import barbell_lifts

if TYPE_CHECKING:
    from preflare.reading.context import SheetContext
    from preflare.reading.tables import Column, Table

_SAMPLE = 400  # rows of a table that are looked at
_LEAST = 3  # blanks below a load that make a habit


@dataclass(frozen=True, slots=True)
class Below:
    """A blank load with repetitions beside it. above: the row of the set above with its load, None where there is none
    or it must not be taken. lift: as written. row, column: of the blank."""

    row: int
    column: int
    above: int | None
    lift: str | None


def carry_loads(context: "SheetContext", found: Iterable[Below]) -> None:
    """Let the blanks of a sheet stand for the load above them, where its legend or its other sets show that they do."""
    blanks = list(found)
    is_told = bool(context.legend.blank_load)
    if not is_told and not _is_habit(context, blanks):
        return
    taken = [one for one in blanks if one.above is not None and (is_told or _is_barbell(context, one.lift))]
    for one in taken:
        assert one.above is not None
        context.stand_ins[one.row, one.column] = context.cell(one.above, one.column)
    if taken:
        how = f'so says the legend ("{context.legend.blank_load}")' if is_told else "first sets have one, others none"
        context.assume(f"A load left blank below a set of the same lift was read as the load of that set: {how}.")


def _is_habit(context: "SheetContext", blanks: list[Below]) -> bool:
    """Whether barbell lifts leave the load out below their first sets, often, and never in the first."""
    of_bars = [one for one in blanks if _is_barbell(context, one.lift)]
    return len(of_bars) >= _LEAST and all(one.above is not None for one in of_bars)


def _is_barbell(context: "SheetContext", lift: str | None) -> bool:
    return lift is not None and context.words.exercise(lift).exercise in barbell_lifts()


def settle_blank_loads(context: "SheetContext", table: "Table") -> None:
    """The same for a table with one row a set, and a column each for load and repetitions."""
    load, reps, lift = table.first("load"), table.first("reps"), table.first("exercise")
    is_single = len(table.having("load")) == len(table.having("reps")) == 1
    if load is None or reps is None or lift is None or not is_single or not _has_blanks(context, table, load, reps):
        return
    sample = list(_blanks_in(context, table, table.body[:_SAMPLE], load, reps, lift))
    if context.legend.blank_load or _is_habit(context, sample):  # only then is a long list gone through
        carry_loads(context, _blanks_in(context, table, table.body, load, reps, lift))


def _has_blanks(context: "SheetContext", table: "Table", load: "Column", reps: "Column") -> bool:
    """A quick look whether the first rows have repetitions without a load."""
    return any(
        context.cell(row, load.index) is None and context.cell(row, reps.index) is not None
        for row in table.body[:_SAMPLE]
    )


def _blanks_in(
    context: "SheetContext", table: "Table", rows: Sequence[int], load: "Column", reps: "Column", lift: "Column"
) -> Iterable[Below]:
    """The blanks of a table in order. A set belongs to the one above while person, day and lift stay the same."""
    governing = [column for role in ("date", "timestamp", "person", "session_number") for column in table.having(role)]
    number = table.first("set_number")
    whose: list[str | None] = [None] * len(governing)
    above: int | None = None
    written, before = None, None
    for row in rows:
        own = [_text(context.cell(row, column.index)) or last for column, last in zip(governing, whose, strict=True)]
        named, count = _text(context.cell(row, lift.index)), _text(context.cell(row, number.index)) if number else None
        is_new = own != whose or (named is not None and not _same_lift(context, written, named))
        is_new = is_new or (number is not None and not runs_on(context, before, count))
        if context.cell(row, reps.index) is None:
            above = None
            continue
        if is_new or (number is None and named is not None and above is None):
            above = None
        whose, written, before = own, named or written, count
        if (cell := context.cell(row, load.index)) is not None:
            above = row if _may_be_taken(context, cell, count) else None
        else:
            yield Below(row, load.index, above, written)


def _may_be_taken(context: "SheetContext", cell: Cell, number: str | None) -> bool:
    """Whether a load above a blank is that of a working set."""
    return not is_missing(context, cell) and not is_warm_up_tag(number, context.lexicon, context.warm_up_signs)


def _same_lift(context: "SheetContext", above: str | None, written: str) -> bool:
    if above is None:
        return False
    if context.lexicon.sheet_word(written, "same") or fold(above) == fold(written):
        return True
    named = context.words.exercise(written).exercise
    return named != "unknown" and named == context.words.exercise(above).exercise


def _text(cell: Cell) -> str | None:
    return None if cell is None else as_text(cell)
