"""What a sheet is as a whole: its layout in words, whose it is, its unit and language."""

import re
from collections import Counter
from pathlib import PurePosixPath

from preflare.reading.context import SheetContext
from preflare.reading.grid import is_grid
from preflare.reading.lexicon import generic_words
from preflare.reading.people import looks_like_a_name, name_key
from preflare.reading.ratings import is_form
from preflare.reading.roles import in_words
from preflare.reading.tables import SheetTables, Table
from preflare.reading.text import as_text, fold, spaces, words_of
from preflare.reading.workbook import Sheet

_OWNER = re.compile(
    r"^\s*(?:name|athlete|lifter|athlet|sportler|nom|nombre|nome|naam|zawodnik|zawodniczka|navn|namn|utøver|utover|atleta)\s*[:=|]\s*(.+)$",
    re.I,
)


MOST_LINES = 200  # of a sheet without a log: more is no list of members or legend
_UNLESS = re.compile(
    r"\b(?:unless|except|außer|ausser|sauf|salvo|tranne|exceto|behalve|chyba|unntatt|undtagen|utom)\b", re.I
)


def layout_of(tables: SheetTables, otherwise: str) -> str:
    """The sheet's layout in plain words; several tables are named one after another."""
    return ", then ".join(dict.fromkeys(_layout(table) for table in tables.tables)) or otherwise


def _layout(table: Table) -> str:
    roles = Counter(column.role for column in table.columns)
    numbered = {
        column.heading.number
        for column in table.columns
        if column.heading and column.heading.number and column.role in {"load", "reps", "set_work"}
    }
    if is_grid(table):
        return "weekly grid"
    if is_form(table):
        return "pain form"
    if roles["screen"] or roles["test"]:
        return "test results"
    if len(numbered) > 1:
        return "one row an exercise, set by set across"
    if roles["work"]:
        return "one row a session, work in short"
    return "one row an exercise" if roles["sets"] else "one row a set"


def columns_taken(tables: SheetTables) -> dict[str, str]:
    """Heading as written -> what it was taken for."""
    taken: dict[str, str] = {}
    for table in tables.tables:
        for column in table.columns:
            taken.setdefault(column.written, in_words(column.role, column.heading))
    return taken


def all_titles(tables: SheetTables) -> list[str]:
    """Every title line of a sheet, once."""
    return list(dict.fromkeys([*tables.titles, *(title for table in tables.tables for title in table.titles)]))


def text_lines(sheet: Sheet, tables: SheetTables) -> list[str]:
    """Every row outside of the tables as a line of text, and their titles."""
    told = [row for row, what in sorted(tables.not_data.items()) if "heading" not in what]
    if not tables.tables:
        told = list(range(min(len(sheet.rows), MOST_LINES)))
    rows = (sheet.rows[row] for row in told)
    lines = [" | ".join(as_text(cell) for cell in cells if cell is not None) for cells in rows]
    return list(dict.fromkeys([*lines, *all_titles(tables)]))


def told_unit(tables: SheetTables, titles: list[str]) -> str | None:
    """The unit that titles or headings give for loads, when they agree."""
    units = {
        column.heading.unit
        for table in tables.tables
        for column in table.columns
        if column.heading and column.heading.unit in {"kg", "lb"} and column.role in {"load", "set_work", "work"}
    }
    if not units:
        words = {word for title in titles for word in words_of(_UNLESS.split(title)[0])}
        units = {
            unit
            for unit, spelt in (("kg", {"kg", "kilos", "kilo"}), ("lb", {"lb", "lbs", "pounds", "pfund", "libras"}))
            if words & spelt
        }
    return units.pop() if len(units) == 1 else None


def person_of_sheet(context: SheetContext, titles: list[str]) -> None:
    """Whose sheet it is: a title ("Name: Ada Berg"), a title that is a name, the sheet's name, or the file's name."""
    for title in titles:
        if match := _OWNER.match(title):
            _take(context, spaces(re.sub(r"[\d()/–-]+", " ", match[1].split("|")[0])), "a title line")
            return
    known = {name_key(name): name for athlete in context.settings.athlete for name in (athlete.name, *athlete.aliases)}
    words = {
        *context.lexicon.exercise.known,
        *context.lexicon.month.known,
        *context.lexicon.weekday.known,
        *context.lexicon.bar.known,
    }
    for title in titles:
        for piece in re.split(r"\s+[-–—|]\s+|[:,|]", title):
            piece = re.sub(r"\b(?:19|20)\d\d(?:\s*[/–-]\s*\d\d(?:\d\d)?)?\b", " ", piece).strip()
            piece = _without_what_it_is(piece)
            if name_key(piece) in known or _is_full_name(context, piece, words):
                _take(context, spaces(piece), "a title line")
                return
    stem = PurePosixPath(context.file).stem
    folder = PurePosixPath(context.file).parent.name
    for text, where in (
        (context.sheet.name, "the sheet's name"),
        (stem, "the file's name"),
        (folder, "the folder's name"),
    ):
        if text and (name := looks_like_a_name(text, generic_words(), words)):
            _take(context, name, where)
            return


def exercise_of_sheet(context: SheetContext, titles: list[str]) -> str | None:
    """The one exercise that titles, sheet or file name, for rows that name none."""
    for text in (*titles, context.sheet.name, PurePosixPath(context.file).stem):
        found = {hit for _, _, hit in context.lexicon.exercise.find(words_of(text.replace("_", " "))) if hit != "other"}
        if len(found) == 1:
            exercise = found.pop()
            context.assume(f'Where no column names an exercise, it was taken to be the {exercise}, from "{text}".')
            return exercise
    return None


def _without_what_it_is(piece: str) -> str:
    """A piece of a title without the generic words before a name ("Training diary Ada Berg", "Journal d'Ada Berg")."""
    words = re.sub(r"(?<=\bd)['’](?=[A-ZÀ-Þ])", " ", piece).split()
    start = 0
    while start < len(words) - 2 and (fold(words[start]) in generic_words() or words[start] == "d"):
        start += 1
    return " ".join(words[start:])


def _is_full_name(context: SheetContext, piece: str, words: set[str]) -> bool:
    """A title that is nothing but two or three capitalised words which no vocabulary knows."""
    name = looks_like_a_name(piece, generic_words(), words)
    parts = spaces(piece).split()
    return (
        name is not None and name == spaces(piece) and 2 <= len(parts) <= 3 and all(part[0].isupper() for part in parts)
    )


def _take(context: SheetContext, name: str, where: str) -> None:
    context.person = name
    context.assume(f'Where no column names a person, the log is that of "{name}", from {where}.')


def language_of(context: SheetContext, tables: SheetTables) -> str:
    """The language of most of the sheet's known words; "en" when they are the same in all."""
    counts: Counter[str] = Counter()
    lexicon = context.lexicon
    texts = [column.written for table in tables.tables for column in table.columns]
    texts += [
        text for (file, sheet, _, text) in context.choices.seen if (file, sheet) == (context.file, context.sheet.name)
    ]
    for text in texts:
        for phrases in (lexicon.heading, lexicon.exercise, lexicon.bar, lexicon.moment, lexicon.site, lexicon.width):
            for language in phrases.languages.get(fold(text), ()):
                counts[language] += 1
    if not counts:
        return "en"
    best = max(counts.values())
    return "en" if counts["en"] == best else max(counts, key=lambda language: counts[language])
