"""Longer clauses behind a set that say in words what was done: "last one only 4", "wrong, it was 110, not 120"."""

from collections.abc import Sequence
from dataclasses import replace

from preflare.reading.clauses import Said, clause_at, doubted, with_last_reps, words_of_clause
from preflare.reading.diary_words import says
from preflare.reading.item import MOST_REPS, Item, TokenLike, whole
from preflare.reading.text import fold

_MOST_TOKENS = 14
_NEAR = 0.06  # kg


def last_only(item: Item, tokens: Sequence[TokenLike], start: int) -> Said | None:
    """ "3x6x60 (only 4 on the last)": the last of several sets had so many repetitions, fewer than are written."""
    inside, end = clause_at(tokens, start)
    words = {fold(token.value) for token in inside if token.letter != "N"}
    numbers = [i for i, token in enumerate(inside) if token.letter == "N"]
    if len(numbers) != 1 or not words & words_of_clause("last") or not words & words_of_clause("only_so_many"):
        return None
    behind = inside[numbers[0] + 1 : numbers[0] + 2]
    if any(token.letter in "xk%RIN" or token.value == "@" for token in (*inside[: numbers[0]], *behind)):
        return None
    if behind and behind[0].letter == "s":
        return None  # "the last 2 sets"
    before = fold(inside[numbers[0] - 1].value) if numbers[0] else ""
    if before in words_of_clause("last") and not (behind and all(map(_ends_it, inside[numbers[0] + 1 :]))):
        return None  # "the last 2 only just"
    reps = whole(_number(inside[numbers[0]]), 0, MOST_REPS)
    n_sets = max(item.sets, len(item.reps), len(item.loads))
    if reps is None or n_sets < 2 or not item.reps or item.reps[-1] is None or reps >= item.reps[-1]:
        return None
    return doubted(with_last_reps(item, reps), f"the last set was read as {reps}, as is said behind it"), end


def put_right_in_words(item: Item, tokens: Sequence[TokenLike], start: int) -> Said | None:
    """ "2x4x120 wrong, it was 110, not 120": the load is taken back by name, the one other number holds."""
    end = start
    while end < min(len(tokens), start + _MOST_TOKENS) and tokens[end].letter in "N?CFps,.:()-=k@o":
        end += 1
    if end < len(tokens) or len(set(item.loads)) != 1 or not item.loads[0]:
        return None
    at = [i for i in range(start, end) if tokens[i].letter == "N"]
    if says("planned", " ".join(token.value for token in tokens[start:end])):
        return None  # "next time 110, not 120"
    denied = [i for i in at if _is_denied(tokens, start, i) and abs(_number(tokens[i]) - item.loads[0]) < _NEAR]
    others = [_number(tokens[i]) for i in at if i not in denied]
    if len(at) != 2 or len(denied) != 1 or not 0.5 * item.loads[0] <= others[0] <= 2 * item.loads[0]:
        return None
    told = f"the load {item.loads[0]:g} is put right behind it; {others[0]:g} was stored"
    return doubted(replace(item, loads=(others[0],) * len(item.loads)), told), end


def _ends_it(token: TokenLike) -> bool:
    """Whether a token behind a number says no more than "repetitions", "only" or "done"."""
    return token.letter in "r).," or fold(token.value) in words_of_clause("only_so_many")


def _is_denied(tokens: Sequence[TokenLike], start: int, at: int) -> bool:
    """Whether "not", "instead of" or the like stands right before a token."""
    before = [fold(token.value) for token in tokens[max(start, at - 3) : at]]
    return any(" ".join(before[n:]) in words_of_clause("not_so") for n in range(len(before)))


def _number(token: TokenLike) -> float:
    return float(token.value.replace(",", "."))
