"""Units of load that stand apart from the numbers in set shorthand: "squat (kg): 60x5", "kg plates today. row 55x8"."""

import re
from collections.abc import Iterator

from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import unit_of
from preflare.reading.text import fold
from preflare.reading.tokens import Token
from preflare.reading.vocabulary import back_squats

_BRACKETS = re.compile(r"\(([^()]*)\)")


def unit_apart(tokens: list[Token]) -> tuple[str | None, list[Token]]:
    """(the unit that stands behind no number, the tokens without it)."""
    apart = [i for i, token in enumerate(tokens) if token.letter == "k" and (i == 0 or tokens[i - 1].letter != "N")]
    units = {unit_of(tokens[i].value) for i in apart}
    if len(units) != 1:
        return None, tokens
    return units.pop(), [token for i, token in enumerate(tokens) if i not in apart]


def without_unit(name: str, lexicon: Lexicon) -> tuple[str, str | None]:
    """An exercise's name without the unit that it names, and that unit: "lat pulldown (kg stack)", "squat kg".

    "lb" beside a squat is the low bar.
    """
    units = {unit for word in re.split(r"[\s(),/:]+", name) if (unit := unit_of(word))}
    if len(units) != 1:
        return name, None

    def kept(match: re.Match[str]) -> str:
        parts = [part.strip() for part in match[1].split(",") if not any(map(unit_of, part.split()))]
        return f"({', '.join(parts)})" if parts else " "

    plain = " ".join(word for word in _BRACKETS.sub(kept, name).split() if not unit_of(word.strip(",:")))
    is_low_bar = "lb" in fold(name).split() and any(hit in back_squats() for _, _, hit in _lifts_in(plain, lexicon))
    return (plain, units.pop()) if plain and not is_low_bar else (name, None)


def _lifts_in(name: str, lexicon: Lexicon) -> Iterator[tuple[int, int, str]]:
    return lexicon.exercise.find(fold(name).split())


class UnitsOfWork:
    """The unit that holds at each place of a text: that of the exercise, else one said before any of them."""

    def __init__(self) -> None:
        self._for_all: str | None = None
        self._here: str | None = None

    def exercise(self, unit: str | None) -> None:
        """An exercise begins; unit: the one that its name holds."""
        self._here = unit or self._for_all

    def told(self, unit: str, is_for_all: bool) -> None:
        """A unit stands apart from numbers; before any exercise it holds for all that follows."""
        self._here = unit
        self._for_all = unit if is_for_all else self._for_all

    def of(self, unit: str | None) -> str | None:
        """The unit of a load beside which `unit` stands."""
        return unit or self._here
