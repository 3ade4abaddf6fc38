"""The lift of rows that name none, in the title right above their table: "MON 9/14 - SQUAT + PULL-UPS".

A lift of the title that has a column of its own ("Pull-ups") is that column's; one lift that is left is that of the
other columns. Where two are left, none of them is taken.
"""

import re
from collections.abc import Sequence

from preflare.reading.lexicon import generic_words
from preflare.reading.lines import pieces_of_title
from preflare.reading.settled_roles import SHORTHAND
from preflare.reading.tables import SheetTables, Table
from preflare.reading.text import words_of
from preflare.reading.words import WordReader

_BETWEEN = re.compile(
    r"\s*[+&,;:|()/]\s*|\s+[-–—]+\s+|\s+(?:and|then|und|dann|et|puis|y|luego|e|ed|poi|en|dan|i|og|så|och|sedan)\s+",
    re.I,
)
_NOT = frozenset(
    {"no", "not", "kein", "keine", "pas", "sin", "senza", "sem", "geen", "bez", "nie", "ikke", "inte", "off"}
)
_DAY = re.compile(r"\S*\d\S*")


def lift_of_titles(table: Table, words: WordReader) -> str | None:
    """The lift, as written, that the last title naming any leaves for the columns without one; None where it leaves
    none, or two."""
    if table.having("exercise"):
        return None
    headings = [column.heading for column in table.columns if column.heading is not None]
    own = {words.exercise(heading.exercise).exercise for heading in headings if heading.exercise is not None}
    for title in reversed(table.titles):
        named = lifts_in_title(title, words)
        if named:
            left = {lift: text for lift, text in named.items() if lift not in own}
            return next(iter(left.values())) if len(left) == 1 and "" not in left.values() else None
    return None


def lifts_in_title(title: str, words: WordReader) -> dict[str, str]:
    """Each lift that a title names -> as it is written there; "" where words beside it leave open what is meant."""
    named: dict[str, str] = {}
    for piece in pieces_of_title(title):
        for part in _BETWEEN.split(piece) if SHORTHAND.search(piece) is None else ():
            hits = list(words.lexicon.exercise.find(words_of(part)))
            whole = words.exercise(_DAY.sub(" ", part).strip())
            if hits and whole.how not in {"not known", "assumed"}:
                named[whole.exercise] = _DAY.sub(" ", part).strip()
            elif len(hits) == 1:
                start, end, lift = hits[0]
                found = words_of(part)
                named[lift] = " ".join(found[start:end]) if _are_plain(found[:start] + found[end:], words) else ""
            else:
                named |= {lift: "" for _, _, lift in hits}
    return named


def _are_plain(beside: Sequence[str], words: WordReader) -> bool:
    """Whether words beside a lift say nothing more of it ("Heavy squat day", "Mon 9/14 squat"); "no squat" does."""
    known = generic_words()
    return all(
        word not in _NOT and (word in known or any(map(str.isdigit, word)) or words.lexicon.weekday.exact(word))
        for word in beside
    )


def titles_differ(tables: SheetTables, words: WordReader) -> bool:
    """Whether titles of two tables name different lifts, so that none of them holds for the sheet."""
    told: list[set[str]] = [_all_of(table.titles, words) for table in tables.tables]
    return len({frozenset(one) for one in told if one}) > 1


def _all_of(titles: Sequence[str], words: WordReader) -> set[str]:
    return {lift for title in titles for lift in lifts_in_title(title, words)}
