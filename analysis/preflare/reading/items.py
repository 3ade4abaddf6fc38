"""What the numbers of one item of set shorthand mean, shape by shape (the shapes stand in shapes.py).

A reading that stays open is refused, never guessed.
"""

from dataclasses import replace

from preflare.reading.item import LEAST_LOAD, MOST_REPS, MOST_SETS, Fields, Item, is_load, item_of, whole
from preflare.reading.numbers import unit_of


def _word_load(f: Fields, small: bool) -> Item | None:
    load = f.number("l")
    return item_of(f.number("n"), load, float(_reps_of(f)), f.unit("k")) if is_load(load, small, f.unit("k")) else None


def _reps_of(f: Fields) -> int:
    return int(f._tokens[f._match.start("w")].letter)


def _body(f: Fields, small: bool) -> Item | None:
    reps, sets, extra = f.number("a"), f.number("b"), f.numbers("list")
    if reps is None:
        return None
    item = item_of(sets, f.number("l"), reps, f.unit("k"), is_added=True)
    if item is None or not extra:
        return item
    return _reps_list(f.number("l"), (reps, *extra), f.unit("k"), is_added=True)


def _body_sets_reps(f: Fields, small: bool) -> Item | None:
    return item_of(f.number("a"), f.number("l"), f.number("b"), f.unit("k"), is_added=True)


def _added(f: Fields, small: bool) -> Item | None:
    return item_of(f.number("b"), f.number("l"), f.number("a"), f.unit("k"), is_added=True)


def _timed(f: Fields, small: bool) -> Item | None:
    """Sets by the clock have no repetitions."""
    sets = whole(f.number("a"), 1, MOST_SETS)
    return None if sets is None else Item(sets, (), (None,))


def _missed(f: Fields, small: bool) -> Item | None:
    return item_of(None, f.number("l"), 0, f.unit("k")) if is_load(f.number("l"), small, f.unit("k")) else None


def _load_effort_reps(f: Fields, small: bool) -> Item | None:
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


def _reps_and_loads(f: Fields, small: bool) -> Item | None:
    """ "5/3/1: 100, 115, 130": as many repetitions as loads."""
    loads, unit = _loads(f)
    item = _reps_list(None, (f.number("first") or 0.0, *f.numbers("list")), unit)
    if item is None or len(loads) != len(item.reps) or not all(is_load(load, small) for load in loads):
        return None
    return replace(item, loads=loads)


def _scheme_and_loads(f: Fields, small: bool) -> Item | None:
    """ "3x5 100/110/120": as many loads as sets."""
    loads, unit = _loads(f)
    item = item_of(f.number("a"), None, f.number("b"), unit)
    if item is None or len(loads) != item.sets or not all(is_load(load, small) for load in loads):
        return None
    return replace(item, loads=loads)


def _loads_reps(f: Fields, small: bool) -> Item | None:
    """ "60/80/100x5": one set at each load, which rise."""
    loads, unit = _loads(f)
    item = item_of(None, None, f.number("b"), unit)
    if item is None or list(loads) != sorted(set(loads)) or not all(is_load(load, small) for load in loads):
        return None
    return replace(item, sets=len(loads), loads=loads)


def _load_sets_reps(f: Fields, small: bool) -> Item | None:
    """A load of a bar or more, its repetitions, and perhaps how often."""
    if not is_load(f.number("l"), False, f.unit("k")):
        return None
    return item_of(f.number("a"), f.number("l"), f.number("b"), f.unit("k"))


def _dashes(f: Fields, small: bool) -> Item | None:
    """ "135-5": a load and its repetitions, where no range of anything can be meant."""
    load, reps = f.number("l"), f.number("b")
    return _load_sets_reps(f, small) if load is not None and load >= 2 * LEAST_LOAD and reps and reps <= 15 else None


def _load_colon_reps(f: Fields, small: bool) -> Item | None:
    load, first, more = f.number("l"), f.number("first"), f.numbers("list")
    is_clock = not more and f.unit("k") is None and not f.is_spaced("first")  # 20:15
    if first is None or is_clock or not is_load(load, small, f.unit("k")):
        return None
    return _reps_list(load, (first, *more), f.unit("k")) if more else item_of(None, load, first, f.unit("k"))


def _load_reps_sum(f: Fields, small: bool) -> Item | None:
    """ "100x5+5+4": sets, or clusters of one; the load lifts each number of them."""
    item = _load_reps_list(f, small)
    if item is None:
        return None
    written = "+".join(str(reps) for reps in item.reps)
    return replace(item, doubts=(f"{written} was read as {len(item.reps)} sets",))


def _in_each_hand(f: Fields, small: bool) -> Item | None:
    """ "2x20kg x 10": two dumbbells."""
    item = item_of(f.number("a"), f.number("l"), f.number("b"), f.unit("k")) if f.number("n") == 2 else None
    return None if item is None else replace(item, doubts=("the load was read as that of one hand",))


def _percent_scheme(f: Fields, small: bool) -> Item | None:
    item = item_of(f.number("a"), None, f.number("b"))
    return None if item is None else replace(item, percent=f.number("l"))


def _labelled(f: Fields, small: bool) -> Item | None:
    load = f.number("l")
    if load is not None and not is_load(load, small, f.unit("k")):
        return None
    return item_of(f.number("a"), load, f.number("b"), f.unit("k"))


def _reps_labelled(f: Fields, small: bool) -> Item | None:
    return (
        item_of(None, f.number("l"), f.number("b"), f.unit("k")) if is_load(f.number("l"), small, f.unit("k")) else None
    )


def _three(f: Fields, small: bool) -> Item | None:
    """load x reps x sets, or sets x reps x (or @) load: the load is the number that can be one."""
    a, b, c = f.number("a"), f.number("b"), f.number("c")
    if f.has("p"):
        item = item_of(a, None, b)
        return None if item is None else replace(item, percent=c)
    more = f.numbers("loads")
    if f.letter_before("c") != "@" and (f.has("ka") or (is_load(a, small) and not is_load(c, small, f.unit("kc")))):
        return item_of(c, a, b, f.unit("ka")) if not more else None
    if (is_load(c, small, f.unit("kc")) or _follows_at(f, c)) and not is_load(a, False):
        item = item_of(a, c, b, f.unit("kc"))
        if item and more and len(more) + 1 == item.sets and c is not None:
            return replace(item, loads=(c, *more))
        return item if not more else None
    return None


def _follows_at(f: Fields, number: float | None) -> bool:
    """ "3x10 @15": above 10 it is no effort, so the number after @ is a load, however small."""
    return number is not None and number > 10 and f.letter_before("c") == "@"


def _slashes(f: Fields, small: bool) -> Item | None:
    """140/5/3 is load, repetitions, sets; 5/5/4 @100 are repetitions set by set."""
    a, b, c, more, load = f.number("a"), f.number("b"), f.number("c"), f.numbers("list"), f.number("l")
    if load is not None:
        numbers = [n for n in (a, b, c, *more) if n is not None]
        return _reps_list(load, tuple(numbers), f.unit("k")) if is_load(load, small, f.unit("k")) else None
    if is_load(a, False, f.unit("ka")) and not more:
        return item_of(c, a, b, f.unit("ka"))
    return None


def _scheme_and_load(f: Fields, small: bool) -> Item | None:
    load = f.number("l")
    if not is_load(load, small, f.unit("k")) or is_load(f.number("a"), False):
        return None
    return item_of(f.number("a"), load, f.number("b"), f.unit("k"))


def _percent_reps(f: Fields, small: bool) -> Item | None:
    item = item_of(f.number("b"), None, f.number("a"))
    return None if item is None else replace(item, percent=f.number("l"))


def _reps_list(load: float | None, reps: tuple[float, ...], unit: str | None, is_added: bool = False) -> Item | None:
    counts = tuple(whole(r, 0, MOST_REPS) for r in reps)
    if None in counts or not 1 < len(counts) <= MOST_SETS:
        return None
    return Item(len(counts), () if load is None else (load,), counts, unit, is_added=is_added)


def _load_reps_list(f: Fields, small: bool) -> Item | None:
    first = f.number("a")
    if not is_load(f.number("l"), small, f.unit("k")) or first is None:
        return None
    return _reps_list(f.number("l"), (first, *f.numbers("list")), f.unit("k"))


def _two(f: Fields, small: bool) -> Item | None:
    """load x reps ("140x3"), sets x reps ("3x5"), or reps x load ("5x140")."""
    a, b = f.number("a"), f.number("b")
    doubts = []
    if f.has("amrap"):
        doubts.append(f"{f.text('b')}+ was read as {f.text('b')} repetitions")
    if f.has("lo"):
        return _ranged(f, a, b, small)
    item = None
    if f.has("kb"):
        if b is not None and b < LEAST_LOAD and not small:
            doubts.append(f"{f.text('b')} {f.text('kb')} was read as the load")
        item = item_of(None, b, a, f.unit("kb"))
    elif is_load(a, small, f.unit("ka")) and not (
        small and a is not None and a <= 5 and a == int(a) and not f.has("ka")
    ):
        item = item_of(None, a, b, f.unit("ka"))
    elif (
        a is not None
        and a <= 10
        and b is not None
        and b <= MOST_REPS
        and b == int(b)
        and not (a <= 12 and b >= LEAST_LOAD)
    ):
        item = item_of(a, None, b)
    elif not small and a is not None and a <= 12 and is_load(b, False) and b is not None and b > 50:
        item = item_of(None, b, a)
    return None if item is None else replace(item, doubts=tuple(doubts))


def _ranged(f: Fields, a: float | None, b: float | None, small: bool) -> Item | None:
    """ "3x4-6": a plan, not what was done; the sets stand, their repetitions stay unknown."""
    low = f.numbers("lo")[0]
    doubt = (f"{format(low, 'g')}-{f.text('b')} repetitions is a range, so the repetitions stay unknown",)
    if is_load(a, small, f.unit("ka")):
        return Item(1, (a,), (None,), f.unit("ka"), doubts=doubt)
    sets = whole(a, 1, 10)
    return None if sets is None else Item(sets, (), (None,), doubts=doubt)


def _amrap(f: Fields, small: bool) -> Item | None:
    if not is_load(f.number("a"), small, f.unit("ka")):
        return None
    if f.has("b"):
        return item_of(None, f.number("a"), f.number("b"), f.unit("ka"))
    return Item(1, (f.number("a"),), (None,), f.unit("ka"), doubts=("AMRAP without the number of repetitions done",))


def _reps_list_at(f: Fields, small: bool) -> Item | None:
    first, load = f.number("first"), f.number("l")
    if first is None or not is_load(load, small, f.unit("k")):
        return None
    return _reps_list(load, (first, *f.numbers("list")), f.unit("k"))


def _load_reps(f: Fields, small: bool) -> Item | None:
    reps = f.numbers("list")
    if not reps:
        return None
    return (
        _reps_list(f.number("l"), reps, f.unit("k"))
        if len(reps) > 1
        else item_of(None, f.number("l"), reps[0], f.unit("k"))
    )


def _at(f: Fields, small: bool) -> Item | None:
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
    "word_load": _word_load,
    "load_word": _word_load,
    "body": _body,
    "body_sets_reps": _body_sets_reps,
    "body_list": _body,
    "added": _added,
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
    "in_each_hand": _in_each_hand,
    "load_reps_sum": _load_reps_sum,
    "labelled": _labelled,
    "reps_labelled": _reps_labelled,
    "three": _three,
    "slashes": _slashes,
    "load_then_scheme": _scheme_and_load,
    "scheme_then_load": _scheme_and_load,
    "percent_reps": _percent_reps,
    "load_reps_list": _load_reps_list,
    "two": _two,
    "amrap": _amrap,
    "reps_list_at": _reps_list_at,
    "load_reps": _load_reps,
    "at": _at,
}


def set_by_set(item: Item, name: str, numbers: tuple[float, ...]) -> Item | None:
    """One effort, or the repetitions done, for each set; None when they are not as many as the sets."""
    n = max(item.sets, len(item.reps), len(item.loads))
    if len(numbers) != n:
        return None
    if name == "rpes":
        return replace(item, rpes=numbers) if all(1 <= number <= 10 for number in numbers) else None
    reps = tuple(whole(number, 0, MOST_REPS) for number in numbers)
    return None if None in reps else replace(item, reps=reps, doubts=())
