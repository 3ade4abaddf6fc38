"""Bar, place and grip that stand where numbers stand, in a row that names a lift and has no set: "SQUAT | safety".

They hold for the sets below, until the next lift. Only words that are all known count; any other cell is told of.
"""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from preflare.reading.coded import distinct_in
from preflare.reading.legend_habits import is_gear_alone
from preflare.reading.text import Cell
from preflare.reading.words import Gear

if TYPE_CHECKING:
    from preflare.reading.context import SheetContext
    from preflare.reading.tables import Column, Table

_NUMBERS = ("load", "reps", "sets", "rpe", "rir")


def settle_gear_on_lines(context: "SheetContext", table: "Table") -> None:
    """Find the cells of a table's numbers that name gear beside a lift, and take them out of the numbers."""
    lift = table.first("exercise")
    if lift is None or not table.having("load", "reps"):
        return
    numbers = table.having(*_NUMBERS)
    told = (cell for one in numbers for cell in distinct_in(context.sheet.rows, one.index, table.body))
    if not any(_gear_of(context, cell) for cell in told):
        return  # as in most logs: no need to go through all rows
    for row in table.body:
        if any(isinstance(context.cell(row, one.index), str) for one in numbers) and context.cell(row, lift.index):
            take_gear_out(context, row, numbers)


def take_gear_out(context: "SheetContext", row: int, columns: Iterable["Column"]) -> None:
    """Take the only filled cell of a row's numbers for gear, where all of it is words for gear."""
    numbers = (one.index for one in columns if one.role in _NUMBERS)
    filled = [(at, cell) for at in numbers if (cell := context.cell(row, at)) is not None]
    if len(filled) != 1 or (gear := _gear_of(context, filled[0][1])) is None:
        return
    at = filled[0][0]
    context.line_gear[row, at] = gear
    context.stand_ins[row, at] = None
    context.assume("Words for bar, grip and place of the bar beside a lift's name hold for the sets below it.")


def gear_on_line(context: "SheetContext", columns: Iterable["Column"], row: int) -> Gear:
    """The gear that a row names where the numbers of some columns stand."""
    if not context.line_gear:
        return Gear()
    found = (context.line_gear.get((row, one.index)) for one in columns)
    return next((gear for gear in found if gear is not None), Gear())


def _gear_of(context: "SheetContext", cell: Cell) -> Gear | None:
    """The gear of a text that names nothing else; None where a word of it is not known or it holds a figure."""
    if not isinstance(cell, str) or any(map(str.isdecimal, cell)) or not is_gear_alone(cell, context.lexicon):
        return None
    if context.lexicon.work.exact(cell) == "bodyweight":
        return None  # a load, though no barbell's
    gear, unknown = context.words.gear(cell, "grip")
    if unknown or cell in context.words.slips:
        return None
    grip = gear.grip_written if gear.width or gear.style else None
    return Gear(gear.bar, cell if gear.bar else None, gear.position, gear.width, gear.style, grip)
