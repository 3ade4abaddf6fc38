"""Efforts written for a whole row of sets: whose one is, and lists of one for each set ("7/8/9", "/7,5/8,5")."""

import re
from collections.abc import Iterable

from preflare.reading.context import SheetContext
from preflare.reading.lift_cells import RPE_SCALE, Lift, effort_in, is_missing, reserve_in
from preflare.reading.numbers import parse_effort
from preflare.reading.tables import Column
from preflare.reading.text import as_text, fold
from preflare.reading.work_of_log import is_effort_of_all, is_effort_of_last

_LAST = frozenset(
    {"last", "final", "letzter", "letzten", "letzte", "derniere", "dernier", "ultima", "ultimo", "laatste"}
)
_LAST |= {"ostatnia", "ostatniej", "siste", "sidste", "sista"}


def is_of_last_set(column: Column) -> bool:
    """Whether a heading says that its effort is that of the last set ("RPE last set")."""
    return bool(_LAST & set(fold(column.written).split()))


def give_effort(
    context: SheetContext,
    row: int,
    kind: str,
    column: Column,
    lifts: list[Lift],
    about: list[int],
    parts: Iterable[int],
) -> None:
    """One effort for a whole row of sets is that of its heaviest working sets; an effort written at a set stands.

    parts: the columns of loads, repetitions and work of the row, whose lists show that an effort may be one too.
    """
    pieces = _pieces(as_text(context.cell(row, column.index)))
    working = [i for i in about if not lifts[i].is_warm_up]
    of_sets = next((sets for sets in (about, working) if len(sets) == len(pieces)), [])
    if each := _one_for_each(context, row, kind, pieces, of_sets, parts):
        for i, one in each.items():
            _give(lifts[i], kind, one)
        return
    effort = effort_in(context, row, column.index, kind)
    if effort is None and (reserve := reserve_in(context.cell(row, column.index))) is not None:
        kind, effort = "RIR", reserve
    if effort is None or not about:
        return
    working = working or about
    if is_of_last_set(column) or is_effort_of_last(context):
        working = working[-1:]
    if not is_effort_of_all(context):
        heaviest = max(lifts[i].load_kg or 0.0 for i in working)
        working = [i for i in working if (lifts[i].load_kg or 0.0) == heaviest]
    for i in working:
        _give(lifts[i], kind, effort)


def _give(lift: Lift, kind: str, effort: float) -> None:
    if kind == "RPE" and lift.rpe is None:
        lift.rpe = effort
    elif kind == "RIR" and lift.rir is None:
        lift.rir = effort


_BETWEEN = re.compile(r"\s*[/;|]\s*|,\s+|\s+[-–—]\s+")
_HYPHENS = re.compile(r"\d+(?:[.,]\d)?(?:[-–—]\d+(?:[.,]\d)?){2,}")  # 7-8-9; two numbers are a range
_SPACES = re.compile(r"\d+(?:[.,]\d)?(?:\s+\d+(?:[.,]\d)?)+")
_OF_TEN = re.compile(r"\s*\d+(?:[.,]\d)?\s*/\s*10\s*")  # "8/10": eight of ten
_SLASH = re.compile(r"\d\D{0,6}/\s*\+?\d")


def _one_for_each(
    context: SheetContext, row: int, kind: str, pieces: list[str], of_sets: list[int], parts: Iterable[int]
) -> dict[int, float]:
    """Lift -> its effort, from a list with a piece for every set of `of_sets`; {} for any other cell.

    A piece may be blank or a stroke. Two numbers at a slash are a list only where another cell of the row holds one.
    """
    if len(pieces) < 2 or len(pieces) != len(of_sets):
        return {}
    told = {i: parse_effort(piece) for i, piece in zip(of_sets, pieces, strict=True) if not _is_blank(context, piece)}
    least = RPE_SCALE[0] if kind == "RPE" else 0.0
    each = {i: one[0] for i, one in told.items() if one is not None and not one[1] and least <= one[0] <= RPE_SCALE[1]}
    if len(each) < len(told):
        return {}
    is_list = len(each) > 2 or len(each) < len(pieces) or _has_list(context, row, parts)
    return each if is_list else {}


def _pieces(text: str) -> list[str]:
    bare = re.sub(r"^\s*(?:rpe|rir|pse|@)\s*:?(?=\s*\d)", "", text, flags=re.I)
    if _HYPHENS.fullmatch(bare.strip()):
        return re.split(r"[-–—]", bare.strip())
    if _SPACES.fullmatch(bare.strip()):
        return bare.split()
    if _OF_TEN.fullmatch(bare):
        return [bare]
    return [piece.strip() for piece in _BETWEEN.split(bare)]


def _is_blank(context: SheetContext, piece: str) -> bool:
    return piece in {"", "x", "w", "c"} or is_missing(context, piece)


def _has_list(context: SheetContext, row: int, parts: Iterable[int]) -> bool:
    cells = (context.cell(row, index) for index in parts)
    return any(isinstance(cell, str) and _SLASH.search(cell) is not None for cell in cells)
