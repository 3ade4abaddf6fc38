"""What a legend says of cells left blank beside a set: the load is that of the set above, or the set was not done; and
of sets in brackets that were not done."""

import re
from collections.abc import Iterable

from preflare.reading.diary_words import diary_words
from preflare.reading.legend_habits import statements
from preflare.reading.legend_lines import Line, legend_words, says, says_as_last
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import words_of

_SIDES = re.compile(r"\s*(?:=|:|→|⇒|,|\bmeans\b|\bheißt\b|\bbedeutet\b)\s*", re.I)
_BRACKETS = re.compile(r"[(\[]\s*(?:\.{2,}|…|[^\W_]|\d*|\d*\s*[x×*]\s*\d*)\s*[)\]]")  # "( )", "(x)", "(60x5)"
_MOST_WORDS = 6  # of what a statement about brackets is about
_STOP = re.compile(r"(?<=[^\s.]{4})\.\s+(?=[^.=]{2,40}=)")  # a full stop before another sign with its meaning
_GENERAL = frozenset({"everything", "all", "alles", "tout", "todo", "tutto", "tudo", "wszystko", "alt", "allt"})


def blank_load_as_above(lines: Iterable[Line], lexicon: Lexicon) -> str:
    """The sentence by which a blank load is that of the set above; "" when none says so."""
    return next((text for left, right, text in _sides(lines) if _is_load(left) and _is_same(right, lexicon)), "")


def blank_reps_not_done(lines: Iterable[Line], lexicon: Lexicon) -> str:
    """The sentence by which a set without repetitions was not done; "" when none says so."""
    return next((text for left, right, text in _sides(lines) if _is_reps(left, lexicon) and _is_undone(right)), "")


def brackets_not_done(lines: Iterable[Line], lexicon: Lexicon) -> str:
    """The sentence by which sets in brackets were planned and not done; "" when none says so, or they are warm-ups or
    missed."""
    for line in lines:
        told = (one for text in statements(line.text) for one in _STOP.split(text)) if line.is_sure else ()
        for text in told:
            left, *right = _SIDES.split(text, maxsplit=1)
            about, said = words_of(left), words_of(right[0]) if right else []
            is_about = len(about) <= _MOST_WORDS and (says("brackets", about) or _BRACKETS.fullmatch(left.strip()))
            others = {hit for _, _, hit in lexicon.work.find(said)} & {"warm_up", "failed"}
            if is_about and not others and (_is_undone(said) or _is_plan(said)):
                return text
    return ""


def _is_plan(words: list[str]) -> bool:
    return any(True for kind in ("planned", "not_done") for _ in diary_words(kind).find(words))


def _sides(lines: Iterable[Line]) -> Iterable[tuple[list[str], list[str], str]]:
    """The words before and behind the first sign or comma of each statement that speaks of something blank."""
    for line in lines:
        told = (one for text in statements(line.text) for one in _STOP.split(text)) if line.is_sure else ()
        for text in told:
            left, *right = _SIDES.split(text, maxsplit=1)
            if right:
                yield words_of(left), words_of(right[0]), text


def _is_load(words: list[str]) -> bool:
    named = any(not set(words[start:end]) & _GENERAL for start, end, _ in legend_words("load").find(words))
    return says("blank", words) and (named or bool({"kg", "lb", "lbs"} & set(words)))


def _is_same(words: list[str], lexicon: Lexicon) -> bool:
    is_same = says("as_above", words) or any(hit == "same" for _, _, hit in lexicon.sheet.find(words))
    return is_same and not says_as_last(words)


def _is_reps(words: list[str], lexicon: Lexicon) -> bool:
    named = any("reps" in lexicon.headings_of.get(word, []) for word in words)
    return named and (says("blank", words) or says("none", words))


def _is_undone(words: list[str]) -> bool:
    return says("not_lifted", words)
