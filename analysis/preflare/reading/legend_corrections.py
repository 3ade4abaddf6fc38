"""An arrow that a legend explains as a correction: "67.5x6→57.5x6" is one set, that behind the arrow."""

import re
from collections.abc import Iterable

from preflare.reading.legend_lines import Line, legend_words
from preflare.reading.legend_meanings import Term
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import words_of

_SENTENCE = re.compile(r"\n+|;|\s{2,}|(?<=[^\s.]{3})\.\s+(?=[^a-zß-þ])")
_ARROW = r"(?:[-=]>|[→⇒➔➜»])"
_EXPLAINED = re.compile(rf"(?:^|(?<=[\s(«\"“'‘])){_ARROW}[\s)»\"”'’]*(?:=|:|–|-(?!>))\s*(?P<said>.+)")
_SHOWN = re.compile(rf"\d\s*{_ARROW}\s*\d[^=:]*(?:=|:)\s*(?P<said>.+)")
_LOAD = r"\d+(?:[.,]\d+)?\s*(?:kgs?|lbs?)?"
_SET = rf"(?:(?<![\w.,])(?:{_LOAD}|[+]\s*{_LOAD}|[^\W\d_]{{1,4}}(?:\s*[+-]\s*{_LOAD})?)\s*[x×*]\s*\d{{1,3}})"
_PUT_RIGHT = (
    (re.compile(rf"{_SET}\s*{_ARROW}\s*(?={_SET})", re.I), ""),  # the whole set
    (re.compile(rf"(?<![\w.,]){_LOAD}\s*{_ARROW}\s*(?={_LOAD}\s*[x×*@])", re.I), ""),  # its load
    (re.compile(rf"([x×*]\s*)\d{{1,3}}\s*{_ARROW}\s*(\d{{1,3}})(?![\d.,]*\d|\s*[x×*@])"), r"\1\2"),  # its repetitions
)


def corrections_in(lines: Iterable[Line], lexicon: Lexicon) -> list[Term]:
    """The arrow, where a line says that what stands behind it puts right what stands before; else nothing."""
    for line in lines:
        for sentence in _SENTENCE.split(line.text):
            match = _EXPLAINED.search(sentence.strip()) or _SHOWN.search(sentence)
            if match is not None and _is_correction(match["said"], lexicon):
                return [Term("→", "correction", "corrected", match["said"].strip())]
    return []


def _is_correction(said: str, lexicon: Lexicon) -> bool:
    """Whether a meaning speaks of a slip of the writer, in words that do not say of a lift that it failed."""
    words = words_of(said)
    of_lift = {at for a, b, hit in lexicon.work.find(words) if hit in {"failed", "warm_up"} for at in range(a, b)}
    slips = {at for a, b, _ in legend_words("correction").find(words) for at in range(a, b)}
    return bool(slips - of_lift) and not of_lift - slips


def rewrites_of_corrections() -> tuple[tuple[re.Pattern[str], str], ...]:
    """What leaves of every correction by an arrow what stands behind it."""
    return _PUT_RIGHT
