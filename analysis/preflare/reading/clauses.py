"""Short clauses behind a set: "failed 4th", "3 (van 4)", "- no, 4". They say which repetition was missed, of how many
those written were done, or what holds instead.

A miss settles the repetitions done: whoever fails the fourth has done three. Where the repetitions written say other,
the set is read with a doubt.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from preflare.reading import vocabulary
from preflare.reading.item import MOST_REPS, Item, TokenLike, whole
from preflare.reading.text import fold, spellings

_OPENING, _CLOSING = ",(-;", ",);\n|"
_SIGNS = ".#:ªº'’/"
_MOST_TOKENS = 9

Said = tuple[Item, int]  # the item with what the clause says, and the token behind the clause


@cache
def words_of_clause(kind: str) -> frozenset[str]:
    """The folded words of one table of clauses.toml."""
    by_language = vocabulary.load("clauses")[kind]
    return frozenset(form for words in by_language.values() for word in words for form in spellings(word))


def missed(item: Item, tokens: Sequence[TokenLike], start: int) -> Said | None:
    """The item whose last set failed, where a clause with a word for it stands at `start`."""
    inside, end = clause_at(tokens, start)
    letters = "".join(token.letter for token in inside)
    if letters.count("F") != 1 or letters.count("N") > 1:
        return None
    if not all(token.letter in "FN" or _may_stand_beside_miss(token) for token in inside):
        return None
    number = next((float(token.value.replace(",", ".")) for token in inside if token.letter == "N"), None)
    failed = replace(item, is_failed=True)
    if number is None or item.is_repeat:
        return failed, end
    if whole(number, 1, MOST_REPS) is None:
        return None
    is_of_done = letters.replace("(", "").replace(")", "") == "FN"  # "F(4)": four were done
    return _with_last_reps(failed, int(number), is_of_done), end


def _may_stand_beside_miss(token: TokenLike) -> bool:
    return token.letter in "()r" or token.value in _SIGNS or fold(token.value) in words_of_clause("beside_miss")


def clause_at(tokens: Sequence[TokenLike], start: int) -> tuple[Sequence[TokenLike], int]:
    """The tokens of the clause at `start`, and the token behind it. A number that begins a set ends the clause."""
    begin = start
    while begin < min(len(tokens), start + 2) and tokens[begin].letter in _OPENING:
        begin += 1
    is_open = any(token.letter == "(" for token in tokens[start:begin])
    end, depth = begin, 0
    while end < len(tokens) and end - begin < _MOST_TOKENS:
        letter = tokens[end].letter
        if letter == "N" and end + 1 < len(tokens) and tokens[end + 1].letter in "xk@%":
            break
        depth += (letter == "(") - (letter == ")")
        if depth < 0 or (letter in _CLOSING and letter != ")"):
            break
        end += 1
    closes = is_open and end < len(tokens) and tokens[end].letter == ")"
    if closes and [token.letter for token in tokens[end + 1 : end + 4]] == ["(", "N", ")"]:  # "(F) (4)"
        return [*tokens[begin:end], *tokens[end + 1 : end + 4]], end + 4
    return tokens[begin:end], end + closes


def _with_last_reps(item: Item, number: int, is_of_done: bool) -> Item:
    """The item with the repetitions of its last set settled by the number of the one that was missed."""
    written = item.reps[-1] if item.reps else None
    done = number if is_of_done and (written is None or number <= written) else number - 1
    if written is None or done == written:
        return item if written is not None else with_last_reps(item, done)
    if done > written:
        return doubted(item, f"the {number}. repetition was missed, though {written} are written; {written} stored")
    return doubted(with_last_reps(item, done), f"it was read as {done} repetitions done of {written}")


def doubted(item: Item, doubt: str) -> Item:
    """The item with one more doubt to tell of."""
    return replace(item, doubts=(*item.doubts, doubt))


def with_last_reps(item: Item, reps: int) -> Item:
    """The item with other repetitions in its last set."""
    n = max(len(item.reps), len(item.loads), item.sets)
    every = item.reps if len(item.reps) > 1 else item.reps * n
    return replace(item, reps=(*every[:-1], reps))


def of_so_many(item: Item, tokens: Sequence[TokenLike], start: int) -> Said | None:
    """ "(van 5)" behind three repetitions: two were missed."""
    begin = start + (start < len(tokens) and tokens[start].letter == "(")
    if (
        begin + 1 >= len(tokens)
        or fold(tokens[begin].value) not in words_of_clause("out_of")
        or tokens[begin + 1].letter != "N"
    ):
        return None
    meant, done = float(tokens[begin + 1].value.replace(",", ".")), item.reps[-1] if item.reps else None
    end = begin + 2
    if end < len(tokens) and tokens[end].letter == "r":
        end += 1
    if done is None or whole(meant, done, MOST_REPS) is None or len(item.reps) > 1 or item.sets > 1 or not item.loads:
        return None
    if end < len(tokens) and tokens[end].letter in "xk@%/-" and not _is_effort(tokens, end):
        return None
    closes = begin > start and end < len(tokens) and tokens[end].letter == ")"
    return replace(item, is_failed=meant > done), end + closes


def _is_effort(tokens: Sequence[TokenLike], at: int) -> bool:
    """Whether "@" and a number up to ten stand there: how hard the set was, no load."""
    if tokens[at].letter != "@" or at + 1 >= len(tokens) or tokens[at + 1].letter != "N":
        return False
    is_small = 1 <= float(tokens[at + 1].value.replace(",", ".")) <= 10
    return is_small and (at + 2 >= len(tokens) or tokens[at + 2].letter not in "xk%")


def corrected(item: Item, tokens: Sequence[TokenLike], start: int) -> Said | None:
    """ "85x5 - no, 4": the number behind holds instead of the repetitions written. Of several sets it must say all."""
    at = _behind_taking_back(tokens, start)
    if at is None or not item.reps:
        return None
    has_sign = at < len(tokens) and tokens[at].letter == "x"
    at += has_sign
    if at >= len(tokens) or tokens[at].letter != "N":
        return None
    reps, end = whole(float(tokens[at].value.replace(",", ".")), 0, MOST_REPS), at + 1
    if end < len(tokens) and tokens[end].letter == "r":
        end += 1
    n_words = _for_all(tokens, end)
    end += n_words
    is_one = item.sets == 1 and len(item.reps) == 1
    goes_on = end < len(tokens) and tokens[end].letter not in _CLOSING + "."  # "no 2nd set" corrects nothing
    if reps is None or not (is_one or n_words) or goes_on:
        return None
    closes = end < len(tokens) and tokens[end].letter == ")"
    return replace(item, reps=(reps,) if is_one else (reps,) * len(item.reps)), end + closes


@cache
def _taking_back() -> tuple[frozenset[str], frozenset[str]]:
    """Words before what holds instead; those among them that speak of nothing but a slip."""
    said = {form for words in vocabulary.load("work")["instead"].values() for one in words for form in spellings(one)}
    slips = {one for words in vocabulary.load("diary")["correction"].values() for one in words}
    slips = {form for one in slips for form in spellings(one)} | {
        one for one in said if one.startswith(("corr", "korr", "rett", "ratt", "popr"))
    }
    return frozenset(said | slips), frozenset(slips)


def speaks_of_correction(tokens: Sequence[TokenLike]) -> bool:
    """Whether a word among the tokens says that something is put right."""
    return any(fold(token.value) in _taking_back()[1] for token in tokens if token.letter in "?C")


def put_right(item: Item, tokens: Sequence[TokenLike], start: int) -> Said | None:
    """ "3x6 72.5 (correction: should be 70)": in brackets one number near the load, too high for repetitions or in its
    unit, holds instead of the load."""
    if start >= len(tokens) or tokens[start].letter != "(" or len(set(item.loads)) != 1:
        return None
    letters = "".join(token.letter for token in tokens[start : start + _MOST_TOKENS + 2])
    end = letters.find(")")
    inside = tokens[start + 1 : start + end] if end > 0 else []
    numbers = [float(token.value.replace(",", ".")) for token in inside if token.letter == "N"]
    says_so = any(token.letter == "C" or fold(token.value) in _taking_back()[0] for token in inside)
    if len(numbers) != 1 or not says_so or not all(token.letter in "N?C,.:;k=@-" for token in inside):
        return None
    (number,), load = numbers, item.loads[0] or 0.0
    has_unit = any(token.letter == "k" for token in inside)
    if not (has_unit or number > MOST_REPS) or not 0.5 * load <= number <= 2 * load:
        return None
    told = f"the load {load:g} is put right behind it; {number:g} was stored"
    return doubted(replace(item, loads=(number,) * len(item.loads)), told), start + end + 1


def _behind_taking_back(tokens: Sequence[TokenLike], start: int) -> int | None:
    """Where what holds instead begins, behind "- no," or "(korr."; None where nothing is taken back."""
    at = start
    while at < len(tokens) and tokens[at].letter in ",(-":
        at += 1
    if at >= len(tokens) or tokens[at].letter != "C":
        return None
    at += 1
    while at < len(tokens) and tokens[at].letter in ",.:":
        at += 1
    return at


def instead(tokens: Sequence[TokenLike]) -> int | None:
    """Where a set that holds instead of the one before begins in the tokens behind it; None when none does."""
    return _behind_taking_back(tokens, 0)


def _for_all(tokens: Sequence[TokenLike], start: int) -> int:
    """How many tokens from `start` say "all of them"."""
    for n in range(min(4, len(tokens) - start), 0, -1):
        if fold(" ".join(token.value for token in tokens[start : start + n])) in words_of_clause("all_sets"):
            return n
    return 0
