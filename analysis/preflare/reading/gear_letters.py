"""Letters and beginnings in columns of bars, grips and positions ("N, M, W", "e/m/w", "ś, w, sz"), told by all of them.

A letter alone says little; all that one column holds says which language is meant. Where two readings are left, none
is taken.
"""

from collections.abc import Iterable, Mapping, Sequence

from preflare.reading import vocabulary
from preflare.reading.coded import distinct_in
from preflare.reading.lexicon import Lexicon, Phrases
from preflare.reading.tables import SheetTables
from preflare.reading.text import fold
from preflare.reading.words import GearColumn
from preflare.reading.workbook import Sheet

_LONGEST = 4  # letters; longer beginnings are read word by word


def letters_of_gear(written: Iterable[str], column: GearColumn, lexicon: Lexicon) -> dict[str, str]:
    """Each short value as written -> what it stands for, when the values of a column agree in every language that fits.

    written: the distinct values of one column or row. Answers nothing when a reading stays open.
    """
    phrases = {"bar": lexicon.bar, "grip": lexicon.width, "position": lexicon.position}[column]
    short = {
        text: plain
        for text in written
        if 0 < len(plain := text.strip(" .").casefold()) <= _LONGEST
        and plain.isalpha()
        and not _is_taught(text, phrases)
    }
    open_values = [text for text, plain in short.items() if phrases.exact(text) is None or len(plain) < 3]
    if not open_values:
        return {}
    readings = [
        reading
        for words in vocabulary.load("letters")[column].values()
        for reading in _readings(sorted(set(short.values())), words)
    ]
    if not readings or any(reading != readings[0] for reading in readings[1:]):
        return {}
    return {text: readings[0][short[text]] for text in open_values}


def letters_of_file(
    tables: Iterable[tuple[Sheet, SheetTables]], rows: Iterable[dict[GearColumn, set[str]]], lexicon: Lexicon
) -> dict[GearColumn, dict[str, str]]:
    """What letters mean in a file's columns, and rows, of bars, grips and positions."""
    values: dict[GearColumn, set[str]] = {"bar": set(), "grip": set(), "position": set()}
    for found in rows:
        for kind, written in found.items():
            values[kind] |= written
    roles: dict[str, GearColumn] = {"bar": "bar", "grip": "grip", "bar_position": "position"}
    for sheet, one in tables:
        for table in one.tables:
            for column in table.having(*roles):
                cells = distinct_in(sheet.rows, column.index, table.body)
                values[roles[column.role]] |= {cell for cell in cells if isinstance(cell, str)}
    return {kind: letters_of_gear(written, kind, lexicon) for kind, written in values.items()}


def _is_taught(text: str, phrases: Phrases) -> bool:
    return fold(text) in phrases.taught


def _readings(values: Sequence[str], words: Mapping[str, Sequence[str]]) -> list[dict[str, str]]:
    """Every way to take values for different things in one language, each the beginning of a word for it."""
    if not values:
        return [{}]
    first, *rest = values
    readings = []
    for meaning, spelt in words.items():
        if any(_begins(first, word) for word in spelt):
            others = {other: names for other, names in words.items() if other != meaning}
            readings += [{first: meaning} | more for more in _readings(rest, others)]
    return readings


def _begins(value: str, word: str) -> bool:
    """Whether a value begins a word; an accent in the value must be the word's, one in the word may be left away."""
    return word.startswith(value) or fold(word).startswith(value)
