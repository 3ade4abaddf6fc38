"""What a legend says of loads: their unit, whether the bar is left out, and warm-ups in brackets."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from preflare.reading.item import MOST_REPS
from preflare.reading.legend_habits import before_unless, statements
from preflare.reading.legend_lines import Line, says
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import words_of

_TIMES = re.compile(r"[^\W\d]\)?\s+[x×*]\s+[^\W\d]", re.I)  # between words


@dataclass(frozen=True, slots=True)
class WarmUpReps:
    """How many repetitions warm-ups have whose loads stand in brackets, and the sentence that says so."""

    reps: int
    sentence: str


def warm_up_in_brackets(lines: Iterable[Line], lexicon: Lexicon) -> WarmUpReps | None:
    """The repetitions that a sentence gives to warm-ups in brackets: "(in brackets) = warm-up, 5 reps"; None where no
    sentence does, or two differ."""
    found: dict[int, str] = {}
    for text in (one for line in lines if line.is_sure for one in statements(line.text)):
        words = words_of(text)
        is_about = says("brackets", words) or re.search(r"[(\[]\s*(?:\.{2,}|…|[a-z]|\d*)\s*[)\]]", text) is not None
        if not is_about or not any(hit == "warm_up" for _, _, hit in lexicon.work.find(words)):
            continue
        told = (word for word, behind in pairwise(words) if lexicon.work.known.get(behind) == "reps")
        counts = {int(word) for word in told if word.isdecimal() and 1 <= int(word) <= MOST_REPS}
        counts |= {int(number) for number in re.findall(r"(?<![\w.,])[x×*]\s?(\d{1,2})(?![\w.,])", text)}
        if len(counts) == 1:
            found.setdefault(counts.pop(), text)
    return WarmUpReps(*next(iter(found.items()))) if len(found) == 1 else None


def without_bar(lines: Iterable[Line]) -> str:
    """The sentence by which loads leave the bar out or count one side of it; "" when none does."""
    told = (text for line in lines if line.is_sure for text in statements(line.text))
    return next((text for text in told if says("without_bar", words_of(text)) and not re.search(r"\d", text)), "")


def unit_of_lines(lines: Iterable[Line], people: frozenset[str]) -> tuple[str, str] | None:
    """(kg or lb, the sentence) that the sure lines give for all loads; None when they differ. people: whose own
    sentences do not count."""
    told: dict[str, str] = {}
    for line in lines:
        if not line.is_sure or people & set(words_of(line.text)):
            continue
        for text in statements(line.text):
            before, has_exception = before_unless(text)
            words = words_of(before)
            units = {
                unit for unit in ("kg", "lb") if says(unit, words) and not re.search(rf"\d\s*{unit}", before, re.I)
            }
            if len(units) == 1 and (has_exception or says("load", words) or _TIMES.search(text) or len(words) <= 3):
                told.setdefault(units.pop(), text)
    return next(iter(told.items())) if len(told) == 1 else None
