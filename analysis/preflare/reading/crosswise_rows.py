"""The rows of sheets with days, weeks or people across (see crosswise.py) to sets, ratings and remarks.

Rows that belong to one exercise are read together: its sets may stand in several rows, and its bar, grip, effort and
plan in rows of their own above or below them.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date

from preflare.reading.against_plan import done_in_full, in_short
from preflare.reading.context import SheetContext
from preflare.reading.crosswise import Above, Block, Crosswise, Group, Mark, cell_at, is_label, mark_of
from preflare.reading.crosswise_days import day_of, day_of_sheet, monday_of_mark, monday_of_titles
from preflare.reading.crosswise_labels import GEAR_ROWS, RowLabel, label_of
from preflare.reading.grid import add_lift, gear_in_remarks
from preflare.reading.headings import Heading
from preflare.reading.lift_cells import SetColumns, is_missing
from preflare.reading.lifts import lifts_of_row
from preflare.reading.numbers import parse_effort
from preflare.reading.ratings import Answer, pain_in_notes, pain_of_row
from preflare.reading.rows import SessionRow
from preflare.reading.set_groups import set_columns
from preflare.reading.stand_ins import is_ditto, is_plan
from preflare.reading.tables import SHORTHAND, Column, Table
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.words import Gear

_YEAR_REMEDY = "give the year in season.toml: [[source]] year = 2026, or [season] from = 2026-01-05"
_MOST_WORDS_OF_A_LIFT = 6
_NAMED = re.compile(r"^\s*([^\W\d][\w.'’-]*(?:\s+[^\W\d][\w.'’-]*){0,2})\s*[:–-]\s*(.+)$", re.S)
_SENTENCES = re.compile(r"(?<=[.;!])\s+|\n+")


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


def read_crosswise(context: SheetContext, found: Crosswise) -> None:
    """Read every block of a sheet. A row is stored when something of it is; cells that cannot be read are set aside."""
    for row, what in found.not_data.items():
        context.not_data(row, what)
    carried = Labels(day=day_of_sheet(context, found.titles), week=monday_of_titles(context, found.titles))
    for block in found.blocks:
        _BlockReader(context, block, carried).read()


class _BlockReader:
    """Reads the rows of one block: first what each says it holds, then exercise by exercise."""

    def __init__(self, context: SheetContext, block: Block, carried: Labels) -> None:
        self.context, self.block, self.carried = context, block, carried
        self.sets: dict[Above, list[SetColumns]] = {}
        self.plans: dict[int, int] = {}  # column of work -> the column of its plan
        self.stretches: list[Stretch] = [Stretch(None)]
        self.own: dict[Above, str] = {}  # the exercise that a group's own label column named last

    def read(self) -> None:
        for group in self.block.groups:
            self._prepare(group)
        for row in sorted([*self.block.body, *self.block.lines]):
            if row in self.block.lines:
                self._line(row, self.block.lines[row])
            else:
                self._sort(row)
        for stretch in self.stretches:
            self._read(stretch)

    def _prepare(self, group: Group) -> None:
        """The columns of a group that hold sets, and the column of the plan beside them, for all or for the group."""
        context, block = self.context, self.block
        told = str(group.above.day).rstrip(".")
        if (written := next((c.written for c in group.columns if told == f"{c.written}0"), None)) is not None:
            context.assume(f'"{written}" among the days was read as {told}, as a spreadsheet drops the last nought.')
        plans = [c for c in (*block.common, *group.columns) if is_plan(c, context.lexicon)]
        for column in plans:
            column.role = "ignored"
        work = [c for c in group.columns if not is_label(c) and c not in plans]
        for column in work:
            before = [plan for plan in plans if plan.index < column.index]
            if before:
                self.plans[column.index] = before[-1].index
        self.sets[group.above] = set_columns(Table(work, ()))

    # What each row holds --------------------------------------------------------------------------------------------

    def _line(self, row: int, mark: Mark) -> None:
        """A row of one text: a day, week or person for the rows below, an exercise that opens a stretch, a remark."""
        carried, context = self.carried, self.context
        what = {"day": "a date line", "week": "a date line", "weekday": "a date line", "person": "a line with a name"}
        if mark.kind == "day":
            carried.day = day_of(context, mark.day)
        elif mark.kind == "week":
            carried.week, carried.day = monday_of_mark(context, mark), None
        elif mark.kind == "weekday":
            carried.weekday, carried.day = mark.number, None
        elif mark.kind == "person" and not self._names_exercise(row, mark.text):
            carried.person = mark.text
        elif mark.kind in {"exercise", "text", "heading", "person"} and self._names_exercise(row, mark.text):
            self.stretches.append(Stretch(mark.text))
            context.not_data(row, "the name of an exercise")
            return
        if mark.kind in {"day", "week", "weekday", "person"}:
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
            self.stretches.append(Stretch(line.label.exercise))
        elif line.label.kind == "whole" and self.stretches[-1].exercise is not None:
            self.stretches.append(Stretch(None))
        self.stretches[-1].lines.append(line)

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
                found = label_of(context.lexicon, text)
                if label.kind in {"none", "set"} or found.kind != "set":
                    label = found if label.kind != "exercise" or found.kind == "exercise" else label
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

    # The rows of one exercise ---------------------------------------------------------------------------------------

    def _read(self, stretch: Stretch) -> None:
        out = self.context.out
        for line in stretch.lines:
            line_before = _n_found(out)
            for group in self.block.groups:
                self._cells(stretch, line, group)
            self._remarks_for_all(line)
            if _n_found(out) == line_before and line.label.kind not in {"effort", "gear", "plan"}:
                self.context.not_data(line.row, "a row with nothing filled in")
            elif line.label.kind in {"effort", "gear", "plan"} and _n_found(out) == line_before:
                self.context.not_data(line.row, f"{line.label.text}: read with the sets that it is about")
        for line in (*stretch.having("effort"), *self._efforts_of(stretch)):
            for group in self.block.groups:
                self._effort(stretch, line, group)

    def _efforts_of(self, stretch: Stretch) -> Iterable[Line]:
        """Efforts among the parts of a lift ("Bench RPE")."""
        parts = stretch.having("part")
        return (line for line in parts if line.label.heading and line.label.heading.roles[0] in {"rpe", "rir"})

    def _cells(self, stretch: Stretch, line: Line, group: Group) -> None:
        """The cells of a row under one day or person."""
        if line.label.kind in {"effort", "gear", "ignored"} or (line.label.is_plan and self._is_done_told(stretch)):
            return
        own = self._own_label(line, group)
        filled = [c for c in self._columns(group) if self._is_filled(line.row, c, own.text or line.label.text)]
        if not filled:
            return
        answer = self._answer(line, group, filled)
        if answer is None:
            return
        heading = own.heading if own.kind == "whole" else line.label.heading if line.label.kind == "whole" else None
        if heading is not None:
            self._whole(line.row, filled, heading, answer)
            return
        if own.kind == "exercise":
            self.own[group.above] = own.text
        exercise = self.own.get(group.above) if own.kind != "none" or stretch.exercise is None else stretch.exercise
        self._work(stretch, line, group, answer, exercise, own)
        self._beside_work(line.row, group, filled, answer)

    def _own_label(self, line: Line, group: Group) -> RowLabel:
        """What a label column under the same day says ("Exercise | Plan | Done" under each day)."""
        for column in group.columns:
            cell = self.context.cell(line.row, column.index)
            if is_label(column) and column.role not in GEAR_ROWS and cell is not None:
                return label_of(self.context.lexicon, as_text(cell))
        return RowLabel("none")

    def _columns(self, group: Group) -> list[Column]:
        return [c for c in group.columns if not is_label(c) and c.role != "ignored"]

    def _is_filled(self, row: int, column: Column, label: str) -> bool:
        context = self.context
        cell = context.cell(row, column.index)
        if cell is None or (is_missing(context, cell) and not is_ditto(cell, context.lexicon)):
            return False
        is_copy = (row, column.index) in context.sheet.merged and as_text(cell) == label
        return not is_copy and not (isinstance(cell, str) and context.lexicon.sheet_word(cell, "rest"))

    def _answer(self, line: Line, group: Group, filled: list[Column]) -> Answer | None:
        """Who and when; the cells are set aside when one of them stays open."""
        context = self.context
        person = group.above.person or line.at.person or context.rules.person or context.person
        person = context.letters.get((person or "").strip(" ."), person or "")
        day = self._day(group.above, line.at)
        if not person:
            told, remedy = "it is not known whose log this is", f'[[source]] file = "{context.file}", person = "..."'
            remedy = f"name the person in season.toml: {remedy}"
        elif day is None:
            told, remedy = "it is not known on which day this was", _YEAR_REMEDY
        elif day > context.today:
            told, remedy = f"the date {day} lies in the future", "correct the date and import again"
        else:
            return Answer(person, day, None, False)
        for column in filled:
            self._set_aside(line.row, column, told, remedy)
        return None

    def _set_aside(self, row: int, column: Column, reason: str, remedy: str) -> None:
        self.context.reject_cell(row, column.index, self.context.cell(row, column.index), reason, remedy)

    def _day(self, above: Above, at: Labels) -> date | None:
        """The day of a cell: above it, at its left, or a week of one and a weekday of the other."""
        context = self.context
        if above.day is not None:
            return day_of(context, above.day)
        week = monday_of_mark(context, above.week) if above.week is not None else at.week
        weekday = above.weekday or at.weekday
        if week is not None and weekday is not None:
            return date.fromordinal(week.toordinal() + weekday - 1)
        return at.day or (week if above.week is not None else None)

    # Sets -----------------------------------------------------------------------------------------------------------

    def _is_done_told(self, stretch: Stretch) -> bool:
        """Whether a plan has rows beside it that say what was done of it."""
        return any(True for _ in stretch.having("done"))

    def _work(
        self, stretch: Stretch, line: Line, group: Group, answer: Answer, exercise: str | None, own: RowLabel
    ) -> None:
        context = self.context
        self._stand_for_others(stretch, line, group)
        self._stand_for_plan(stretch, line, group)
        self._stand_for_parts(stretch, line, group)
        gear = self._gear(stretch, group).over(line.gear)
        is_warm_up = line.label.is_warm_up or own.is_warm_up
        has_numbers = any(one.load or one.reps for one in self.sets[group.above])
        for lift in lifts_of_row(context, line.row, self.sets[group.above], exercise or context.exercise):
            lift.is_warm_up = lift.is_warm_up or is_warm_up
            text = as_text(context.cell(line.row, lift.column))
            said = Gear() if has_numbers else gear_in_remarks(context, text)
            add_lift(context, line.row, lift.column, answer, lift, exercise, said.over(gear))

    def _stand_for_others(self, stretch: Stretch, line: Line, group: Group) -> None:
        """A ditto mark stands for the set above it, of its exercise and column, else for the day or week before."""
        context, lexicon = self.context, self.context.lexicon
        above = [one for one in stretch.lines if one.row < line.row and one.label.kind in {"set", "exercise", "none"}]
        above = [one for one in above if not one.label.is_warm_up]
        for column in self._columns(group):
            cell = context.cell(line.row, column.index)
            if cell is None or not is_ditto(cell, lexicon):
                continue
            other = above[-1].row if above else None
            meant = context.cell(other, column.index) if other is not None else None
            if not above and (before := self._column_before(group, column)) is not None:
                meant = cell_at(context.sheet, line.row, before)
                if meant is not None:
                    reason = f'it was read as what stands before it in the row: "{as_text(meant)}"; it was stored'
                    context.reject_cell(line.row, column.index, cell, reason, "write it out, if another cell is meant")
            if meant is None or is_ditto(meant, lexicon) or is_missing(context, meant):
                self._set_aside(line.row, column, "it is not known what this mark repeats", "write the value again")
                context.stand_ins[line.row, column.index] = None
            else:
                context.stand_ins[line.row, column.index] = meant

    def _column_before(self, group: Group, column: Column) -> int | None:
        """The column of the same place under the day or week before, of the same person."""
        if group.above.day is None and group.above.week is None and group.above.weekday is None:
            return None
        place = [one.index for one in group.columns].index(column.index)
        groups = [one for one in self.block.groups if one.above.person == group.above.person]
        at = groups.index(group)
        before = groups[at - 1].columns if at else []
        return before[place].index if place < len(before) else None

    def _stand_for_plan(self, stretch: Stretch, line: Line, group: Group) -> None:
        """What a cell leaves to the plan, in a row above it or a column before it, is taken from there."""
        context = self.context
        plan_row = next((one.row for one in stretch.lines if one.label.is_plan and one is not line), None)
        for column in self._columns(group):
            cell = context.cell(line.row, column.index)
            if cell is None or line.label.is_warm_up:
                continue
            plan = self.plans.get(column.index)
            planned = context.cell(line.row, plan) if plan is not None else None
            if plan_row is not None:
                planned = context.cell(plan_row, column.index)
            if planned is not None and (whole := done_in_full(cell, planned, context.lexicon)) is not None:
                context.stand_ins[line.row, column.index] = whole

    def _stand_for_parts(self, stretch: Stretch, line: Line, group: Group) -> None:
        """Loads, repetitions and numbers of sets in rows of their own, put together where the loads stand."""
        context = self.context
        rows = {one.label.heading.roles[0]: one.row for one in stretch.having("part") if one.label.heading is not None}
        if line.row not in rows.values():
            return
        for column in self._columns(group):
            parts = {name: context.cell(row, column.index) for name, row in rows.items()}
            context.stand_ins[line.row, column.index] = None
            if line.row == rows.get("load", rows.get("reps")):
                context.stand_ins[line.row, column.index] = in_short(parts, context.lexicon)

    def _gear(self, stretch: Stretch, group: Group) -> Gear:
        """The bar, its place and the grip from rows of their own."""
        context, gear = self.context, Gear()
        for line in stretch.having("gear"):
            kind = GEAR_ROWS[line.label.heading.roles[0]] if line.label.heading else "bar"
            for column in self._columns(group):
                cell = context.cell(line.row, column.index)
                if cell is not None and not is_missing(context, cell):
                    gear = gear.over(context.gear(as_text(cell), kind)[0])
        return gear

    def _effort(self, stretch: Stretch, line: Line, group: Group) -> None:
        """An effort in a row of its own is that of the last working set under the same day and person."""
        context, out = self.context, self.context.out
        rows = {context.place(one.row).row for one in stretch.lines}
        for column in self._columns(group):
            cell = context.cell(line.row, column.index)
            effort = parse_effort(cell) if cell is not None and not is_missing(context, cell) else None
            if cell is None or is_missing(context, cell):
                continue
            letters = context.place(line.row, column.index).column
            own = [
                i
                for i in range(len(out.sets) - 1, -1, -1)
                if out.sets[i].place.row in rows
                and out.sets[i].place.column == letters
                and out.sets[i].place.sheet == context.sheet.name
                and not out.sets[i].is_warm_up
            ][:1]
            is_effort = effort is not None and 0 <= effort[0] <= 10
            if not is_effort or not own:
                reason = "there is no set that this effort is about" if is_effort else "this is no effort from 0 to 10"
                self._set_aside(line.row, column, reason, "correct the cell and import again")
                continue
            kind = line.label.heading.roles[0] if line.label.heading else "rpe"
            assert effort is not None
            is_reserve = kind == "rir" or (isinstance(cell, str) and "rir" in cell.casefold())
            told = {"rir": effort[0]} if is_reserve else {"rpe": effort[0]}
            out.sets[own[0]] = replace(out.sets[own[0]], **told)  # type: ignore[arg-type]

    # Ratings and remarks --------------------------------------------------------------------------------------------

    def _beside_work(self, row: int, group: Group, filled: list[Column], answer: Answer) -> None:
        """Ratings, remarks and efforts that stand in columns of their own, and pain that stands behind the work."""
        context, out = self.context, self.context.out
        out.pain += pain_of_row(context, Table(group.columns, ()), row, answer)
        for column in filled:
            text = as_text(context.cell(row, column.index))
            if column.role == "note":
                self._remark(row, column, text, answer)
            elif column.role == "work":
                found = pain_in_notes(context, row, column.index, text, answer)
                out.pain += [one for one in found if one.rating is not None]

    def _remark(self, row: int, column: Column, text: str, answer: Answer) -> None:
        context, out = self.context, self.context.out
        out.pain += pain_in_notes(context, row, column.index, text, answer)
        place = context.place(row, column.index)
        out.sessions.append(SessionRow(answer.athlete, answer.day, 1, None, None, None, text, place))

    def _whole(self, row: int, filled: list[Column], heading: Heading, answer: Answer) -> None:
        """A row of ratings, remarks or efforts of whole sessions."""
        context, out = self.context, self.context.out
        seen: set[str] = set()
        for column in filled:
            cell = context.cell(row, column.index)
            if (text := as_text(cell)) in seen and (row, column.index) in context.sheet.merged:
                continue
            seen.add(text)
            if heading.roles[0] == "pain":
                as_pain = Table([Column(column.index, heading.written, heading, "pain")], ())
                out.pain += pain_of_row(context, as_pain, row, answer)
            elif heading.roles[0] == "note":
                self._remark(row, column, text, answer)
            elif heading.roles[0] == "session_rpe":
                effort = parse_effort(cell) if cell is not None else None
                if effort is None or not 0 <= effort[0] <= 10:
                    self._set_aside(row, column, "this is no session RPE from 0 to 10", "correct the cell")
                    continue
                place = context.place(row, column.index)
                out.sessions.append(SessionRow(answer.athlete, answer.day, 1, effort[0], None, None, None, place))
            else:
                reason = f'the row "{heading.written}" is not read in a grid'
                self._set_aside(row, column, reason, "nothing, unless it holds work")

    def _remarks_for_all(self, line: Line) -> None:
        """A column of remarks beside several people: "Ada: left elbow 3" is Ada's."""
        context = self.context
        people = {group.above.person for group in self.block.groups} - {None}
        for column in self.block.common:
            cell = context.cell(line.row, column.index)
            if column.role != "note" or not isinstance(cell, str):
                continue
            day = self._day(Above(), line.at)
            for sentence in _SENTENCES.split(cell):
                named = _NAMED.match(sentence)
                person = self._meant(named[1], people) if named else None
                if person is None and not people:
                    person = line.at.person or context.person
                text = named[2] if named and person and people else sentence
                answer = Answer(person or "", day or context.today, None, False)
                pain = pain_in_notes(context, line.row, column.index, text, answer)
                if pain and (person is None or day is None):
                    remedy = 'write the name before it, such as "Ada: left elbow 3"'
                    context.reject_cell(
                        line.row, column.index, sentence, "it is not known whose remark this is", remedy
                    )
                elif day is not None and person is not None:
                    context.out.pain += pain
                    place = context.place(line.row, column.index)
                    context.out.sessions.append(SessionRow(person, day, 1, None, None, None, text, place))

    def _meant(self, written: str, people: set[str | None]) -> str | None:
        """The one person across whose name begins with each of the words written."""
        words = fold(written).split()
        fitting = [
            person
            for person in people
            if person and all(any(part.startswith(word) for part in fold(person).split()) for word in words)
        ]
        return fitting[0] if len(fitting) == 1 else None


def _n_found(out: object) -> tuple[int, ...]:
    return tuple(len(getattr(out, name)) for name in ("sets", "pain", "sessions", "rejected"))
