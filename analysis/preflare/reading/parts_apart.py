"""Loads, repetitions and numbers of sets that stand in rows of their own, put together as one text of work.

"(45) 72.5 / 75" over "5 / 4" are a warm-up and two sets; "BW / +5" over "6 / 5" are done with the body's weight.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from preflare.reading.body_counts import ON_THE_BODY
from preflare.reading.context import SheetContext
from preflare.reading.lexicon import Lexicon
from preflare.reading.marked_lists import with_marks, without_marks
from preflare.reading.text import Cell, as_text, fold

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
_BRACKETED = re.compile(r"[(\[]([\d.,;/\s–-]+)[)\]]")
_WHOLE_SET = re.compile(r"[(\[]\s*(\d+(?:[.,]\d+)?)\s*[x×*]\s*(\d{1,2})\s*[)\]]")
_ADDED = re.compile(r"\+?\d+(?:[.,]\d+)?")
_BEFORE_PLUS = re.compile(r"(?<=[^\W\d_])\s+(?=\+)")  # "BW +5"
_BETWEEN = re.compile(r"\s*[/;|]\s*|,\s+|\s+")


@dataclass(frozen=True, slots=True)
class Way:
    """How a log writes the parts of a lift. warm_up_reps: of loads in brackets, which its legend gives. is_added: loads
    hang on the body. is_on_body: the lift is done with the body's weight where no load stands."""

    warm_up_reps: int | None = None
    is_added: bool = False
    is_on_body: bool = False


def in_short(parts: Mapping[str, Cell], lexicon: Lexicon, way: Way) -> str | None:
    """Loads, repetitions and a number of sets that stand apart ("100/105", "5/5/4", "3") as one text of work.

    Parts in brackets are warm-ups and counted apart. None where loads or repetitions are missing or do not agree.
    """
    load, reps, sets = (as_text(parts.get(name)).strip() for name in ("load", "reps", "sets"))
    unit = next((word for word in ("lb", "kg") if word in load.casefold()), "")
    warm = [(weight, count) for weight, count in _WHOLE_SET.findall(load)]
    load = _WHOLE_SET.sub(" ", load)
    counts = _bracketed(reps) or ([str(way.warm_up_reps)] if way.warm_up_reps else [])
    warm += _paired(_bracketed(load), counts, None) or []
    n_sets = int(sets) if sets.isdecimal() else None
    loads = _loads(_BRACKETED.sub(" ", load).strip(), lexicon, way)
    work = _paired(loads, _NUMBER.findall(_BRACKETED.sub(" ", reps)), n_sets)
    if not work or _is_heavier(warm, work):
        return None
    texts = [f"{weight}{unit}x{count} w/u" for weight, count in warm]
    return "; ".join([*texts, *(_set(weight, count, unit) for weight, count in work)])


def way_of(context: SheetContext, exercise: str | None, headings: Iterable[str]) -> Way:
    """How the parts of a lift are to be taken: by the legend, by the words over its loads, by the lift."""
    told = context.legend.warm_up_reps
    is_added = any(context.lexicon.sheet_word(heading, "added_load") for heading in headings)
    is_on_body = exercise is not None and context.words.exercise(exercise).exercise in ON_THE_BODY
    return Way(told.reps if told is not None else None, is_added, is_on_body)


def put_together(context: SheetContext, row: int, column: int, parts: Mapping[str, Cell], way: Way) -> str | None:
    """The parts as one text; what was assumed of warm-ups in brackets, or left out for want of repetitions, is said."""
    bare, marked = without_marks(context, row, {"load": column}, parts)
    whole = in_short(bare, context.lexicon, way)
    whole = with_marks(whole, marked) if whole is not None else None
    if whole is None or not has_warm_up_apart(parts):
        return whole
    if "w/u" not in whole:
        told = as_text(parts.get("load")) or as_text(parts.get("reps"))
        reason = "the warm-up in brackets has no load or no repetitions of its own; it was not stored"
        context.reject_cell(row, column, told, reason, "write it as a set of its own: 45x5 w/u")
    elif (habit := context.legend.warm_up_reps) is not None:
        context.assume(f'From the legend ("{habit.sentence}"): loads in brackets are warm-ups of {habit.reps}.')
    return whole


def are_mixed(load: Cell, lexicon: Lexicon) -> bool:
    """Whether a cell of loads holds a warm-up in brackets beside others ("(45) 75"), or the weight of the body among
    several ("BW / +5")."""
    if not isinstance(load, str) or not _NUMBER.search(load):
        return False
    outside = _BRACKETED.sub(" ", _WHOLE_SET.sub(" ", load)).strip()
    if outside != load.strip():
        return _NUMBER.search(outside) is not None and not re.search(r"[()\[\]x×*@%]", outside)
    pieces = [piece for piece in _BETWEEN.split(_BEFORE_PLUS.sub("", load)) if piece]
    body = [lexicon.work.known.get(fold(piece.split("+")[0])) == "bodyweight" for piece in pieces]
    rest = (piece for piece, is_body in zip(pieces, body, strict=True) if not is_body)
    return len(pieces) > 1 and any(body) and all(_ADDED.fullmatch(piece) for piece in rest)


def has_warm_up_apart(parts: Mapping[str, Cell]) -> bool:
    """Whether something stands in brackets beside loads or repetitions."""
    return any("(" in as_text(cell) for cell in parts.values())


def _is_heavier(warm: list[tuple[str, str]], work: list[tuple[str, str]]) -> bool:
    """Whether a load in brackets is above all others, so that it can be no warm-up."""
    loads = [float(load.replace(",", ".")) for load, _ in work if not load.startswith("BW")]
    return bool(loads) and any(float(load.replace(",", ".")) > max(loads) for load, _ in warm)


def _set(weight: str, count: str, unit: str) -> str:
    if weight.startswith("BW"):
        return f"{weight}{unit if '+' in weight else ''} x{count}"
    return f"{weight}{unit}x{count}"


def _bracketed(text: str) -> list[str]:
    return [number for inside in _BRACKETED.findall(text) for number in _NUMBER.findall(inside)]


def _loads(text: str, lexicon: Lexicon, way: Way) -> list[str]:
    """The loads in a text: numbers; "BW" for the weight of the body, "BW+5" with a load hung on it."""
    if not text and way.is_on_body:
        return ["BW"]
    pieces = [piece for piece in _BETWEEN.split(_BEFORE_PLUS.sub("", text)) if piece]
    on_body = [lexicon.work.known.get(fold(piece.split("+")[0].strip("() "))) == "bodyweight" for piece in pieces]
    if not any(on_body) and not way.is_added and not all(piece.startswith("+") for piece in pieces):
        return _NUMBER.findall(text)
    told = [(_NUMBER.findall(piece), is_body) for piece, is_body in zip(pieces, on_body, strict=True)]
    loads = [f"BW+{numbers[0]}" if numbers else "BW" for numbers, is_body in told if numbers or is_body]
    return ["BW" if load in {"BW+0", "BW+0.0"} else load for load in loads]


def _paired(loads: list[str], reps: list[str], n_sets: int | None) -> list[tuple[str, str]] | None:
    """Loads with their repetitions, one number standing for all sets; None where their numbers do not agree."""
    n = n_sets or max(len(loads), len(reps))
    if n and (len(loads) not in {1, n} or len(reps) not in {1, n}):
        return None
    loads, reps = loads * (n if len(loads) == 1 else 1), reps * (n if len(reps) == 1 else 1)
    return list(zip(loads, reps, strict=True))
