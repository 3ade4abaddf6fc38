"""Loads without repetitions: sets that were meant and not done, as the legend says or the whole sheet shows."""

from preflare.reading.context import SheetContext
from preflare.reading.lift_cells import SetColumns, is_missing
from preflare.reading.numbers import parse_count


def is_only_planned(context: SheetContext, row: int, group: SetColumns) -> bool:
    """Whether a set has a load, none of the repetitions for which it has a column, and was not done by that; it is
    told of."""
    if group.reps is None or group.load is None or context.cell(row, group.reps.index) is not None:
        return False
    load = context.cell(row, group.load.index)
    if load is None or is_missing(context, load):
        return False
    if sentence := context.legend.blank_reps:
        context.assume(f'From the legend ("{sentence}"): a load without repetitions was read as a set not done.')
        return True
    if not _is_blank(context, group.reps.index):
        return False
    reason = f'nothing on the sheet stands under "{group.reps.written}", as in a plan; no set was stored'
    context.reject_cell(row, group.load.index, load, reason, "write the repetitions that were done beside the loads")
    return True


def _is_blank(context: SheetContext, column: int) -> bool:
    """Whether a column of the sheet holds no number of repetitions anywhere."""
    if column not in context.blank_columns:
        cells = (cells[column] for cells in context.sheet.rows if column < len(cells))
        context.blank_columns[column] = not any(_may_be_reps(cell) for cell in cells)
    return context.blank_columns[column]


def _may_be_reps(cell: object) -> bool:
    return isinstance(cell, float) or (isinstance(cell, str) and (parse_count(cell) is not None or cell[:1].isdigit()))
