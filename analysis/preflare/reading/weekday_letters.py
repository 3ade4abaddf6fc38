"""Single letters for weekdays before dates ("L 7/9", "X 9/9"), as one language writes them throughout a file.

A letter that two languages use differently, or one language for two days, names no weekday; the date counts alone.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from preflare.reading import vocabulary
from preflare.reading.coded import CodedRows
from preflare.reading.text import as_text, fold
from preflare.reading.words import WordReader
from preflare.reading.workbook import Sheet

OPEN = "0"  # in place of a weekday: the letter stands for one, and nobody knows which
_LETTER = re.compile(r"[\s=*#>-]*(?P<letter>[^\W\d_])\.?,?\s+\d{1,2}\s?[./-]\s?\d{1,2}(?![\d.,]*\s?(?:kg|[x×@]))")
_LEAST_DAYS = 3
_MOST_ROWS = 2000


def with_weekday_letters(sheets: Sequence[Sheet], words: WordReader) -> WordReader:
    """The reader of one file, whose vocabulary knows the letters that stand for weekdays in it; the same without any.

    Capital letters alone count, and only where three lines and more begin with one and a date.
    """
    letters = _meanings(_letters_in(sheets))
    if not letters:
        return words
    lexicon = words.lexicon
    weekday = replace(lexicon.weekday, letters={**lexicon.weekday.letters, **letters}, _folded={})
    return WordReader(lexicon.changed(weekday=weekday))


def _letters_in(sheets: Sequence[Sheet]) -> list[str]:
    rows = [cells for sheet in sheets if not isinstance(sheet.rows, CodedRows) for cells in sheet.rows[:_MOST_ROWS]]
    texts = (as_text(next((cell for cell in cells if cell is not None), "")) for cells in rows)
    found = [match["letter"] for text in texts if (match := _LETTER.match(text))]
    return [letter for letter in found if letter.isupper()]


def _meanings(seen: list[str]) -> dict[str, str]:
    """Folded letter -> weekday of the languages that know all the letters seen; OPEN where they differ."""
    used = {fold(letter) for letter in seen}
    fitting = [letters for letters in _by_language() if used <= letters.keys()]
    if len(seen) < _LEAST_DAYS or len(used) < 2 or not fitting:
        return {}
    days = {letter: frozenset().union(*(letters[letter] for letters in fitting)) for letter in used}
    return {letter: next(iter(of)) if len(of) == 1 else OPEN for letter, of in days.items()}


@cache
def _by_language() -> list[dict[str, set[str]]]:
    """For each language, folded letter -> the weekdays that it may stand for."""
    found: dict[str, dict[str, set[str]]] = {}
    for day, by_language in vocabulary.load("calendar")["weekday_letter"].items():
        for language, letters in by_language.items():
            for letter in letters:
                found.setdefault(language, {}).setdefault(fold(letter), set()).add(day)
    return list(found.values())
