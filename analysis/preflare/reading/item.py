"""One item of set shorthand: what it says, the numbers that a shape named in it, and which number can be a load.

A barbell load is 20 or more, nobody does more than 20 sets of one item or writes more than 30 repetitions ("common
practice, no published source").
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from preflare.reading.numbers import unit_of

LEAST_LOAD = 20.0  # an empty bar; below it a bare number is no barbell load
MOST_SETS = 20
MOST_REPS = 30


@dataclass(frozen=True, slots=True)
class Habits:
    """How a log writes its sets, where a cell alone leaves it open (see orders.py)."""

    pair: str | None = None  # "LR" load x repetitions, "RL" repetitions x load
    triple: str | None = None  # the order of L load, R repetitions, S sets in three numbers: "LRS", "SRL"...
    has_schemes: bool = False  # sets x repetitions stand alone in some cells ("3x5")
    is_effort_of_last: bool = False  # an effort behind several equal sets is that of the last
    is_of_planned: bool = False  # "80x2/4" is two of four that were meant
    is_load_apart: bool = False  # a space alone stands between load and repetitions: "155 5/5/4"
    is_effort_of_all: bool = False  # an effort beside a row of sets is that of each, whatever their loads


@dataclass(frozen=True, slots=True)
class How:
    """How the numbers of one text are to be taken."""

    small: bool = False  # a small number may be a load (curls)
    habits: Habits = Habits()


class TokenLike(Protocol):
    """A token as this module needs it."""

    @property
    def letter(self) -> str: ...
    @property
    def value(self) -> str: ...
    @property
    def start(self) -> int: ...
    @property
    def end(self) -> int: ...


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
    is_repeat: bool = False  # a set like the one before it
    rpes: tuple[float, ...] = ()  # one a set, where each set's effort is written


class Fields:
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

    def letter_behind(self) -> str:
        """The letter of the token behind all of the shape, "" at the end."""
        end = self._match.end()
        return self._tokens[end].letter if end < len(self._tokens) else ""

    def number_behind(self, letter: str) -> float | None:
        """The number behind a token of that letter right behind all of the shape; None where none is."""
        end = self._match.end()
        if self.letter_behind() != letter or end + 1 >= len(self._tokens) or self._tokens[end + 1].letter != "N":
            return None
        return float(self._tokens[end + 1].value.replace(",", "."))

    def tokens(self, name: str) -> Sequence[TokenLike]:
        return self._tokens[self._match.start(name) : self._match.end(name)] if self.has(name) else ()

    def is_spaced(self, name: str) -> bool:
        """Whether something stands between a number and the token before it."""
        start = self._match.start(name)
        return start > 0 and self._tokens[start].start > self._tokens[start - 1].end

    def numbers(self, name: str) -> tuple[float, ...]:
        return tuple(float(token.value.replace(",", ".")) for token in self.tokens(name) if token.letter == "N")


def whole(number: float | None, least: int, most: int) -> int | None:
    return int(number) if number is not None and number == int(number) and least <= number <= most else None


def is_load(number: float | None, small: bool, unit: str | None = None) -> bool:
    return number is not None and (unit is not None or number >= (2.5 if small else LEAST_LOAD)) and number <= 1500


def item_of(
    sets: float | None, load: float | None, reps: float | None, unit: str | None = None, **more: object
) -> Item | None:
    n, r = whole(1.0 if sets is None else sets, 1, MOST_SETS), whole(reps, 0, MOST_REPS)
    if n is None or r is None:
        return None
    failed = r == 0
    return Item(n, (load,) if load is not None else (), (r,), unit, is_failed=failed, **more)  # type: ignore[arg-type]


def reps_list(load: float | None, reps: tuple[float, ...], unit: str | None, is_added: bool = False) -> Item | None:
    """One set for each number of repetitions; None for fewer than two or for numbers that are none."""
    counts = tuple(whole(r, 0, MOST_REPS) for r in reps)
    if None in counts or not 1 < len(counts) <= MOST_SETS:
        return None
    return Item(len(counts), () if load is None else (load,), counts, unit, is_added=is_added)
