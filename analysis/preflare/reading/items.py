"""What the numbers of one item of set shorthand mean, shape by shape (the shapes stand in shapes.py).

A reading that stays open is refused, never guessed.
"""

from dataclasses import replace

from preflare.reading.body_items import BODY_READERS
from preflare.reading.item import (
    LEAST_LOAD,
    MOST_REPS,
    MOST_SETS,
    Fields,
    How,
    Item,
    is_load,
    item_of,
    reps_list,
    whole,
)
from preflare.reading.numbers import unit_of
from preflare.reading.pairs import PAIR_READERS
from preflare.reading.spaced_sets import SPACED_READERS


def _word_load(f: Fields, how: How) -> Item | None:
    load = f.number("l")
    return (
        item_of(f.number("n"), load, float(_reps_of(f)), f.unit("k")) if is_load(load, how.small, f.unit("k")) else None
    )


def _reps_of(f: Fields) -> int:
    return int(f._tokens[f._match.start("w")].letter)


def _timed(f: Fields, how: How) -> Item | None:
    """Sets by the clock have no repetitions."""
    sets = whole(f.number("a"), 1, MOST_SETS)
    return None if sets is None else Item(sets, (), (None,))


def _missed(f: Fields, how: How) -> Item | None:
    return item_of(None, f.number("l"), 0, f.unit("k")) if is_load(f.number("l"), how.small, f.unit("k")) else None


def _load_effort_reps(f: Fields, how: How) -> Item | None:
    """ "100@8x5": from 6 on the number behind @ is the effort; below it is a number of sets."""
    load, effort = f.number("l"), f.number("e")
    if effort is None or not (6 <= effort <= 10 or f.has("word")) or not is_load(load, False):
        return None
    item = item_of(f.number("a"), load, f.number("b"), f.unit("k"))
    if item is None or effort > 10:
        return None
    doubt = f"{f.text('e')} behind @ was read as the effort, not as a number of sets"
    return replace(item, rpe=effort, doubts=() if f.has("word") or effort != int(effort) else (doubt,))


def _loads(f: Fields) -> tuple[tuple[float, ...], str | None]:
    """A list of loads and the unit written at one of them."""
    pieces = f.tokens("loads")
    unit = next((unit_of(token.value) for token in pieces if token.letter == "k"), None)
    return (f.number("l") or 0.0, *f.numbers("loads")), unit


def _reps_and_loads(f: Fields, how: How) -> Item | None:
    """ "5/3/1: 100, 115, 130": as many repetitions as loads."""
    loads, unit = _loads(f)
    item = reps_list(None, (f.number("first") or 0.0, *f.numbers("list")), unit)
    if item is None or len(loads) != len(item.reps) or not all(is_load(load, how.small) for load in loads):
        return None
    return replace(item, loads=loads)


def _scheme_and_loads(f: Fields, how: How) -> Item | None:
    """ "3x5 100/110/120": as many loads as sets."""
    loads, unit = _loads(f)
    item = item_of(f.number("a"), None, f.number("b"), unit)
    if item is None or len(loads) != item.sets or not all(is_load(load, how.small) for load in loads):
        return None
    return replace(item, loads=loads)


def _loads_reps(f: Fields, how: How) -> Item | None:
    """ "60/80/100x5": one set at each load, which rise."""
    loads, unit = _loads(f)
    item = item_of(None, None, f.number("b"), unit)
    if item is None or list(loads) != sorted(set(loads)) or not all(is_load(load, how.small) for load in loads):
        return None
    return replace(item, sets=len(loads), loads=loads)


def _load_sets_reps(f: Fields, how: How) -> Item | None:
    """A load of a bar or more, its repetitions, and perhaps how often."""
    if not is_load(f.number("l"), False, f.unit("k")):
        return None
    return item_of(f.number("a"), f.number("l"), f.number("b"), f.unit("k"))


def _dashes(f: Fields, how: How) -> Item | None:
    """ "135-5": a load and its repetitions, where no range of anything can be meant."""
    load, reps = f.number("l"), f.number("b")
    return _load_sets_reps(f, how) if load is not None and load >= 2 * LEAST_LOAD and reps and reps <= 15 else None


def _load_colon_reps(f: Fields, how: How) -> Item | None:
    load, first, more = f.number("l"), f.number("first"), f.numbers("list")
    is_clock = not more and f.unit("k") is None and not f.is_spaced("first")  # 20:15
    if first is None or is_clock or not is_load(load, how.small, f.unit("k")):
        return None
    return reps_list(load, (first, *more), f.unit("k")) if more else item_of(None, load, first, f.unit("k"))


def _load_reps_sum(f: Fields, how: How) -> Item | None:
    """ "100x5+5+4": sets, or clusters of one; the load lifts each number of them."""
    item = _load_reps_list(f, how)
    if item is None:
        return None
    written = "+".join(str(reps) for reps in item.reps)
    return replace(item, doubts=(f"{written} was read as {len(item.reps)} sets",))


def _percent_scheme(f: Fields, how: How) -> Item | None:
    item = item_of(f.number("a"), None, f.number("b"))
    return None if item is None else replace(item, percent=f.number("l"))


def _labelled(f: Fields, how: How) -> Item | None:
    load = f.number("l")
    if load is not None and not is_load(load, how.small, f.unit("k")):
        return None
    return item_of(f.number("a"), load, f.number("b"), f.unit("k"))


def _reps_labelled(f: Fields, how: How) -> Item | None:
    return (
        item_of(None, f.number("l"), f.number("b"), f.unit("k"))
        if is_load(f.number("l"), how.small, f.unit("k"))
        else None
    )


def _slashes(f: Fields, how: How) -> Item | None:
    """140/5/3 is load, repetitions, sets; 5/5/4 @100 are repetitions set by set."""
    a, b, c, more, load = f.number("a"), f.number("b"), f.number("c"), f.numbers("list"), f.number("l")
    if load is not None:
        numbers = [n for n in (a, b, c, *more) if n is not None]
        return reps_list(load, tuple(numbers), f.unit("k")) if is_load(load, how.small, f.unit("k")) else None
    if is_load(a, False, f.unit("ka")) and not more:
        return item_of(c, a, b, f.unit("ka"))
    return None


def _scheme_and_load(f: Fields, how: How) -> Item | None:
    load = f.number("l")
    is_small = how.small or f.letter_behind() in {"R", "I"}  # "3x10 10 RPE 6": no effort, for that stands behind
    if not is_load(load, is_small, f.unit("k")) or is_load(f.number("a"), False):
        return None
    return item_of(f.number("a"), load, f.number("b"), f.unit("k"))


def _percent_reps(f: Fields, how: How) -> Item | None:
    item = item_of(f.number("b"), None, f.number("a"))
    return None if item is None else replace(item, percent=f.number("l"))


def _load_reps_list(f: Fields, how: How) -> Item | None:
    """ "140x3,3,2". A second number before words is no set ("140x3, 2 min rest"); "100x3/5" may be three of five."""
    first, more = f.number("a"), f.numbers("list")
    if not is_load(f.number("l"), how.small, f.unit("k")) or first is None:
        return None
    is_rising = f.tokens("list")[0].letter == "/" and first < more[0]
    if len(more) == 1 and f.tokens("list")[0].letter == "/" and how.habits.is_of_planned:
        item = item_of(None, f.number("l"), first, f.unit("k"))
        return replace(item, is_failed=first < more[0]) if item is not None and first <= more[0] else None
    if len(more) == 1 and (is_rising or f.letter_behind() in {"?", "I", "E"}):
        return None
    return reps_list(f.number("l"), (first, *more), f.unit("k"))


def _load_reps_rated(f: Fields, how: How) -> Item | None:
    """ "100x5/5/5 @8": equal loads and an effort behind them; a number behind @ that is no effort is a load."""
    item = _load_reps_list(f, how)
    effort = f.number_behind("@")
    return None if item is None or (effort is not None and not 1 <= effort <= 10) else item


def _reps_list_at(f: Fields, how: How) -> Item | None:
    first, load = f.number("first"), f.number("l")
    if first is None or not is_load(load, how.small, f.unit("k")):
        return None
    return reps_list(load, (first, *f.numbers("list")), f.unit("k"))


def _load_list(f: Fields, how: How) -> Item | None:
    """ "100 (5,5,4)", "100 kg 5 5 4", "100: 5 5 4": the repetitions set by set."""
    load, first = f.number("l"), f.number("first")
    if first is None or not is_load(load, how.small, f.unit("k")):
        return None
    return reps_list(load, (first, *f.numbers("list")), f.unit("k"))


def _times_in_brackets(f: Fields, how: How) -> Item | None:
    """ "3x (100x5)" """
    return (
        item_of(f.number("n"), f.number("l"), f.number("b"), f.unit("k"))
        if is_load(f.number("l"), how.small, f.unit("k"))
        else None
    )


def _same(f: Fields, how: How) -> Item | None:
    """ "idem", "2x idem": sets like the one before, which whoever calls puts in."""
    sets = whole(f.number("n") or f.number("m") or 1.0, 1, MOST_SETS)
    return None if sets is None else Item(sets, (), (), is_repeat=True)


def _load_reps(f: Fields, how: How) -> Item | None:
    reps = f.numbers("list")
    if not reps:
        return None
    return (
        reps_list(f.number("l"), reps, f.unit("k"))
        if len(reps) > 1
        else item_of(None, f.number("l"), reps[0], f.unit("k"))
    )


def _at(f: Fields, how: How) -> Item | None:
    """180@8.5 is a load at an effort; 5@140 are repetitions at a load."""
    a, b = f.number("a"), f.number("b")
    if f.has("p"):
        item = item_of(None, None, a)
        return None if item is None else replace(item, percent=b)
    if (
        is_load(b, False, f.unit("k"))
        and whole(a, 1, MOST_REPS) is not None
        and not (f.unit("k") is None and is_load(a, False))
    ):
        return item_of(None, b, a, f.unit("k"))
    if is_load(a, False) and b is not None and b <= 10:
        return Item(1, (a,), (None,), rpe=b, doubts=("no repetitions are written",))
    return None


CORE_READERS = {
    **BODY_READERS,
    **PAIR_READERS,
    **SPACED_READERS,
    "word_load": _word_load,
    "load_word": _word_load,
    "timed": _timed,
    "missed": _missed,
    "reps_load_sets": _load_sets_reps,
    "load_effort_reps": _load_effort_reps,
    "reps_and_loads": _reps_and_loads,
    "scheme_and_loads": _scheme_and_loads,
    "loads_reps": _loads_reps,
    "load_in_brackets": _load_sets_reps,
    "load_reps_in_brackets": _load_sets_reps,
    "load_colon_reps": _load_colon_reps,
    "dashes": _dashes,
    "load_slash_reps": _load_sets_reps,
    "percent_scheme": _percent_scheme,
    "load_reps_sum": _load_reps_sum,
    "labelled": _labelled,
    "reps_labelled": _reps_labelled,
    "slashes": _slashes,
    "load_then_scheme": _scheme_and_load,
    "scheme_then_load": _scheme_and_load,
    "percent_reps": _percent_reps,
    "load_reps_list": _load_reps_list,
    "load_reps_rated": _load_reps_rated,
    "reps_list_at": _reps_list_at,
    "load_reps": _load_reps,
    "at": _at,
    "load_list_in_brackets": _load_list,
    "load_spaced_list": _load_list,
    "times_in_brackets": _times_in_brackets,
    "same": _same,
}
