"""Sheets with days, weeks or people across, whatever stands in the rows: what each cell is governed by.

A cell of such a sheet belongs to the day, week or person above it (across, merged or written once over several
columns), to the words at its left, and to the last line of text above. Nothing here asks for one certain layout: lines
of headings are found by what they hold, and columns under the same day and person belong together. crosswise_rows.py
reads the cells.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field

from preflare.reading.coded import CodedRows
from preflare.reading.crosswise_blocks import Above, Block, Group
from preflare.reading.crosswise_columns import settle_columns
from preflare.reading.crosswise_marks import (
    AXES,
    Mark,
    date_line,
    day_in_corner,
    heads_of,
    line_mark,
    name_in_corner,
    names_again,
    names_over_work,
)
from preflare.reading.dates import Written, read_date
from preflare.reading.days_across import with_months
from preflare.reading.lexicon import Lexicon
from preflare.reading.tables import Column, SheetTables, Table
from preflare.reading.text import Cell, as_text
from preflare.reading.workbook import Sheet, cell_at

_ROWS_TO_SEARCH = 120  # for the first line of days, weeks or people
_MOST_ROWS = 20_000  # of a sheet with days or people across; longer ones are lists
_FEWEST_DAYS = 3  # across, for words below some of them to be no people


@dataclass(slots=True)
class Crosswise:
    """A sheet with days or people across: its blocks, the rows outside of them, and titles."""

    blocks: list[Block]
    not_data: dict[int, str]
    titles: list[str]
    assumed: list[str] = field(default_factory=list)  # of its headings, to be told where it is read

    def tables(self) -> SheetTables:
        """The same as tables, one for each day or person, as the summary of a sheet shows them."""
        tables = [
            Table([*block.common, *group.columns], block.header_rows, block.body, self.titles, group.above.person)
            for block in self.blocks
            for group in block.groups
        ]
        return SheetTables(tables, self.not_data, self.titles)

    def dates(self, sheet: Sheet, lexicon: Lexicon) -> list[Written]:
        """All that it says of dates, for the order of day and month."""
        cells = [group.above.day for block in self.blocks for group in block.groups]
        cells += [mark.day for block in self.blocks for mark in block.lines.values()]
        for block in self.blocks:
            for column in block.common:
                cells += [cell_at(sheet, row, column.index) for row in block.body]
        found = (read_date(cell, lexicon) for cell in cells if cell is not None and not isinstance(cell, float))
        return [written for written in found if written is not None]


def find_crosswise(sheet: Sheet, lexicon: Lexicon) -> Crosswise | None:
    """The blocks of a sheet with days, weeks or people across, or None when nothing stands across."""
    if not _may_run_across(sheet, lexicon):
        return None
    found = Crosswise([], {}, [])
    heads: list[tuple[int, dict[int, Mark]]] = []
    lines: dict[int, Mark] = {}
    block: Block | None = None
    people: set[str] = set()  # named in rows of headings
    names: dict[int, Mark] = {}  # in the corners of days across
    is_below_head = False
    for row in range(len(sheet.rows)):
        filled = _distinct(sheet, row)
        if not filled:
            continue
        if (line := date_line(filled, lexicon)) is not None and heads:
            lines = lines if block is None else block.lines
            lines[row] = line
            is_below_head = False
            continue
        marks, was_assumed = _marks_of(sheet, row, filled, lexicon)
        marks = names_again(filled, marks, people, lexicon) if people else marks
        if marks is not None and not _are_values_of_days(heads, marks):
            found.assumed += [was_assumed] if was_assumed else []
            if (corner := day_in_corner(marks, lexicon)) is not None:
                lines = {**lines, row: corner}
                marks = {index: mark for index, mark in marks.items() if index != min(marks)}
            elif (name := name_in_corner(marks)) is not None:
                names[row] = name
                marks = {index: mark for index, mark in marks.items() if mark is not name}
            people |= {mark.text for mark in marks.values() if mark.kind == "person"}
            heads = [*(heads if is_below_head else _kept(heads, marks)), (row, marks)]
            found.not_data[row] = "headings"
            block, is_below_head = None, True
            continue
        is_below_head = False
        if not any(mark.kind in AXES for _, one in heads for mark in one.values()):
            found.not_data[row] = "title"
            found.titles.append(" | ".join(dict.fromkeys(as_text(cell) for _, cell in filled)))
            continue
        if block is None:
            block = _block(sheet, heads)
            block.lines |= lines
            lines = {}
            found.blocks.append(block)
        if len(filled) == 1 and (mark := line_mark(filled[0][1], lexicon)) is not None:
            block.lines[row] = mark
        else:
            block.body.append(row)
    _name_blocks(found, names)
    settle_columns(found.blocks, sheet, lexicon)
    is_across = any(len(block.groups) > 1 or len(found.blocks) > 1 for block in found.blocks if block.body)
    return found if is_across else None


def _name_blocks(found: Crosswise, names: dict[int, Mark]) -> None:
    """Names in the corners of days across: of the rows below each where they differ, else a title of the sheet."""
    if len({mark.text for mark in names.values()}) < 2:
        found.titles += list(dict.fromkeys(mark.text for mark in names.values()))
        return
    for block in found.blocks:
        block.lines |= {row: mark for row, mark in names.items() if row in block.header_rows}


def _may_run_across(sheet: Sheet, lexicon: Lexicon) -> bool:
    """A quick look at the first rows of a sheet: whether days, weeks or people stand across in one of them."""
    n_rows = min(len(sheet.rows), _ROWS_TO_SEARCH)
    if isinstance(sheet.rows, CodedRows) and len(sheet.rows) > _MOST_ROWS:
        return False
    for row in range(n_rows):
        filled = _distinct(sheet, row)
        marks, _ = _marks_of(sheet, row, filled, lexicon)
        if marks is not None and any(mark.kind in AXES for mark in marks.values()):
            return True
    return False


def _marks_of(
    sheet: Sheet, row: int, filled: list[tuple[int, Cell]], lexicon: Lexicon
) -> tuple[dict[int, Mark] | None, str]:
    """What stands in each column of a row of headings, None for any other row; and what was assumed of it."""
    marks = names_over_work(sheet, row, filled, lexicon) or heads_of(filled, lexicon)
    if marks is not None or (dated := with_months(sheet, row, filled, lexicon)) is None:
        return marks, ""
    told = ", ".join(f'"{as_text(a)}" = {as_text(b)}' for (_, a), (_, b) in zip(filled, dated, strict=True) if a != b)
    return heads_of(dated, lexicon), f"The month of days across was taken from the lines above: {told}."


def _are_values_of_days(heads: list[tuple[int, dict[int, Mark]]], marks: dict[int, Mark]) -> bool:
    """Whether words that look like names stand below some of several days, a column each: they say how it was done."""
    names = {index for index, mark in marks.items() if mark.kind == "person"}
    axes = {index: mark for _, one in heads for index, mark in one.items() if mark.kind in {"day", "week", "weekday"}}
    are_single = len({(mark.kind, mark.text) for mark in axes.values()}) == len(axes) >= _FEWEST_DAYS
    below = names & axes.keys()
    return are_single and bool(below) and below != axes.keys()


def _kept(heads: list[tuple[int, dict[int, Mark]]], new: dict[int, Mark]) -> list[tuple[int, dict[int, Mark]]]:
    """The lines of headings that still hold when another one stands below data: those about something else."""
    kinds = {mark.kind for mark in new.values()}
    return [(row, marks) for row, marks in heads if not kinds & {mark.kind for mark in marks.values()}]


def _distinct(sheet: Sheet, row: int) -> list[tuple[int, Cell]]:
    """The filled cells of a row, a merged one once."""
    cells = sheet.rows[row]
    return [
        (index, cell)
        for index, cell in enumerate(cells)
        if cell is not None and not ((row, index) in sheet.merged and index > 0 and cells[index - 1] == cell)
    ]


def _block(sheet: Sheet, heads: list[tuple[int, dict[int, Mark]]]) -> Block:
    """The columns under lines of headings, those under the same day and person together."""
    width = max(len(cells) for cells in sheet.rows)
    by_above: dict[Above, list[Column]] = {}
    for index in range(width):
        marks = [mark for row, _ in heads if (mark := _over(sheet, heads, row, index)) is not None]
        if any(mark.kind == "total" for mark in marks) and index > 0:
            continue
        heading = next((mark.heading for mark in reversed(marks) if mark.heading is not None), None)
        is_for_all = heading is not None and not any(index in one for _, one in heads if _has_axis(one, index))
        above = Above() if is_for_all and _is_alone(heads, index) else _above(marks)
        written = next((mark.text for mark in reversed(marks)), "")
        role = heading.roles[0] if heading else "unknown"
        by_above.setdefault(above, []).append(Column(index, written, heading, role))
    common = by_above.pop(Above(), [])
    groups = [Group(above, columns) for above, columns in by_above.items()]
    return Block(groups, common, tuple(row for row, _ in heads))


def _has_axis(marks: dict[int, Mark], index: int) -> bool:
    return index in marks and marks[index].kind in AXES


def _is_alone(heads: list[tuple[int, dict[int, Mark]]], index: int) -> bool:
    """Whether a column's own heading stands in a line of days or people itself ("Mon | Wed | Remarks")."""
    return any(index in marks and any(mark.kind in AXES for mark in marks.values()) for _, marks in heads)


def _over(sheet: Sheet, heads: list[tuple[int, dict[int, Mark]]], row: int, index: int) -> Mark | None:
    """What a line of headings says over a column; a day or person holds for the blank cells at its right as well."""
    marks = next(one for at, one in heads if at == row)
    if index in marks:
        return marks[index]
    cells = sheet.rows[row]
    if index < len(cells) and (row, index) in sheet.merged:
        before = [at for at in marks if at < index and cells[at] == cells[index]]
        return marks[before[-1]] if before else None
    before = [at for at in marks if at < index]
    is_carried = bool(before) and marks[before[-1]].kind in (*AXES, "total")
    has_own = any(index in one for at, one in heads if at > row) or len(heads) == 1
    return marks[before[-1]] if is_carried and has_own else None


def _above(marks: Iterable[Mark]) -> Above:
    by_kind = {mark.kind: mark for mark in marks}
    day, week, weekday, person = (by_kind.get(kind) for kind in AXES)
    return Above(day.day if day else None, week, weekday.number if weekday else None, person.text if person else None)
