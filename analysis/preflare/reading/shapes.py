"""The shapes of one item of set shorthand, and what the numbers in each mean.

Each shape is a regular expression over token letters (see shorthand.tokenise). Which number is the load follows from
its size: a barbell load is 20 or more, nobody does more than 10 sets of one item or writes more than 30 repetitions.
Between the two, a reading that stays open is refused, never guessed ("common practice, no published source").
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from preflare.reading.numbers import unit_of

LEAST_LOAD = 20.0  # an empty bar; below it a bare number is no barbell load
MOST_SETS = 20
MOST_REPS = 30


class TokenLike(Protocol):
    """A token as this module needs it."""

    @property
    def letter(self) -> str: ...
    @property
    def value(self) -> str: ...


@dataclass(frozen=True, slots=True)
class Item:
    """What one item says: `sets` sets, one load or one a set, one number of repetitions or one a set."""

    sets: int
    loads: tuple[float | None, ...]
    reps: tuple[int | None, ...]
    unit: str | None = None
    percent: float | None = None
    rpe: float | None = None
    rir: float | None = None
    is_failed: bool = False
    is_warm_up: bool = False
    is_added: bool = False
    doubts: tuple[str, ...] = ()


# An item is a core, then any number of tails. Cores, most telling first.
_CORES = tuple(
    (name, re.compile(pattern))
    for name, pattern in (
        ("word_load", r"(?:(?P<n>N)x?)?(?P<w>[123])[@o]?(?P<l>N)(?P<k>k?)(?!x)"),  # single 180, 3 singles @180
        ("load_word", r"(?P<l>N)(?P<k>k?)(?:[xo])?(?P<w>[123])"),  # 180 single
        ("body_sets_reps", r"(?P<a>N)s?[xo](?P<b>N)r?[@o]?B(?:\+(?P<l>N)(?P<k>k?))?"),  # 3x8 BW+10
        (
            "body",
            r"B(?:\+(?P<l>N)(?P<k>k?))?(?:[xo](?P<a>N)r?(?:x(?P<b>N)s?)?(?P<list>(?:[,/]N(?![x@k%N]))*))?",
        ),  # BW+20x5x3
        ("added", r"\+(?P<l>N)(?P<k>k?)[xo](?P<a>N)r?(?:x(?P<b>N)s?)?"),  # +20x5
        ("labelled", r"(?P<a>N)s[xo@]?(?P<b>N)r?(?:[x@o](?P<l>N)(?P<k>k?)(?!%))?"),  # 3 sets of 5 at 140
        ("reps_labelled", r"(?P<b>N)r[@xo](?P<l>N)(?P<k>k?)"),  # 5 reps at 140
        (
            "three",
            r"(?P<a>N)(?P<ka>k?)[xo](?P<b>N)(?P<kb>k?)r?[xo@](?P<c>N)(?P<kc>k?)s?(?P<p>%?)(?P<loads>(?:/N(?![x@]))*)",
        ),
        (
            "slashes",
            r"(?P<a>N)(?P<ka>k?)/(?P<b>N)/(?P<c>N)(?P<list>(?:/N)*)(?:[@x](?P<l>N)(?P<k>k?))?",
        ),  # 140/5/3, 5/5/4@100
        ("load_then_scheme", r"(?P<l>N)(?P<k>k?):?@?(?P<a>N)[xo](?P<b>N)(?![xk@%])"),  # 140 5x3
        ("scheme_then_load", r"(?P<a>N)[xo](?P<b>N)(?P<l>N)(?P<k>k?)(?![x%/])"),  # 5x3 140kg
        ("percent_reps", r"(?P<l>N)%[xo](?P<a>N)(?:[xo](?P<b>N))?"),  # 75%x3x2
        ("load_reps_list", r"(?P<l>N)(?P<k>k?)[xo](?P<a>N)(?P<list>(?:[,/]N(?![x@k%Nos]))+)"),  # 140x3,3,2
        (
            "two",
            r"(?P<a>N)(?P<ka>k?)[xo](?P<lo>(?:N-)?)(?P<b>N)(?P<kb>k?)r?(?P<amrap>\+?)(?!N(?!x))",
        ),  # 140x3, 3x5, 3x4-6, 1x5+
        ("amrap", r"(?P<a>N)(?P<ka>k?)xA(?P<b>N)?"),  # 100xAMRAP 9
        ("reps_list_at", r"(?P<first>N)(?P<list>(?:[,]N(?![x@k%])|,N(?=@))+)[@](?P<l>N)(?P<k>k?)"),  # 5,5,4 @100
        ("load_reps", r"(?P<l>N)(?P<k>k)(?P<list>[,/]?N(?:[,/]N)*)?(?![x@])"),  # 100kg 5,5,5
        ("at", r"(?P<a>N)r?@(?P<b>N)(?P<k>k?)(?P<p>%?)"),  # 180@8.5, 5@140
    )
)
_TAILS = tuple(
    (name, re.compile(pattern))
    for name, pattern in (
        ("rpe", r"[,(]?@?R@?(?P<n>N)(?:[-/](?P<m>N))?\)?"),
        ("rpe", r"[,(]?@?(?P<n>N)(?:-(?P<m>N))?R\)?"),
        ("rir", r"[,(]?@?I@?(?P<n>N)\)?"),
        ("rir", r"[,(]?@?(?P<n>N)(?:-(?P<m>N))?r?I\)?"),
        ("percent", r"[,(]?@?(?P<n>N)%\)?"),
        ("failed_rep", r"\+(?P<n>N)?F"),
        ("failed", r"[,(]?F\)?|x(?!N)"),
        ("warm_up", r"\(?W\)?"),
        ("load", r"@(?P<n>N)(?P<k>k)"),
        ("at", r"\(?@(?P<n>N)(?:-(?P<m>N))?\)?(?![k%xN])"),
    )
)


def match_item(tokens: Sequence[TokenLike], small: bool) -> tuple[Item | None, int]:
    """The item that starts the tokens, and how many tokens it takes; (None, 0) when no shape explains its numbers."""
    letters = "".join(token.letter for token in tokens)
    best: tuple[Item | None, int] = (None, 0)
    for name, pattern in _CORES:
        match = pattern.match(letters)
        if match is None or match.end() == 0:
            continue
        item = _CORE_READERS[name](_Fields(match, tokens), small)
        if item is None:
            continue
        item, end = _with_tails(item, tokens, letters, match.end())
        if item is not None and _ends_well(letters, end) and end > best[1]:
            best = (item, end)
    return best


def _ends_well(letters: str, end: int) -> bool:
    """An item must stop where something new may start, not inside a longer expression."""
    return end == len(letters) or letters[end] not in "x@%kRIs-/" or letters[end : end + 2] == "/ "


class _Fields:
    """The numbers and units that a shape named."""

    def __init__(self, match: re.Match[str], tokens: Sequence[TokenLike]) -> None:
        self._match, self._tokens = match, tokens

    def has(self, name: str) -> bool:
        return name in self._match.re.groupindex and bool(self._match[name])

    def text(self, name: str) -> str:
        return self._tokens[self._match.start(name)].value if self.has(name) else ""

    def letter_before(self, name: str) -> str:
        start = self._match.start(name)
        return self._tokens[start - 1].letter if start > 0 else ""

    def number(self, name: str) -> float | None:
        return float(self.text(name).replace(",", ".")) if self.has(name) else None

    def unit(self, *names: str) -> str | None:
        return next((unit_of(self.text(name)) for name in names if self.has(name)), None)

    def numbers(self, name: str) -> tuple[float, ...]:
        if not self.has(name):
            return ()
        pieces = self._tokens[self._match.start(name) : self._match.end(name)]
        return tuple(float(token.value.replace(",", ".")) for token in pieces if token.letter == "N")


def _whole(number: float | None, least: int, most: int) -> int | None:
    return int(number) if number is not None and number == int(number) and least <= number <= most else None


def _is_load(number: float | None, small: bool, unit: str | None = None) -> bool:
    return number is not None and (unit is not None or number >= (2.5 if small else LEAST_LOAD)) and number <= 1500


def _item(
    sets: float | None, load: float | None, reps: float | None, unit: str | None = None, **more: object
) -> Item | None:
    n, r = _whole(1.0 if sets is None else sets, 1, MOST_SETS), _whole(reps, 0, MOST_REPS)
    if n is None or r is None:
        return None
    failed = r == 0
    return Item(n, (load,) if load is not None else (), (r,), unit, is_failed=failed, **more)  # type: ignore[arg-type]


def _word_load(f: _Fields, small: bool) -> Item | None:
    load = f.number("l")
    return _item(f.number("n"), load, float(_reps_of(f)), f.unit("k")) if _is_load(load, small, f.unit("k")) else None


def _reps_of(f: _Fields) -> int:
    return int(f._tokens[f._match.start("w")].letter)


def _body(f: _Fields, small: bool) -> Item | None:
    reps, sets, extra = f.number("a"), f.number("b"), f.numbers("list")
    if reps is None:
        return None
    item = _item(sets, f.number("l"), reps, f.unit("k"), is_added=True)
    if item is None or not extra:
        return item
    return _reps_list(f.number("l"), (reps, *extra), f.unit("k"), is_added=True)


def _body_sets_reps(f: _Fields, small: bool) -> Item | None:
    return _item(f.number("a"), f.number("l"), f.number("b"), f.unit("k"), is_added=True)


def _added(f: _Fields, small: bool) -> Item | None:
    return _item(f.number("b"), f.number("l"), f.number("a"), f.unit("k"), is_added=True)


def _labelled(f: _Fields, small: bool) -> Item | None:
    load = f.number("l")
    if load is not None and not _is_load(load, small, f.unit("k")):
        return None
    return _item(f.number("a"), load, f.number("b"), f.unit("k"))


def _reps_labelled(f: _Fields, small: bool) -> Item | None:
    return (
        _item(None, f.number("l"), f.number("b"), f.unit("k")) if _is_load(f.number("l"), small, f.unit("k")) else None
    )


def _three(f: _Fields, small: bool) -> Item | None:
    """load x reps x sets, or sets x reps x (or @) load: the load is the number that can be one."""
    a, b, c = f.number("a"), f.number("b"), f.number("c")
    if f.has("p"):
        item = _item(a, None, b)
        return None if item is None else replace(item, percent=c)
    more = f.numbers("loads")
    if f.letter_before("c") != "@" and (f.has("ka") or (_is_load(a, small) and not _is_load(c, small, f.unit("kc")))):
        return _item(c, a, b, f.unit("ka")) if not more else None
    if (_is_load(c, small, f.unit("kc")) or _follows_at(f, c)) and not _is_load(a, False):
        item = _item(a, c, b, f.unit("kc"))
        if item and more and len(more) + 1 == item.sets and c is not None:
            return replace(item, loads=(c, *more))
        return item if not more else None
    return None


def _follows_at(f: _Fields, number: float | None) -> bool:
    """ "3x10 @15": above 10 it is no effort, so the number after @ is a load, however small."""
    return number is not None and number > 10 and f.letter_before("c") == "@"


def _slashes(f: _Fields, small: bool) -> Item | None:
    """140/5/3 is load, repetitions, sets; 5/5/4 @100 are repetitions set by set."""
    a, b, c, more, load = f.number("a"), f.number("b"), f.number("c"), f.numbers("list"), f.number("l")
    if load is not None:
        numbers = [n for n in (a, b, c, *more) if n is not None]
        return _reps_list(load, tuple(numbers), f.unit("k")) if _is_load(load, small, f.unit("k")) else None
    if _is_load(a, False, f.unit("ka")) and not more:
        return _item(c, a, b, f.unit("ka"))
    return None


def _scheme_and_load(f: _Fields, small: bool) -> Item | None:
    load = f.number("l")
    if not _is_load(load, small, f.unit("k")) or _is_load(f.number("a"), False):
        return None
    return _item(f.number("a"), load, f.number("b"), f.unit("k"))


def _percent_reps(f: _Fields, small: bool) -> Item | None:
    item = _item(f.number("b"), None, f.number("a"))
    return None if item is None else replace(item, percent=f.number("l"))


def _reps_list(load: float | None, reps: tuple[float, ...], unit: str | None, is_added: bool = False) -> Item | None:
    whole = tuple(_whole(r, 0, MOST_REPS) for r in reps)
    if None in whole or not 1 < len(whole) <= MOST_SETS:
        return None
    return Item(len(whole), () if load is None else (load,), whole, unit, is_added=is_added)


def _load_reps_list(f: _Fields, small: bool) -> Item | None:
    first = f.number("a")
    if not _is_load(f.number("l"), small, f.unit("k")) or first is None:
        return None
    return _reps_list(f.number("l"), (first, *f.numbers("list")), f.unit("k"))


def _two(f: _Fields, small: bool) -> Item | None:
    """load x reps ("140x3"), sets x reps ("3x5"), or reps x load ("5x140")."""
    a, b = f.number("a"), f.number("b")
    doubts = []
    if f.has("amrap"):
        doubts.append(f"{f.text('b')}+ was read as {f.text('b')} repetitions")
    if f.has("lo"):
        return _ranged(f, a, b, small)
    item = None
    if f.has("kb"):
        item = _item(None, b, a, f.unit("kb"))
    elif _is_load(a, small, f.unit("ka")) and not (
        small and a is not None and a <= 5 and a == int(a) and not f.has("ka")
    ):
        item = _item(None, a, b, f.unit("ka"))
    elif (
        a is not None
        and a <= 10
        and b is not None
        and b <= MOST_REPS
        and b == int(b)
        and not (a <= 12 and b >= LEAST_LOAD)
    ):
        item = _item(a, None, b)
    elif not small and a is not None and a <= 12 and _is_load(b, False) and b is not None and b > 50:
        item = _item(None, b, a)
    return None if item is None else replace(item, doubts=tuple(doubts))


def _ranged(f: _Fields, a: float | None, b: float | None, small: bool) -> Item | None:
    """ "3x4-6": a plan, not what was done; the sets stand, their repetitions stay unknown."""
    low = f.numbers("lo")[0]
    doubt = (f"{format(low, 'g')}-{f.text('b')} repetitions is a range, so the repetitions stay unknown",)
    if _is_load(a, small, f.unit("ka")):
        return Item(1, (a,), (None,), f.unit("ka"), doubts=doubt)
    sets = _whole(a, 1, 10)
    return None if sets is None else Item(sets, (), (None,), doubts=doubt)


def _amrap(f: _Fields, small: bool) -> Item | None:
    if not _is_load(f.number("a"), small, f.unit("ka")):
        return None
    if f.has("b"):
        return _item(None, f.number("a"), f.number("b"), f.unit("ka"))
    return Item(1, (f.number("a"),), (None,), f.unit("ka"), doubts=("AMRAP without the number of repetitions done",))


def _reps_list_at(f: _Fields, small: bool) -> Item | None:
    first, load = f.number("first"), f.number("l")
    if first is None or not _is_load(load, small, f.unit("k")):
        return None
    return _reps_list(load, (first, *f.numbers("list")), f.unit("k"))


def _load_reps(f: _Fields, small: bool) -> Item | None:
    reps = f.numbers("list")
    if not reps:
        return None
    return (
        _reps_list(f.number("l"), reps, f.unit("k"))
        if len(reps) > 1
        else _item(None, f.number("l"), reps[0], f.unit("k"))
    )


def _at(f: _Fields, small: bool) -> Item | None:
    """180@8.5 is a load at an effort; 5@140 are repetitions at a load."""
    a, b = f.number("a"), f.number("b")
    if f.has("p"):
        item = _item(None, None, a)
        return None if item is None else replace(item, percent=b)
    if (
        _is_load(b, False, f.unit("k"))
        and _whole(a, 1, MOST_REPS) is not None
        and not (f.unit("k") is None and _is_load(a, False))
    ):
        return _item(None, b, a, f.unit("k"))
    if _is_load(a, False) and b is not None and b <= 10:
        return Item(1, (a,), (None,), rpe=b, doubts=("no repetitions are written",))
    return None


_CORE_READERS = {
    "word_load": _word_load,
    "load_word": _word_load,
    "body": _body,
    "body_sets_reps": _body_sets_reps,
    "added": _added,
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


def _with_tails(item: Item, tokens: Sequence[TokenLike], letters: str, start: int) -> tuple[Item | None, int]:
    """The item with the effort, percentage, load and failure marks that follow its core."""
    while start < len(letters):
        for name, pattern in _TAILS:
            match = pattern.match(letters, start)
            if match is None:
                continue
            changed = _apply_tail(item, name, _Fields(match, tokens))
            if changed is not None:
                item, start = changed, match.end()
                break
        else:
            return item, start
    return item, start


def _apply_tail(item: Item, name: str, f: _Fields) -> Item | None:
    if name in {"failed", "failed_rep"}:
        return replace(item, is_failed=True)
    if name == "warm_up":
        return replace(item, is_warm_up=True)
    number, high = f.number("n"), f.number("m") if f.has("m") else None
    if number is None:
        return None
    middle = number if high is None else (number + high) / 2
    doubts = (
        item.doubts
        if high is None
        else (*item.doubts, f"{format(number, 'g')}-{format(high, 'g')} was read as {format(middle, 'g')}")
    )
    if name == "rpe" and number <= 10:
        return replace(item, rpe=middle, doubts=doubts)
    if name == "rir" and number <= 10:
        return replace(item, rir=middle, doubts=doubts)
    if name == "percent" and item.percent is None:
        return replace(item, percent=number)
    if name == "load" and not item.loads:
        return replace(item, loads=(number,), unit=f.unit("k"))
    if name == "at":
        if number <= 10 and item.rpe is None:
            return replace(item, rpe=middle, doubts=doubts)
        if number > 10 and high is None and not item.loads:
            return replace(item, loads=(number,))
    return None
