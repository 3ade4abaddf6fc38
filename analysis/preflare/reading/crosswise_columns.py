"""What the columns of sheets with days, weeks or people across hold, told by their cells where no heading says it."""

from collections.abc import Sequence

from preflare.reading.crosswise_blocks import Block, Group
from preflare.reading.crosswise_marks import (
    GEAR,
    is_work_in_short,
)
from preflare.reading.headings import Heading, parse_heading
from preflare.reading.item import MOST_REPS
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.lift_cells import is_warm_up_tag
from preflare.reading.numbers import parse_number
from preflare.reading.tables import Column
from preflare.reading.text import as_text, fold
from preflare.reading.workbook import Sheet, cell_at

_ONE_FOR_ALL = frozenset({"date", "person", "week", "weekday", "exercise", "set_number"}) | GEAR


def settle_columns(blocks: list[Block], sheet: Sheet, lexicon: Lexicon) -> None:
    """Leave out columns that are empty; give those without a heading of their own the role of what they hold."""
    for block in blocks:
        kept = []
        for group in block.groups:
            filled = [column for column in group.columns if _holds_something(sheet, block, column)]
            is_loaded = any(column.role == "load" for column in filled)
            group.columns = [
                column for column in group.columns if column in filled or (is_loaded and column.role == "reps")
            ]  # repetitions left blank beside loads say that nothing was done
            if group.columns:
                kept.append(group)
        block.groups = kept
        block.common = [column for column in block.common if column.heading or _holds_something(sheet, block, column)]
        for column in block.common:
            _settle_labels(column, block, sheet, lexicon)
            _settle_numbers(column, sheet, block.body, lexicon)
        for group in block.groups:
            roles = {column.role for column in group.columns}
            counts = _counts_beside_loads(group, sheet, block.body)
            for column in group.columns:
                if {"load", "reps"} <= roles and _holds_figures_alone(column, sheet, block.body):
                    column.heading = Heading(column.written, ("unknown",), False)  # figures that are neither
                    continue
                if column is counts:
                    column.heading, column.role = Heading(column.written, ("reps",), False), "reps"
                _settle(column, sheet, block.body, lexicon)


def _counts_beside_loads(group: Group, sheet: Sheet, body: Sequence[int]) -> Column | None:
    """The one column without a known heading right behind a column of loads, where nothing else is headed as
    repetitions and its numbers are counts ("kg | x | RIR"); None when there is none."""
    roles = [column.role for column in group.columns]
    if roles.count("load") != 1 or {"reps", "set_work"} & set(roles):
        return None
    load = next(column for column in group.columns if column.role == "load")
    beside = [one for one in group.columns if one.heading is None and one.index == load.index + 1]
    for column in beside:
        cells = [cell_at(sheet, row, column.index) for row in body if cell_at(sheet, row, load.index) is not None]
        numbers = [
            number
            for cell in cells
            if (number := cell if isinstance(cell, float) else parse_number(as_text(cell))) is not None
        ]
        n_counts = sum(number == int(number) and 1 <= number <= MOST_REPS for number in numbers)
        if len(numbers) >= 2 and n_counts >= 0.8 * sum(cell is not None for cell in cells):
            return column
    return None


_MAY_BE_GEAR = frozenset({"person", "work", "note", "session_number", "ignored"})
_HOLD_WORK = frozenset({"work", "load", "reps"})
_SAY_OF_ROWS = frozenset({"rpe", "rir", "pain", "note", "session_rpe", "load", "reps", "sets"}) | GEAR


def _settle_labels(column: Column, block: Block, sheet: Sheet, lexicon: Lexicon) -> None:
    """Exercises or gear for a column at the left whose cells name such, whatever its heading may mean ("Who", "Week").

    Nothing changes where another column there is headed so. Words there that hold no work name the rows in any case.
    """
    first = min((one.index for group in block.groups for one in group.columns), default=0)
    texts = [cell for row in block.body if isinstance(cell := cell_at(sheet, row, column.index), str)]
    roles = {other.role for other in block.common}
    if column.index > first or not texts or "exercise" in roles:
        return
    n_lifts = sum(bool(lexicon.exercise.exact(text)) for text in texts)
    gear = (lexicon.bar, lexicon.width, lexicon.position) if column.role in _MAY_BE_GEAR else ()
    n_gear = sum(any(table.exact(text) for table in gear) for text in texts)
    n_beside = sum(_says_of_row(text, lexicon) for text in texts) if n_lifts else 0
    for role, n in (("exercise", n_lifts), ("bar", n_gear), ("exercise", n_lifts + n_beside)):
        if n >= 0.5 * len(texts) and role not in roles:
            column.role, column.heading = role, Heading(column.written, (role,), False)
            return
    n_words = sum(text[:1].isalpha() and not is_work_in_short(text, lexicon) for text in texts)
    if column.role in _HOLD_WORK and n_words >= 0.5 * len(texts):
        column.role, column.heading = "unknown", None  # "Training of": words in front of the days say what a row is


def _says_of_row(text: str, lexicon: Lexicon) -> bool:
    """Whether a label says what a row tells of the lift above it or of the session: "RPE", "Grip", "Elbow R"."""
    heading = parse_heading(text, lexicon)
    return names_total(text) or (heading is not None and heading.roles[0] in _SAY_OF_ROWS)


def _settle_numbers(column: Column, sheet: Sheet, body: Sequence[int], lexicon: Lexicon) -> None:
    """Numbers of sets for a column at the left that counts them, warm-ups among them ("WU, 1, 2, 3")."""
    if column.heading is None or not {"sets", "set_number"} & set(column.heading.roles[:2]):
        return
    cells = [as_text(cell) for row in body if (cell := cell_at(sheet, row, column.index)) is not None]
    numbers = [cell for cell in cells if not _names_gear(cell, lexicon)]  # "Bar" above the sets of a squat
    is_counted = all(
        is_number_of_a_set(cell, lexicon) or is_warm_up_tag(cell, lexicon) or (len(cell) == 1 and cell.isalpha())
        for cell in numbers
    )
    if numbers and is_counted and (len(set(numbers)) > 1 or set(numbers) == {"1"}):
        column.role = "set_number"


def _names_gear(text: str, lexicon: Lexicon) -> bool:
    heading = parse_heading(text, lexicon)
    return heading is not None and heading.is_exact and heading.roles[0] in GEAR


def _holds_something(sheet: Sheet, block: Block, column: Column) -> bool:
    return any(cell_at(sheet, row, column.index) is not None for row in block.body)


def _holds_figures_alone(column: Column, sheet: Sheet, body: Sequence[int]) -> bool:
    cells = [cell for row in body if (cell := cell_at(sheet, row, column.index)) is not None]
    return column.heading is None and all(parse_number(as_text(cell)) is not None for cell in cells)


def _settle(column: Column, sheet: Sheet, body: Sequence[int], lexicon: Lexicon) -> None:
    """Work for a column under a day or person that says nothing else; labels where it holds names of exercises."""
    if column.heading is not None:
        if {"sets", "set_number", "session_number"} & set(column.heading.roles[:1]):
            texts = [cell for row in body if isinstance(cell := cell_at(sheet, row, column.index), str)]
            if texts and sum(is_work_in_short(text, lexicon) for text in texts) >= 0.5 * len(texts):
                column.role = "work"
        return
    texts = [cell for row in body if isinstance(cell := cell_at(sheet, row, column.index), str)]
    n_lifts = sum(bool(lexicon.exercise.exact(text)) for text in texts)
    role = "exercise" if texts and n_lifts >= 0.5 * len(texts) else "work"
    column.heading, column.role = Heading(column.written, (role,), False), role


def is_label(column: Column) -> bool:
    """Whether a column says what its row is about, and holds no work itself."""
    return column.role in _ONE_FOR_ALL or column.heading is None


def is_number_of_a_set(text: str, lexicon: Lexicon) -> bool:
    """Whether a label counts sets ("Set 2", "2."), and names no exercise."""
    words = fold(text).split()
    numbers = [word for word in words if word.isdecimal()]
    named = [word for word in words if not word.isdecimal()]
    roles = {role for word in named for role in lexicon.headings_of.get(word, ["?"])}
    return len(numbers) <= 1 and (not named or bool(roles & {"set_number", "sets"})) and "?" not in roles
