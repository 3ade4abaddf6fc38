"""Tables with people across: a name above each group of columns, or a column for each person."""

import re
from collections.abc import Container
from dataclasses import replace

from preflare.reading.coded import cells_in
from preflare.reading.headings import Heading
from preflare.reading.lexicon import Lexicon, generic_words
from preflare.reading.numbers import parse_number, parse_rating
from preflare.reading.people import looks_like_a_name
from preflare.reading.planned_columns import are_loads, plan_beside
from preflare.reading.settled_roles import SHORTHAND
from preflare.reading.tables import Column, SheetTables, Table
from preflare.reading.text import Cell, as_text, spaces, words_of
from preflare.reading.workbook import Sheet

_GEAR = {"bar", "grip", "bar_position"}
_OF_PAIN = {"moment", "site"}  # beside a person's ratings: "after", "next morning"
_MOST_RATED = 0.6  # of the cells of a person's column
_COMMON = {"date", "timestamp", "weekday", "week", "exercise", "set_number", "session_number", "time"}


def split_people(tables: SheetTables, sheet: Sheet, file: str, lexicon: Lexicon) -> None:
    """Replace every table with people across by one table a person."""
    split: list[Table] = []
    for table in tables.tables:
        by_person = None if table.having("person", "first_name", "last_name") else _by_name_above(table, sheet, lexicon)
        by_person = by_person or _beside_plan(table, sheet, lexicon) or _by_column(table, sheet, file, lexicon)
        split += by_person or [table]
    tables.tables = split


def names_someone(text: str, lexicon: Lexicon) -> bool:
    """Whether a text is nothing but one to three capitalised words that no vocabulary knows."""
    phrases = (lexicon.exercise, lexicon.month, lexicon.weekday, lexicon.bar)
    known: list[Container[str]] = [*(one.known for one in phrases), lexicon.headings_of]
    parts = spaces(text).split()
    is_name = looks_like_a_name(text, generic_words(), *known) == " ".join(parts).replace(".", "")
    return is_name and all(part[0].isupper() for part in parts)


def _by_name_above(table: Table, sheet: Sheet, lexicon: Lexicon) -> list[Table] | None:
    """Names in the row above the headings, each over the columns up to the next name."""
    above = table.header_rows[0] - 1
    if above < 0 or len(table.header_rows) > 1:
        return None
    cells = [(index, cell) for index, cell in enumerate(sheet.rows[above]) if isinstance(cell, str)]
    names = [(index, cell) for index, cell in cells if names_someone(cell, lexicon)]
    distinct = list(dict.fromkeys(name for _, name in names))
    if len(distinct) < 2 or len(names) != len(cells):
        return None
    table.titles[:] = [title for title in table.titles if title != " | ".join(distinct)]
    first = names[0][0]
    common = [column for column in table.columns if column.index < first]
    return [
        Table(
            [*common, *(replace(c) for c in table.columns if c.index >= first and _name_over(names, c.index) == name)],
            table.header_rows, table.body, table.titles, name, _reach(names, name, len(sheet.rows[above])),
        )
        for name in distinct
    ]  # fmt: skip


def _reach(names: list[tuple[int, str]], name: str, width: int) -> range | None:
    """The columns from a name to the next; None where it stands over two groups of them."""
    starts = [start for start, written in names if written == name]
    nexts = [start for start, _ in names if start > starts[0]]
    return range(starts[0], nexts[0] if nexts else width) if len(starts) == 1 else None


def _name_over(names: list[tuple[int, str]], column: int) -> str:
    return [name for index, name in names if index <= column][-1]


def _by_column(table: Table, sheet: Sheet, file: str, lexicon: Lexicon) -> list[Table] | None:
    """Columns headed by names that hold set shorthand or ratings; what the ratings are about, the titles say."""
    if table.having("person", "first_name", "last_name"):
        return None
    unknown = [c for c in table.columns if c.heading is None and c.day is None and names_someone(c.written, lexicon)]
    if len(unknown) < 2:
        return None
    about = " ".join([*table.titles, sheet.name, re.sub(r"[_./\\-]+", " ", file)])
    headings = {c.index: _heading_by_content(_values(table, sheet, c), about, lexicon) for c in unknown}
    if any(heading is None for heading in headings.values()):
        return None
    is_of_pain = any(heading is not None and heading.roles == ("pain",) for heading in headings.values())
    shared = _COMMON | (_OF_PAIN if is_of_pain else set())
    common = [column for column in table.columns if column.role in shared]
    return [
        Table([*(replace(column) for column in common), Column(c.index, c.written, heading, heading.roles[0])],
              table.header_rows, table.body, table.titles, spaces(c.written), range(c.index, c.index + 1))
        for c in unknown
        if (heading := headings[c.index]) is not None
    ]  # fmt: skip


def _beside_plan(table: Table, sheet: Sheet, lexicon: Lexicon) -> list[Table] | None:
    """Columns headed by names that hold loads, beside the sets and repetitions planned for all of them."""
    if table.having("person", "first_name", "last_name"):
        return None
    unknown = [c for c in table.columns if c.heading is None and c.day is None and _may_head_a_person(c.written)]
    named = [c for c in unknown if are_loads(_values(table, sheet, c), lexicon)]
    texts = [cell for c in named for cell in _values(table, sheet, c) if isinstance(cell, str)]
    if len(named) < 2 or (len(named) == 2 and not any(map(_says_more, texts))):
        return None  # two columns of bare numbers may be "Best" and "Volume" as well
    plan = plan_beside(table, {c.index: _values(table, sheet, c) for c in table.columns if c not in unknown}, lexicon)
    if plan is None:
        return None
    common = [
        column for column in table.columns if column.role in _COMMON | _GEAR | {"unknown"} and column not in named
    ]
    return [
        Table([*(replace(column) for column in common), replace(c, role="loads_planned")],
              table.header_rows, table.body, table.titles, spaces(c.written), plan=replace(plan, loads=c))
        for c in named
    ]  # fmt: skip


def _says_more(cell: str) -> bool:
    """Whether a cell is no bare number, though a text file has all of them as text."""
    return parse_number(cell) is None


def _may_head_a_person(text: str) -> bool:
    """Whether a heading that nobody knows is one to three words without figures."""
    parts = spaces(text).replace(".", " ").split()
    return 1 <= len(parts) <= 3 and all(part.replace("-", "").replace("'", "").isalpha() for part in parts)


def _values(table: Table, sheet: Sheet, column: Column) -> list[Cell]:
    cells = cells_in(sheet.rows, column.index, table.body)
    return [cell for cell in cells if cell is not None]


def _heading_by_content(values: list[Cell], about: str, lexicon: Lexicon) -> Heading | None:
    """Work when most cells are set shorthand; pain when all are ratings and the titles speak of pain or a site."""
    texts = [as_text(value) for value in values]
    if not texts:
        return Heading("", ("ignored",), False)
    if sum(SHORTHAND.search(text) is not None for text in texts) >= 0.6 * len(texts):
        return Heading("", ("work",), False)
    words = words_of(about)
    site = next((hit for _, _, hit in lexicon.site.find(words) if hit != "other"), None)
    kind = next((hit for _, _, hit in lexicon.kind.find(words)), None)
    told = [text for text in texts if not lexicon.sheet_word(text, "missing")]
    if (site or kind) and _are_ratings(told, lexicon):
        return Heading("", ("pain",), False, site=site, kind=kind or "pain")
    return None


_RATED = re.compile(r"(?P<lead>[^\W\d_]*)\.?\s*\d{1,2}(?:\s*[.,/–-]\s*\d{1,2})?\s*(?P<tail>[^\W\d_]*)\.?")


def _are_ratings(texts: list[str], lexicon: Lexicon) -> bool:
    """Whether cells are ratings from 0 to 10, or most of them are, with a side beside some: "h3", "v1 h2", "3 re". What
    the others mean ("axel h 2"), the reader of pain finds or sets aside."""
    ratings = [parse_rating(text) for text in texts]
    if all(rating is not None and rating.value <= 10 for rating in ratings):
        return True
    plain = [text for text, rating in zip(texts, ratings, strict=True) if rating is not None and rating.value <= 10]
    sided = [text for text in texts if text not in plain and _is_of_sides(text, lexicon)]
    return bool(sided) and len(plain) + len(sided) >= _MOST_RATED * len(texts)


def _is_of_sides(text: str, lexicon: Lexicon) -> bool:
    """Whether a text is one or two ratings, each beside a word or letter for a side."""
    found = list(_RATED.finditer(text.strip()))
    sides = [[word for word in (one["lead"], one["tail"]) if word] for one in found]
    is_all = sum(len(one[0]) for one in found) + sum(map(str.isspace, text.strip())) >= len(text.strip())
    return is_all and 1 <= len(found) <= 2 and all(len(s) == 1 and lexicon.side.exact(s[0]) is not None for s in sides)
