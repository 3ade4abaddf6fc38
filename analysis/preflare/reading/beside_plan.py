"""People across beside a plan: "3x5" in the row, each lifter's loads in a column of their own ("55 R2", "55/60/60").

The plan says how many sets and repetitions; the cell says the loads, and what was otherwise: repetitions in brackets,
another bar, an effort. What a cell leaves open is set aside.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from preflare.reading.context import SheetContext
from preflare.reading.item import MOST_REPS
from preflare.reading.lexicon import Lexicon
from preflare.reading.lift_cells import Lift, SetColumns, in_kg, is_missing, with_looks
from preflare.reading.lifts import lift_of_work_set
from preflare.reading.numbers import parse_load
from preflare.reading.planned_columns import Plan
from preflare.reading.tables import Column
from preflare.reading.text import Cell, as_text, fold, words_of
from preflare.reading.words import Gear
from preflare.reading.work_of_log import is_effort_of_last, work_in

_SCHEME = re.compile(r"(\d{1,2})\s*[x×*]\s*(\d{1,2})(?![\d.,]*\s*[x×*])")
_WHOLE = re.compile(r"\d\s*(?:kg|lb)?s?\s*[x×]\s*\d", re.I)  # a cell that says all by itself
_LIST = re.compile(r"\d{1,2}(?:\s*[-/,;]\s*\d{1,2})+")
_EFFORT = re.compile(
    r"(?:(?P<word>rpe|rir|pse)\s*[@:=]?\s*|@\s*)(?P<n>\d{1,2}(?:[.,]\d|½)?)(?!\d)|(?P<m>\d)\s*(?P<behind>rir)\b", re.I
)
_DONE = re.compile(r"[(\[]\s*(\d{1,2}(?:\s*[-/,;+]\s*\d{1,2})*)\s*[)\]]")
_LOAD = re.compile(r"\+?\d+(?:[.,]\d+)?(?:\s*(?:kgs?|lbs?)\b)?", re.I)
_PIECE = re.compile(r"\s*(?:[;|]|,\s)\s*")
_SIGN = re.compile(r"^\s*[\"'“]?(?P<sign>[^\W\d_]{1,5})(?P<n>\d?)[\"'”]?\s*[=:]\s*(?P<said>.+)$")


@dataclass(slots=True)
class _Cell:
    """What one cell says beside its loads."""

    loads: list[tuple[float | None, str | None, bool]]  # load, unit, whether on the body
    reps: list[int]
    rpe: float | None = None
    rir: float | None = None
    gear: Gear | None = None
    is_warm_up: bool = False
    is_failed: bool = False


def lifts_beside_plan(context: SheetContext, row: int, plan: Plan, exercise: str | None) -> list[Lift]:
    """The sets of one person in one row. A cell that cannot be read is set aside."""
    column = plan.loads
    cell = context.cell(row, column.index)
    if cell is None or is_missing(context, cell) or _is_not_done(context, cell):
        return []
    if isinstance(cell, str) and _WHOLE.search(cell):
        work = work_in(context, cell)
        if work.sets:
            return [
                lift_of_work_set(context, one, None, one.exercise or exercise, None, column.index) for one in work.sets
            ]
    context.assume(
        f'Numbers under "{column.written}" were read as that person\'s loads of the sets planned in the row.'
    )
    planned = _planned(context, row, plan)
    if planned is None:
        return _open(context, row, column, "the plan beside it does not say how many sets and repetitions it is of")
    found = _taken_apart(context, row, column, cell)
    if found is None:
        return []
    if found.reps and len(found.reps) not in {1, len(planned)} and len(found.loads) not in {1, len(found.reps)}:
        return _open(context, row, column, "loads and repetitions do not agree in number")
    if len(found.reps) == 1 and len(planned) > 1:
        return _open(
            context, row, column, "one number in brackets beside several sets: repetitions of which, or an effort"
        )
    reps = found.reps or planned
    if len(found.loads) not in {1, len(reps)}:
        told = f"{len(found.loads)} loads beside a plan of {len(reps)} sets"
        return _open(context, row, column, f"{told}; it is not known which sets they are of")
    loads = found.loads * (len(reps) if len(found.loads) == 1 else 1)
    lifts = [_lift(context, column, one, count, found, exercise) for one, count in zip(loads, reps, strict=True)]
    lifts[-1].is_failed = found.is_failed
    _give_effort(context, lifts, found)
    with_looks(context, row, SetColumns(load=column), lifts)
    return lifts


def _open(context: SheetContext, row: int, column: Column, reason: str) -> list[Lift]:
    remedy = 'write it like "100/105/110", or in full like "100x5, 105x5"'
    context.reject_cell(row, column.index, context.cell(row, column.index), f"{reason}; no set was stored", remedy)
    return []


def _is_not_done(context: SheetContext, cell: Cell) -> bool:
    return isinstance(cell, str) and any(context.lexicon.sheet_word(cell, kind) for kind in ("not_done", "rest"))


def _planned(context: SheetContext, row: int, plan: Plan) -> list[int] | None:
    """The repetitions of each set planned, or None."""
    told = context.cell(row, plan.scheme.index) if plan.scheme is not None else None
    if plan.scheme is not None:
        text = as_text(told).strip() if told is not None else ""
        if schemes := _SCHEME.findall(text):
            pairs = [(int(b), int(a)) if plan.is_reps_first else (int(a), int(b)) for a, b in schemes]
            return [reps for n, reps in pairs for _ in range(n)]
        return [int(number) for number in re.findall(r"\d+", text)] if _LIST.fullmatch(text) else None
    sets, reps = (context.cell(row, column.index) if column else None for column in (plan.sets, plan.reps))
    n, counts = as_text(sets).strip(), as_text(reps).strip()
    if _LIST.fullmatch(counts) and (not n or len(re.findall(r"\d+", counts)) == int(n if n.isdecimal() else 0)):
        return [int(number) for number in re.findall(r"\d+", counts)]
    is_told = n.isdecimal() and counts.isdecimal() and 1 <= int(n) <= 20 and 1 <= int(counts) <= MOST_REPS
    return [int(counts)] * int(n) if is_told else None


def _taken_apart(context: SheetContext, row: int, column: Column, cell: Cell) -> _Cell | None:
    """The loads of a cell and what stands beside them; None where it is set aside."""
    if isinstance(cell, float):
        return _Cell([(cell, None, False)], [])
    text, found = as_text(cell).strip(), _Cell([], [])
    text = _without_effort(context, text, found)
    if match := _DONE.search(text):
        found.reps = [int(number) for number in re.findall(r"\d+", match[1])]
        text = f"{text[: match.start()]} {text[match.end() :]}".strip()
    text = _without_missed(context, row, column, text)
    words = " ".join(re.findall(r"[^\W\d_]+\.?", re.sub(r"(?<=\d)\s*(?:kgs?|lbs?)\b", " ", text, flags=re.I)))
    on_body = [word for word in words.split() if context.lexicon.work.known.get(fold(word)) == "bodyweight"]
    for word in dict.fromkeys(word for word in words.split() if word not in on_body):
        _take_word(context, row, column, word, found)
    numbers = _LOAD.findall(text)
    for number in numbers:
        load = parse_load(number.strip())
        if load is None:
            _open(context, row, column, "a load in it is not a number")
            return None
        found.loads.append((abs(load.number), load.unit, number.startswith("+") or bool(on_body)))
    if on_body and not numbers:
        found.loads.append((None, None, True))
    if not found.loads:
        _open(context, row, column, "it says no load")
        return None
    return found


def _without_effort(context: SheetContext, text: str, found: _Cell) -> str:
    signs = _signs_of_effort(context)
    if signs:
        any_sign = "|".join(map(re.escape, sorted(signs, key=len, reverse=True)))
        if match := re.search(rf"(?<![^\W_])(?P<sign>{any_sign})\s*(?P<n>\d{{1,2}}(?:[.,]\d)?)(?![\d.,])", text):
            _set_effort(found, signs[match["sign"]], match["n"])
            return f"{text[: match.start()]} {text[match.end() :]}".strip(" ,;")
    if match := _EFFORT.search(text):
        kind = "rir" if "rir" in (match["word"] or match["behind"] or "").casefold() else "rpe"
        _set_effort(found, kind, match["n"] or match["m"])
        return f"{text[: match.start()]} {text[match.end() :]}".strip(" ,;")
    return text


def _set_effort(found: _Cell, kind: str, number: str) -> None:
    value = float(number.replace(",", ".").replace("½", ".5"))
    if kind == "rir" and 0 <= value <= 10:
        found.rir = value
    elif kind == "rpe" and 1 <= value <= 10:
        found.rpe = value


def _signs_of_effort(context: SheetContext) -> dict[str, str]:
    """Letters that a legend says to be efforts ("R2 = repetitions in reserve"): letters -> rpe or rir."""
    signs: dict[str, str] = {}
    for sign, said in _signs_told(context):
        roles = {role for _, _, role in context.lexicon.heading.find(words_of(said))} & {"rpe", "rir"}
        if len(roles) == 1:
            signs[sign] = roles.pop()
    return signs


def _signs_told(context: SheetContext) -> Iterable[tuple[str, str]]:
    """The signs of a legend with the words that explain them."""
    for line in context.legend.lines:
        for statement in re.split(r"(?<=[^\s.]{3})[.;]\s+", line.text):
            if line.is_sure and (match := _SIGN.match(statement)):
                yield match["sign"], match["said"]


def _without_missed(context: SheetContext, row: int, column: Column, text: str) -> str:
    """The text without attempts said to have been missed before the load that was done: "95 no, 92.5"."""
    pieces = _PIECE.split(text)
    if len(pieces) < 2:
        return text
    missed = [piece for piece in pieces[:-1] if _says_missed(piece, context.lexicon)]
    for piece in missed:
        reason = f'"{piece}" was read as not done, before the load behind it; that was stored'
        context.reject_cell(
            row, column.index, context.cell(row, column.index), reason, "write it as a set, if it was one"
        )
    return "; ".join(piece for piece in pieces if piece not in missed)


def _says_missed(piece: str, lexicon: Lexicon) -> bool:
    words = re.sub(r"[\d.,+]+\s*(?:kgs?|lbs?)?", " ", piece).strip(" .()")
    is_no = bool(words) and (fold(words) in _NO or lexicon.work.exact(words) == "failed")
    return is_no and _LOAD.search(piece) is not None


_NO = frozenset({"no", "non", "nein", "nicht", "nao", "nee", "niet", "nie", "nei", "nej", "x"})


def _take_word(context: SheetContext, row: int, column: Column, word: str, found: _Cell) -> None:
    """Take down what a word beside a load says: warm-up, a miss, a bar or grip; any other is told of."""
    bare = word.strip(".")
    kind = context.marks.get(bare.casefold()) or context.lexicon.work.exact(bare)
    if kind in {"warm_up", "failed"}:
        found.is_warm_up, found.is_failed = found.is_warm_up or kind == "warm_up", found.is_failed or kind == "failed"
        return
    gear, unknown = context.words.gear(bare, "bar")
    if unknown or not (gear.bar or gear.position or gear.width):
        gear = _gear_told(context, bare) or Gear()
    if gear.bar or gear.position or gear.width:
        found.gear = gear.over(found.gear) if found.gear is not None else gear
        return
    reason = f'nothing says what "{word}" means; the sets were stored without it'
    context.reject_cell(row, column.index, context.cell(row, column.index), reason, "explain it in a line of a legend")


def _gear_told(context: SheetContext, sign: str) -> Gear | None:
    """The bar that a sentence of a legend names for a sign ("sic = used the safety bar instead")."""
    for written, said in _signs_told(context):
        bars = {hit for _, _, hit in context.lexicon.bar.find(words_of(said))}
        if fold(written) == fold(sign) and len(bars) == 1:
            context.assume(f'From the legend: "{sign}" in a cell means the {next(iter(bars))} bar ("{said}").')
            return replace(context.words.gear(bars.pop(), "bar")[0], bar_written=sign)
    return None


def _lift(
    context: SheetContext,
    column: Column,
    load: tuple[float | None, str | None, bool],
    reps: int,
    found: _Cell,
    exercise: str | None,
) -> Lift:
    number, unit, is_on_body = load
    load_kg = in_kg(context, number, unit) if number is not None else None
    note = None
    if is_on_body:
        note = "body weight" + (f" + {format(load_kg, 'g')} kg" if load_kg is not None else "")
    return Lift(load_kg, reps, None, None, found.is_warm_up, False, exercise, note, column.index, gear=found.gear)


def _give_effort(context: SheetContext, lifts: list[Lift], found: _Cell) -> None:
    """The effort of a cell is that of its heaviest sets, of the last where a line of the log says so."""
    if found.rpe is None and found.rir is None:
        return
    heaviest = max(lift.load_kg or 0.0 for lift in lifts)
    about = lifts[-1:] if is_effort_of_last(context) else [one for one in lifts if (one.load_kg or 0.0) == heaviest]
    for lift in about:
        lift.rpe, lift.rir = found.rpe, found.rir
