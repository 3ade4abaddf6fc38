"""What a sheet is as a whole: its layout in words, whose it is, its unit and language."""

import re
from collections import Counter
from pathlib import PurePosixPath

from preflare.reading.coded import distinct_in
from preflare.reading.context import SheetContext
from preflare.reading.grid import is_grid
from preflare.reading.legend_lines import says
from preflare.reading.lexicon import Lexicon
from preflare.reading.ratings import is_form
from preflare.reading.roles import in_words
from preflare.reading.settled_roles import SHORTHAND
from preflare.reading.tables import SheetTables, Table
from preflare.reading.text import as_text, fold, words_of
from preflare.reading.vocabulary import families
from preflare.reading.workbook import Sheet

MOST_LINES = 200  # of a sheet without a log: more is no list of members or legend
_UNLESS = re.compile(
    r"\(?\b(?:unless|except|if|when|außer|ausser|wenn|falls|sauf|si|salvo|tranne|se|exceto|behalve|tenzij|als|chyba|jeśli"
    r"|unntatt|hvis|undtagen|utom|om)\b",
    re.I,
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
        told = [_words_for_units(_UNLESS.split(title)[0]) for title in titles]
        units = {unit for unit in ("kg", "lb") if any(says(unit, words) for words in told)}
    return units.pop() if len(units) == 1 else None


_LOW_BAR = re.compile(
    r"\blb\s*[=:]|\b(?:squats?|sq|kniebeugen?|kniebuiging\w*|przysiad\w*|knebøy|knæbøj\w*|knäböj|sentadillas?"
    r"|agachamentos?)\s+lb\b",
    re.I,
)


def _words_for_units(title: str) -> list[str]:
    """The words of a line, without an "lb" that is a low bar: behind a squat, beside "hb" or "low", or explained."""
    words = words_of(title)
    is_low_bar = bool({"hb", "low"} & set(words)) or _LOW_BAR.search(title) is not None
    return [word for word in words if not (is_low_bar and word == "lb")]


def exercise_of_sheet(context: SheetContext, titles: list[str]) -> str | None:
    """The one exercise that titles, sheet or file name, for rows that name none. A row of work is no title: the lift
    that it names is its own."""
    plain = (title for title in titles if SHORTHAND.search(title) is None)
    for text in (*plain, context.sheet.name, PurePosixPath(context.file).stem):
        hits = context.lexicon.exercise.find(words_of(text.replace("_", " ")))
        found = {hit for _, _, hit in hits if families().get(hit) != "other"}
        if len(found) == 1:
            exercise = found.pop()
            context.assume(f'Where no column names an exercise, it was taken to be the {exercise}, from "{text}".')
            return exercise
    return None


def rows_name_lifts(sheet: Sheet, tables: SheetTables, lexicon: Lexicon) -> bool:
    """Whether a column of a table that has none for exercises holds the names of two lifts or more: then no name of a
    sheet or file stands for the lift of its rows."""
    for table in tables.tables:
        columns = [] if table.having("exercise") else table.columns
        if any(len(lexicon.lifts_named(distinct_in(sheet.rows, one.index, table.body))) >= 2 for one in columns):
            return True
    return False


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
