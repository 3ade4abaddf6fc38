"""Loads with a colon behind them and each set's repetitions after it: "130: 5(7) 5(8) 4(9)", "+5: 8 7 6".

Each set is written out with its load before the text is read: "130x5 (7), 130x5 (8), 130x4 (9)". What stands in the
brackets stays there, for the readers of efforts and remarks.
"""

import re
from collections.abc import Iterable

_LOAD = r"(?<![\d.,:/x×*@])(?P<load>\+?\d{1,4}(?:[.,]\d+)?\s?(?:kgs?|lbs?)?)\s?:\s+"
_NOTE = r"\s?\([^()]*\)|\s?@\s?\d+(?:[.,]\d+)?"
_REPS = r"\d{1,2}(?![\d.:x×*%])"
_BETWEEN = r"\s*[,;/]\s*|\s+"
_ENDS = r"(?=\s*(?:[,;.)]|$|\s[-–—]\s|\s\())"
_RATED = re.compile(
    rf"{_LOAD}(?P<sets>{_REPS}(?:{_NOTE})(?:(?:{_BETWEEN}){_REPS}(?:{_NOTE})?(?!\s*(?:kgs?|lbs?)?\s*:))*)", re.I
)
_BARE = re.compile(
    rf"(?:^|(?<=[,;:–—-])|(?<=[,;:–—-]\s))\s*{_LOAD}"
    rf"(?P<sets>{_REPS}(?:(?:{_BETWEEN}){_REPS}(?!\s*(?:kgs?|lbs?|/\s*10)?\s*(?::|/10)))+){_ENDS}",
    re.I,
)
_SET = re.compile(rf"(?P<reps>{_REPS})(?P<note>{_NOTE})?", re.I)


_EFFORT = re.compile(r"\s?\((?P<effort>10|[4-9](?:[.,]5)?)(?:\s*,\s*(?P<more>[^()]*))?\)")
_HALF = re.compile(r"\(\d[.,]5[,)]")  # no repetitions and no reserve: an effort
_IN_BRACKETS = re.compile(
    r"brackets|parenthes[ie]s|klammern?|parenth[èe]ses?|par[ée]ntesis|parentesi|par[êe]nteses|haakjes|nawias(?:ie|ach)"
    r"|parentes(?:er|en)?|parantes(?:er|en)?",
    re.I,
)


def tells_efforts_in_brackets(lines: Iterable[str]) -> bool:
    """Whether a line explains that the number in brackets is the RPE."""
    return any(_IN_BRACKETS.search(line) and re.search(r"\brpe\b", line, re.I) for line in lines)


def has_loads_led(text: str) -> bool:
    """Whether a text holds a load, a colon and the repetitions of its sets."""
    return ":" in text and (_RATED.search(text) is not None or _BARE.search(text) is not None)


def with_sets_written_out(text: str, has_efforts: bool = False) -> str:
    """The text with the load beside the repetitions of each of its sets. has_efforts: the numbers in brackets are said
    to be efforts; else they are where one is a half: "6(8)" may be six of eight."""
    if ":" not in text:
        return text
    written = _BARE.sub(_written_out, _RATED.sub(_written_out, text))
    if written == text or not (has_efforts or _HALF.search(written)):
        return written
    return re.sub(rf"(?<=x)(?P<reps>\d{{1,2}}){_EFFORT.pattern}", _with_effort, written)


def _written_out(match: re.Match[str]) -> str:
    load = match["load"].strip()
    written = (f"{load}x{one['reps']}{_spaced(one['note'])}" for one in _SET.finditer(match["sets"]))
    return f"{' ' * match[0][:1].isspace()}{', '.join(written)}"


def _spaced(note: str | None) -> str:
    return f" {note.strip()}" if note else ""


def _with_effort(match: re.Match[str]) -> str:
    more = f" ({match['more'].strip()})" if match["more"] else ""
    return f"{match['reps']} @{match['effort']}{more}"
