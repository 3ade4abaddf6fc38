"""Whose a remark is where several people stand across: "Cole: right elbow 4. Deshawn knee 4/10".

A sentence that begins with the name of one of them is that person's, and so are those behind it up to the next name. A
name in the middle of a sentence leaves it open whose it is.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from preflare.reading.text import fold

SENTENCES = re.compile(r"(?<=[^\W\d_]{3}[.])\s+(?=[A-ZÀ-Þ])|(?<=\d[.])\s+(?=[A-ZÀ-Þ])|(?<=[;!])\s+|\n+")
_WITH_SIGN = re.compile(r"\s*(?P<name>[^\W\d][\w.'’-]*(?:\s+[^\W\d][\w.'’-]*){0,2})\s*[:–-]\s*(?P<rest>.+)", re.S)
_ALONE = re.compile(r"\s*(?P<name>[A-ZÀ-Þ][^\W\d_]+)(?:['’]s)?\s*,?\s+(?P<rest>.+)", re.S)
_LEAST = 3  # letters of a name that may stand without a sign behind it


@dataclass(frozen=True, slots=True)
class Said:
    """One or more sentences about one person. person None: no name; is_open: a name stands in it, not in front."""

    person: str | None
    text: str
    is_open: bool = False


def by_person(text: str, people: Iterable[str]) -> list[Said]:
    """The sentences of a remark, each with the person whose it is by its words."""
    known = list(dict.fromkeys(people))
    said: list[Said] = []
    last: str | None = None
    for sentence in SENTENCES.split(text):
        person, rest = _led_by(sentence, known)
        is_open = person is None and any(True for _ in _named_in(sentence, known))
        last = None if is_open else person or last
        said.append(Said(last, rest.strip(), is_open))
    return [one for one in said if one.text]


def meant(written: str, people: Iterable[str | None]) -> str | None:
    """The one person whose name begins with each of the words written."""
    words = fold(written).split()
    fitting = [
        person
        for person in people
        if person and all(any(part.startswith(word) for part in fold(person).split()) for word in words)
    ]
    return fitting[0] if len(fitting) == 1 and words else None


def _led_by(sentence: str, people: list[str]) -> tuple[str | None, str]:
    match = _WITH_SIGN.fullmatch(sentence)
    if match is not None and (person := meant(match["name"], people)) is not None:
        return person, match["rest"]
    match = _ALONE.fullmatch(sentence)
    own = list(_named_in(match["name"], people)) if match is not None else []
    return (own[0], match["rest"]) if match is not None and len(own) == 1 else (None, sentence)


def _named_in(text: str, people: list[str]) -> Iterable[str]:
    """The people of whose names a whole word stands in a text."""
    words = set(fold(text).split())
    return (person for person in people if {part for part in fold(person).split() if len(part) >= _LEAST} & words)
