"""Rows of a diary in which other people have lines of their own: each is read as theirs."""

from dataclasses import replace

from preflare.reading.companions import companions, shares
from preflare.reading.context import SheetContext
from preflare.reading.same_gear import with_same_bar
from preflare.reading.tables import Table
from preflare.reading.text import Cell
from preflare.reading.who_when import Carried
from preflare.reading.words import Gear

_TEXT = ("work", "note")


def companions_in(context: SheetContext, table: Table) -> frozenset[str]:
    """The people besides its owner in the texts of a table that has neither people nor exercises in columns."""
    if table.having("person", "first_name", "exercise", "load", "reps", "set_work") or not table.having("work"):
        return frozenset()
    cells = (context.cell(row, column.index) for row in table.body for column in table.having(*_TEXT))
    texts = [cell for cell in cells if isinstance(cell, str)]
    known = [name for athlete in context.settings.athlete for name in (athlete.name, *athlete.aliases)]
    return companions(texts, [*context.out.roster, *known], context.lexicon)


def shares_of_row(
    context: SheetContext, table: Table, row: int, names: frozenset[str]
) -> dict[str | None, dict[int, Cell]]:
    """Whose each text of a row is: person (None: the owner) -> column -> their part; {} where all is the owner's."""
    found: dict[str | None, dict[int, Cell]] = {}
    for column in table.having(*_TEXT):
        cell = context.cell(row, column.index)
        if isinstance(cell, str):
            for whose, text in shares(with_same_bar(cell, context.lexicon), names, context.lexicon).items():
                found.setdefault(whose, {})[column.index] = text
    return found if set(found) - {None} else {}


def put_in_place(context: SheetContext, table: Table, row: int, part: dict[int, Cell]) -> None:
    """Let the text cells of a row hold one person's part."""
    for column in table.having(*_TEXT):
        context.stand_ins[row, column.index] = part.get(column.index)


def carried_for(carried: Carried, name: str) -> Carried:
    """What a blank cell takes over in another person's lines: the day alone."""
    return replace(carried, person=name, exercise=None, gear=Gear(), ordinal=1)
