"""Cells that stand for another: ditto marks for the cell before them, "ok" under Done for what stands under Plan.

The sheet keeps what was written; only what is read of it comes from the other cell. A mark whose cell is open is set
aside, never guessed.
"""

import re

from preflare.reading.coded import distinct_in
from preflare.reading.context import SheetContext
from preflare.reading.headings import Heading
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.lines import text_alone
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text, fold

_SIGNS = re.compile(r"""(?:["”“„〃〞″]|''|´´|``|’’|,,){1,2}|[-–—~]+\s*["”“〃]\s*[-–—~]+""")
_TICKS = frozenset("✓✔☑✅")
_REPEATED = frozenset(
    {"date", "person", "week", "weekday", "exercise", "bar", "bar_position", "grip", "load", "reps", "sets", "rpe"}
    | {"rir", "percent", "set_work", "work", "session_number", "site", "side", "moment", "pain", "pain_kind"}
)
_CARRIED = frozenset({"date", "person", "week", "weekday", "exercise"})  # a blank in these is what stands above
_DONE = frozenset(
    {"work", "set_work", "load", "reps", "sets", "week_column", "day_column", "weekday_column"}
)  # roles of columns that may hold what was done
_AS_NAMED = frozenset({"date", "person", "exercise"})  # words for "same" in these are carried down row by row already
_GEAR = frozenset({"bar", "bar_position", "grip"})
_REMEDY = "write the value again"


def is_ditto(cell: Cell, lexicon: Lexicon) -> bool:
    """Whether a cell is nothing but a mark or word for "the same as before"."""
    return isinstance(cell, str) and (bool(_SIGNS.fullmatch(cell.strip())) or lexicon.sheet_word(cell, "same"))


def is_as_planned(cell: Cell, lexicon: Lexicon) -> bool:
    """Whether a cell says that what was planned was done."""
    if cell is True or not isinstance(cell, str):
        return cell is True
    return cell.strip("\ufe0f ") in _TICKS or lexicon.sheet_word(cell.strip(" !."), "as_planned")


def is_plan(column: Column, lexicon: Lexicon) -> bool:
    """Whether a heading says that its column holds what was meant to be done."""
    if column.role in {"date", "person", "note"}:
        return False
    return any(lexicon.sheet_word(word, "plan") for word in fold(column.written).split())


def settle_plans(context: SheetContext, table: Table) -> dict[int, int]:
    """Leave the columns of a plan alone where others hold what was done; answers column done -> column planned."""
    plans = [column for column in table.columns if is_plan(column, context.lexicon)]
    done = [column for column in table.columns if column.role in _DONE and column not in plans]
    if plans and not done:
        done = [column for column in table.columns if column not in plans and _holds_ticks(context, table, column)]
        for column in done:
            column.role, column.heading = "work", Heading(column.written, ("work",), False)
    if not plans or not done:
        return {}
    for column in plans:
        column.role = "ignored"
    pairs = {one.index: _plan_of(one, plans, context.lexicon) for one in done}
    return {index: plan for index, plan in pairs.items() if plan is not None}


def _holds_ticks(context: SheetContext, table: Table, column: Column) -> bool:
    """Whether a column says of each row only whether the plan was kept."""
    if column.role not in {"unknown", "ignored", "note", "failed"} or column.day is not None:
        return False
    cells = distinct_in(context.sheet.rows, column.index, table.body) - {None}
    kept = [cell for cell in cells if is_as_planned(cell, context.lexicon)]
    return bool(kept) and all(cell in kept or _is_not_done(cell, context.lexicon) for cell in cells)


def _is_not_done(cell: Cell, lexicon: Lexicon) -> bool:
    if cell is False or not isinstance(cell, str):
        return cell is False
    return not fold(cell) or any(lexicon.sheet_word(cell, kind) for kind in ("missing", "rest"))


def _plan_of(done: Column, plans: list[Column], lexicon: Lexicon) -> int | None:
    """The column planned of what a column holds as done: of its kind, or the only one, or in a grid that before."""
    alike = [plan for plan in plans if _kind_of(plan, lexicon) == _kind_of(done, lexicon)]
    if done.role in {"week_column", "day_column", "weekday_column"}:
        before = [plan for plan in plans if plan.index < done.index]
        return before[-1].index if before else None
    only = alike if len(alike) == 1 else plans
    return only[0].index if len(only) == 1 else None


def _kind_of(column: Column, lexicon: Lexicon) -> tuple[str, ...]:
    """The words of a heading that say neither planned nor done."""
    words = fold(column.written).split()
    is_done = (word for word in words if "work" in lexicon.headings_of.get(word, []))
    return tuple(word for word in words if not lexicon.sheet_word(word, "plan") and word not in set(is_done))


def stand_in(context: SheetContext, table: Table) -> None:
    """Note for every cell of a table that stands for another one which it is; refuses those that stay open."""
    for done, plan in settle_plans(context, table).items():
        _as_planned(context, table, done, plan)
    across: set[tuple[int, int]] = set()
    for column in table.columns:
        if column.role in _REPEATED:
            seen = distinct_in(context.sheet.rows, column.index, table.body)
            if any(_stands_for_another(cell, column, context.lexicon) for cell in seen):
                _dittos(context, table, column, across)


def _stands_for_another(cell: Cell, column: Column, lexicon: Lexicon) -> bool:
    if not is_ditto(cell, lexicon) or (column.role == "weekday" and lexicon.weekday.exact(as_text(cell))):
        return False
    return column.role not in _AS_NAMED or bool(_SIGNS.fullmatch(str(cell).strip()))


def _as_planned(context: SheetContext, table: Table, done: int, plan: int) -> None:
    for row in table.body:
        if is_as_planned(context.cell(row, done), context.lexicon) and (meant := context.cell(row, plan)) is not None:
            context.stand_ins[row, done] = meant


def _dittos(context: SheetContext, table: Table, column: Column, across: set[tuple[int, int]]) -> None:
    """The marks of one column. across: the marks of columns before it that repeat the set before."""
    for at, row in enumerate(table.body):
        cell = context.cell(row, column.index)
        if not _stands_for_another(cell, column, context.lexicon):
            continue
        found, is_across = _cell_meant(context, table, column, at, across)
        if is_across:
            across.add((row, column.index))
        if found is None:
            reason = "it is not known what this mark repeats"
            context.reject_cell(row, column.index, cell, reason, _REMEDY)
        context.stand_ins[row, column.index] = found


def _cell_meant(
    context: SheetContext, table: Table, column: Column, at: int, across: set[tuple[int, int]]
) -> tuple[Cell, bool]:
    """The cell that a mark repeats, and whether it is the set before: of sets across it is, save where that one
    repeats the row above itself."""
    row, above = table.body[at], _filled_above(context, table, column, at)
    left = _set_before(table, column)
    if left is not None and ((row, left.index) in across or (row, left.index) not in context.stand_ins):
        return _plain(context, context.cell(row, left.index)), True
    is_numbered = column.heading is not None and column.heading.number is not None
    is_bare = above is None or context.cell(above, column.index) is None
    if is_bare and column.role in _GEAR and (own := _own_row_before(context, table, column, at)) is not None:
        return _plain(context, context.cell(own, column.index)), False
    if above is None or (is_numbered and not _same_exercise(context, table, column, row, above)):
        return None, False
    return _plain(context, context.cell(above, column.index)), False


def _own_row_before(context: SheetContext, table: Table, column: Column, at: int) -> int | None:
    """The last row before, with bar, grip or place filled in, of the same person and lift; a blank is what is above."""
    columns = [one for role in ("person", "first_name", "exercise") if (one := table.first(role)) is not None]
    last: dict[str, str] = {}
    whose: list[dict[str, str]] = []
    for row in table.body[: at + 1]:
        for one in columns:
            if (cell := context.cell(row, one.index)) is not None:
                written = as_text(cell)
                lift = one.role == "exercise"
                last[one.role] = context.words.exercise(written).exercise if lift else fold(written)
        whose.append(dict(last))
    for place in range(at - 1, -1, -1):
        cell = context.cell(table.body[place], column.index)
        if whose[place] == whose[at] and cell is not None and not is_ditto(cell, context.lexicon):
            return table.body[place]
    return None


def _filled_above(context: SheetContext, table: Table, column: Column, at: int) -> int | None:
    """The row that a mark in the row at place `at` of the table looks up to.

    Past totals and lines of text; past blanks where a blank stands for what is above it; in a group, past rows in which
    the group holds nothing.
    """
    own = [one.index for one in table.columns if column.group is not None and one.group == column.group]
    for place in range(at - 1, -1, -1):
        row = table.body[place]
        if _is_apart(context, row):
            continue
        if own and all(context.cell(row, index) is None for index in own):
            continue
        if column.role in _CARRIED and context.cell(row, column.index) is None:
            continue
        return row
    return None


def _is_apart(context: SheetContext, row: int) -> bool:
    """Whether a row holds totals, or one text over all of it."""
    first = next((cell for cell in context.sheet.rows[row] if cell is not None), None)
    alone = text_alone(context.sheet, row)
    return (isinstance(first, str) and names_total(first)) or (alone is not None and alone[2])


def _plain(context: SheetContext, cell: Cell) -> Cell:
    return None if is_ditto(cell, context.lexicon) else cell


def _set_before(table: Table, column: Column) -> Column | None:
    """The column of the same kind that holds the set before."""
    heading = column.heading
    if heading is None or heading.number is None:
        return None
    before = (one for one in table.columns if (one.role, one.group) == (column.role, column.group) and one.heading)
    return next((one for one in before if one.heading and one.heading.number == (heading.number or 0) - 1), None)


def _same_exercise(context: SheetContext, table: Table, column: Column, row: int, above: int) -> bool:
    named = [one for one in table.having("exercise") if one.group in (None, column.group)]
    if not named:
        return True
    column = named[-1]
    here, there = context.cell(row, column.index), context.cell(above, column.index)
    return here is None or here == there or is_ditto(here, context.lexicon)
