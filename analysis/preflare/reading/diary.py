"""A diary: lines of text without columns, a date, then what was done, then how it felt."""

from dataclasses import replace
from datetime import date
from itertools import takewhile

from preflare.reading.context import SheetContext
from preflare.reading.dates import Written, read_date
from preflare.reading.grid import add_lift
from preflare.reading.lexicon import Lexicon
from preflare.reading.lift_cells import Lift
from preflare.reading.lifts import lift_of_work_set
from preflare.reading.notes import is_pain_alone, pain_in_note
from preflare.reading.ratings import Answer, pain_in_notes
from preflare.reading.rows import SessionRow
from preflare.reading.shorthand import Work, parse_work
from preflare.reading.tables import SHORTHAND
from preflare.reading.text import Cell, as_text
from preflare.reading.words import Gear
from preflare.reading.workbook import Sheet


def line_of(cells: list[Cell]) -> str:
    """A row as the line of text that it was before commas cut it."""
    return ", ".join(as_text(cell) for cell in cells if cell is not None)


def diary_dates(sheet: Sheet, lexicon: Lexicon) -> list[Written]:
    """What the lines of a sheet that are dates say."""
    return [written for cells in sheet.rows if (written := _date_line(cells, lexicon)) is not None]


def _date_line(cells: list[Cell], lexicon: Lexicon) -> Written | None:
    filled = [cell for cell in cells if cell is not None]
    if len(filled) == 1:
        return read_date(filled[0], lexicon)
    return read_date(line_of(cells), lexicon) if filled and len(filled) <= 3 else None


def _work_line(cells: list[Cell], lexicon: Lexicon) -> Work | None:
    """The sets of a line, if it holds any and names their exercise."""
    work = parse_work(line_of(cells), lexicon)
    return work if any(one.exercise for one in work.sets) else None


def is_diary(sheet: Sheet, lexicon: Lexicon) -> bool:
    """Whether a sheet without headings has lines that are dates and lines that are work."""
    rows = [cells for cells in sheet.rows if any(cell is not None for cell in cells)]
    if any(_is_of_many(cells) for cells in rows):
        return False
    dates = sum(_date_line(cells, lexicon) is not None for cells in rows)
    return dates > 0 and any(_work_line(cells, lexicon) for cells in rows)


def unfolded(sheet: Sheet, lexicon: Lexicon) -> Sheet | None:
    """A sheet of single cells that hold a day with all its lines, as the lines of a diary; None for any other sheet.

    Every line keeps the number of the row that it stands in.
    """
    rows = [[cell for cell in cells if cell is not None] for cells in sheet.rows]
    if not any(len(cells) == 1 and "\n" in as_text(cells[0]) for cells in rows) or any(
        len(cells) > 1 for cells in rows
    ):
        return None
    lines: list[tuple[int, list[Cell]]] = [
        (number, [line.strip()])
        for number, cells in zip(sheet.line_numbers, rows, strict=True)
        for cell in cells
        for line in as_text(cell).splitlines()
        if line.strip()
    ]
    found = replace(
        sheet, rows=[cells for _, cells in lines], line_numbers=[n for n, _ in lines], merged=set(), errors={}
    )
    return found if is_diary(found, lexicon) else None


def _is_of_many(cells: list[Cell]) -> bool:
    """Whether a row has work in several cells behind one without any: whose each is stands above them, if anywhere."""
    first, *others = [as_text(cell) for cell in cells if cell is not None]
    return not any(map(str.isdigit, first)) and sum(SHORTHAND.search(other) is not None for other in others) > 1


def read_diary(context: SheetContext) -> None:
    """Read a diary line by line; everything before the first date is title."""
    context.assume("The sheet has no columns and was read as a diary: a date, then the work of that day.")
    day: date | None = None
    n_titles = sum(1 for _ in takewhile(lambda cells: _date_line(cells, context.lexicon) is None, context.sheet.rows))
    for row, cells in enumerate(context.sheet.rows):
        if row < n_titles or not any(cell is not None for cell in cells):
            continue
        context.out.not_data.pop(context.key(row), None)
        written = _date_line(cells, context.lexicon)
        if written is None:
            _read_line(context, row, cells, day)
            continue
        day = context.calendar.resolve(written)
        if day is None or day > context.today:
            context.reject_row(
                row, "the date was not understood, has no year, or lies in the future", "write it like 2026-03-05"
            )
            day = None
        else:
            context.not_data(row, "a date line")


def _read_line(context: SheetContext, row: int, cells: list[Cell], day: date | None) -> None:
    if context.person is None:
        context.reject_row(
            row,
            "it is not known whose log this is",
            'name the person in season.toml: [[source]] file = "...", person = "..."',
        )
        return
    if day is None:
        context.reject_row(row, "it has no date, and no line above it has one", "write the date above it")
        return
    answer = Answer(context.person, day, None, False)
    text = line_of(cells)
    context.out.pain += pain_in_notes(context, row, 0, text, answer)
    work = _work_line(cells, context.lexicon)
    if work is None:
        if any(letter.isdecimal() for letter in text) and not pain_in_note(text, context.lexicon):
            context.reject_row(
                row,
                "there are numbers in it, but no exercise with sets that could be read",
                'write it like "Squat 5x3 @140"',
            )
            return
        context.out.sessions.append(SessionRow(context.person, day, 1, None, None, None, text, context.place(row)))
        return
    for problem in work.problems:
        if is_pain_alone(problem.text, context.lexicon):
            continue
        context.reject_cell(row, 0, problem.text, problem.reason, 'write it like "5x3 @140"')
    for one in work.sets:
        lift: Lift = lift_of_work_set(context, one, None, one.exercise, None, 0)
        add_lift(context, row, 0, answer, lift, None, Gear())
