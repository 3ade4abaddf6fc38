"""A load that holds for several columns of repetitions ("kg | Reps 1 | Reps 2 | Reps 3"), or repetitions for loads.

A blank among the numbered columns is a set not done. Several numbers in the cell of all are one for each set.
"""

import re

from preflare.reading.blank_reps import is_only_planned
from preflare.reading.context import SheetContext
from preflare.reading.lift_cells import SetColumns, is_missing
from preflare.reading.numbers import parse_load
from preflare.reading.tables import Column
from preflare.reading.text import Cell

_IN_BRACKETS = re.compile(r"[(\[][^()\[\]]*[)\]]")
_BETWEEN = re.compile(r"\s*[/;]\s*|,\s+")

Cells = dict[str, Cell]


def own_share(context: SheetContext, row: int, group: SetColumns, cells: Cells) -> Cells | None:
    """The cells of one numbered set with its own part of what holds for all; None for a set that was not done."""
    name, own = ("load", group.reps) if group.is_load_shared else ("reps", group.load)
    filled = [column for column in group.sharing if _is_filled(context, row, column)]
    if not filled:
        return _alone(context, row, group, cells) if own is group.sharing[0] else None
    if own not in filled:
        return None
    text, is_first = cells.get(name), own is filled[0]
    if not isinstance(text, str):
        return cells
    bare = text if is_first else _IN_BRACKETS.sub(" ", text).strip() or text  # a warm-up in brackets is done once
    pieces = _BETWEEN.split(_IN_BRACKETS.sub(" ", text).strip())
    if len(pieces) < 2 or any(parse_load(piece) is None for piece in pieces):
        return {**cells, name: bare}
    for columns in (filled, list(group.sharing)):
        if len(pieces) == len(columns):
            warm_up = " ".join(_IN_BRACKETS.findall(text)) if is_first else ""
            return {**cells, name: f"{warm_up} {pieces[columns.index(own)]}".strip()}
    if is_first:
        reason = f"{len(pieces)} values stand here for {len(filled)} sets; none was stored with the sets"
        _set_aside(context, row, group, text, reason, "write one value for all sets, or one for each")
    return {**cells, name: None}


def _alone(context: SheetContext, row: int, group: SetColumns, cells: Cells) -> Cells | None:
    """What holds for all sets, with none of them filled in: repetitions and work in short are read as they are; a load
    is set aside."""
    load = cells.get("load")
    if not group.is_load_shared or (isinstance(load, str) and parse_load(load) is None):
        return cells
    if load is not None and not is_missing(context, load) and not is_only_planned(context, row, group):
        reason = "a load without repetitions in any of its sets; no set was stored"
        _set_aside(context, row, group, load, reason, "write the repetitions that were done beside the load")
    return None


def _is_filled(context: SheetContext, row: int, column: Column) -> bool:
    cell = context.cell(row, column.index)
    return cell is not None and not is_missing(context, cell)


def _set_aside(context: SheetContext, row: int, group: SetColumns, cell: Cell, reason: str, remedy: str) -> None:
    column = group.load if group.is_load_shared else group.reps
    assert column is not None
    context.reject_cell(row, column.index, cell, reason, remedy)
