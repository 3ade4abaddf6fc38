"""What stands beside the number in a cell of loads or repetitions: "105 SSB", "5 @9", "60 (wu)".

Taken apart only where every word of it is known; any other cell stays as it is written.
"""

import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from preflare.reading.numbers import parse_load
from preflare.reading.text import Cell
from preflare.reading.words import Gear

if TYPE_CHECKING:
    from preflare.reading.context import SheetContext

_NUMBER = r"[(\[]?\+?\d+(?:[.,]\d+)*(?:\s*/\s*\d{1,2})?\s*(?:kgs?|lbs?|#)?[)\]]?"
_EFFORT = re.compile(  # 5 @9, 5 RPE 9, 5 (@8.5), 185 @ RPE 8, 5 @2 RIR
    rf"(?P<rest>{_NUMBER})\s*[,;(\[]?\s*(?:@\s*(?P<a>rpe|rir|pse)?|(?P<b>rpe|rir|pse)\s*[@:]?)\s*"
    r"(?P<n>\d{1,2}(?:[.,]\d)?)\s*(?P<c>rpe|rir|pse)?\s*[)\]]?",
    re.I,
)
_WORDS_BEHIND = re.compile(rf"(?P<number>{_NUMBER})\s*[,;:(\[–-]?\s*(?P<words>[^\W\d][^\d]*?)\s*[)\]]?")
_WORDS_BEFORE = re.compile(rf"(?P<words>[^\W\d][^\d]*?)\s*[:,–-]?\s*(?P<number>{_NUMBER})")
_MOST_LETTERS = 30


@dataclass(frozen=True, slots=True)
class Beside:
    """What the cells of one set say of it beside its numbers."""

    gear: Gear = field(default_factory=Gear)
    rpe: float | None = None
    rir: float | None = None
    is_warm_up: bool = False
    is_failed: bool = False


def taken_apart(context: "SheetContext", cells: dict[str, Cell]) -> tuple[dict[str, Cell], Beside]:
    """(the cells of load and repetitions with their numbers alone, what else they say).

    An effort is told by its word, or behind @ where load and repetitions have cells of their own.
    """
    beside, bare = Beside(), dict(cells)
    for name in ("load", "reps"):
        cell = cells.get(name)
        if not isinstance(cell, str) or len(cell) > _MOST_LETTERS or parse_load(cell) is not None:
            continue
        text = context.lexicon.rewritten(cell).strip()
        text, beside = _without_effort(text, beside, {"load", "reps"} <= cells.keys())
        text, beside = _without_words(context, text, beside)
        bare[name] = text if text != cell.strip() else cell
    return bare, beside


def _without_effort(text: str, beside: Beside, is_at_enough: bool) -> tuple[str, Beside]:
    match = _EFFORT.fullmatch(text)
    if match is None:
        return text, beside
    word = (match["a"] or match["b"] or match["c"] or "").casefold()
    number = float(match["n"].replace(",", "."))
    if (not word and not is_at_enough) or not (0 if word == "rir" else 1) <= number <= 10:
        return text, beside
    return match["rest"].strip(), replace(beside, **{"rir" if word == "rir" else "rpe": number})  # type: ignore[arg-type]


def _without_words(context: "SheetContext", text: str, beside: Beside) -> tuple[str, Beside]:
    """The number of a text whose other words are all for a bar, a grip, a place of the bar, a warm-up or a miss."""
    match = _WORDS_BEHIND.fullmatch(text) or _WORDS_BEFORE.fullmatch(text)
    if match is None or parse_load(text) is not None:
        return text, beside
    number, words = match["number"].strip(), match["words"].strip()
    work = context.marks.get(words.casefold()) or context.lexicon.work.exact(words)
    if work in {"warm_up", "failed"}:
        is_warm_up, is_failed = beside.is_warm_up or work == "warm_up", beside.is_failed or work == "failed"
        return number, replace(beside, is_warm_up=is_warm_up, is_failed=is_failed)
    gear, unknown = context.words.gear(words, "bar")
    if unknown or words in context.words.slips or not (gear.bar or gear.position or gear.width):
        return text, beside
    told = gear if gear.bar else replace(gear, bar_written=None)
    context.choose("bar", words, ", ".join(filter(None, (gear.bar, gear.position, gear.width))), "vocabulary")
    return number, replace(beside, gear=told.over(beside.gear))


def with_own_gear(gear: Gear, own: Gear | None) -> Gear:
    """The gear of a set whose cell names some itself: grip and place that were told of another bar fall away."""
    if own is None or own == Gear():
        return gear
    if own.bar is not None and (own.bar == "safety" or gear.bar not in {None, own.bar}) and own.bar != gear.bar:
        gear = Gear()
    return own.over(gear)
