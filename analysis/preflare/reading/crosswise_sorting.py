"""What each row of a sheet with days, weeks or people across holds, and which rows belong to one exercise."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date

from rapidfuzz.distance import OSA

from preflare.reading.against_plan import done_in_full
from preflare.reading.context import SheetContext
from preflare.reading.crosswise_blocks import Above, Block, Group
from preflare.reading.crosswise_columns import is_label
from preflare.reading.crosswise_days import day_of, monday_of_mark
from preflare.reading.crosswise_heads import names_person
from preflare.reading.crosswise_labels import GEAR_ROWS, RowLabel, gear_of_a_lift, label_of, part_of_a_lift
from preflare.reading.crosswise_marks import Mark, mark_of
from preflare.reading.lift_cells import SetColumns, is_missing
from preflare.reading.set_groups import set_columns
from preflare.reading.settled_roles import SHORTHAND
from preflare.reading.stand_ins import is_ditto, is_plan
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.words import Gear

_MOST_WORDS_OF_A_LIFT = 6
_SHORTEST_SLIP = 5  # letters of a name that may be a slip of another


@dataclass(slots=True)
class Labels:
    """Who and when by the words at the left of a row, or still by those of the rows above."""

    person: str | None = None
    day: date | None = None
    week: date | None = None
    weekday: int | None = None


@dataclass(slots=True)
class Line:
    """One row with what its labels say of it."""

    row: int
    at: Labels
    label: RowLabel
    gear: Gear = field(default_factory=Gear)  # from columns of bars and grips at the left


@dataclass(slots=True)
class Stretch:
    """The rows of one exercise under one block."""

    exercise: str | None
    lines: list[Line] = field(default_factory=list)

    def having(self, *kinds: str) -> Iterable[Line]:
        return (line for line in self.lines if line.label.kind in kinds)


class RowSorter:
    """Goes through the rows of one block in order and puts each to the exercise that it belongs to."""

    def __init__(self, context: SheetContext, block: Block, carried: Labels) -> None:
        self.context, self.block, self.carried = context, block, carried
        self.sets: dict[Above, list[SetColumns]] = {}
        self.plans: dict[int, int] = {}  # column of work -> the column of its plan
        self.stretches: list[Stretch] = [Stretch(None)]
        self.own: dict[Above, str] = {}  # the exercise that a group's own label column named last

    def sort(self) -> None:
        """Fill the stretches with the rows of the block."""
        for group in self.block.groups:
            self._prepare(group)
        for row in sorted([*self.block.body, *self.block.lines]):
            if row in self.block.lines:
                self._line(row, self.block.lines[row])
            else:
                self._sort(row)

    def _prepare(self, group: Group) -> None:
        """The columns of a group that hold sets, and the column of the plan beside them, for all or for the group."""
        context, block = self.context, self.block
        told = str(group.above.day).rstrip(".")
        if (written := next((c.written for c in group.columns if told == f"{c.written}0"), None)) is not None:
            context.assume(f'"{written}" among the days was read as {told}, as a spreadsheet drops the last nought.')
        named = [c for c in block.common if c.role == "exercise"]
        labels = named if len(named) == 1 else []  # "Plan" above the only names of lifts
        plans = [c for c in (*block.common, *group.columns) if is_plan(c, context.lexicon) and c not in labels]
        for column in plans:
            column.role = "ignored"
        work = [c for c in group.columns if not is_label(c) and c not in plans]
        for column in work:
            before = [plan for plan in plans if plan.index < column.index]
            if before:
                self.plans[column.index] = before[-1].index
        self.sets[group.above] = set_columns(Table(work, ()))

    def _line(self, row: int, mark: Mark) -> None:
        """A row of one text: a day, week or person for the rows below, an exercise that opens a stretch, a remark."""
        carried, context = self.carried, self.context
        what = {"day": "a date line", "week": "a date line", "weekday": "a date line", "person": "a line with a name"}
        is_person = names_person(context, self.block, row)
        if mark.kind == "day":
            carried.day = day_of(context, mark.day)
        elif mark.kind == "week":
            carried.week, carried.day = monday_of_mark(context, mark), None
        elif mark.kind == "weekday":
            carried.weekday, carried.day = mark.number, None
        elif is_person or (mark.kind == "person" and not self._names_exercise(row, mark.text)):
            carried.person, what[mark.kind] = mark.text, "a line with a name"
        elif mark.kind in {"exercise", "text", "heading", "person"} and self._names_exercise(row, mark.text):
            self.stretches.append(Stretch(mark.text))
            context.not_data(row, "the name of an exercise")
            return
        if is_person or mark.kind in {"day", "week", "weekday", "person"}:
            self.stretches.append(Stretch(None))
        context.not_data(row, "totals" if mark.kind == "total" else what.get(mark.kind, "a line of text"))

    def _names_exercise(self, row: int, text: str) -> bool:
        """Whether a line of one text names the lift of the rows below: a known one, or any above numbered sets."""
        if len(text.split()) > _MOST_WORDS_OF_A_LIFT or label_of(self.context.lexicon, text).kind != "exercise":
            return False
        if self.context.words.exercise(text).exercise != "unknown":
            return True
        below = next((one for one in self.block.body if one > row), None)
        cells = self.context.sheet.rows[below][: self._first_of_groups()] if below == row + 1 else []
        labels = [label_of(self.context.lexicon, as_text(cell)).kind for cell in cells if cell is not None]
        return "set" in labels or "gear" in labels

    def _first_of_groups(self) -> int:
        return min(column.index for group in self.block.groups for column in group.columns)

    def _sort(self, row: int) -> None:
        """Put a row to the stretch that it belongs to."""
        line = self._labelled(row, self.block.common)
        if line.label.kind == "exercise" and (part := self._loads_of_next(row, line.label.text)) is not None:
            line = replace(line, label=part)
        elif line.label.kind == "exercise" and (gear := self._gear_of_lift(row, line.label.text)) is not None:
            line = replace(line, label=gear)
        for group in self.block.groups:
            own = [c for c in group.columns if is_label(c)]
            if own and line.label.kind == "none":
                line = replace(line, label=RowLabel("own"))
        if line.label.kind == "total":
            self.context.not_data(row, "totals")
            return
        if line.label.kind == "exercise" and not self._may_be_a_lift(row, line.label.text):
            remedy = "nothing, unless it says something of the sets; then name it like a column: Bar, Grip, RPE, Elbow"
            self.context.reject_row(row, f'the row "{line.label.text}" is not known, and it holds no sets', remedy)
            return
        if line.label.kind == "exercise":
            self.stretches.append(Stretch(line.label.text))
        elif line.label.exercise and line.label.exercise != self.stretches[-1].exercise:
            if not self._is_slip_of_last(line) and not self._is_other_half(line):
                self.stretches.append(Stretch(line.label.exercise))
        elif line.label.kind == "whole" and self.stretches[-1].exercise is not None:
            self.stretches.append(Stretch(None))
        self.stretches[-1].lines.append(line)

    def _loads_of_next(self, row: int, text: str) -> RowLabel | None:
        """A label of loads that is a lift's name as well ("dominadas lastre"), where the next row has their
        repetitions; None for any other label."""
        part = part_of_a_lift(text, self.context.lexicon)
        below = next((one for one in self.block.body if one > row), None)
        if part is None or part.heading is None or part.heading.roles[0] != "load" or below is None:
            return None
        cells = self.context.sheet.rows[below][: self._first_of_groups()]
        labels = [label_of(self.context.lexicon, as_text(cell)) for cell in cells if cell is not None]
        is_next = any(
            label.heading and label.heading.roles[0] == "reps" and fold(label.exercise) == fold(part.exercise)
            for label in labels
        )
        return part if is_next else None

    def _gear_of_lift(self, row: int, text: str) -> RowLabel | None:
        """A label of the bar or grip of one lift ("squat bar"), where its row holds nothing but bars and grips."""
        context, label = self.context, gear_of_a_lift(text, self.context.lexicon)
        if label is None or label.heading is None:
            return None
        columns = [column for group in self.block.groups for column in self._columns(group)]
        cells = (context.cell(row, column.index) for column in columns)
        filled = [cell for cell in cells if cell is not None and not is_missing(context, cell)]
        told = [cell for cell in filled if not self._is_absent(cell) and not is_ditto(cell, context.lexicon)]
        read = [context.gear(as_text(cell), GEAR_ROWS[label.heading.roles[0]]) for cell in told]
        known = [gear for gear, unknown in read if not unknown and (gear.bar or gear.position or gear.width)]
        return label if known and len(known) >= 0.6 * len(read) else None

    def _is_slip_of_last(self, line: Line) -> bool:
        """Whether a row names the lift of the rows right above it with one slip ("sqaut RPE" below "squat reps")."""
        last, told = self.stretches[-1], line.label
        if last.exercise is None or not last.lines or last.lines[-1].row + 1 != line.row or told.heading is None:
            return False
        roles = {one.label.heading.roles[0] for one in last.lines if one.label.heading is not None}
        is_new = told.heading.roles[0] not in roles and self._is_known(last.exercise)
        name, meant = fold(told.exercise), fold(last.exercise)
        if not is_new or len(name) < _SHORTEST_SLIP or OSA.distance(name, meant, score_cutoff=1) != 1:
            return False
        if self.context.words.exercise(told.exercise).how == "vocabulary":
            return False
        self.context.assume(f'"{told.exercise}" was taken to be "{last.exercise}", in whose rows it stands.')
        return True

    def _is_other_half(self, line: Line) -> bool:
        """Whether a row completes the one above, whose lift is a slip ("supnio carga", "supino reps"); it is said."""
        last = self.stretches[-1]
        above = last.lines[0] if len(last.lines) == 1 else None
        if above is None or above.label.kind != "part" or above.row + 1 != line.row or last.exercise is None:
            return False
        roles = {one.label.heading.roles[0] for one in (above, line) if one.label.heading is not None}
        names = (last.exercise, line.label.exercise)
        lifts = {self.context.words.exercise(name).exercise for name in names} - {"unknown"}
        if roles != {"load", "reps"} or len(lifts) != 1:
            return False
        told = next(name for name in reversed(names) if self._is_known(name))
        other = next(name for name in names if name != told)
        self.context.assume(f'"{other}" was taken to be "{told}", whose loads or repetitions stand beside it.')
        last.exercise = told
        return True

    def _is_known(self, name: str) -> bool:
        return self.context.words.exercise(name).exercise != "unknown"

    def _may_be_a_lift(self, row: int, label: str) -> bool:
        """Whether a row's label is a known lift, or its cells hold work, so that it may be one that nobody knows."""
        context = self.context
        if context.words.exercise(label).exercise != "unknown":
            return True
        columns = [column for group in self.block.groups for column in self._columns(group)]
        cells = [(c, cell) for c in columns if (cell := context.cell(row, c.index)) is not None]
        told = [(c, cell) for c, cell in cells if not is_missing(context, cell) and not self._is_absent(cell)]
        work = [cell for c, cell in told if self._is_work(row, c, cell)]
        return len(work) >= 0.5 * len(told) if told else False

    def _is_absent(self, cell: Cell) -> bool:
        return isinstance(cell, str) and self.context.lexicon.sheet_word(cell, "rest")

    def _is_work(self, row: int, column: Column, cell: Cell) -> bool:
        plan = self.plans.get(column.index)
        planned = self.context.cell(row, plan) if plan is not None else None
        whole = done_in_full(cell, planned, self.context.lexicon) if planned is not None else None
        return whole is not None or SHORTHAND.search(as_text(cell)) is not None

    def _labelled(self, row: int, columns: list[Column]) -> Line:
        """What the label columns of a row say; who and when is carried down."""
        context, carried = self.context, self.carried
        label, gear = RowLabel("none"), Gear()
        for column in columns:
            cell = context.cell(row, column.index)
            if cell is None or not is_label(column) or (isinstance(cell, str) and is_ditto(cell, context.lexicon)):
                continue
            text = as_text(cell)
            if column.role in GEAR_ROWS:
                gear = gear.over(context.gear(text, GEAR_ROWS[column.role])[0])
            elif not self._who_or_when(row, column, cell, text):
                found = label_of(context.lexicon, text, context.warm_up_signs)
                if column.role == "set_number" and found.kind == "exercise" and len(text) == 1:
                    found = RowLabel("set", text)  # sets "A, B, C"
                if label.kind == "exercise" and found.kind == "gear":
                    found = replace(found, exercise=label.text)  # "squat | bar | straight": both hold for the row
                    label = found
                elif label.kind in {"none", "set"} or found.kind != "set":
                    label = found if label.kind != "exercise" or found.kind == "exercise" else label
                label = replace(label, is_warm_up=label.is_warm_up or found.is_warm_up)
        return Line(row, replace(carried), label, gear)

    def _who_or_when(self, row: int, column: Column, cell: Cell, text: str) -> bool:
        """Take a label that names a person or a day; answers whether it did."""
        context, carried = self.context, self.carried
        if column.role == "exercise":
            return False
        mark = mark_of(cell, context.lexicon)
        if column.role == "person" or (mark.kind == "person" and self._opens_a_person(row, column)):
            carried.person = context.letters.get(text.strip(" ."), text)
        elif mark.kind == "day":
            carried.day, carried.weekday = day_of(context, mark.day), None
        elif mark.kind == "week" or column.role == "week":
            carried.week, carried.day = monday_of_mark(context, mark, text), None
        elif mark.kind == "weekday":
            carried.weekday, carried.day = mark.number, None
        else:
            return mark.kind == "number" and column.role in {"date", "week", "weekday"}
        return True

    def _opens_a_person(self, row: int, column: Column) -> bool:
        """Whether a word that may be a name stands where names stand: no people are above, and the lift is told beside
        it, or the row holds nothing else."""
        if column.role == "note" or any(group.above.person for group in self.block.groups):
            return False
        others = [c for c in self.block.common if c is not column and is_label(c)]
        columns = [c for group in self.block.groups for c in group.columns]
        is_told_beside = any(self.context.cell(row, c.index) is not None for c in others)
        own_labels = any(is_label(c) for c in columns)
        return is_told_beside or own_labels or all(self.context.cell(row, c.index) is None for c in columns)

    def _columns(self, group: Group) -> list[Column]:
        return [c for c in group.columns if not is_label(c) and c.role != "ignored"]
