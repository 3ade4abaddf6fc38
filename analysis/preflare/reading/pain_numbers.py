"""Which numbers of a text about pain are ratings: not those that count sets, loads, dates, minutes or efforts.

Corrections are settled: "3, no, 4" is 4 and "4 (not 5)" is 4.
"""

import re

from preflare.reading.lexicon import Lexicon, Phrases
from preflare.reading.numbers import WIDEST_RANGE
from preflare.reading.pain_marks import Marked, Value

_TEN = r"\s*(?:/|(?:out\s+of|von|sur|de|su|av|af|na|z|op|em|of)\s)\s*10(?![\d/])"
_NUMBER = r"\d{1,3}(?:[.,]\d{1,2}(?!\d))?(?:\s?½)?|½"
_LINK = r"-|–|—|(?:bis|to|à|a|al|até|hasta|do|til|till|tot|or|oder|ou|o|lub|eller)\b"
_VALUE = re.compile(
    rf"(?<!\d)(?<!\d[.,:/])(?<!\d[x×])(?<!\d\s[x×])(?<![@+*#])(?P<low>{_NUMBER})(?P<low_ten>{_TEN})?"
    rf"(?:\s*(?:{_LINK})\s*(?P<high>{_NUMBER}))?(?P<ten>{_TEN})?(?![\d:])",
    re.I,
)
_COUNTED = re.compile(
    r"\d+(?:[.,]\d+)?\s*[x×*]\s*\d+(?:[.,]\d+)?(?:\s*[x×*]\s*\d+)*|\d{1,4}(?P<mark>[./-])\d{1,2}(?P=mark)\d{2,4}"
    r"|\d{1,2}\.\d{1,2}\.(?!\d)|\d{1,2}[:h]\d{2}(?!\d)|[@+]\s*\d+(?:[.,]\d+)?|\d+(?:[.,]\d+)?\s*[%°ºª#\"”″]",
    re.I,
)


def _number(text: str) -> float:
    """ "2½" -> 2.5, "2,5" -> 2.5"""
    plain = text.replace(",", ".").replace(" ", "")
    return float(plain.rstrip("½") or 0) + (0.5 if plain.endswith("½") else 0.0)


def mark_numbers(marked: Marked, plain: str, lexicon: Lexicon, is_asked: bool) -> None:
    counted = [found.span() for found in _COUNTED.finditer(plain)]
    in_moment = {i for a, b, _ in marked.hits["moment"] for i in range(a, b)}
    values: list[Value] = []
    for found in _VALUE.finditer(plain):
        is_scale = found[0].startswith("10") and plain[: found.start()].endswith("/")  # "coude D /10"
        if is_scale or any(a < found.end() and found.start() < b for a, b in counted):
            continue
        inside = [i for i, (a, b) in enumerate(marked.spans) if found.start() <= a and b <= found.end()]
        value = _value(found, inside, plain) if inside else None
        if value is None or (in_moment & set(inside) and not value.out_of_ten):
            continue
        if _counts(marked, value, plain, lexicon, is_asked):
            continue
        values.append(value)
    marked.values = _corrected(marked, values, plain)
    rated = {i for value in marked.values for i in range(value.first, value.last)}
    marked.hits["moment"] = [
        hit for hit in marked.hits["moment"] if not rated & set(range(hit[0], hit[1]))
    ]  # "4 na 10"
    marked.counted = {i for i, word in enumerate(marked.words) if word.isdecimal() and i not in rated | in_moment}


def _value(found: re.Match[str], inside: list[int], plain: str) -> Value:
    low = _number(found["low"])
    high = _number(found["high"]) if found["high"] else low
    is_range = found["high"] is not None
    behind = plain[found.end() : found.end() + 4].lstrip()
    ahead = plain[max(0, found.start() - 2) : found.start()]
    is_odd = (
        behind.startswith("?")
        or re.match(r"\+(?!\s*\w)", behind) is not None  # "3+"
        or re.match(r"[/|]\s*\d", behind) is not None  # another scale, or two sides without names
        or re.match(r"[-–>=→]+\s*\d", behind) is not None  # "2-3-4", "2 -> 4"
        or (re.search(r"(?:^|[^\w])[-–<>~≤≥]$", ahead) is not None and not ahead.endswith("~"))
        or (is_range and not low < high <= low + WIDEST_RANGE)
        or (low * 2) % 1 != 0
    )
    return Value(inside[0], inside[-1] + 1, max(low, high), is_range, bool(found["ten"] or found["low_ten"]), is_odd)


def _counts(marked: Marked, value: Value, plain: str, lexicon: Lexicon, is_asked: bool) -> bool:
    """Whether a number counts something else: a word before or behind it says so, or letters cling to it."""
    if value.last < len(marked.words):
        glued = marked.spans[value.last - 1][1] == marked.spans[value.last][0]
        sides = {i for a, b, _ in marked.hits["side"] for i in range(a, b)}
        if glued and value.last not in sides:
            return True
        phrase = _behind(marked, value.last, lexicon.talk["counted_behind"])
        if phrase and not (is_asked and value.last in sides) and _is_near(marked, value.last, plain):
            return True
    if value.first > 0:
        word = marked.words[value.first - 1]
        glued = marked.spans[value.first - 1][1] == marked.spans[value.first][0]
        sides = {i for a, b, side in marked.hits["side"] for i in range(a, b)}
        people = {i for a, b, _ in marked.hits["person"] for i in range(a, b)}
        if glued and not (value.first - 1 in people or (value.first - 1 in sides and (is_asked or len(word) > 1))):
            return True
        timed = {b for a, b, moment in marked.hits["moment"] if moment != "during" and b == a + 1}
        if not value.out_of_ten and value.first not in timed:
            return _ends_with(marked, value.first, lexicon.talk["counted_before"])
    return False


def _is_near(marked: Marked, index: int, plain: str) -> bool:
    """Whether nothing but a space or a full stop stands between a word and the one before it."""
    return plain[marked.spans[index - 1][1] : marked.spans[index][0]].strip() in {"", ".", "-"}


def _behind(marked: Marked, start: int, phrases: Phrases) -> bool:
    """Whether a phrase of the table begins at a word."""
    lengths = range(1, min(phrases.longest, len(marked.words) - start) + 1)
    return any(" ".join(marked.words[start : start + length]) in phrases.known for length in lengths)


def _ends_with(marked: Marked, end: int, phrases: Phrases) -> bool:
    """Whether a phrase of the table ends before a word."""
    lengths = range(1, min(phrases.longest, end) + 1)
    return any(" ".join(marked.words[end - length : end]) in phrases.known for length in lengths)


def _corrected(marked: Marked, values: list[Value], plain: str) -> list[Value]:
    """The values, with what a correction settles as one: "3 anzi 4", "3, no, 4" and "4 (not 5)" are 4 each."""
    kept: list[Value] = []
    for value in values:
        both = _settled(marked, kept[-1], value, plain) if kept else None
        if both is None:
            kept.append(value)
        else:
            kept[-1] = both
    return kept


def _settled(marked: Marked, before: Value, behind: Value, plain: str) -> Value | None:
    """Two ratings as one where the words between correct or reject one of them; None where they are two."""
    if not 0 < behind.first - before.last <= 3:
        return None
    between = plain[marked.spans[before.last - 1][1] : marked.spans[behind.first][0]]
    is_parted = re.search(r"\w\s*[,:.!)–-]\s*$", between) is not None
    if _covers(marked, "rejection", before.last, behind.first) and not is_parted:
        return _join(before, behind, before)
    if not _covers(marked, "correction", before.last, behind.first):
        return None
    if marked.words[before.last] in _DENY_OR_CORRECT:
        if re.search(r"\(\s*[^\W\d_]+\s+$", between):  # "4 (no 5)": the second is denied
            return _join(before, behind, before)
        if not is_parted:  # "3 no 4": either
            return Value(before.first, behind.last, behind.rating, False, False, True)
    return _join(before, behind, behind)


_DENY_OR_CORRECT = {"no", "nie", "non", "nao"}


def _covers(marked: Marked, role: str, first: int, last: int) -> bool:
    found = {i for a, b, _ in marked.within(role, first, last) for i in range(a, b)}
    return len(found) == last - first


def _join(before: Value, behind: Value, meant: Value) -> Value:
    is_of_ten = before.out_of_ten or behind.out_of_ten
    return Value(before.first, behind.last, meant.rating, meant.is_range, is_of_ten, meant.is_odd, True)
