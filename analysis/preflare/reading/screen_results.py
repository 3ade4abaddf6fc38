"""Results of mobility and strength tests from one row of a table."""

import re

from preflare.reading.context import SheetContext
from preflare.reading.numbers import parse_number
from preflare.reading.ratings import Answer, is_merged_down
from preflare.reading.rows import ScreenRow
from preflare.reading.tables import Table
from preflare.reading.text import Cell, as_text, words_of

_UNIT_BEHIND = re.compile(r"\s*(?:°|deg|cm|mm|kg|n)\.?$", re.I)


def screens_of_row(context: SheetContext, table: Table, row: int, answer: Answer) -> list[ScreenRow]:
    """Test results: a column a test, or test and value columns."""
    screens = []
    for column in table.having("screen"):
        heading = column.heading
        cell = context.cell(row, column.index)
        if heading is None or heading.test is None or cell is None or is_merged_down(context, row, column.index):
            continue
        unit = heading.unit or context.lexicon.screen_units[heading.test]
        screens += _screen(context, row, column.index, cell, answer, heading.test, heading.side or "unknown", unit)
    test, value = table.first("test"), table.first("value") or next(iter(table.having("pain")), None)
    if test is not None and value is not None:
        written, cell = context.cell(row, test.index), context.cell(row, value.index)
        if isinstance(written, str) and cell is not None:
            words = words_of(written)
            name = context.lexicon.screen.exact(written) or next(
                (hit for _, _, hit in context.lexicon.screen.find(words)), written
            )
            side = next((hit for _, _, hit in context.lexicon.side.find(words)), None) or _side_cell(
                context, table, row
            )
            unit_column = table.first("unit")
            unit = (
                as_text(context.cell(row, unit_column.index))
                if unit_column
                else context.lexicon.screen_units.get(name, "")
            )
            screens += _screen(context, row, value.index, cell, answer, name, side, unit)
    return screens


def _side_cell(context: SheetContext, table: Table, row: int) -> str:
    column = table.first("side")
    cell = context.cell(row, column.index) if column else None
    return (context.lexicon.side.exact(cell) if isinstance(cell, str) else None) or "unknown"


def _screen(
    context: SheetContext, row: int, column: int, cell: Cell, answer: Answer, test: str, side: str, unit: str
) -> list[ScreenRow]:
    number = (
        cell if isinstance(cell, float) else parse_number(_UNIT_BEHIND.sub("", cell)) if isinstance(cell, str) else None
    )
    if number is None:
        if not (isinstance(cell, str) and context.lexicon.sheet_word(cell, "missing")):
            context.reject_cell(
                row, column, cell, "the test result is not a number", "correct the cell and import again"
            )
        return []
    return [ScreenRow(answer.athlete, answer.day, test, side, number, unit, context.place(row, column))]  # type: ignore[arg-type]
