"""The lines in which a log explains itself: title lines, sheets and files named so, brackets in headings.

A line above the log or on such a sheet may explain without a sign ("N narrow"); any other text needs one.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import PurePosixPath

from preflare.reading import vocabulary
from preflare.reading.coded import CodedRows
from preflare.reading.dates import read_date, without_frame
from preflare.reading.lexicon import Lexicon, Phrases
from preflare.reading.text import Cell, as_text, fold, words_of
from preflare.reading.workbook import Sheet

_MOST_ROWS = 200  # of a sheet that explains; more is a log
_HEAD_ROWS = 40  # above a log, or in a box beside or below it
_ELIDED = re.compile(r"(?<!\w)([cdjlmnst]|all|dell|nell|qu) (?=[aeiouhàâèéêîô])")  # "d avant" as "d'avant" is folded
_LONGEST_SIGN = 12
_MOST_ROWS_OF_A_LOG = 2000  # in which lines with a sign are looked for
_SIGN = re.compile(r"[^\s=]\s*(?:=|→|⇒|≙)\s*[^\s=\d]")
_IN_BRACKETS = re.compile(r"\(([^()]*[=/][^()]*)\)")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of text. is_sure: it stands where a log explains itself. subject: what stands before its brackets."""

    text: str
    is_sure: bool
    subject: str = ""


@cache
def legend_words(kind: str) -> Phrases:
    """The phrases of one table of legend.toml; each stands for itself."""
    phrases = Phrases()
    for language, words in vocabulary.load("legend")[kind].items():
        joined = (_ELIDED.sub(r"\1", word) for word in words)
        phrases.add(kind, list(dict.fromkeys([*words, *joined])), language)
    return phrases


def says(kind: str, words: list[str]) -> bool:
    """Whether folded words hold a phrase of that kind."""
    return any(True for _ in legend_words(kind).find(words))


_MOST_WORDS_OF_A_LAST_TIME = 8
_BETWEEN = 2  # words at most between "previous" and "session"


def says_as_last(words: list[str]) -> bool:
    """Whether folded words say that something is as it was the time before: "as last time", "igual ao treino anterior".

    Of longer sentences, and of those with a "no", only the whole phrases count.
    """
    if says("as_last", words):
        return True
    if len(words) > _MOST_WORDS_OF_A_LAST_TIME or says("none", words):
        return False
    before = [span[:2] for span in legend_words("previous").find(words)]
    times = [span[:2] for span in legend_words("occasion").find(words)]
    return any(-1 < max(a - d, c - b) <= _BETWEEN for a, b in before for c, d in times)


def names_legend(name: str) -> bool:
    """Whether the name of a sheet or file says that it explains the log."""
    words = words_of(re.sub(r"[_\-.!]", " ", name))
    return len(words) <= 4 and says("sheet", words)


def is_legend_sheet(sheet: Sheet, file: str, lexicon: Lexicon) -> bool:
    """Whether a sheet, or file of text, only explains: named so, or all signs with their meanings; no dates."""
    if isinstance(sheet.rows, CodedRows) or not 0 < len(sheet.rows) <= _MOST_ROWS:
        return False
    name = sheet.name or PurePosixPath(file).stem
    if not names_legend(name):
        return _is_list_of_signs(sheet, lexicon)
    cells = (cell for row in sheet.rows for cell in row if cell is not None and not isinstance(cell, float))
    return not any(isinstance(cell, date) or read_date(cell, lexicon) is not None for cell in cells)


def _is_list_of_signs(sheet: Sheet, lexicon: Lexicon) -> bool:
    """Whether nearly all rows are a short sign and words for it, without numbers; two of them known."""
    rows = [[cell for cell in row if cell is not None] for row in sheet.rows]
    rows = [row for row in rows if row]
    pairs = [row for row in rows if len(row) == 2 and all(isinstance(cell, str) for cell in row)]
    pairs = [row for row in pairs if len(str(row[0])) <= _LONGEST_SIGN and not re.search(r"\d", "".join(map(str, row)))]
    tables = (lexicon.exercise, lexicon.bar, lexicon.width, lexicon.position)
    n_known = sum(any(table.exact(str(row[1])) for table in tables) for row in pairs)
    n_new = sum(not any(table.exact(str(row[0])) for table in tables) for row in pairs)
    return n_known >= 2 and n_new >= 2 and len(pairs) >= 0.7 * len(rows)


def legend_lines(sheet: Sheet, file: str, lexicon: Lexicon) -> Iterator[Line]:
    """Every line of a sheet that may explain something."""
    if is_legend_sheet(sheet, file, lexicon):
        yield from (Line(_as_line(texts), True) for cells in sheet.rows if (texts := _texts(cells)))
        return
    is_above = True
    n_rows = _HEAD_ROWS if isinstance(sheet.rows, CodedRows) else min(len(sheet.rows), _MOST_ROWS_OF_A_LOG)
    for row in range(min(n_rows, len(sheet.rows))):
        cells = sheet.rows[row]
        if not (texts := _texts(cells)):
            continue
        if is_above and (row >= _HEAD_ROWS or _begins_the_log(cells, texts, lexicon)):
            is_above = False
            yield from _brackets(texts)
        elif is_above:
            yield Line(", ".join(texts), True)
            yield from _brackets(texts)
        else:
            yield from (Line(text, False) for text in texts if _SIGN.search(text))
    if not isinstance(sheet.rows, CodedRows):
        yield from _in_boxes(sheet)


def _in_boxes(sheet: Sheet) -> Iterator[Line]:
    """The cells below one that says "Legend" or the like, in its column and the next, down to the first gap."""
    for row, cells in enumerate(sheet.rows[:_MOST_ROWS_OF_A_LOG]):
        for column, cell in enumerate(cells):
            if not isinstance(cell, str) or fold(cell) not in legend_words("sheet").known:
                continue
            for below in sheet.rows[row + 1 : row + 1 + _HEAD_ROWS]:
                texts = [one for one in below[column : column + 2] if isinstance(one, str)]
                if not texts or below[column] is None:
                    break
                yield Line(_as_line(texts), True)


def _texts(cells: list[Cell]) -> list[str]:
    """The cells of a row as text, a merged one once."""
    return list(dict.fromkeys(as_text(cell) for cell in cells if cell is not None))


def _as_line(texts: list[str]) -> str:
    """A row of a sheet that explains: a sign and its meaning in two cells, or text."""
    is_pair = len(texts) == 2 and len(texts[0]) <= 20 and not re.search(r"[=:]", "".join(texts))
    return " = ".join(texts) if is_pair else " | ".join(texts)


def _begins_the_log(cells: list[Cell], texts: list[str], lexicon: Lexicon) -> bool:
    """Whether a row is a date, holds numbers or dates, or is a row of headings: no text cut at its commas."""
    if any(isinstance(cell, float | date) for cell in cells):
        return True
    if len(texts) <= 3 and read_date(without_frame(", ".join(texts)), lexicon) is not None:
        return True
    n_known = sum(fold(text) in lexicon.headings_of for text in texts)
    return len(texts) >= 3 and (n_known >= 2 or (n_known >= 1 and not any("=" in text for text in texts)))


def _brackets(texts: list[str]) -> Iterator[Line]:
    """What the brackets of headings explain: "Grip (N/M/W = narrow/medium/wide)"."""
    for text in texts:
        if len(texts) == 1 and "=" not in text:
            continue
        for match in _IN_BRACKETS.finditer(text):
            if "=" in match[1]:
                yield Line(match[1], False, text[: match.start()].strip())
