"""Sets from one row of a table: plain columns, numbered set columns, columns of one exercise, and set shorthand."""

import re
from collections import defaultdict
from dataclasses import replace
from datetime import date, datetime

from preflare.reading.beside_work import is_part, with_columns_beside
from preflare.reading.blank_reps import is_only_planned
from preflare.reading.bracketed import is_undone
from preflare.reading.cell_parts import taken_apart
from preflare.reading.context import SheetContext
from preflare.reading.efforts_of_row import give_effort
from preflare.reading.gear_behind import gear_behind
from preflare.reading.lift_cells import (
    Lift,
    SetColumns,
    body_weight_alone,
    in_kg,
    is_body_weight,
    is_failed_in,
    is_in_brackets,
    is_missing,
    is_not_done,
    is_warm_up_in,
    loads_in,
    n_sets_in,
    percent_in,
    reps_in,
    sets_alone,
    unit_of_column,
    with_looks,
)
from preflare.reading.marked_lists import without_marks
from preflare.reading.marks import body_weight_for_kg, open_marks, with_words_for_marks
from preflare.reading.notes import is_pain_alone
from preflare.reading.numbers import parse_count, parse_load, parse_number
from preflare.reading.other_units import other_unit
from preflare.reading.parts_apart import are_mixed, put_together, way_of
from preflare.reading.set_groups import exercise_of_group, replace_group
from preflare.reading.shared_numbers import own_share
from preflare.reading.shorthand import WorkSet, parse_work
from preflare.reading.tables import Column
from preflare.reading.text import Cell, as_text
from preflare.reading.vocabulary import families
from preflare.reading.work_of_log import work_in


def lifts_of_row(context: SheetContext, row: int, groups: list[SetColumns], exercise: str | None) -> list[Lift]:
    """Every set of a row. What cannot be read is rejected cell by cell."""
    lifts: list[Lift] = []
    efforts: dict[int, Column] = {}
    shared: dict[int, SetColumns] = {}  # one load column for all numbered sets: told of once when it cannot be read
    rated: dict[tuple[str, int], list[int]] = defaultdict(list)  # effort column -> the lifts that it may be about
    n_rejected = len(context.out.rejected)
    for group in groups:
        name = exercise_of_group(context, row, group, exercise)
        n_before = len(lifts)
        lifts += [replace(lift, group=_start(group)) for lift in _lifts_of_group(context, row, group, name)]
        with_looks(context, row, group, lifts[n_before:])
        if group.set_work is not None and group.load is not None:
            shared[group.load.index] = group
        for kind, effort in (("RPE", group.rpe), ("RIR", group.rir)):
            if effort is not None:
                rated[kind, effort.index] += range(n_before, len(lifts))
                efforts[effort.index] = effort
    for index, group in shared.items():
        if parse_load(context.cell(row, index)) is None and not isinstance(context.cell(row, index), date):
            loads_in(context, row, group, context.cell(row, index))
    parts = {one.index for group in groups for one in (group.load, group.reps, group.set_work, *group.work) if one}
    for (kind, index), about in rated.items():
        give_effort(context, row, kind, efforts[index], lifts, about, parts)
    context.out.rejected[n_rejected:] = dict.fromkeys(
        context.out.rejected[n_rejected:]
    )  # a shared cell is told of once
    return _without_stray_reps(context, row, groups, lifts)


def _start(group: SetColumns) -> int | None:
    return group.group.start if group.group else None


def _without_stray_reps(context: SheetContext, row: int, groups: list[SetColumns], lifts: list[Lift]) -> list[Lift]:
    """Without the repetitions of a numbered set whose load is blank while the row's other sets have one."""
    stray = {
        group.reps.index: group.reps
        for group in groups
        if group.number is not None and group.load is not None and group.reps is not None and not group.sharing
        if context.cell(row, group.load.index) is None and context.cell(row, group.reps.index) is not None
    }
    if not stray or not any(lift.load_kg is not None for lift in lifts):
        return lifts
    own = {group.reps.index: group.load.index for group in groups if group.reps and group.load}
    columns = {*stray, *(own[index] for index in stray)}
    for index in stray:
        reason = "repetitions without a load, beside sets that have one; is the row shifted? No set was stored"
        context.reject_cell(row, index, context.cell(row, index), reason, "write the load, or move the row's cells")
    return [lift for lift in lifts if lift.column not in columns]


def _lifts_of_group(context: SheetContext, row: int, group: SetColumns, name: str | None) -> list[Lift]:
    """The sets of columns that belong together: work in short with the numbers beside it, or numbers alone."""
    if group.set_work is not None:
        return _from_work(context, row, group.set_work, group, name)
    by_column = [(column, _from_work(context, row, column, group, name)) for column in group.work]
    lifts = [lift for _, found in by_column for lift in found]
    own = [column for column, found in by_column if found and found[0].exercise in {name, group.exercise}]
    if len(own) == 1 and not is_part(context, own[0]):
        return [
            lift
            for column, found in by_column
            for lift in (with_columns_beside(context, row, group, found) if column is own[0] else found)
        ]
    has_numbers = group.reps is not None or group.sets is not None or (group.load is not None and not lifts)
    return lifts + (_from_numbers(context, row, group, name) if has_numbers else [])


def _small(context: SheetContext, exercise: str | None) -> bool:
    """Whether a load under 20 is likely: curls and the like."""
    if exercise is None:
        return False
    return families().get(context.words.exercise(exercise).exercise, "other") in {"elbow flexion", "other"}


def _from_work(context: SheetContext, row: int, column: Column, group: SetColumns, exercise: str | None) -> list[Lift]:
    cell = context.cell(row, column.index)
    if cell is None or is_missing(context, cell):
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
    number = cell if isinstance(cell, float) else parse_number(cell) if isinstance(cell, str) else None
    if number is not None:
        return _bare_number(context, row, column, group, number, exercise)
    return _from_text(context, row, column, group, str(as_text(cell)), exercise)


def _from_text(
    context: SheetContext, row: int, column: Column, group: SetColumns, text: str, exercise: str | None
) -> list[Lift]:
    is_kg = unit_of_column(column) is not None or "kg" in text.casefold()
    if (foreign := other_unit(column.written)) is not None and not is_kg:
        reason = f'the heading "{column.written}" gives loads in "{foreign[0]}", which are no kg; nothing was stored'
        context.reject_cell(row, column.index, text, reason, "write the loads in kg or lb")
        return []
    text = without_open_marks(context, row, column.index, with_words_for_marks(text, context.marks))
    if exercise is not None and (plain := _with_body_weight(context, exercise, text)) != text:
        reason = 'KG was read as "Körpergewicht", the weight of the body; the sets were stored'
        context.reject_cell(row, column.index, text, reason, 'write "BW" for it, or "kg" for kilograms')
        text = plain
    is_hanging = exercise is not None and context.words.exercise(exercise).exercise in _BY_BODY_WEIGHT
    if group.load is None and is_hanging and _LIST_OF_REPS.fullmatch(text.strip()):
        context.assume(f'Numbers alone under "{column.written}" were read as repetitions at body weight.')
        text = f"BW {text}"
    if group.load is None and is_hanging and _TIMES_ALONE.match(text):
        context.assume(f'Repetitions without a load under "{column.written}" ("x7") were read as at body weight.')
        text = f"BW {text.strip()}"
    is_one_set = column.role == "set_work" and column.heading is not None and column.heading.number is not None
    work = work_in(context, text, _small(context, exercise), is_one_set)
    if not work.sets and not work.problems:
        return []
    for problem in work.problems:
        if is_pain_alone(problem.text, context.lexicon):
            continue  # it is read with the remarks
        remedy = (
            "check that this is what was done" if problem.is_doubt else 'write it like "5x3 @140" or "140x3, 150x2"'
        )
        reason = f"{problem.reason}; the set was stored" if problem.is_doubt else problem.reason
        context.reject_cell(row, column.index, problem.text, reason, remedy)
    load = _plain_load(context, row, group)
    is_warm_up = column.heading is not None and column.heading.roles[0] == "warm_up"  # sets under "Warm-up"
    heading = column.heading.exercise if column.heading else None
    if heading and work.remarks and (other := _variant(context, column.written, work.remarks[0])) is not None:
        heading = other
    unit = column.heading.unit if column.heading and column.heading.unit in {"kg", "lb"} else None
    gear = gear_behind(context, text, work)
    lifts = [
        lift_of_work_set(
            context,
            replace(one, is_warm_up=one.is_warm_up or is_warm_up),
            None if is_warm_up else load,
            one.exercise or heading or exercise,
            unit,
            column.index,
        )
        for one in work.sets
    ]
    return [replace(lift, gear=gear) for lift in lifts]


def without_open_marks(context: SheetContext, row: int, column: int, text: str) -> str:
    """The text without marks at sets that nothing explains; each is told of, and its set stays plain work."""
    bare, found = open_marks(text)
    for mark, written in found:
        reason = f'nothing says what "{mark}" means at "{written}"; the set was stored as plain work'
        remedy = f'explain it in a line above the table, such as "{mark} = warm-up" or "{mark} = missed"'
        context.reject_cell(row, column, written, reason, remedy)
    return bare


def _with_body_weight(context: SheetContext, exercise: str, text: str) -> str:
    """The text with "3x8 KG" as body weight, for what is done hanging or on the hands."""
    name = context.words.exercise(exercise).exercise
    return body_weight_for_kg(text) if name in {"pull-up", "chin-up", "dip"} else text


def _variant(context: SheetContext, heading: str, remark: str) -> str | None:
    """The exercise that a remark makes of its column's: "narrow 3x8@80" under "Bench" is a narrow bench."""
    lift = re.sub(r"[(\[].*?[)\]]", " ", heading)
    for words in (f"{remark} {lift}", f"{lift} {remark}"):
        if (known := context.lexicon.exercise.exact(words)) and known != context.lexicon.exercise.exact(lift):
            return words
    return None


def lift_of_work_set(
    context: SheetContext,
    one: WorkSet,
    load: float | None,
    exercise: str | None,
    unit: str | None,
    column: int,
) -> Lift:
    load_kg = load if one.load is None else in_kg(context, one.load, one.unit or unit)
    note = None
    if one.percent is not None and one.load is None:
        note = f"{format(one.percent, 'g')} % of 1RM"
    elif one.is_added:
        note = "body weight" + (f" + {format(load_kg, 'g')} kg" if load_kg is not None else "")
    return Lift(
        load_kg,
        one.reps,
        one.rpe,
        one.rir,
        one.is_warm_up,
        one.is_failed,
        exercise,
        note,
        column,
    )


def _plain_load(context: SheetContext, row: int, group: SetColumns) -> float | None:
    if group.load is None:
        return None
    if other_unit(group.load.written) is not None:
        return next(iter(loads_in(context, row, group, context.cell(row, group.load.index))), None)
    cell = context.cell(row, group.load.index)
    load = parse_load(cell)
    if load is None and isinstance(cell, str) and group.number is not None:
        pieces = [parse_load(piece.strip()) for piece in re.split(r"[/;]|,\s", cell)]
        load = pieces[group.number - 1] if None not in pieces and group.number <= len(pieces) else None
    return None if load is None else in_kg(context, load.number, load.unit or unit_of_column(group.load))


_LIST_OF_REPS = re.compile(r"\d{1,2}(?:\s*[/,;]\s*\d{1,2})+")
_TIMES_ALONE = re.compile(r"\s*[x×*]\s*\d{1,2}(?=\s*(?:[/,;|(]|$)|\s+[x×*])", re.I)
_BY_BODY_WEIGHT = frozenset({"pull-up", "chin-up", "dip", "push-up", "inverted row"})


def _at_body_weight(context: SheetContext, row: int, group: SetColumns, exercise: str | None) -> str | None:
    """How it is known that a number alone counts repetitions at body weight: "by load", "by name", or not at all."""
    cell = context.cell(row, group.load.index) if group.load is not None else None
    if isinstance(cell, str):
        return "by load" if is_body_weight(context, cell) else None
    is_hanging = exercise is not None and context.words.exercise(exercise).exercise in _BY_BODY_WEIGHT
    return "by name" if is_hanging and cell is None else None


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
    is_count = number == int(number) and 0 <= number <= 30
    if load is None and reps is None and is_count and (at_body := _at_body_weight(context, row, group, exercise)):
        if at_body == "by name":
            reason = f"{format(number, 'g')} was read as repetitions at body weight; the set was stored"
            context.reject_cell(row, column.index, number, reason, 'write it like "BWx6"')
        return [Lift(None, int(number), None, None, False, number == 0, exercise, "body weight", column.index)]
    if load is not None and number == int(number) and number <= 30:
        return [Lift(load, int(number), None, None, False, number == 0, exercise, None, column.index)]
    if reps is not None and number > 0:
        return [
            Lift(
                in_kg(context, number, unit_of_column(column)),
                reps,
                None,
                None,
                False,
                False,
                exercise,
                None,
                column.index,
            )
        ]
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
    in_row = {
        name: context.cell(row, column.index) for name in ("load", "reps", "sets") if (column := getattr(group, name))
    }
    cells = own_share(context, row, group, in_row) if group.sharing else in_row
    if cells is None:
        return []
    if group.load is not None and are_mixed(cells.get("load"), context.lexicon):
        way = way_of(context, exercise, [group.load.written])
        if (whole := put_together(context, row, group.load.index, cells, way)) is not None:
            bare = replace_group(replace_group(group, without="load"), without="reps")
            return _from_text(context, row, group.load, bare, whole, exercise)
    columns = {name: column.index for name in ("load", "reps") if (column := getattr(group, name)) is not None}
    cells, marked = without_marks(context, row, columns, cells)
    cells, beside = taken_apart(context, cells)
    if (shorthand := _shorthand_in(context, row, group, cells, exercise)) is not None:
        return shorthand
    if all(cell is None or is_missing(context, cell) for name, cell in cells.items() if name != "sets"):
        sets_alone(context, row, group, cells.get("sets"))
        return []
    if is_not_done(context, row, group, cells.get("reps")):
        return []
    if is_only_planned(context, row, group) or is_undone(context, (cells.get("load"), cells.get("reps"))):
        return []
    n_rejected = len(context.out.rejected)
    loads = loads_in(context, row, group, cells.get("load"))
    reps, is_failed = reps_in(context, row, group, cells.get("reps"))
    if not loads and not reps:
        if len(context.out.rejected) == n_rejected:
            body_weight_alone(context, row, group)
        return []
    column = (group.reps if group.is_load_shared else group.load) or group.reps or group.sets
    assert column is not None
    counts = {len(loads), len(reps), n_sets_in(context, row, group, cells.get("sets"))} - {0, 1}
    if len(counts) > 1:
        numbers = " and ".join(str(count) for count in sorted(counts))
        reason = f"loads, repetitions and number of sets do not agree: {numbers} sets"
        context.reject_cell(row, column.index, context.cell(row, column.index), reason, "write one value for each set")
        return []
    n = max(counts, default=1)
    is_failed = is_failed or beside.is_failed or is_failed_in(context, row, group.failed)
    is_warm_up = group.is_warm_up or beside.is_warm_up or is_in_brackets(cells.get("load"))
    is_warm_up = is_warm_up or is_warm_up_in(context, row, group.warm_up)
    note = percent_in(context, row, group) if not loads else None
    loads, reps = loads * n if len(loads) == 1 else loads, reps * n if len(reps) == 1 else reps
    return [
        Lift(
            loads[i] if loads else None,
            reps[i] if reps else None,
            beside.rpe,
            beside.rir,
            is_warm_up or i in marked.warm_ups,
            (is_failed and i == n - 1) or i in marked.missed,  # the last of several is the one that was missed
            exercise,
            note,
            column.index,
            gear=beside.gear,
        )
        for i in range(n)
    ]


def _shorthand_in(
    context: SheetContext, row: int, group: SetColumns, cells: dict[str, Cell], exercise: str | None
) -> list[Lift] | None:
    """Sets in short in a load, repetitions or number-of-sets column ("140x5", "3x5"); None when there are none."""
    for name in ("load", "reps", "sets"):
        cell, column = cells.get(name), getattr(group, name)
        if not isinstance(cell, str):
            continue
        is_only = name == "sets" and parse_number(cell) is None and bool(parse_work(cell, context.lexicon).sets)
        if is_only or re.search(r"\d\s*(?:kg|lb)?\s*[x×@]\s*\d", cell, re.I):
            other = replace_group(group, without=name)
            lifts = _from_text(context, row, column, other, cell, exercise)
            return with_columns_beside(context, row, other, lifts)
    return None
