"""Sets in short that a text calls planned or not done: "5x117.5 geplant", "planned 3x5@100, did 3x4@100".

They are told apart clause by clause. "As planned", "than planned" and "not planned" say that the sets were done.
"""

import re
from dataclasses import dataclass
from functools import cache

from preflare.reading.diary_words import diary_words
from preflare.reading.lexicon import Lexicon
from preflare.reading.settled_roles import SETS
from preflare.reading.text import fold, words_of

_CLAUSE = re.compile(r"(?:,(?!\d)|[;()\[\]\n]|\.\s(?=\D)|[!?]\s|\s[-–—/]\s)")
_EMPTY = re.compile(r"\(\s*\)|\[\s*\]|[,;]\s*(?=[,;]|$)")
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
_TAKEN_BACK = frozenset(  # before a word for a plan, these say that it was done, or more than it
    {"as", "wie", "als", "comme", "como", "come", "zoals", "jak", "zgodnie", "som", "than", "que", "di", "quanto", "lo"}
    | {"del", "o", "niż", "niz", "end", "enn", "an", "dan", "not", "nicht", "pas", "no", "non", "não", "nao", "niet"}
    | {"nie", "ikke", "inte", "un", "besser"}
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Parted:
    """done: the text without what was planned; left_out: the clauses that were, as written."""

    done: str
    left_out: tuple[str, ...] = ()


def without_planned(text: str, lexicon: Lexicon) -> Parted:
    """The text parted into what was done and what was only planned; all of it is left out where that stays open."""
    if not _may_speak_of_plan(text) or SETS.search(text) is None:
        return Parted(text)
    kinds = [(clause, _kind(clause, lexicon)) for clause in _clauses(text)]
    if not any(kind in {"planned", "all"} for _, kind in kinds):
        return Parted(text)
    with_sets = [(clause, kind) for clause, kind in kinds if SETS.search(clause)]
    if any(kind == "all" for _, kind in kinds):
        return Parted("", (text.strip(),))
    first = next(i for i, (_, kind) in enumerate(with_sets) if kind == "planned")
    if any(kind not in {"planned", "done"} for _, kind in with_sets[first + 1 :]):
        return Parted("", (text.strip(),))
    left_out = tuple(clause for clause, kind in kinds if kind == "planned")
    for clause in left_out:
        text = text.replace(clause, " ", 1)
    return Parted(_EMPTY.sub(" ", text).strip(" ,;"), tuple(clause.strip() for clause in left_out))


@cache
def _first_words() -> frozenset[str]:
    known = (*diary_words("planned").known, *diary_words("plan_line").known, *diary_words("not_done").known)
    return frozenset(phrase.split()[0] for phrase in known)


def _may_speak_of_plan(text: str) -> bool:
    """Whether some word begins a phrase for a plan; most texts are numbers and end here."""
    return any(fold(word) in _first_words() for word in _WORD.findall(text))


def _clauses(text: str) -> list[str]:
    return [clause for clause in _CLAUSE.split(text) if clause.strip()]


def _kind(clause: str, lexicon: Lexicon) -> str:
    """planned: its sets were; all: it says so of what stands before it; done: it says that they were done; else ""."""
    sets = SETS.search(clause)
    if sets is None:
        return "all" if _is_word_for_plan(clause, lexicon) else ""
    before, behind = clause[: sets.start()], clause[_end_of_sets(clause) :]
    if _names_plan(before, lexicon) or _is_word_for_plan(behind, lexicon):
        return "planned"
    return "done" if any(lexicon.sheet_word(word, "done") for word in words_of(before)) else ""


def _end_of_sets(clause: str) -> int:
    """Where the last figure of a clause ends."""
    return max((match.end() for match in re.finditer(r"\d", clause)), default=0)


def _is_word_for_plan(text: str, lexicon: Lexicon) -> bool:
    """Whether a text is a word for a plan, or for what was left out, and nothing else."""
    if any(map(str.isdigit, text)) or lexicon.sheet_word(text, "as_planned"):
        return False
    said = fold(text.strip(" .:!?*"))
    return any(said in diary_words(kind).known for kind in ("planned", "not_done", "plan_line")) and said != "niente"


def _names_plan(text: str, lexicon: Lexicon) -> bool:
    """Whether the words before sets call them planned."""
    words = words_of(text)
    found = [
        (start, end)
        for start, end, _ in diary_words("planned").find(words)
        if not (start and words[start - 1] in _TAKEN_BACK) and not lexicon.sheet_word(" ".join(words), "as_planned")
    ]
    head, colon, _ = text.partition(":")
    return bool(found) or (bool(colon) and fold(head) in diary_words("plan_line").known)
