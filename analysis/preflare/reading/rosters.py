"""Who belongs to a squad: full names in title lines and lists of members, and letters that a legend gives to people.

They store nothing. They only tell whom a first name, initials or a letter in a log can mean.
"""

import re
from collections import defaultdict
from collections.abc import Iterable
from itertools import pairwise

from preflare.reading.coded import CodedRows, distinct_in_order
from preflare.reading.lexicon import Lexicon, generic_words
from preflare.reading.people import looks_like_a_name
from preflare.reading.tables import Table
from preflare.reading.text import as_text, fold, spaces
from preflare.reading.workbook import Sheet

_BETWEEN = re.compile(r"[,;:&|()/\"=+]|\s[-–—]\s|\s(?:and|und|et|y|e|en|i|og|och)\s", re.I)
_PARTICLES = {"van", "von", "de", "der", "den", "da", "di", "del", "la", "le", "zu", "af", "av", "ter", "ten", "dos"}
_LETTER = re.compile(r"(?<![^\W_])([A-ZÀ-Þ]{1,3})\s*[=:]\s*([A-ZÀ-Þ][^\W\d_]+(?:[ -][A-ZÀ-Þ][^\W\d_]+){0,2})(?![^\W_])")


def names_in_titles(titles: Iterable[str], lexicon: Lexicon) -> list[str]:
    """Full names among title lines: two to four words, each with a capital, that no vocabulary knows."""
    pieces = (spaces(piece) for title in titles for piece in _BETWEEN.split(title) if piece)
    return [piece for piece in pieces if is_full_name(piece, lexicon)]


def is_full_name(text: str, lexicon: Lexicon) -> bool:
    """Whether a text is nothing but a full name."""
    parts = text.split()
    main = [part for part in parts if part.casefold() not in _PARTICLES]
    if not 2 <= len(main) <= 3 or len(parts) > 4 or not all(part[:1].isupper() for part in main):
        return False
    if all(fold(part) in lexicon.month.known or fold(part) in lexicon.weekday.known for part in main):
        return False  # but one of them may be a name, as Jan and May are
    known = (lexicon.exercise.known, lexicon.bar.known, lexicon.headings_of, lexicon.site.known)
    return looks_like_a_name(" ".join(main), generic_words(), *known) == " ".join(main).replace("-", " ")


def people_by_letter(titles: Iterable[str], lexicon: Lexicon) -> dict[str, str]:
    """Letters that a legend gives to people ("T = Torben, E = Else"): letter -> name as it stands there."""
    found = {match[1]: match[2] for title in titles for match in _LETTER.finditer(title)}
    known = {*lexicon.bar.known, *lexicon.work.known, *lexicon.exercise.known, *generic_words(), *lexicon.width.known}
    return {letter: name for letter, name in found.items() if not {fold(name), *fold(name).split()} & known}


_CAPITALISED = r"[A-ZÀ-Þ][^\W\d_]"
_NICKNAME = re.compile(
    rf"(?<![^\W_])(?P<short>{_CAPITALISED}{{2,11}})\s*[=:]\s*"
    rf"(?P<name>{_CAPITALISED}{{2,}}(?:[ -]{_CAPITALISED}+){{0,2}})(?=\s*(?:[,;.|)]|$))"
)


def nicknames_in(titles: Iterable[str], lexicon: Lexicon) -> dict[str, str]:
    """Short names that a line explains ("Tibo = Thibault", "Gosia = Małgorzata Wirska"): short name -> name.

    Both are words that no vocabulary knows and begin with one letter, or the name is a full one.
    """
    known = (lexicon.exercise.known, lexicon.bar.known, lexicon.headings_of, lexicon.site.known, generic_words())
    found = {}
    for match in (match for title in titles for match in _NICKNAME.finditer(title)):
        short, name = match["short"], match["name"]
        words = [fold(word) for word in (short, *name.split())]
        is_alike = words[0][:1] == words[1][:1] or " " in name
        if is_alike and words[0] != words[1] and not any(word in one for word in words for one in known):
            found[short] = name
    return found


def names_in_lists(tables: Iterable[Table], sheet: Sheet, lexicon: Lexicon) -> list[str]:
    """Full names in the person columns of a sheet."""
    cells = (
        as_text(cell)
        for table in tables
        for column in table.having("person")
        for cell in distinct_in_order(sheet.rows, column.index, table.body)
    )
    return [name for name in dict.fromkeys(cells) if is_full_name(spaces(name.replace(",", " ")), lexicon)]


def is_list_of_members(table: Table) -> bool:
    """Whether a table names people and has no column that a log would have."""
    logged = ("date", "timestamp", "week", "weekday", "exercise", "work", "set_work", "reps", "pain", "screen", "test")
    return bool(table.having("person")) and not table.having(*logged)


_MOST_ROWS = 200  # of a sheet in which a list of names is looked for
_LONGEST = 12  # letters of a short name
_TOLD = re.compile(r"(?P<a>[^=:()|,;]+?)\s*(?:[=:]|\((?=[^()]+\)))\s*(?P<b>[^=:()|,;]+?)\s*\)?")


def short_names_in(sheet: Sheet, lines: Iterable[str], lexicon: Lexicon) -> dict[str, str]:
    """Short names beside full ones, in two columns of a list ("Ada Berg | Addi") or in a line ("Addi = Ada Berg"):
    short name -> full name. Of a list each must differ, and there must be two at least."""
    matches = (_TOLD.fullmatch(line.strip()) for line in lines)
    told = [pair for match in matches if match and (pair := _pair(match["a"], match["b"], lexicon))]
    pairs: dict[tuple[int, int], list[dict[str, str]]] = {}
    rows = [] if isinstance(sheet.rows, CodedRows) or len(sheet.rows) > _MOST_ROWS else sheet.rows
    for cells in rows:
        texts = [(index, cell) for index, cell in enumerate(cells) if cell is not None]
        for (i, a), (j, b) in pairwise(texts):
            if isinstance(a, str) and isinstance(b, str) and (pair := _pair(a, b, lexicon)):
                pairs.setdefault((i, j), []).append(pair)
    for found in pairs.values():
        names = [short for pair in found for short in pair]
        if len(names) >= 2 and len(set(names)) == len(names):
            told += found
    full_of: dict[str, set[str]] = defaultdict(set)
    for pair in told:
        for short, full in pair.items():
            full_of[short].add(full)
    return {short: full.pop() for short, full in full_of.items() if len(full) == 1}


def _pair(a: str, b: str, lexicon: Lexicon) -> dict[str, str]:
    """Short name -> full name, where one of two texts is each."""
    for full, short in ((spaces(a), spaces(b)), (spaces(b), spaces(a))):
        if is_full_name(full, lexicon) and " " not in short and len(short) <= _LONGEST and _is_short(short, lexicon):
            return {short: full}
    return {}


def _is_short(text: str, lexicon: Lexicon) -> bool:
    known = (lexicon.exercise.known, lexicon.bar.known, lexicon.headings_of, lexicon.site.known, lexicon.month.known)
    return text[:1].isupper() and looks_like_a_name(text, generic_words(), *known) == text
