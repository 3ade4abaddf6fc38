"""One stretch of set shorthand, of one exercise, to sets: item by item, the longest that some shape explains first."""

import re
from dataclasses import replace

from preflare.reading.clauses import instead, speaks_of_correction, words_of_clause
from preflare.reading.item import How, Item
from preflare.reading.shapes import match_item
from preflare.reading.stretches import trim
from preflare.reading.text import fold
from preflare.reading.tokens import Token
from preflare.reading.work import Problem, Work, WorkSet

_BRACKETED_WORDS = re.compile(r"\([?,/]+\)(?=Nk?x)")  # "(wide) 50x5"
MAX_SETS = 20  # of one item; more is a misreading


def read_piece(tokens: list[Token], text: str, how: How) -> Work:
    """The sets of one stretch of tokens, item by item: the longest item that some shape explains comes first."""
    sets: list[WorkSet] = []
    problems: list[Problem] = []
    remarks: list[str] = []
    while tokens := trim(tokens):
        item, used = _next_item(tokens, how, sets)
        if item is None:
            end = _comment_end(tokens)
            written = text[tokens[0].start : tokens[end - 1].end].strip(" ,")
            if _is_remark(tokens[:end]):
                remarks.append(written)
            else:
                problems.append(
                    Problem(written, "it is not written like sets, repetitions and load in a form that is known")
                )
            tokens = tokens[end:]
            continue
        made, doubts = _expand(item, text[tokens[0].start : tokens[used - 1].end], how, sets)
        sets += made
        problems += doubts
        tokens = tokens[used:]
    return Work(tuple(sets), tuple(problems), tuple(remarks))


def _next_item(tokens: list[Token], how: How, before: list[WorkSet]) -> tuple[Item | None, int]:
    """The item that starts the tokens, or the one written to hold instead of it, and how many tokens it takes."""
    if tokens[0].letter == "+" and before and not before[-1].is_added:
        return _joined(tokens, how)
    if (start := _taken_back(tokens)) is not None:
        item, used = match_item(tokens[start:], how)
        if item is not None and item.loads:
            written = tokens[0].value
            return replace(item, doubts=(*item.doubts, f"{written} is taken back behind it")), start + used
    item, used = match_item(tokens, how)
    while item is not None and (behind := instead(tokens[used:])) is not None:
        start = used + behind
        other, n = match_item(tokens[start:], how)
        if other is None or not (other.loads or other.is_added):
            break
        closes = start + n < len(tokens) and tokens[start + n].letter == ")"
        item, used = other, start + n + closes
    return item, used


def _taken_back(tokens: list[Token]) -> int | None:
    """Where the set that holds begins behind a lone load that is taken back: "67.5 no 60x4"."""
    if tokens[0].letter != "N":
        return None
    behind = 2 if len(tokens) > 1 and tokens[1].letter == "k" else 1
    at = instead(tokens[behind:])
    if at is None or tokens[behind + at : behind + at + 1] == []:
        return None
    goes_on = [token.letter for token in tokens[behind + at : behind + at + 2]]
    return behind + at if goes_on in (["N", "x"], ["N", "k"]) else None


def _joined(tokens: list[Token], how: How) -> tuple[Item | None, int]:
    """An item behind a plus sign that joins it to sets before: it has a load of its own ("3x5@100 + 1x3@110")."""
    item, used = match_item(tokens[1:], how)
    is_joined = item is not None and (bool(item.loads) or tokens[1].start > tokens[0].end)
    return (item, used + 1) if is_joined else (None, 0)


def _comment_end(tokens: list[Token]) -> int:
    """Where a stretch that is no item ends: at the next comma that is followed by a number, or at the end."""
    letters = "".join(token.letter for token in tokens)
    if (head := _BRACKETED_WORDS.match(letters)) is not None:
        return head.end()
    for index, token in enumerate(tokens[1:], start=1):
        if tokens[index - 1].letter == "?" and letters.startswith(("Bx", "+Nx", "+Nkx"), index):
            return index  # "R: cl x8"
        if token.letter == "," and index + 1 < len(tokens) and tokens[index + 1].letter == "N":
            return index
        if (
            token.letter == "N"
            and index + 1 < len(tokens)
            and tokens[index + 1].letter == "x"
            and tokens[index - 1].letter == "?"
        ):
            return index
    return len(tokens)


def _is_remark(tokens: list[Token]) -> bool:
    """A stretch of words, whose only numbers are a rating ("elbow 4/10") or none, is a remark and no lost work."""
    letters = "".join("?" if token.letter in "CDIAao" else token.letter for token in tokens)
    if "N" not in letters:
        return True
    if speaks_of_correction(tokens):
        return False  # "(correction: 70)"
    if set(letters) & {"s", "r", "F"} or any(_changes_sets(token) for token in tokens):
        return False  # "last set only 4": it changes what was done
    return letters.startswith(("?", "(")) and "x" not in letters and "@" not in letters and "k" not in letters


def _changes_sets(token: Token) -> bool:
    """Whether a word beside a number takes back or speaks of the last set: "no, 4 heavy", "(4 on the last)"."""
    return token.letter == "C" or fold(token.value) in words_of_clause("last")


def _expand(item: Item, written: str, how: How, before: list[WorkSet]) -> tuple[list[WorkSet], list[Problem]]:
    """An item as single sets, and the doubts that reading it left. before: the sets that stand in front of it."""
    doubts = [Problem(written, reason, is_doubt=True) for reason in item.doubts]
    if item.is_repeat:
        return _repeated(item, written, before)
    n = len(item.reps) if len(item.reps) > 1 else item.sets
    loads = item.loads if len(item.loads) > 1 else item.loads * max(n, 1)
    n = max(n, len(loads))
    if n > MAX_SETS:
        return [], [Problem(written, f"it would be {n} sets")]
    reps = item.reps if len(item.reps) > 1 else item.reps * n
    loads = loads or (None,) * n
    if len(loads) != n or len(reps) != n:
        return [], [Problem(written, f"it names {len(loads)} loads for {len(reps)} sets")]
    failed_at = n - 1 if item.is_failed else -1
    is_rated = [i == n - 1 or not how.habits.is_effort_of_last for i in range(n)]
    return [
        WorkSet(
            loads[i],
            item.unit,
            item.percent,
            reps[i],
            item.rpes[i] if item.rpes else item.rpe if is_rated[i] else None,
            item.rir if is_rated[i] else None,
            item.is_warm_up,
            i == failed_at,
            item.is_added,
        )
        for i in range(n)
    ], doubts


def _repeated(item: Item, written: str, before: list[WorkSet]) -> tuple[list[WorkSet], list[Problem]]:
    """The set before once more ("idem @7"), with an effort only where one is written anew."""
    if not before:
        return [], [Problem(written, "it is not known what this repeats")]
    again = replace(before[-1], rpe=item.rpe, rir=item.rir, is_failed=False)
    return [replace(again, is_failed=item.is_failed and i == item.sets - 1) for i in range(item.sets)], []
