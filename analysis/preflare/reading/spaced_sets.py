"""Sets with nothing but a space between the load and its repetitions: "155 5/5/4 @8", "80 5, 5, 5", "wu 135 5".

A list of repetitions behind a number that can be none of them says what it is. A lone number behind another may be a
number of sets as well; it is read where the log writes such lists.
"""

import re
from collections.abc import Iterable
from dataclasses import replace

from preflare.reading.item import LEAST_LOAD, MOST_REPS, Fields, How, Item, is_load, item_of, reps_list

_LISTED = re.compile(r"(?<![\d.,/x×*@+-])\d{2,3}(?:[.,]\d+)?\s+\d{1,2}(?:[/,]\s?\d{1,2})+(?![\d.,/x×*])")
_LEAST = 2  # cells that must show it
_LEAST_LOAD_ALONE = 1.5 * LEAST_LOAD  # "25 5" may be two numbers of repetitions


def write_load_apart(texts: Iterable[str]) -> bool:
    """Whether cells of a log, two or more, hold a load, a space and a list of repetitions."""
    n = 0
    for text in texts:
        n += _LISTED.search(text) is not None
        if n >= _LEAST:
            return True
    return False


def _load_list_apart(f: Fields, how: How) -> Item | None:
    """ "155 5/5/4": as many sets as numbers. "100 3/5" may be three of five, "100 4/10" a rating."""
    load, first, more = f.number("l"), f.number("first"), f.numbers("list")
    effort = f.number_behind("@")
    is_other = f.letter_behind() in {"?", "I", "E"} and len(more) == 1
    if first is None or is_other or not is_load(load, how.small, f.unit("k")) or not f.is_spaced("first"):
        return None
    if effort is not None and not 1 <= effort <= 10:
        return None
    if len(more) == 1 and first < more[0]:
        return None
    item = reps_list(load, (first, *more), f.unit("k"))
    if item is None or 0 in item.reps[:-1]:
        return None
    is_full_mark = len(more) == 1 and first == more[0] == 10
    doubts = ("10/10 was read as two sets of 10",) if is_full_mark else ()
    return replace(item, doubts=doubts)


def _load_reps_apart(f: Fields, how: How) -> Item | None:
    """ "135 5", in a log that writes "245 5/5/5"."""
    load, reps = f.number("l"), f.number("b")
    effort = f.number_behind("@")
    if not how.habits.is_load_apart or load is None or not _LEAST_LOAD_ALONE <= load <= 1500 or load <= MOST_REPS:
        return None
    if effort is not None and not 1 <= effort <= 10:
        return None
    return item_of(None, load, reps)


SPACED_READERS = {"load_apart_list": _load_list_apart, "load_apart_reps": _load_reps_apart}
