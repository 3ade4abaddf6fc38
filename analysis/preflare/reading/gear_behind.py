"""Words for bar, grip and place of the bar behind all sets of a cell: "80x5, 85x5x2 @8 (high, medium)"."""

import re
from dataclasses import replace

from preflare.reading.context import SheetContext
from preflare.reading.words import Gear
from preflare.reading.work import Work

_ENDS = (re.compile(r"[(\[](?P<said>[^()\[\]\d]+)[)\]][\s.;,]*$"), re.compile(r"^\s*[(\[](?P<said>[^()\[\]\d]+)[)\]]"))
_LONE = re.compile(r"(?P<sets>.*\d)\s*(?:kg|lbs?)?[\s,;–-]+(?P<said>[^\d()\[\]]+)", re.I)
_BETWEEN = re.compile(r"\s*[,;/+&]\s*")
_SEVERAL = re.compile(r"[,;/\n+|]\s*\S*\d")  # another set behind a mark: a word at the end may be of the last alone


def gear_behind(context: SheetContext, text: str, work: Work) -> Gear | None:
    """What brackets around the end or the head of a cell name for all its sets, or words behind its only item.

    None where the cell names several lifts, or where nothing of it is known as gear. Words of other matters are left.
    """
    if len({one.exercise for one in work.sets}) > 1:
        return None
    if (said := _said(text)) is None:
        return None
    gear = Gear()
    for piece in _BETWEEN.split(said.strip()):
        gear = gear.over(_gear_in(context, piece))
    if gear == Gear():
        return None
    context.assume("Words for bar, grip and place of the bar beside sets were taken for all sets of the cell.")
    return gear


def _said(text: str) -> str | None:
    for pattern in _ENDS:
        if (match := pattern.search(text)) is not None:
            return match["said"]
    match = _LONE.fullmatch(text.strip())
    return match["said"] if match is not None and not _SEVERAL.search(match["sets"]) else None


def _gear_in(context: SheetContext, piece: str) -> Gear:
    """The gear of a piece that is nothing else; a letter only where the log explains it."""
    lexicon = context.lexicon
    tables = (lexicon.bar, lexicon.position, lexicon.width, lexicon.style)
    is_letter = len(piece.strip(" .")) < 2
    if not piece or (is_letter and not any(piece.strip(" .").casefold() in table.letters for table in tables)):
        return Gear()
    gear, unknown = context.words.gear(piece, "position" if lexicon.position.exact(piece) else "grip")
    if unknown or piece in context.words.slips:
        return Gear()
    grip = gear.grip_written if gear.width or gear.style else None
    return replace(gear, bar_written=gear.bar_written if gear.bar else None, grip_written=grip)
