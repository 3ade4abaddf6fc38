"""What two or three bare numbers with times signs mean: by their size, and where that leaves it open by the habit of
the log (see orders.py). What stays open is refused.
"""

from dataclasses import replace

from preflare.reading.item import LEAST_LOAD, MOST_REPS, Fields, How, Item, is_load, item_of, whole

_IN_WORDS = {"LR": "load x repetitions", "RL": "repetitions x load"}
_NO_SETS = 5  # up to here a bare whole number may be a number of sets even in a log that writes load x repetitions


def _two(f: Fields, how: How) -> Item | None:
    """load x reps ("140x3"), sets x reps ("3x5"), or reps x load ("5x140")."""
    a, b = f.number("a"), f.number("b")
    if a is None or b is None:
        return None
    if f.has("lo"):
        return _ranged(f, a, b, how)
    meant = _order_of(f, a, b, how)
    if meant is None:
        return None
    item = {
        "LR": lambda: item_of(None, a, b, f.unit("ka")),
        "RL": lambda: item_of(None, b, a, f.unit("kb")),
        "SR": lambda: item_of(a, None, b),
    }[meant]()
    return None if item is None else replace(item, doubts=_doubts(f, meant, a, b, how))


def _order_of(f: Fields, a: float, b: float, how: How) -> str | None:
    """Which of two numbers is what: LR, RL, SR (sets x repetitions), or None where it stays open."""
    if f.has("kb") or f.has("ka"):
        return "RL" if f.has("kb") else "LR"
    if b != int(b):
        return "RL" if whole(a, 1, MOST_REPS) is not None else None
    if a != int(a) or a > MOST_REPS:
        return "LR"
    return _by_habit(a, b, how) or _by_size(a, b, how.small)


def _by_habit(a: float, b: float, how: How) -> str | None:
    """The order of two whole numbers that could be either, in a log whose other sets are written one way."""
    most_sets = 10 if how.habits.has_schemes else _NO_SETS
    if how.habits.pair == "LR" and a > most_sets and b <= MOST_REPS:
        return "LR"
    least = 15 if how.habits.has_schemes else _NO_SETS + 1 if how.small else 10
    if how.habits.pair == "RL" and a >= 1 and b >= least:
        return "RL"
    return None


def _by_size(a: float, b: float, small: bool) -> str | None:
    if is_load(a, small) and not (small and a <= _NO_SETS):
        return "LR"
    if a <= 10 and b <= MOST_REPS and b < LEAST_LOAD:
        return "SR"
    if not small and a <= 12 and b > 50:
        return "RL"
    return None


def _doubts(f: Fields, meant: str, a: float, b: float, how: How) -> tuple[str, ...]:
    doubts = []
    if f.has("amrap"):
        doubts.append(f"{f.text('b')}+ was read as {f.text('b')} repetitions")
    if f.has("kb") and b < LEAST_LOAD and not how.small:
        doubts.append(f"{f.text('b')} {f.text('kb')} was read as the load")
    is_bare = not f.has("ka") and not f.has("kb")
    if is_bare and meant in {"LR", "RL"} and how.habits.pair not in {meant, None}:
        doubts.append(f"it was read as {_IN_WORDS[meant]}, other than the rest of the log")
    return tuple(doubts)


def _ranged(f: Fields, a: float, b: float, how: How) -> Item | None:
    """ "3x4-6": a plan, not what was done; the sets stand, their repetitions stay unknown."""
    low = f.numbers("lo")[0]
    doubt = (f"{format(low, 'g')}-{f.text('b')} repetitions is a range, so the repetitions stay unknown",)
    if is_load(a, how.small, f.unit("ka")):
        return Item(1, (a,), (None,), f.unit("ka"), doubts=doubt)
    sets = whole(a, 1, 10)
    return None if sets is None else Item(sets, (), (None,), doubts=doubt)


def _three(f: Fields, how: How) -> Item | None:
    """load x reps x sets, or sets x reps x (or @) load: the load is the number that can be one."""
    a, b, c = f.number("a"), f.number("b"), f.number("c")
    if f.has("p"):
        item = item_of(a, None, b)
        return None if item is None else replace(item, percent=c)
    if f.has("loads"):
        return _sets_of_loads(f, how)
    order = _order_of_three(f, how)
    if order is None:
        return None
    number = dict(zip(order, (a, b, c), strict=True))
    return item_of(number["S"], number["L"], number["R"], f.unit("ka", "kb", "kc"))


def _order_of_three(f: Fields, how: How) -> str | None:
    """The order of load L, repetitions R and sets S: by a sign, a unit, the log's habit, or the size."""
    a, c = f.number("a"), f.number("c")
    is_at = f.letter_before("c") == "@"
    if f.letter_before("b") == "o" or f.letter_before("c") == "o":
        return (
            "SRL" if is_load(c, how.small, f.unit("kc")) and not is_load(a, False) else None
        )  # "100x3 of 5" is no three sets
    if how.habits.triple is not None and not is_at and _fits(f, how.habits.triple):
        return how.habits.triple
    if not is_at and (f.has("ka") or (is_load(a, how.small) and not is_load(c, how.small, f.unit("kc")))):
        return "LRS"
    is_load_last = is_load(c, how.small, f.unit("kc")) or (is_at and c is not None and c > 10)
    if is_load_last and not is_load(a, False):  # "3x10 @15": above 10 it is no effort, so it is a load, however small
        return "SRL"
    return "LRS" if how.habits.pair == "LR" and not is_at and not f.has("kb") and not f.has("kc") else None


def _fits(f: Fields, order: str) -> bool:
    """Whether three numbers can be in an order: whole repetitions and sets, no unit but the load's."""
    for name, what in zip("abc", order, strict=True):
        number = f.number(name)
        if what != "L" and (f.has(f"k{name}") or whole(number, 1, MOST_REPS if what == "R" else 20) is None):
            return False
    return True


def _sets_of_loads(f: Fields, how: How) -> Item | None:
    """ "3x5 @100/105/110": a load for each set."""
    a, c, more = f.number("a"), f.number("c"), f.numbers("loads")
    item = item_of(a, c, f.number("b"), f.unit("kc"))
    if item is None or c is None or len(more) + 1 != item.sets or not is_load(c, how.small, f.unit("kc")):
        return None
    return replace(item, loads=(c, *more))


def _amrap(f: Fields, how: How) -> Item | None:
    """ "100xAMRAP 12": as many as possible, and how many that were."""
    load = f.number("a")
    if not is_load(load, how.small, f.unit("ka")):
        return None
    if f.has("b"):
        return item_of(None, load, f.number("b"), f.unit("ka"))
    return Item(1, (load,), (None,), f.unit("ka"), doubts=("AMRAP without the number of repetitions done",))


def _times_load(f: Fields, how: How) -> Item | None:
    """ "3x100kgx5": so many sets; "2x20kg x 10": two dumbbells, where the load is a small one."""
    n, load = f.number("n"), f.number("l")
    if n is None or load is None:
        return None
    if f.has("a") or (n == 2 and load < 3 * LEAST_LOAD):
        item = item_of(f.number("a"), load, f.number("b"), f.unit("k")) if n == 2 else None
        return None if item is None else replace(item, doubts=("the load was read as that of one hand",))
    return item_of(n, load, f.number("b"), f.unit("k"))


def _hands_scheme(f: Fields, how: How) -> Item | None:
    """ "2x22,5 kg 3x10", "3x10 2x20kg": two dumbbells, and how often."""
    load = f.number("l")
    if f.number("n") != 2 or load is None or load >= 3 * LEAST_LOAD:
        return None
    item = item_of(f.number("a"), load, f.number("b"), f.unit("k"))
    return None if item is None else replace(item, doubts=("the load was read as that of one hand",))


PAIR_READERS = {
    "hands_scheme": _hands_scheme,
    "two": _two,
    "three": _three,
    "amrap": _amrap,
    "amrap_first": _amrap,
    "in_each_hand": _times_load,
}
