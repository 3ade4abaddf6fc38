"""Bare numbers behind what is done with the weight of the body: "pull ups 8, 7, 6" are repetitions set by set."""

import re

from preflare.reading.item import MOST_REPS
from preflare.reading.lexicon import Lexicon
from preflare.reading.tokens import Token

ON_THE_BODY = frozenset({"pull-up", "chin-up", "dip", "push-up"})
_MARKS = ",:;-|."


def body_counts(piece: list[Token], exercise: str, lexicon: Lexicon) -> list[int]:
    """The repetitions of each set, where a piece is two bare numbers or more; else none."""
    if lexicon.exercise.exact(exercise) not in ON_THE_BODY:
        return []
    letters = "".join(token.letter for token in piece).strip(_MARKS)
    counts = [token.value for token in piece if token.letter == "N"]
    is_list = re.fullmatch(r"N(?:[,/]?N)+", letters) is not None
    return [int(n) for n in counts] if is_list and all(n.isdecimal() and int(n) <= MOST_REPS for n in counts) else []
