"""Text as the reader compares it: folded words, cells as text, blanks.

Folding takes away what spellings differ in (case, accents, hyphens, dots), never letters or digits.
"""

import re
import unicodedata
from datetime import date, datetime, time, timedelta
from functools import lru_cache

Cell = str | float | bool | date | datetime | time | timedelta | None

# Letters that Unicode decomposition leaves whole, and their usual spelling without the mark.
_WHOLE_LETTERS = str.maketrans(
    {"ł": "l", "ø": "o", "ß": "ss", "ı": "i", "æ": "ae", "œ": "oe", "đ": "d", "ð": "d", "þ": "th"}
)
_SPELT_OUT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"})
_WORD = re.compile(r"[^\W_]+|[#%?]", re.UNICODE)


def spaces(text: str) -> str:
    """`text` with every run of white space (non-breaking and zero-width included) as one space, ends trimmed."""
    return " ".join(text.replace("\u200b", "").replace("\ufeff", "").split())


@lru_cache(maxsize=200_000)
def fold(text: str) -> str:
    """`text` for comparison: lower case, no accents, words and digits joined by single spaces.

    "Bankdrücken, eng" -> "bankdrucken eng"; "% 1RM" -> "% 1rm". Apostrophes vanish ("don't" -> "dont").
    """
    plain = unicodedata.normalize("NFKC", text).casefold().replace("'", "").replace("’", "")
    plain = unicodedata.normalize("NFKD", plain.translate(_WHOLE_LETTERS))
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    return " ".join(_WORD.findall(plain))


def spellings(word: str) -> set[str]:
    """The folded forms under which a vocabulary word may be met: accents dropped, or spelt out (ü as ue)."""
    spelt_out = unicodedata.normalize("NFC", word).casefold().translate(_SPELT_OUT)
    return {fold(word), fold(spelt_out)}


def words_of(text: str) -> list[str]:
    """The folded words of `text`, in order."""
    return fold(text).split()


def tidy(cell: object) -> Cell:
    """A raw cell with blank text as None, other text without outer white space, whole numbers kept as float."""
    if isinstance(cell, str):
        return cell.strip(" \t\r\n\u00a0\u200b\ufeff\u202f") or None
    if isinstance(cell, bool) or cell is None:
        return cell
    if isinstance(cell, int | float):
        return float(cell)
    return cell if isinstance(cell, date | time | timedelta) else str(cell)


def as_text(cell: Cell) -> str:
    """A cell as a person would read it: 5.0 as "5", a date as 2026-03-05, None as ""."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return format(cell, ".10g")
    if isinstance(cell, datetime):
        return cell.isoformat(sep=" ", timespec="minutes")
    return cell.isoformat() if isinstance(cell, date | time) else str(cell)


def column_letters(index: int) -> str:
    """The spreadsheet letters of a 0-based column: 0 -> A, 26 -> AA."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def column_index(letters: str) -> int:
    """The 0-based column of spreadsheet letters: A -> 0, AA -> 26, "" -> -1."""
    index = 0
    for letter in letters:
        index = index * 26 + ord(letter) - ord("A") + 1
    return index - 1
