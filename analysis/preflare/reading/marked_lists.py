"""Lists of loads or repetitions, one number a set, in which some carry a mark: "30c/40/45" is a warm-up and two sets.

A mark means what the log's legend or the vocabulary says; a letter that begins a word for warm-ups and stands at the
lighter loads in front is a warm-up too, and said so. Any other is told of, and its set stays plain work.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from preflare.reading.numbers import parse_load, parse_number
from preflare.reading.text import Cell
from preflare.reading.warm_ups import LETTERS

if TYPE_CHECKING:
    from preflare.reading.context import SheetContext

_BETWEEN = re.compile(r"\s*[/;|]\s*|,\s+|\s+[-–—]\s+|\s*(?:->|→)\s*")
_SIGN = r"[^\W\d_]{1,12}\.?|[*!#^~†°¤§]{1,2}"
_NO_MARK = re.compile(r"(?:kgs?|lbs?|bw|rpe|rir|pse|set|sets|rep|reps)\.?", re.I)
_NUMBER = r"\+?\d+(?:[.,]\d+)?(?:\s*(?:kgs?|lbs?)(?![^\W\d_]))?"
_BEHIND = re.compile(rf"(?P<number>{_NUMBER})\s*[(\[]?\s*(?P<sign>{_SIGN})\s*[)\]]?")
_BEFORE = re.compile(rf"[(\[]?\s*(?P<sign>{_SIGN})\s*[)\]]?\s*(?P<number>{_NUMBER})")
_MOST_LETTERS = 2  # of a mark that nothing explains
_LONGEST = 60  # letters of a list


@dataclass(frozen=True, slots=True)
class Marked:
    """Which pieces of a list, counted from 0, are warm-ups and which were missed."""

    warm_ups: frozenset[int] = frozenset()
    missed: frozenset[int] = frozenset()


def without_marks(
    context: "SheetContext", row: int, columns: Mapping[str, int], cells: Mapping[str, Cell]
) -> tuple[dict[str, Cell], Marked]:
    """(the cells of load and repetitions with lists of plain numbers, what marks in the lists say)."""
    bare, marked = dict(cells), Marked()
    for name in ("load", "reps"):
        cell = cells.get(name)
        pieces = pieces_of(cell) if isinstance(cell, str) else []
        signs = [sign for _, sign in pieces if sign]
        if not signs or any(sign in _words_apart(context) for sign in signs):
            continue
        told = _meanings(context, pieces)
        if any(meaning is None and len(sign) > _MOST_LETTERS for sign, meaning in told.items()):
            continue  # "60 SSB/70": a word is more than a mark
        if len(signs) == len(pieces) and set(told.values()) == {None} and len(told) == 1:
            told = dict.fromkeys(told, "other")  # "5x/5x/4x": a sign at every number tells none from another
        if None in told.values() and name in columns:
            _tell(context, row, columns[name], pieces, [sign for sign, meaning in told.items() if meaning is None])
        kinds = [told.get(sign) for _, sign in pieces]
        marked = Marked(
            marked.warm_ups | {i for i, kind in enumerate(kinds) if kind == "warm_up"},
            marked.missed | {i for i, kind in enumerate(kinds) if kind == "failed"},
        )
        bare[name] = "/".join(number for number, _ in pieces)
    return bare, marked


def pieces_of(text: str) -> list[tuple[str, str]]:
    """The pieces of a list as (number, its mark or ""); nothing where the text is no list of such."""
    if len(text) > _LONGEST or len(parts := [part.strip() for part in _BETWEEN.split(text.strip())]) < 2:
        return []
    pieces = [_piece(part) for part in parts]
    return [piece for piece in pieces if piece is not None] if None not in pieces else []


def _piece(text: str) -> tuple[str, str] | None:
    if parse_load(text) is not None:
        return text, ""
    match = _BEHIND.fullmatch(text) or _BEFORE.fullmatch(text)
    if match is None or _NO_MARK.fullmatch(match["sign"]) or _is_year(match["number"]):
        return None
    return match["number"], match["sign"].strip(".").casefold()


def _is_year(text: str) -> bool:
    return re.fullmatch(r"(?:19|20)\d\d", text) is not None


def _words_apart(context: "SheetContext") -> frozenset[str]:
    """Signs for the body's weight, which are no marks of a number beside them."""
    return frozenset(word for word, what in context.lexicon.work.known.items() if what == "bodyweight")


def _meanings(context: "SheetContext", pieces: Sequence[tuple[str, str]]) -> dict[str, str | None]:
    """Each mark of a list -> warm_up, failed, other (it changes nothing), or None when nothing says."""
    told: dict[str, str | None] = {}
    signs = list(dict.fromkeys(sign for _, sign in pieces if sign))
    for sign in signs:
        usual = context.lexicon.work.exact(sign)
        meaning = context.marks.get(sign) or context.marks.get(f"({sign})")
        told[sign] = meaning or (usual if usual in {"warm_up", "failed"} else "warm_up" if sign == "w" else None)
        if told[sign] is None and len(signs) == 1 and sign in LETTERS and _leads_lighter(pieces, sign):
            told[sign] = "warm_up"
            context.assume(f'"{sign}" at the first, lighter loads of a list was read as warm-up.')
    return told


def _leads_lighter(pieces: Sequence[tuple[str, str]], sign: str) -> bool:
    """Whether a mark stands at the first numbers of a list and at no other, all of them below the rest."""
    marks = [mark == sign for _, mark in pieces]
    n = sum(marks)
    numbers = [parse_number(re.sub(r"[^\d.,]", "", number)) or 0.0 for number, _ in pieces]
    return 0 < n < len(marks) and all(marks[:n]) and max(numbers[:n]) < min(numbers[n:])


def _tell(
    context: "SheetContext", row: int, column: int, pieces: Sequence[tuple[str, str]], signs: Sequence[str]
) -> None:
    """Say which marks nothing explains; their sets stay plain work."""
    for number, sign in pieces:
        if sign in signs:
            reason = f'nothing says what "{sign}" means at "{number}"; the set was stored as plain work'
            remedy = f'explain it in a line above the table, such as "{sign} = warm-up" or "{sign} = missed"'
            context.reject_cell(row, column, context.cell(row, column), reason, remedy)


def with_marks(work: str, marked: Marked) -> str:
    """Work in short, its sets set off by ";", with the words for what their marks mean."""
    words = dict.fromkeys(marked.warm_ups, " w/u") | dict.fromkeys(marked.missed, " fail")
    return "; ".join(f"{one}{words.get(i, '')}" for i, one in enumerate(work.split("; ")))
