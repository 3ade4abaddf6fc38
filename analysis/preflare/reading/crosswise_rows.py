"""The rows of sheets with days, weeks or people across (see crosswise.py) to sets, ratings and remarks.

Rows that belong to one exercise are read together: its sets may stand in several rows, and its bar, grip, effort and
plan in rows of their own above or below them.
"""

from collections.abc import Iterable
from dataclasses import replace

from preflare.reading.against_plan import done_in_full
from preflare.reading.blank_loads import Below, carry_loads
from preflare.reading.context import SheetContext
from preflare.reading.crosswise import Crosswise
from preflare.reading.crosswise_blocks import Group
from preflare.reading.crosswise_columns import is_label
from preflare.reading.crosswise_days import day_of_sheet, monday_of_titles
from preflare.reading.crosswise_labels import GEAR_ROWS, RowLabel, label_of
from preflare.reading.crosswise_remarks import RemarksReader
from preflare.reading.crosswise_sorting import Labels, Line, Stretch
from preflare.reading.efforts_apart import are_strung, effort_of, shared_efforts
from preflare.reading.first_warm_ups import without_first
from preflare.reading.gear_on_lines import gear_on_line, take_gear_out
from preflare.reading.grid import add_lift, gear_in_remarks
from preflare.reading.headings import Heading
from preflare.reading.lift_cells import is_missing
from preflare.reading.lifts import lifts_of_row
from preflare.reading.numbers import parse_effort
from preflare.reading.parts_apart import Way, put_together, way_of
from preflare.reading.ratings import Answer, pain_in_notes, pain_of_row
from preflare.reading.rows import SessionRow
from preflare.reading.stand_ins import is_as_planned, is_ditto
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text
from preflare.reading.vocabulary import back_squats
from preflare.reading.warm_ups import settle_signs
from preflare.reading.words import Gear
from preflare.reading.work_of_log import is_effort_of_all
from preflare.reading.workbook import cell_at

_ARROWS = frozenset({"→", "⇒", "➔", "➜", "->", "-->", "=>", "»", ">", ">>"})  # "as the day before" in a row of gear
_YEAR_REMEDY = "give the year in season.toml: [[source]] year = 2026, or [season] from = 2026-01-05"


def read_crosswise(context: SheetContext, found: Crosswise) -> None:
    """Read every block of a sheet. A row is stored when something of it is; cells that cannot be read are set aside."""
    for row, what in found.not_data.items():
        context.not_data(row, what)
    carried = Labels(day=day_of_sheet(context, found.titles), week=monday_of_titles(context, found.titles))
    settle_signs(context, [(block.common, block.body) for block in found.blocks])
    readers = [_BlockReader(context, block, carried) for block in found.blocks]
    for reader in readers:
        reader.sort()
    carry_loads(context, [blank for reader in readers for blank in reader.blank_loads()])
    for reader in readers:
        reader.read()


class _BlockReader(RemarksReader):
    """Reads the rows of one block: first what each says it holds (`sort`), then exercise by exercise."""

    def read(self) -> None:
        for stretch in self.stretches:
            self._read(stretch)

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

    def blank_loads(self) -> Iterable[Below]:
        """The blank loads beside repetitions, under each day and person, with the set above of their lift."""
        for stretch in self.stretches:
            lines = [line for line in stretch.lines if line.label.kind in {"set", "exercise", "none"}]
            for group in self.block.groups:
                for columns in self.sets[group.above]:
                    if columns.load is not None and columns.reps is not None and columns.name is None:
                        yield from self._blanks_of(stretch, lines, columns.load.index, columns.reps.index)

    def _blanks_of(self, stretch: Stretch, lines: list[Line], load: int, reps: int) -> Iterable[Below]:
        above: Line | None = None
        for line in lines:
            if self.context.cell(line.row, reps) is None:
                continue
            if self.context.cell(line.row, load) is not None:
                above = line
            else:
                is_own = above is not None and above.label.is_warm_up == line.label.is_warm_up
                yield Below(line.row, load, above.row if above is not None and is_own else None, stretch.exercise)

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
        if line.label.kind == "exercise":
            take_gear_out(context, line.row, self._columns(group))
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
        has_both = {"load", "reps"} <= {column.role for column in group.columns}
        for column in self._columns(group):
            cell = context.cell(line.row, column.index)
            if cell is None or line.label.is_warm_up:
                continue
            if has_both and column.role in {"load", "reps"} and not is_as_planned(cell, context.lexicon):
                continue  # loads and repetitions in columns of their own leave nothing to the plan
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
            if line.row != rows.get("load", rows.get("reps")):
                continue
            whole = put_together(context, line.row, column.index, parts, self._way(stretch))
            context.stand_ins[line.row, column.index] = whole
            if whole is None and any(cell is not None and not is_missing(context, cell) for cell in parts.values()):
                told = " | ".join(as_text(cell) for cell in parts.values() if cell is not None)
                reason = f"loads and repetitions do not agree, or one of them is missing: {told}"
                context.reject_cell(line.row, column.index, told, reason, "write one value for each set in both rows")

    def _way(self, stretch: Stretch) -> Way:
        """How the parts of a lift are to be taken."""
        named = [one.label.heading.written for one in stretch.having("part") if one.label.heading is not None]
        return way_of(self.context, stretch.exercise, named)

    def _gear(self, stretch: Stretch, group: Group) -> Gear:
        """The bar, its place and the grip from rows of their own."""
        context, gear = self.context, Gear()
        for line in self._gear_lines(stretch):
            kind = GEAR_ROWS[line.label.heading.roles[0]] if line.label.heading else "bar"
            for column in self._columns(group):
                cell = self._cell_meant(stretch, line.row, group, column)
                if cell is not None and not is_missing(context, cell) and not self._is_absent(cell):
                    gear = gear.over(context.gear(as_text(cell), kind)[0])
        for line in stretch.having("exercise"):
            gear = gear.over(gear_on_line(context, self._columns(group), line.row))
        return gear

    def _gear_lines(self, stretch: Stretch) -> list[Line]:
        """The rows of gear among those of a lift; a squat without any has those that stand under no lift."""
        own = list(stretch.having("gear"))
        if own or stretch.exercise is None or not self._is_back_squat(stretch.exercise):
            return own
        found = [line for one in self.stretches if one.exercise is None for line in one.having("gear")]
        if found:
            told = ", ".join(dict.fromkeys(line.label.text for line in found))
            self.context.assume(f"Rows that stand under no lift ({told}) were read as those of the squats.")
        return found

    def _is_back_squat(self, name: str) -> bool:
        return self.context.words.exercise(name).exercise in back_squats()

    def _cell_meant(self, stretch: Stretch, row: int, group: Group, column: Column) -> Cell:
        """A cell, or the last one before it in the row that is no mark or arrow for the same again; days on which
        nothing of the lift was done are passed over."""
        cell, at, is_same = self.context.cell(row, column.index), column, False
        while self._is_as_before(cell) or (is_same and cell is None and not self._was_done(stretch, at)):
            is_same, before = True, self._column_before(group, at)
            if before is None:
                return None
            group = next(one for one in self.block.groups if any(c.index == before for c in one.columns))
            at = next(c for c in group.columns if c.index == before)
            cell = cell_at(self.context.sheet, row, before)
        return cell

    def _is_as_before(self, cell: Cell) -> bool:
        """Whether a cell of a row of gear is a mark for the same again, or an arrow from the day before."""
        return isinstance(cell, str) and (cell.strip() in _ARROWS or is_ditto(cell, self.context.lexicon))

    def _was_done(self, stretch: Stretch, column: Column) -> bool:
        """Whether a column holds sets of a lift."""
        rows = [line.row for line in stretch.lines if line.label.kind not in {"gear", "effort"}]
        return any(character.isdecimal() for row in rows for character in as_text(self.context.cell(row, column.index)))

    def _effort(self, stretch: Stretch, line: Line, group: Group) -> None:
        """An effort in a row of its own is that of the last working set under the same day and person; one for each
        set ("7-8-8") is theirs."""
        context, out = self.context, self.context.out
        rows = {context.place(one.row).row for one in stretch.lines}
        cells = [cell_at(context.sheet, line.row, c.index) for one in self.block.groups for c in self._columns(one)]
        for column in self._columns(group):
            cell = cell_at(context.sheet, line.row, column.index)
            if cell is None or is_missing(context, cell) or self._is_absent(cell):
                continue
            letters = context.place(line.row, column.index).column
            own = [
                i
                for i, one in enumerate(out.sets)
                if one.place.row in rows
                and one.place.column == letters
                and one.place.sheet == context.sheet.name
                and not one.is_warm_up
            ]
            own = without_first(context, own)
            shared = shared_efforts(context, cell, own, are_strung(cells), is_effort_of_all(context))
            if not shared:
                is_effort = effort_of(cell) is not None
                reason = "there is no set that this effort is about" if is_effort else "this is no effort from 0 to 10"
                self._set_aside(line.row, column, reason, "correct the cell and import again")
                continue
            kind = line.label.heading.roles[0] if line.label.heading else "rpe"
            is_reserve = kind == "rir" or (isinstance(cell, str) and "rir" in cell.casefold())
            for i, effort in shared.items():
                out.sets[i] = replace(out.sets[i], **{"rir" if is_reserve else "rpe": effort})  # type: ignore[arg-type]

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


def _n_found(out: object) -> tuple[int, ...]:
    return tuple(len(getattr(out, name)) for name in ("sets", "pain", "sessions", "rejected"))
