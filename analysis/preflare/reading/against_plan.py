"""What was done, told against what was planned: "ok", "5/5/4" beside "3x5x100", "100 = 105" beside "3x5".

The answer is the same work written whole, in set shorthand, so that one grammar reads it.
"""

import re

from preflare.reading.item import MOST_REPS
from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import parse_number
from preflare.reading.shorthand import WorkSet, parse_work
from preflare.reading.stand_ins import is_as_planned
from preflare.reading.text import Cell, as_text, fold

_REPS = re.compile(r"\d{1,2}(?:\s*[/,;-]\s*\d{1,2})*")
_AT = re.compile(
    r"(?P<reps>\d{1,2}(?:\s*[/,;+-]\s*\d{1,2})*)\s*(?:@|na|at|à|bei|mit|con|com|met|med|a|på)\s*(?P<load>\d+(?:[.,]\d+)?)",
    re.I,
)
_LOAD = re.compile(
    r"(?P<same>=+|\"|”|''|idem|id\.?)"
    r"|(?P<load>\d+(?:[.,]\d+)?)(?P<unit>\s*(?:kg|lb)s?)?"
    r"|(?P<word>[^\W\d]+\.?)(?P<added>\+\d+(?:[.,]\d+)?)?"
)
_DONE = re.compile(r"\s*\(\s*(\d{1,2})\s*\)")


def done_in_full(done: Cell, plan: Cell, lexicon: Lexicon) -> str | None:
    """The work of a cell in shorthand, with what it leaves to the plan taken from there; None when it stays open.

    None as well where the cell says all by itself.
    """
    if plan is None:
        return None
    if is_as_planned(done, lexicon):
        return as_text(plan)
    text = as_text(done)
    if (more := _besides_the_plan(text, lexicon)) is not None:
        return f"{as_text(plan)}; {more}"
    planned = parse_work(as_text(plan), lexicon, allow_small_loads=True).sets
    if not planned:
        return None
    if (match := _AT.fullmatch(text)) and planned[0].load is not None:
        return "; ".join(f"{match['load']}x{reps}" for reps in re.findall(r"\d+", match["reps"]))
    if planned[0].load is not None and _REPS.fullmatch(text):
        return _repetitions_at(planned, [int(number) for number in re.findall(r"\d+", text)])
    if planned[0].load is None:
        return _loads_of(planned, text, lexicon)
    return None


def _besides_the_plan(text: str, lexicon: Lexicon) -> str | None:
    """What stands beside "ok": "ok + w/u 1x8x30"; None where the text does not begin so."""
    first, _, more = re.sub(r"\s*[+;,]\s*", "|", text, count=1).partition("|")
    return more if more and is_as_planned(first, lexicon) else None


def _repetitions_at(planned: tuple[WorkSet, ...], reps: list[int]) -> str | None:
    """Repetitions set by set at the loads planned; fewer numbers are fewer sets."""
    if max(reps) > MOST_REPS or (len(reps) == 1 and len(planned) > 1 and reps[0] > len(planned)):
        return None
    loads = [one.load for one in planned]
    loads += [loads[-1]] * (len(reps) - len(loads))
    before, unit = ("BW+" if planned[0].is_added else ""), planned[0].unit or ""
    return "; ".join(f"{before}{format(load or 0.0, 'g')}{unit}x{n}" for load, n in zip(loads, reps, strict=False))


def _loads_of(planned: tuple[WorkSet, ...], text: str, lexicon: Lexicon) -> str | None:
    """Loads set by set ("100 = 105(2)") with the repetitions planned; those in brackets were done instead."""
    pieces: list[str] = []
    before = None
    at = 0
    text = text.strip()
    while at < len(text):
        match = _LOAD.match(text, at)
        if match is None:
            return None
        at = match.end()
        if match["same"]:
            load = before
        elif match["word"]:
            load = f"BW{match['added'] or ''}" if lexicon.work.known.get(fold(match["word"])) == "bodyweight" else None
        else:
            load = f"{match['load']}{(match['unit'] or '').strip()}"
        if load is None:
            return None
        before = load
        own = _DONE.match(text, at)
        at = own.end() if own else at
        reps = int(own[1]) if own else (planned[min(len(pieces), len(planned) - 1)].reps)
        if reps is None:
            return None
        pieces.append(f"{load}x{reps}" if not load.startswith("BW") else f"{load} x{reps}")
        while at < len(text) and text[at] in " ,;/-\t\n":
            at += 1
    numbers = [number for piece in pieces if (number := parse_number(piece.split("x")[0])) is not None]
    is_loads = not numbers or max(numbers) >= 15
    return "; ".join(pieces) if pieces and is_loads else None


def with_plan_taken_off(label: str, lexicon: Lexicon) -> tuple[str, str | None]:
    """A label without its words for planned or done, and which of them stood there: "plan", "done" or None."""
    kept, told = [], None
    for word in label.split():
        plain = fold(word)
        what = next((kind for kind in ("plan", "done") if plain and lexicon.sheet_word(word, kind)), None)
        if what is None:
            kept.append(word)
        told = told or what
    return (" ".join(kept).strip(" :-–,()") if told else label.strip(" :")), told
