"""Mornings and other days in a text about pain: "Tuesday morning", "vrijdagochtend", "matin du 13"."""

import re
from datetime import date, timedelta

from preflare.reading.lexicon import Lexicon
from preflare.reading.pain_marks import Hit, Marked

_MORNING = re.compile(r"(?P<day>[^\W\d_]{4,}?)s?(?:ochtend|morgen|morgens|fruh|fruhe|morgon)")
_OF_THE = frozenset(
    {"of", "the", "des", "den", "vom", "am", "du", "de", "le", "del", "dia", "el", "il", "do", "van", "dnia", "d", "av"}
)
_ORDINAL = frozenset({"st", "nd", "rd", "th", "e", "er", "o", "de", "ste"})
_NUMBERED = re.compile(r"(?:[^\W\d_]+[^\w\n,;:]+){2,}\d{1,2}(?!\d)")
_MOST_WORDS = 3  # between a morning and the number of its day
_DAYS = (1, 2)  # after the session, of which the morning is still that after it: the day of a log may be a day off


def names_numbered_day(text: str) -> bool:
    """Whether a text may name a day by its number, so that its meaning hangs on the month."""
    return _NUMBERED.search(text) is not None


def by_day(marked: Marked, lexicon: Lexicon, times: list[Hit], day: date | None) -> tuple[list[Hit], list[Hit]]:
    """(moments, words for another day): "Tuesday morning" is the morning after Monday's session.

    A bare morning is no known moment; a weekday alone makes another day of it, where the day of the text is known.
    """
    bare = lexicon.talk["morning"].known
    moments: list[Hit] = []
    others: list[Hit] = []
    used: set[int] = set()
    weekdays = {start: int(number) for start, end, number in lexicon.weekday.find(marked.words) if end == start + 1}
    for day_word in weekdays:  # "Tue am", which is a morning in English only
        if marked.words[day_word + 1 : day_word + 2] == ["am"] and lexicon.weekday.languages[
            marked.words[day_word]
        ] == {"en"}:
            times = [*times, (day_word + 1, day_word + 2, "next morning")]
    for i, match in ((i, _MORNING.fullmatch(word)) for i, word in enumerate(marked.words) if i not in weekdays):
        if match is not None and (number := lexicon.weekday.exact(match["day"])) is not None:
            _put((i, i + 1), _later(day, int(number)), moments, others)
    whole = {at for a, b, moment in times if moment == "next morning" for at in (a - 1, b)
             if " ".join(marked.words[a:b]) not in bare}  # fmt: skip
    for start, end, moment in times:
        is_bare = " ".join(marked.words[start:end]) in bare
        if is_bare and moment == "next morning" and {start, end - 1} & whole:  # "the day after, in the morning"
            moments.append((start, end, moment))
            continue
        if is_bare and (found := _numbered(marked, end)) is not None and day is not None:
            _put((start, found[0]), _until(day, found[1]), moments, others)
            continue
        near = next((i for i in (start - 1, end) if i in weekdays), None)
        if not is_bare or near is None:
            moments.append((start, end, "unknown" if is_bare else moment))
            continue
        used.add(near)
        _put((min(start, near), max(end, near + 1)), _later(day, weekdays[near]), moments, others)
    for i, weekday in weekdays.items():
        if i not in used and day is not None and len(marked.words[i]) > 4 and weekday - 1 != day.weekday():
            others.append((i, i + 1, "another day"))
    return sorted(moments), others


def _put(span: tuple[int, int], later: int | None, moments: list[Hit], others: list[Hit]) -> None:
    """File a morning so many days after the session (None: farther away) as its moment, or as another day."""
    hit = (*span, "next morning" if later in _DAYS else "before")
    (moments if later in (0, *_DAYS) else others).append(hit)


def _later(day: date | None, weekday: int) -> int:
    """How many days after `day` the weekday comes; 1 where the day is not known."""
    return 1 if day is None else (weekday - 1 - day.weekday()) % 7


def _until(day: date, number: int) -> int | None:
    """How many days after `day` the month's day of that number comes, if within a week."""
    return next((ahead for ahead in range(7) if (day + timedelta(days=ahead)).day == number), None)


def _numbered(marked: Marked, start: int) -> tuple[int, int] | None:
    """(the word behind it, the number) of a day told by its number behind a morning: "of the 13th", "du 13"."""
    at = start
    while at < min(len(marked.words), start + _MOST_WORDS) and marked.words[at] in _OF_THE:
        at += 1
    if at == start or at == len(marked.words) or not marked.words[at].isdecimal():
        return None
    number, behind = int(marked.words[at]), marked.text[marked.spans[at][1] :]
    if not 1 <= number <= 31 or re.match(r"\s*/|[.,]\d", behind):
        return None
    is_ordinal = marked.words[at + 1 : at + 2] != [] and marked.words[at + 1] in _ORDINAL
    return (at + 1 + (is_ordinal and not behind[:1].isspace()), number)
