"""What follows the numbers of an item: its effort, percentage, load, number of sets, misses and corrections."""

import re
from collections.abc import Sequence
from dataclasses import replace

from preflare.reading.clauses import corrected, missed, of_so_many, put_right, speaks_of_correction, words_of_clause
from preflare.reading.clauses_behind import last_only, put_right_in_words
from preflare.reading.item import MOST_REPS, MOST_SETS, Fields, Item, TokenLike, whole
from preflare.reading.text import fold

_TAILS = tuple(
    (name, re.compile(pattern))
    for name, pattern in (
        ("rpes", r"[,(]?@?R@?(?P<n>N)(?P<list>(?:[,/-]N){2,})\)?"),
        ("rpes", r"@(?P<n>N)(?P<list>(?:,?@N)+)(?![k%x])"),
        ("rpes_at", r"@(?P<n>N)(?P<list>(?:/N){2,}|(?:,N){2,})(?![k%x@/])"),  # @7/8/9, as many as sets with a load
        ("done", r"\((?P<n>N)(?P<list>(?:[,/+-]N)+)r?\)"),  # the repetitions done, set by set
        ("rpe", r"[,(]?@?R[@=]?(?P<n>N)(?:(?P<to>[-/])(?P<m>N))?\)?"),
        ("rpe", r"[,(]?@?(?P<n>N)(?:(?P<to>[-])(?P<m>N))?R\)?"),
        ("rir", r"[,(]?@?I[@o=]?(?P<n>N)\)?"),
        ("rir", r"[,(]?@?(?P<n>N)(?:-(?P<m>N))?r?o?I\)?"),
        ("percent", r"[,(]?@?(?P<n>N)%\)?"),
        ("failed_rep", r"\+(?P<n>N)?F"),
        ("failed", r"\(x\)|x(?![NB+kA(])"),
        ("warm_up", r"\(?W\)?"),
        (  # "(rack taken) RPE 7"
            "aside",
            r"\((?P<said>[?@E.,:;'kNop-]*[?@][?@E.,:;'kNop-]*)\)(?=,?@?[RI]@?N|,?@?N[RI]|@N(?![k%x]))",
        ),
        ("times", r"[,(]?x?(?P<n>N)s\)?(?![xo@]?N)|\(x(?P<m>N)\)|\((?P<o>N)x\)"),  # 100x5 (3 sets), 100x5 (x3)
        ("load", r"@?(?P<n>N)(?P<k>k)(?![x/-])"),
        ("added", r"@?(?P<plus>\+)(?P<n>N)(?P<k>k?)(?![x/+F:o])"),
        ("at", r"\(?(?P<sign>@)(?P<n>N)(?:(?P<to>[-/])(?P<m>N))?\)?(?![k%x]|N(?!k?[x@]))"),
    )
)
_EFFORT_WORDS = {"@", "at", "bei", "a", "auf", "ved", "med", "vid"}  # "z 5" and "na 4" are no efforts


def with_tails(item: Item, tokens: Sequence[TokenLike], letters: str, start: int) -> tuple[Item, int]:
    """The item with the effort, percentage, load and failure marks that follow its core, and where they end."""
    while start < len(letters):
        for clause in (missed, of_so_many, corrected, put_right, last_only, put_right_in_words):
            if (said := clause(item, tokens, start)) is not None:
                item, start = said
                break
        else:
            if (found := _tail(item, tokens, letters, start)) is None:
                return item, start
            item, start = found
    return item, start


def _tail(item: Item, tokens: Sequence[TokenLike], letters: str, start: int) -> tuple[Item, int] | None:
    for name, pattern in _TAILS:
        match = pattern.match(letters, start)
        changed = _apply(item, name, Fields(match, tokens)) if match is not None else None
        if match is not None and changed is not None:
            return changed, match.end()
    return None


def _apply(item: Item, name: str, f: Fields) -> Item | None:
    if name in {"failed", "failed_rep"}:
        return replace(item, is_failed=True)
    if name == "warm_up":
        return replace(item, is_warm_up=True)
    if name == "aside":
        return _with_aside(item, f)
    if name == "rpes_at":
        return set_by_set(item, "rpes", (f.number("n") or 0.0, *f.numbers("list"))) if item.loads else None
    if name in {"rpes", "done"}:
        return set_by_set(item, name, (f.number("n") or 0.0, *f.numbers("list")))
    if name == "times":
        return _times(item, f)
    if name in {"rpe", "rir"} or (name == "at" and (f.number("n") or 99.0) <= 10):
        return _with_effort(item, name, f)
    return _with_load(item, name, f)


def _with_aside(item: Item, f: Fields) -> Item | None:
    """Words in brackets between a set and its effort; one with a number is told of, one that may change it is none."""
    said = f.tokens("said")
    words = [fold(token.value) for token in said if token.letter == "?"]
    if any(word in words_of_clause(kind) for word in words for kind in ("last", "out_of", "all_sets")):
        return None
    written = " ".join(token.value for token in said)
    has_number = any(token.letter == "N" for token in said)
    if has_number and (speaks_of_correction(said) or any(token.letter == "@" for token in said)):
        return None
    return replace(item, doubts=(*item.doubts, f"({written}) was left aside")) if has_number else item


def _times(item: Item, f: Fields) -> Item | None:
    """Sets counted behind them: "100x5, 3 sets"."""
    n = whole(f.number("n") or f.number("m") or f.number("o"), 1, MOST_SETS)
    is_one = item.sets == 1 and len(item.reps) == 1 and len(item.loads) == 1
    return replace(item, sets=n) if n is not None and is_one else None


def _with_effort(item: Item, name: str, f: Fields) -> Item | None:
    """One effort; of a range the half between, with a doubt; "8/10" is eight out of ten."""
    low, high = f.number("n"), f.number("m") if f.has("m") else None
    least = 0 if name == "rir" else 1  # an RPE begins at 1; "@0,45" is a speed
    if low is None or not least <= low <= 10 or (name == "at" and (item.rpe is not None or not _is_effort_sign(f))):
        return None
    if high == 10 and f.text("to") == "/":
        high = None
    middle = low if high is None else (low + high) / 2
    doubt = () if high is None else (f"{format(low, 'g')}-{format(high, 'g')} was read as {format(middle, 'g')}",)
    doubts = (*item.doubts, *doubt)
    return replace(item, rir=middle, doubts=doubts) if name == "rir" else replace(item, rpe=middle, doubts=doubts)


def _is_effort_sign(f: Fields) -> bool:
    return f.text("sign").casefold() in _EFFORT_WORDS


def _with_load(item: Item, name: str, f: Fields) -> Item | None:
    number = f.number("n")
    if name == "percent" and item.percent is None:
        return replace(item, percent=number)
    if item.loads or number is None:
        return None
    if name == "load":
        return replace(item, loads=(number,), unit=f.unit("k"))
    if name == "added" and not (f.is_spaced("n") and not f.is_spaced("plus")):  # "1x5+ 100" is no load hung on
        return replace(item, loads=(number,), unit=f.unit("k"), is_added=True)
    return replace(item, loads=(number,)) if name == "at" and not f.has("m") else None


def set_by_set(item: Item, name: str, numbers: tuple[float, ...]) -> Item | None:
    """One effort, or the repetitions done, for each set; None when they are not as many as the sets."""
    n = max(item.sets, len(item.reps), len(item.loads))
    if len(numbers) != n:
        return None
    if name == "rpes":
        return replace(item, rpes=numbers) if all(1 <= number <= 10 for number in numbers) else None
    reps = tuple(whole(number, 0, MOST_REPS) for number in numbers)
    return None if None in reps else replace(item, reps=reps, doubts=())
