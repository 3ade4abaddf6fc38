"""A language made for tests: every word of the English file in Cyrillic letters, every word of the data in Greek ones.

Whatever Latin letter is left on a page was written by the code and not by the language file.
"""

import string
import unicodedata
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import pandas as pd

from preflare.reporting.words import Words, load_words

CYRILLIC = {**{ord("a") + i: 0x430 + i for i in range(26)}, **{ord("A") + i: 0x410 + i for i in range(26)}}
GREEK = {**{ord("a") + i: 0x3B1 + i % 17 for i in range(26)}, **{ord("A") + i: 0x391 + i % 17 for i in range(26)}}

# What people wrote, in the views and in findings.json; all other words there are the program's own identifiers.
WRITTEN = frozenset(
    ("athlete", "name", "written", "what", "why", "file", "sheet", "value", "evidence", "assumptions", "reason")
) | {"remedy", "refused", "sentence", "help", "words", "label"}
NOT_PEOPLE = frozenset(("checks", "rates", "sensitivity", "before_onset", "lags", "case_crossover", "source_file"))


def pseudo_words() -> Words:
    """The English words with their letters changed; fields in braces stay."""
    english = load_words("en")
    return Words("ru", _changed(dict(english.tables), lambda text: _template(text, CYRILLIC)))


def _template(text: str, letters: Mapping[int, int]) -> str:
    made = ""
    for literal, name, form, conversion in string.Formatter().parse(text):
        made += literal.translate(letters).replace("{", "{{").replace("}", "}}")
        if name is not None:
            made += "{" + name + (f"!{conversion}" if conversion else "") + (f":{form}" if form else "") + "}"
    return made


def _changed(value: Any, change: Callable[[str], str]) -> Any:
    if isinstance(value, str):
        return change(value)
    if isinstance(value, dict):
        return {key: _changed(item, change) for key, item in value.items()}
    if isinstance(value, list | np.ndarray):
        return [_changed(item, change) for item in value]
    return value


def greek(text: Any) -> Any:
    """What a person wrote, in Greek letters without accents; anything but text as it is."""
    return _changed(text, lambda told: unicodedata.normalize("NFKD", told).translate(GREEK))


def greek_findings(value: Any, inside: str = "") -> Any:
    """findings.json with what people wrote, and what the room of the findings words, in Greek letters."""
    if isinstance(value, dict):
        return {
            key: greek(item)
            if (key == "unit" and inside == "exploratory")
            or (key in WRITTEN and not (key == "name" and inside in NOT_PEOPLE))
            or (key == "how" and inside == "rates")
            else greek_findings(item, key)
            for key, item in value.items()
        }
    if isinstance(value, list):
        return [greek_findings(item, inside) for item in value]
    return value


def greek_views(views: Mapping[str, pd.DataFrame]) -> dict[str, pd.DataFrame]:
    """The views with what people wrote in Greek letters; numbers, days and identifiers as they are."""
    return {name: _greek_frame(name, frame) for name, frame in views.items()}


def _greek_frame(name: str, frame: pd.DataFrame) -> pd.DataFrame:
    told = [c for c in frame.columns if c in WRITTEN and not (name == "screen" and c == "value")]
    headings = [c for c in frame.columns if c == "columns"]
    return frame.assign(
        **{c: [greek(v) for v in frame[c]] for c in told},
        **{c: [{greek(written): taken for written, taken in v.items()} for v in frame[c]] for c in headings},
    )
