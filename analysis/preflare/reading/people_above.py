"""Tables below one another on a sheet, each under a line with another person's name: "Ada Berg" over her rows,
"Bo Lind" over his."""

import re

from preflare.reading.context import SheetContext
from preflare.reading.owners import name_behind_label
from preflare.reading.people_across import names_someone
from preflare.reading.tables import SheetTables, Table
from preflare.reading.text import as_text, fold, spaces

_BEHIND = re.compile(r"\s+[-–—|]\s+|\s*[(:,]")
_FIRST_ROWS = 60  # of a table, to see which lift it has on which day


def settle_people_above(context: SheetContext, tables: SheetTables) -> None:
    """Give each table to the person named in the line right above it, where two tables or more name different ones.

    A table without such a line goes on for the person of the table before it. Names of one word may be those of parts
    of a session ("Heavy", "Upper"): they are people where two of the tables hold one lift on one day.
    """
    if len(tables.tables) < 2 or any(t.person or t.having("person", "first_name", "last_name") for t in tables.tables):
        return
    names = [_name_over(context, table) for table in tables.tables]
    told = list(dict.fromkeys(name for name in names if name is not None))
    if len(told) < 2 or names[0] is None:
        return
    if not all(" " in name or _is_taught(context, name) for name in told) and not _share_a_lift(context, tables, names):
        return
    person = ""
    for table, name in zip(tables.tables, names, strict=True):
        person = name or person
        table.person = person
    context.assume(f"The rows below each of these lines were read as those of the person named: {', '.join(told)}.")


def _name_over(context: SheetContext, table: Table) -> str | None:
    """The name in the last of a table's own title lines."""
    if not table.titles:
        return None
    title = table.titles[-1]
    name = spaces(name_behind_label(title) or _BEHIND.split(title, maxsplit=1)[0])
    return name if _is_taught(context, name) or names_someone(name, context.lexicon) else None


def _is_taught(context: SheetContext, name: str) -> bool:
    """Whether season.toml lists the name."""
    athletes = context.settings.athlete
    return fold(name) in {fold(one) for athlete in athletes for one in (athlete.name, *athlete.aliases)}


def _share_a_lift(context: SheetContext, tables: SheetTables, names: list[str | None]) -> bool:
    """Whether tables under two different names hold the same lift on the same day."""
    seen: dict[tuple[str, str], str] = {}
    person = ""
    for table, name in zip(tables.tables, names, strict=True):
        person = name or person
        day, lift = table.first("date"), table.first("exercise")
        if day is None or lift is None:
            continue
        for row in table.body[:_FIRST_ROWS]:
            key = as_text(context.cell(row, day.index)), fold(as_text(context.cell(row, lift.index)))
            if all(key) and seen.setdefault(key, person) != person:
                return True
    return False
