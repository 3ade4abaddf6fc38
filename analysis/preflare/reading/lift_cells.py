"""Single cells of a set: load, repetitions, number of sets, effort, and the marks for warm-ups and misses."""

import re
from dataclasses import dataclass
from datetime import date, datetime

from preflare.reading.context import SheetContext
from preflare.reading.denied_loads import load_and_not
from preflare.reading.grouped import Group
from preflare.reading.item import LEAST_LOAD, MOST_REPS
from preflare.reading.lexicon import Lexicon
from preflare.reading.marks import says_failed
from preflare.reading.numbers import parse_count, parse_effort, parse_load, to_kg
from preflare.reading.other_units import other_unit
from preflare.reading.tables import Column
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.warm_ups import LETTERS
from preflare.reading.words import Gear

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
_OF_PLANNED = re.compile(r"(\d{1,2})\s*[(\[]?\s*(?:/|of|von|van|de|di|su|sur|av|af|z)\s*(\d{1,2})\s*[)\]]?", re.I)
_REPS_AND_WORD = re.compile(r"(\d{1,2})\s*([(\[]?\s*[^\W\d]+\.?\s*[)\]]?)")
_FIRST_OF_MANY = re.compile(r"\d+(?:[.,]\d+)?(?=\s*[/;+]\s*\d)")
_MANY = re.compile(r"\d{1,2}(?:\s*[,/;+\- ]\s*\d{1,2})+")


@dataclass(slots=True)
class Lift:
    """One set of a row before person, date and gear are put to it. exercise: as written in the cell or its heading.

    The effort may be filled in after the other sets of the row are known.
    """

    load_kg: float | None
    reps: int | None
    rpe: float | None
    rir: float | None
    is_warm_up: bool
    is_failed: bool
    exercise: str | None
    note: str | None
    column: int
    group: int | None = None  # the first column of the group that it stands in
    gear: Gear | None = None  # named in its own cells


@dataclass(slots=True)
class SetColumns:
    """The columns that together hold one set, or several equal ones."""

    number: int | None = None
    exercise: str | None = None
    group: Group | None = None  # the name over these columns
    name: Column | None = None  # the column of the group that names its exercise
    is_of_row: bool = True  # the row names the exercise of groups that name none
    is_warm_up: bool = False  # all under "Warm-up"
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
    sharing: tuple[Column, ...] = ()  # the numbered columns for which one load, or one number of repetitions, stands
    is_load_shared: bool = False  # "kg | Reps 1 | Reps 2"; else the repetitions are, where any columns share


def in_kg(context: SheetContext, number: float, unit: str | None) -> float:
    context.has_open_units = context.has_open_units or not (unit or context.unit)
    unit = unit or context.unit or "kg"
    context.units_met.add(unit)
    return to_kg(number, unit)


def unit_of_column(column: Column) -> str | None:
    unit = column.heading.unit if column.heading else None
    return unit if unit in {"kg", "lb"} else None


def loads_in(context: SheetContext, row: int, group: SetColumns, cell: Cell) -> list[float]:
    if cell is None or group.load is None or is_missing(context, cell):
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
    if (other := other_unit(group.load.written)) is not None and unit_of_column(group.load) is None:
        return _in_other_unit(context, row, group.load, cell, *other)
    load = parse_load(cell)
    if load is None and isinstance(cell, str) and (bare := _bare_load(context, cell)) is not None:
        load = parse_load(bare)
    if load is None and isinstance(cell, str):
        if parts := [parse_load(part.strip()) for part in re.split(r"[/;]|,\s", cell)]:
            found = [part for part in parts if part is not None]
            if len(parts) > 1 and len(found) == len(parts):
                return [in_kg(context, part.number, part.unit or unit_of_column(group.load)) for part in found]
        if context.lexicon.work.exact(cell) == "bodyweight" or fold(cell) == "kg":
            return []  # "KG" for "Körpergewicht": a unit alone is no load
    if load is None:
        hint = " (letter O for zero?)" if isinstance(cell, str) and re.fullmatch(r"[\dOo.,]+", cell) else ""
        context.reject_cell(
            row, group.load.index, cell, f"the load is not a number{hint}", "correct the cell and import again"
        )
        return []
    return [in_kg(context, load.number, load.unit or unit_of_column(group.load))]


def _in_other_unit(
    context: SheetContext, row: int, column: Column, cell: Cell, unit: str, kg_in_one: float | None
) -> list[float]:
    """A load under a heading that names another unit than kg and lb: in kg where it is a mass, else set aside."""
    load = parse_load(cell)
    if load is not None and load.unit is not None:
        return [in_kg(context, load.number, load.unit)]
    if load is None or kg_in_one is None:
        reason = f'the heading "{column.written}" gives loads in "{unit}", which are no kg; no load was stored'
        remedy = "write the load in kg or lb" if kg_in_one is None else "write one number, or kg or lb behind it"
        context.reject_cell(row, column.index, cell, reason, remedy)
        return []
    context.units_met.add(fold(unit))
    context.assume(f'Loads under "{column.written}" were read as {unit} of {kg_in_one:g} kg each.')
    return [load.number * kg_in_one]


_IN_BRACKETS = re.compile(r"[(\[]\s*([^()\[\]]+?)\s*[)\]]")
_ADDED = re.compile(r"(?P<body>[^\d+/;,|]*)\+\s*(?P<load>\d[\d.,]*\s*(?:kgs?|lbs?)?)", re.I)
_EACH = re.compile(r"(\d[\d.,]*)\s*(?:'?s|each|ea)\.?", re.I)  # "40s": a pair of dumbbells of 40


def _bare_load(context: SheetContext, cell: str) -> str | None:
    """The load in "(60)", "BW+25", "+25" or "40s", or None."""
    if match := _IN_BRACKETS.fullmatch(cell):
        return match[1]
    if match := _ADDED.fullmatch(cell):
        body = match["body"].strip()
        return match["load"] if not body or is_body_weight(context, body) else None
    if match := _EACH.fullmatch(cell):
        return match[1]
    if (load := load_and_not(cell)) is not None:
        context.assume(f'"{cell}" was read as a load of {load}: the other number is what it was not.')
    return load


def is_body_weight(context: SheetContext, text: str) -> bool:
    return context.lexicon.work.exact(text) == "bodyweight" or fold(text) in {"kg", "mc", "pc", "lg", "kv", "bw"}


def is_in_brackets(cell: Cell) -> bool:
    """Whether a load stands in brackets, as warm-ups do."""
    return isinstance(cell, str) and _IN_BRACKETS.fullmatch(cell) is not None


def reps_in(context: SheetContext, row: int, group: SetColumns, cell: Cell) -> tuple[list[int | None], bool]:
    """(repetitions, the last was a miss); None for those that cannot be, which are told of."""
    if cell is None or group.reps is None or is_missing(context, cell):
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
        if count > MOST_REPS and _is_loaded(context, row, group):
            reason = f"{count} repetitions with this load are more than anyone does; the set was stored without them"
            context.reject_cell(row, group.reps.index, cell, reason, "correct the cell and import again")
            return [], False
        return [count], count == 0
    text = as_text(cell)
    if match := _FAILED_REPS.fullmatch(text):
        return [int(match[1])], True
    if (match := _OF_PLANNED.fullmatch(text)) and int(match[1]) < int(match[2]):
        return [int(match[1])], True  # 4/5, "4 (of 5)": four of five done
    if (match := _REPS_AND_WORD.fullmatch(text)) and says_failed(match[2].strip(" ()[]"), context.lexicon):
        return [int(match[1])], True  # "2 (F)", "3 Fehlversuch"
    if isinstance(cell, str) and _MANY.fullmatch(text) and "-" not in text:
        return _possible(context, row, group, [int(part) for part in re.findall(r"\d+", text)], cell), False
    if match := re.fullmatch(r"(\d{1,2})\s*(?:reps?|wdh|x|\+)\.?", text, re.I):
        return [int(match[1])], False
    if match := re.fullmatch(
        r"(\d{1,2})\s*(?:/|per|each|e/s|/side|x)?\s*(?:each|side|leg|arm|e/s|es|ea)\.?", text, re.I
    ):
        return [int(match[1])], False
    context.reject_cell(
        row, group.reps.index, cell, "the repetitions are not one whole number", "correct the cell and import again"
    )
    return [], False


def is_not_done(context: SheetContext, row: int, group: SetColumns, cell: Cell) -> bool:
    """Whether a word stands for the repetitions of a set that was planned and not done; the cell is told of."""
    if group.reps is None or not isinstance(cell, str) or is_missing(context, cell):
        return False
    if not any(context.lexicon.sheet_word(cell, kind) for kind in ("not_done", "rest")):
        return False
    reason = f'"{cell}" instead of repetitions was read as not done; no set was stored'
    context.reject_cell(row, group.reps.index, cell, reason, "write the repetitions, if some were done")
    return True


def _possible(context: SheetContext, row: int, group: SetColumns, counts: list[int], cell: Cell) -> list[int | None]:
    """Repetitions of several sets, without those that nobody does with their load ("8/8/55")."""
    odd = [count for count in counts if count > MOST_REPS] if _is_loaded(context, row, group) else []
    if odd and group.reps is not None:
        reason = f"{odd[0]} repetitions with this load are more than anyone does; the set was stored without them"
        context.reject_cell(row, group.reps.index, cell, reason, "correct the cell and import again")
    return [None if count in odd else count for count in counts]


def _is_loaded(context: SheetContext, row: int, group: SetColumns) -> bool:
    """Whether a set has the load of a barbell: more than an empty bar and half as much again."""
    cell = context.cell(row, group.load.index) if group.load else None
    first = _FIRST_OF_MANY.match(cell) if isinstance(cell, str) else None
    load = parse_load(first[0] if first is not None else cell)
    return load is not None and load.number >= 1.5 * LEAST_LOAD


def n_sets_in(context: SheetContext, row: int, group: SetColumns, cell: Cell) -> int:
    if cell is None or group.sets is None or is_missing(context, cell):
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


def sets_alone(context: SheetContext, row: int, group: SetColumns, cell: Cell) -> None:
    """Set a number-of-sets cell aside that has neither load nor repetitions beside it and is no work in short."""
    if cell is None or group.sets is None or is_missing(context, cell):
        return
    if isinstance(cell, str) and context.lexicon.sheet_word(cell, "rest"):
        return
    reason, remedy = "this is neither a number of sets nor work in short", 'write it like "5x3 @140" or "140x3, 150x2"'
    if isinstance(cell, date | datetime):
        reason, remedy = "the spreadsheet turned sets into a date", "write them as text, with a leading apostrophe"
    elif parse_count(cell) is not None:
        reason = "a number of sets without load and repetitions; no set was stored"
        remedy = "write the load or the repetitions beside it"
    context.reject_cell(row, group.sets.index, cell, reason, remedy)


def body_weight_alone(context: SheetContext, row: int, group: SetColumns) -> None:
    """Set a load cell aside that says body weight without repetitions beside it."""
    cell = context.cell(row, group.load.index) if group.load else None
    if cell is None or group.load is None or is_missing(context, cell):
        return
    reason = "body weight without repetitions; no set was stored"
    context.reject_cell(row, group.load.index, cell, reason, "write the repetitions beside it")


def effort_in(context: SheetContext, row: int, column: int, name: str) -> float | None:
    """The effort in a cell, or None; name: RPE or RIR."""
    cell = context.cell(row, column)
    if cell is None or is_missing(context, cell):
        return None
    if name == "RPE" and isinstance(cell, str) and "rir" in cell.casefold():
        return None  # it is told by reserve_in
    effort = parse_effort(cell)
    low = RPE_SCALE[0] if name == "RPE" else 0.0
    if effort is None or not low <= effort[0] <= RPE_SCALE[1]:
        context.reject_cell(
            row,
            column,
            cell,
            f"this is no {name} from {format(low, 'g')} to 10",
            "correct the cell and import again",
        )
        return None
    if effort[1]:
        context.reject_cell(
            row,
            column,
            cell,
            f"the range was read as {format(effort[0], 'g')}; the set was stored",
            "write one number, halves allowed",
        )
    return effort[0]


def reserve_in(cell: Cell) -> float | None:
    """The repetitions in reserve that a cell of efforts names ("2 RIR"), or None."""
    if not isinstance(cell, str) or "rir" not in cell.casefold():
        return None
    effort = parse_effort(cell)
    return effort[0] if effort is not None and 0 <= effort[0] <= 10 else None


def is_missing(context: SheetContext, cell: Cell) -> bool:
    return isinstance(cell, str) and (not fold(cell) or context.lexicon.sheet_word(cell, "missing"))


def is_warm_up_in(context: SheetContext, row: int, column: Column | None) -> bool:
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


_TAG = re.compile(r"([^\W\d_]+)[\s.#-]*\d{0,2}")


def is_warm_up_tag(text: str | None, lexicon: Lexicon, signs: frozenset[str] = frozenset()) -> bool:
    """Whether the number of a set says warm-up: "W1", "WU 2", "R1", "Aufw. 1"; plain numbers are work.

    signs: letters that stand for warm-ups by themselves.
    """
    match = _TAG.fullmatch((text or "").strip())
    if text and (lexicon.work.exact(text) == "warm_up" or fold(text) in signs):
        return True
    if match is None:
        return False
    word = fold(match[1])
    is_letter = len(word) == 1 and word in LETTERS and any(map(str.isdigit, text or ""))
    return is_letter or lexicon.work.exact(word) == "warm_up"


def marks_alone(text: str | None, lexicon: Lexicon) -> tuple[bool, bool]:
    """Whether a text beside a set is nothing but "warm-up", or nothing but "failed"."""
    mark = lexicon.work.exact(text) if text else None
    return mark == "warm_up", mark == "failed"


def is_failed_in(context: SheetContext, row: int, column: Column | None) -> bool:
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


def percent_in(context: SheetContext, row: int, group: SetColumns) -> str | None:
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


def with_looks(context: SheetContext, row: int, group: SetColumns, lifts: list[Lift]) -> None:
    """Give the sets what the colour or type of their cells means, where a legend says so."""
    if not context.looks:
        return
    shared = [column.index for column in (group.load, group.reps) if column is not None]
    for lift in lifts:
        told = {context.looks.get((row, column)) for column in (lift.column, *shared)}
        lift.is_warm_up = lift.is_warm_up or "warm_up" in told
        lift.is_failed = lift.is_failed or "failed" in told
