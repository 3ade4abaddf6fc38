"""Columns of a table that say how many sets and repetitions were planned, beside columns of loads headed by people."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import Load, parse_load
from preflare.reading.text import Cell, as_text, fold

if TYPE_CHECKING:
    from preflare.reading.tables import Column, Table

_SCHEME = re.compile(r"\d{1,2}\s*[x×*]\s*\d{1,2}(?:\s*[,;+]\s*\d{1,2}\s*[x×*]\s*\d{1,2})*")
_LOADS = re.compile(r"(?:[^\W\d_]{1,4}\.?\s*)?\+?\d+(?:[.,]\d+)?(?![\d.,]*\s*[x×*:])")
_WHOLE = re.compile(r"\d[\d.,]*\s*(?:kg|lb)?s?\s*[x×]\s*\d", re.I)  # a cell that says all by itself
_MOST = 0.8  # of the cells of a column that must be of its kind
_LEAST_LOAD = 12.0  # above which no number of repetitions or rating would be


@dataclass(slots=True)
class Plan:
    """loads: the column of one person. scheme: of "3x5"; or sets and reps apart. is_reps_first: "reps x sets"."""

    loads: "Column"
    scheme: "Column | None" = None
    sets: "Column | None" = None
    reps: "Column | None" = None
    is_reps_first: bool = False


def plan_beside(table: "Table", values: dict[int, list[Cell]], lexicon: Lexicon) -> "Plan | None":
    """The plan of a table without loads of its own; its `loads` is the first column of the plan, to be replaced."""
    if table.having("load", "date_column", "week_column", "weekday_column"):
        return None
    for column in table.columns:
        cells = [as_text(cell).strip() for cell in values.get(column.index, [])]
        if cells and sum(_SCHEME.fullmatch(cell) is not None for cell in cells) >= _MOST * len(cells):
            return Plan(column, scheme=column, is_reps_first=_is_reps_first(column.written, lexicon))
    sets, reps = table.first("sets"), table.first("reps")
    return Plan(sets, sets=sets, reps=reps) if sets is not None and reps is not None else None


def _is_reps_first(heading: str, lexicon: Lexicon) -> bool:
    """Whether a heading names repetitions before sets ("reps x sets")."""
    roles = [set(lexicon.headings_of.get(word, ())) for word in fold(heading).split()]
    told = ["reps" if "reps" in one else "sets" for one in roles if one & {"reps", "sets", "set_number"}]
    return told[:2] == ["reps", "sets"]


def are_loads(cells: Sequence[Cell], lexicon: Lexicon) -> bool:
    """Whether nearly all cells of a column are loads, one or several, with words behind them, or marks for none."""
    filled = [cell for cell in cells if not _is_mark(cell, lexicon)]
    told = [cell for cell in filled if _is_load(cell, lexicon)]
    numbers = [load.number for cell in told if (load := _first_load(cell)) is not None]
    return bool(filled) and len(told) >= _MOST * len(filled) and max(numbers, default=0.0) >= _LEAST_LOAD


def _is_mark(cell: Cell, lexicon: Lexicon) -> bool:
    return isinstance(cell, str) and (
        not fold(cell) or any(lexicon.sheet_word(cell, kind) for kind in ("missing", "rest", "not_done"))
    )


def _is_load(cell: Cell, lexicon: Lexicon) -> bool:
    if isinstance(cell, float):
        return cell > 0
    if not isinstance(cell, str) or len(cell) > 40:
        return False
    first = cell.split()[0] if cell.split() else ""
    is_told = _LOADS.match(cell.strip()) is not None or _WHOLE.match(cell.strip()) is not None
    return is_told or lexicon.work.known.get(fold(first.split("+")[0])) == "bodyweight"


def _first_load(cell: Cell) -> Load | None:
    if isinstance(cell, float):
        return parse_load(cell)
    match = re.search(r"\d+(?:[.,]\d+)?", cell) if isinstance(cell, str) else None
    return parse_load(match[0]) if match else None
