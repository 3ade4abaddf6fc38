"""Sets from one row of a table: plain columns, numbered set columns, columns of one exercise, and set shorthand."""

import re
from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import date, datetime

from preflare.reading.context import SheetContext
from preflare.reading.numbers import parse_count, parse_effort, parse_load, to_kg
from preflare.reading.shorthand import WorkSet, parse_work
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.vocabulary import families

RPE_SCALE = (1.0, 10.0)  # Zourdos et al. 2016, J Strength Cond Res 30(1):267-275: RPE 10 is no repetition in reserve
_MADE = {
    "made",
    "completed",
    "success",
    "geschafft",
    "gultig",
    "reussi",
    "riuscita",
    "gehaald",
    "zaliczone",
    "godkjent",
    "godkendt",
    "godkant",
}
_FAILED_REPS = re.compile(r"(\d+)\s*(?:\+\s*\d*\s*)?(?:f|x|fail\w*|miss\w*)\.?", re.I)
_MANY = re.compile(r"\d{1,2}(?:\s*[,/;+\- ]\s*\d{1,2})+")


@dataclass(slots=True)
class SetColumns:
    """The columns that together hold one set, or several equal ones."""

    number: int | None = None
    exercise: str | None = None
    load: Column | None = None
    reps: Column | None = None
    sets: Column | None = None
    rpe: Column | None = None
    rir: Column | None = None
    percent: Column | None = None
    warm_up: Column | None = None
    failed: Column | None = None
    set_work: Column | None = None
    work: tuple[Column, ...] = ()


@dataclass(frozen=True, slots=True)
class Lift:
    """One set of a row before person, date and gear are put to it. exercise: as written in the cell or its heading."""

    load_kg: float | None
    reps: int | None
    rpe: float | None
    rir: float | None
    is_warm_up: bool
    is_failed: bool
    exercise: str | None
    note: str | None
    column: int


def set_columns(table: Table) -> list[SetColumns]:
    """The groups of columns of a table that hold sets, from left to right."""
    groups: dict[tuple[str | None, int | None], SetColumns] = defaultdict(SetColumns)
    for column in table.columns:
        heading = column.heading
        if heading is None or column.role not in {
            "load",
            "reps",
            "sets",
            "rpe",
            "rir",
            "percent",
            "warm_up",
            "failed",
            "set_work",
            "work",
        }:
            continue
        group = groups[heading.exercise, heading.number]
        group.number, group.exercise = heading.number, heading.exercise
        if column.role == "work":
            group.work = (*group.work, column)
        elif getattr(group, column.role) is None:
            setattr(group, column.role, column)
    plain = groups.get((None, None))
    if plain is not None:
        for group in groups.values():
            if group is not plain and group.exercise is None and not (group.load and group.set_work is None):
                group.load = group.load or (plain.load if plain.load else None)
        if any(group.number for group in groups.values()) and not (plain.work or plain.sets or plain.reps):
            del groups[None, None]
    return list(groups.values())


def lifts_of_row(context: SheetContext, row: int, groups: list[SetColumns], exercise: str | None) -> list[Lift]:
    """Every set of a row. What cannot be read is rejected cell by cell."""
    lifts: list[Lift] = []
    for group in groups:
        name = group.exercise or exercise
        for column in group.work:
            lifts += _from_work(context, row, column, group, name)
        if group.set_work is not None:
            lifts += _from_set_cell(context, row, group, name)
        elif group.load is not None or group.reps is not None or group.sets is not None:
            lifts += _from_numbers(context, row, group, name)
    return lifts


def _small(context: SheetContext, exercise: str | None) -> bool:
    """Whether a load under 20 is likely: curls and the like."""
    if exercise is None:
        return False
    return families().get(context.words.exercise(exercise).exercise, "other") in {"elbow flexion", "other"}


def _from_work(context: SheetContext, row: int, column: Column, group: SetColumns, exercise: str | None) -> list[Lift]:
    cell = context.cell(row, column.index)
    if cell is None or _is_missing(context, cell):
        return []
    if isinstance(cell, date | datetime):
        context.reject_cell(
            row,
            column.index,
            cell,
            "the spreadsheet turned sets into a date",
            "write it as text, for example '3x5 with a leading apostrophe",
        )
        return []
    if isinstance(cell, float):
        return _bare_number(context, row, column, group, cell, exercise)
    return _from_text(context, row, column, group, str(as_text(cell)), exercise)


def _from_text(
    context: SheetContext, row: int, column: Column, group: SetColumns, text: str, exercise: str | None
) -> list[Lift]:
    work = parse_work(text, context.lexicon, _small(context, exercise))
    if not work.sets and not work.problems:
        return []
    for problem in work.problems:
        remedy = (
            "check that this is what was done" if problem.is_doubt else 'write it like "5x3 @140" or "140x3, 150x2"'
        )
        reason = f"{problem.reason}; the set was stored" if problem.is_doubt else problem.reason
        context.reject_cell(row, column.index, problem.text, reason, remedy)
    load = _plain_load(context, row, group)
    rpe, rir = _effort(context, row, group.rpe, "RPE"), _effort(context, row, group.rir, "RIR")
    heading = column.heading.exercise if column.heading else None
    unit = column.heading.unit if column.heading and column.heading.unit in {"kg", "lb"} else None
    return [
        _from_work_set(context, one, load, rpe, rir, one.exercise or heading or exercise, unit, column.index)
        for one in work.sets
    ]


def _from_work_set(context: SheetContext, one: WorkSet, load: float | None, rpe: float | None, rir: float | None, exercise: str | None,
                   unit: str | None, column: int) -> Lift:  # fmt: skip
    load_kg = load if one.load is None else _kg(context, one.load, one.unit or unit)
    note = None
    if one.percent is not None and one.load is None:
        note = f"{format(one.percent, 'g')} % of 1RM"
    elif one.is_added:
        note = "body weight" + (f" + {format(load_kg, 'g')} kg" if load_kg is not None else "")
    return Lift(load_kg, one.reps, one.rpe if one.rpe is not None else rpe, one.rir if one.rir is not None else rir, one.is_warm_up,
                one.is_failed, exercise, note, column)  # fmt: skip


def _kg(context: SheetContext, number: float, unit: str | None) -> float:
    unit = unit or context.unit or "kg"
    context.units_met.add(unit)
    return to_kg(number, unit)


def _plain_load(context: SheetContext, row: int, group: SetColumns) -> float | None:
    if group.load is None:
        return None
    load = parse_load(context.cell(row, group.load.index))
    return None if load is None else _kg(context, load.number, load.unit or _unit(group.load))


def _unit(column: Column) -> str | None:
    unit = column.heading.unit if column.heading else None
    return unit if unit in {"kg", "lb"} else None


def _from_set_cell(context: SheetContext, row: int, group: SetColumns, exercise: str | None) -> list[Lift]:
    """A cell of a "Set 2" column: "140x5", or a number beside a column that says what it is."""
    column = group.set_work
    assert column is not None
    cell = context.cell(row, column.index)
    if cell is None or _is_missing(context, cell):
        return []
    if isinstance(cell, float):
        return _bare_number(context, row, column, group, cell, exercise)
    return _from_work(context, row, column, group, exercise)


def _bare_number(
    context: SheetContext, row: int, column: Column, group: SetColumns, number: float, exercise: str | None
) -> list[Lift]:
    """A number alone: repetitions beside a load, or a load beside repetitions; otherwise it is not known which."""
    load = _plain_load(context, row, group) if group.load is not column else None
    reps = (
        parse_count(context.cell(row, group.reps.index))
        if group.reps is not None and group.reps is not column
        else None
    )
    rpe, rir = _effort(context, row, group.rpe, "RPE"), _effort(context, row, group.rir, "RIR")
    if load is not None and number == int(number) and number <= 30:
        return [Lift(load, int(number), rpe, rir, False, number == 0, exercise, None, column.index)]
    if reps is not None and number > 0:
        return [Lift(_kg(context, number, _unit(column)), reps, rpe, rir, False, False, exercise, None, column.index)]
    context.reject_cell(
        row,
        column.index,
        number,
        "a number alone does not say whether it is a load or repetitions",
        'write it like "140x3"',
    )
    return []


def _from_numbers(context: SheetContext, row: int, group: SetColumns, exercise: str | None) -> list[Lift]:
    """Sets from load, repetitions and number-of-sets columns; a column may hold one value a set ("5,5,4")."""
    cells = {
        name: context.cell(row, column.index) for name in ("load", "reps", "sets") if (column := getattr(group, name))
    }
    if all(cell is None or _is_missing(context, cell) for name, cell in cells.items() if name != "sets"):
        return []
    if (shorthand := _shorthand_in(context, row, group, cells, exercise)) is not None:
        return shorthand
    loads = _loads(context, row, group, cells.get("load"))
    reps, is_failed = _reps(context, row, group, cells.get("reps"))
    if not loads and not reps:
        return []
    n = max(len(loads), len(reps), _n_sets(context, row, group, cells.get("sets")), 1)
    if len(loads) > 1 and len(reps) > 1 and len(loads) != len(reps):
        context.reject_cell(
            row,
            group.load.index if group.load else 0,
            cells.get("load"),
            f"{len(loads)} loads stand beside {len(reps)} repetitions",
            "write one load for each set",
        )
        return []
    is_failed = is_failed or _is_failed(context, row, group.failed)
    is_warm_up = _is_warm_up(context, row, group.warm_up)
    column = group.load or group.reps or group.sets
    assert column is not None
    one = Lift(
        None,
        None,
        _effort(context, row, group.rpe, "RPE"),
        _effort(context, row, group.rir, "RIR"),
        is_warm_up,
        is_failed,
        exercise,
        None,
        column.index,
    )
    note = _percent(context, row, group) if not loads else None
    return [
        replace(
            one,
            load_kg=loads[min(i, len(loads) - 1)] if loads else None,
            reps=reps[min(i, len(reps) - 1)] if reps else None,
            note=note,
        )
        for i in range(n)
    ]


def _shorthand_in(
    context: SheetContext, row: int, group: SetColumns, cells: dict[str, Cell], exercise: str | None
) -> list[Lift] | None:
    """Sets written in short in a load or repetitions column ("140x5", "3x5"); None when there are none."""
    for name in ("load", "reps", "sets"):
        cell, column = cells.get(name), getattr(group, name)
        if isinstance(cell, str) and re.search(r"\d\s*(?:kg|lb)?\s*[x×@]\s*\d", cell, re.I):
            other = replace_group(group, without=name)
            return _from_text(context, row, column, other, cell, exercise)
    return None


def replace_group(group: SetColumns, without: str) -> SetColumns:
    """The group without one of its columns."""
    other = replace(group)
    setattr(other, without, None)
    return other


def _loads(context: SheetContext, row: int, group: SetColumns, cell: Cell) -> list[float]:
    if cell is None or group.load is None or _is_missing(context, cell):
        return []
    if (row, group.load.index) in context.sheet.errors:
        context.reject_cell(
            row,
            group.load.index,
            cell,
            "the spreadsheet shows an error instead of a load",
            "correct the formula and import again",
        )
        return []
    load = parse_load(cell)
    if load is None and isinstance(cell, str):
        if parts := [parse_load(part.strip()) for part in re.split(r"[/;]|,\s", cell)]:
            found = [part for part in parts if part is not None]
            if len(parts) > 1 and len(found) == len(parts):
                return [_kg(context, part.number, part.unit or _unit(group.load)) for part in found]
        if context.lexicon.work.exact(cell) == "bodyweight":
            return []
    if load is None:
        hint = " (letter O for zero?)" if isinstance(cell, str) and re.fullmatch(r"[\dOo.,]+", cell) else ""
        context.reject_cell(
            row, group.load.index, cell, f"the load is not a number{hint}", "correct the cell and import again"
        )
        return []
    return [_kg(context, load.number, load.unit or _unit(group.load))]


def _reps(context: SheetContext, row: int, group: SetColumns, cell: Cell) -> tuple[list[int], bool]:
    """(repetitions, the last was a miss)."""
    if cell is None or group.reps is None or _is_missing(context, cell):
        return [], False
    if isinstance(cell, date | datetime):
        context.reject_cell(
            row,
            group.reps.index,
            cell,
            "the spreadsheet turned repetitions into a date",
            "write them as text, one number a set",
        )
        return [], False
    if (count := parse_count(cell)) is not None and count <= 100:
        return [count], count == 0
    text = as_text(cell)
    if match := _FAILED_REPS.fullmatch(text):
        return [int(match[1])], True
    if isinstance(cell, str) and _MANY.fullmatch(text) and "-" not in text:
        return [int(part) for part in re.findall(r"\d+", text)], False
    if match := re.fullmatch(r"(\d{1,2})\s*(?:reps?|wdh|x|\+)\.?", text, re.I):
        return [int(match[1])], False
    context.reject_cell(
        row, group.reps.index, cell, "the repetitions are not one whole number", "correct the cell and import again"
    )
    return [], False


def _n_sets(context: SheetContext, row: int, group: SetColumns, cell: Cell) -> int:
    if cell is None or group.sets is None:
        return 1
    count = parse_count(cell)
    if count is None or not 1 <= count <= 20:
        context.reject_cell(
            row,
            group.sets.index,
            cell,
            "this is no number of sets from 1 to 20; one set was stored",
            "correct the cell and import again",
        )
        return 1
    return count


def _effort(context: SheetContext, row: int, column: Column | None, name: str) -> float | None:
    if column is None:
        return None
    cell = context.cell(row, column.index)
    if cell is None or _is_missing(context, cell):
        return None
    effort = parse_effort(cell)
    low = RPE_SCALE[0] if name == "RPE" else 0.0
    if effort is None or not low <= effort[0] <= RPE_SCALE[1]:
        context.reject_cell(
            row,
            column.index,
            cell,
            f"this is no {name} from {format(low, 'g')} to 10",
            "correct the cell and import again",
        )
        return None
    if effort[1]:
        context.reject_cell(
            row,
            column.index,
            cell,
            f"the range was read as {format(effort[0], 'g')}; the set was stored",
            "write one number, halves allowed",
        )
    return effort[0]


def _is_missing(context: SheetContext, cell: Cell) -> bool:
    return isinstance(cell, str) and (not fold(cell) or context.lexicon.sheet_word(cell, "missing"))


def _is_warm_up(context: SheetContext, row: int, column: Column | None) -> bool:
    cell = context.cell(row, column.index) if column else None
    if isinstance(cell, bool):
        return cell
    if isinstance(cell, float):
        return cell == 1
    if not isinstance(cell, str):
        return False
    return (
        context.lexicon.sheet_word(cell, "yes")
        or context.lexicon.work.exact(cell) == "warm_up"
        or fold(cell) in {"w", "warm"}
    )


def _is_failed(context: SheetContext, row: int, column: Column | None) -> bool:
    cell = context.cell(row, column.index) if column else None
    if cell is None or column is None:
        return False
    says_yes = (
        cell
        if isinstance(cell, bool)
        else cell == 1.0
        if isinstance(cell, float)
        else context.lexicon.sheet_word(as_text(cell), "yes")
    )
    if fold(column.written) in _MADE:
        says_no = (
            cell is False or cell == 0.0 or (isinstance(cell, str) and context.lexicon.severity.exact(cell) == "none")
        )
        return bool(says_no)
    return bool(says_yes) or (isinstance(cell, str) and context.lexicon.work.exact(cell) == "failed")


def _percent(context: SheetContext, row: int, group: SetColumns) -> str | None:
    cell = context.cell(row, group.percent.index) if group.percent else None
    return (
        None
        if cell is None
        else f"{as_text(cell)} of 1RM"
        if isinstance(cell, str)
        else f"{format(cell, 'g')} % of 1RM"
        if isinstance(cell, float)
        else None
    )
