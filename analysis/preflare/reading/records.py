"""One table to rows: who, when and what of each line, with what a blank cell takes over from the line above."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal

from preflare.reading.beside_plan import lifts_beside_plan
from preflare.reading.cell_parts import with_own_gear
from preflare.reading.context import SheetContext
from preflare.reading.gear_below import names_lift_again
from preflare.reading.gear_on_lines import gear_on_line
from preflare.reading.labelled_rows import heading_of_row, read_labelled_row
from preflare.reading.lexicon import names_total
from preflare.reading.lift_cells import Lift, SetColumns, is_missing, is_warm_up_tag, marks_alone
from preflare.reading.lines import line_at
from preflare.reading.numbers import parse_effort, parse_minutes, parse_number
from preflare.reading.ratings import Answer, is_form, is_merged_down, pain_in_notes, pain_of_row
from preflare.reading.remarks_on_sets import done_of_row, gear_in_remark
from preflare.reading.rows import SessionRow, SetRow
from preflare.reading.screen_results import screens_of_row
from preflare.reading.set_groups import hold_whole_session, set_columns
from preflare.reading.shared_rows import carried_for, companions_in, put_in_place, shares_of_row
from preflare.reading.stacked_sets import head_of, lifts_of_stack
from preflare.reading.stand_ins import is_ditto
from preflare.reading.tables import Table
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.under_lines import READ, RowsUnderLines
from preflare.reading.vocabulary import back_squats
from preflare.reading.words import Gear

GearColumn = Literal["bar", "position", "grip"]
_GEAR_ROLES: tuple[tuple[str, GearColumn], ...] = (("bar", "bar"), ("bar_position", "position"), ("grip", "grip"))


@dataclass(slots=True)
class TableReader(RowsUnderLines):
    """Reads the rows of one table in order."""

    groups: list[SetColumns] = field(default_factory=list)
    companions: frozenset[str] = frozenset()  # people besides the owner who have lines of their own

    def read(self) -> None:
        self._open_by_titles()
        for row in self.table.body:
            self.read_row(row)

    def read_row(self, row: int) -> None:
        context = self.context
        if row not in context.stacks and (what := self._not_data(row)) is not None:
            if what != READ:
                context.not_data(row, what)
            return
        if not self._who_and_when(row):
            return
        before = len(context.out.rejected)
        parts = shares_of_row(context, self.table, row, self.companions) if self.companions else {}
        n_kept = 0
        for name, part in parts.items():
            own, self.carried = self.carried, carried_for(self.carried, name) if name else self.carried
            put_in_place(context, self.table, row, part)
            n_kept += self._kept_of(row)
            self.carried = own
        n_kept += self._kept_of(row) if not parts else 0
        if n_kept == 0 and row in context.stacks:
            context.not_data(row, "loads, repetitions or efforts: read with the lift that they are of")
        elif n_kept == 0 and self.table.plan is not None and len(context.out.rejected) == before:
            context.not_data(row, "a row with nothing filled in")
        elif n_kept == 0 and len(context.out.rejected) == before:
            self._nothing_kept(row)

    def _kept_of(self, row: int) -> int:
        """Store what a row holds of the person at hand; answers how much that was."""
        day = self.carried.day or self.context.today
        answer = Answer(self.carried.person or "", day, self._reported_at(row, day), self.is_form)
        exercises = self._column("exercise")
        heading = None if self.is_form else heading_of_row(self.context, exercises, row)
        if exercises is not None and heading is not None:
            return read_labelled_row(self.context, row, exercises, heading, answer, self.table.reach)
        return (
            self._sets(row, answer) + self._pain(row, answer) + self._screens(row, answer) + self._session(row, answer)
        )

    def _reported_at(self, row: int, day: date) -> datetime | None:
        """When an answer was given: the form's time stamp, or the time that stands beside its date."""
        column = self._column("time")
        cell = self.context.cell(row, column.index) if column else None
        if not self.is_form or column is None or cell is None or self._column("timestamp") is not None:
            return self.carried.stamp
        clock = self._clock(row)
        if clock is None and not is_missing(self.context, cell):
            remedy = "write it like 07:30; until then it is not known whether the answer came before the session"
            self.context.reject_cell(row, column.index, cell, "this is no time of day", remedy)
        return datetime.combine(day, clock) if clock else self.carried.stamp

    def _nothing_kept(self, row: int) -> None:
        """A row of which nothing was stored or refused: only names and dates, or columns that are not read."""
        known = {column.index for column in self.table.columns if column.role not in {"unknown", "ignored"}}
        asked = self.table.having("pain", "load", "reps", "work", "set_work", "screen", "value")
        if asked and all(self.context.cell(row, column.index) is None for column in asked):
            self.context.not_data(row, "a row with nothing filled in")
        elif any(self.context.cell(row, index) is not None for index in known):
            self.context.reject_row(
                row, "nothing in it could be used: no set, no rating, no result", "fill in the row, or delete it"
            )
        else:
            self.context.not_data(row, "columns that are not read")

    # Rows that are no data ------------------------------------------------------------------------------------------

    def _not_data(self, row: int) -> str | None:
        cells = [(index, cell) for index, cell in enumerate(self.context.sheet.rows[row]) if cell is not None]
        texts = [cell for _, cell in cells if isinstance(cell, str)]
        if (
            texts
            and {column.written for column in self.table.columns} >= set(texts)
            and len(texts) > 2
            and len(texts) == len(cells)
        ):
            return "headings"
        if self._is_total(row, cells) or self._looks_total(row, cells):
            return "totals"
        line = line_at(self.context.sheet, row, self.context.words)
        if line is not None and self._is_apart(line):
            return self._govern(row, line)
        index, first = cells[0] if len(cells) == 1 else (0, None)
        if isinstance(first, str) and self._is_aside(index, first):
            return "a line of text"
        return None

    def _looks_total(self, row: int, cells: Sequence[tuple[int, Cell]]) -> bool:
        """Whether a legend gives all cells of a row the look of totals, and none holds repetitions or an exercise."""
        told = self.table.having("reps", "work", "set_work", "exercise", "pain")
        is_bare = all(self.context.cell(row, column.index) is None for column in told)
        return is_bare and bool(cells) and all(self.context.looks.get((row, at)) == "total" for at, _ in cells)

    def _is_total(self, row: int, cells: Sequence[tuple[int, Cell]]) -> bool:
        """A row that begins with a word for totals, in a place where no such value can stand."""
        for index, cell in cells[:3]:
            if not isinstance(cell, str):
                return False
            if names_total(cell):
                role = next((column.role for column in self.table.columns if column.index == index), "")
                if role in {"note", "pain", "work"}:
                    return False
                day = self._column("date", "timestamp")
                own = self.context.cell(row, day.index) if day else None
                return own is None or own == cell
        return False

    # What -----------------------------------------------------------------------------------------------------------

    def _sets(self, row: int, answer: Answer) -> int:
        context, carried = self.context, self.carried
        stack = context.stacks.get(row)
        plan = self.table.plan
        if (not self.groups and not context.stacks and plan is None) or (stack is not None and row != head_of(stack)):
            return 0
        written = self._text(row, "exercise")
        own_gear = gear_on_line(context, self.table.columns, row).over(self._gear(row))
        before, carried.set_number = carried.set_number, self._text(row, "set_number")
        if own_gear == Gear() and names_lift_again(context, carried.exercise, written, before, carried.set_number):
            carried.exercise = written
        elif written is not None and not self._repeats_exercise(row, written):
            carried.exercise, carried.gear = written, own_gear
        elif own_gear != Gear():
            carried.gear = own_gear.over(carried.gear) if self._column("exercise") else own_gear
        elif self._column("exercise") is None:
            carried.gear = Gear()
        self._session_number(row)
        exercise = carried.exercise or self.governing.exercise or context.exercise
        lifts = done_of_row(context, row, self.groups, exercise, self._column("note")) if stack is None else []
        lifts += lifts_of_stack(context, stack, exercise) if stack is not None else []
        lifts += lifts_beside_plan(context, row, plan, exercise) if plan is not None else []
        is_whole_session = hold_whole_session(self.groups)
        if lifts and (len(lifts) > 1 or is_whole_session or self._column("set_number")):
            context.out.whole.add(context.key(row))
        for lift in lifts:
            self._add_set(row, answer, lift, exercise, None if is_whole_session else self._note_at(row, lift))
        return len(lifts)

    def _repeats_exercise(self, row: int, written: str) -> bool:
        """Whether a row's exercise is a word or mark for that of the row above, whose bar and grip then hold on."""
        lexicon, column = self.context.lexicon, self._column("exercise")
        cells = self.context.sheet.rows[row]
        own = cells[column.index] if column is not None and column.index < len(cells) else None
        return lexicon.sheet_word(written, "same") or (is_ditto(own, lexicon) and written == self.carried.exercise)

    def _note_at(self, row: int, lift: Lift) -> str | None:
        """The remark in the columns of a lift's group, else that of the row."""
        return (None if lift.group is None else self._text_in_group(row, "note", lift.group)) or self._text(row, "note")

    def _add_set(self, row: int, answer: Answer, lift: Lift, exercise: str | None, note: str | None) -> None:
        context = self.context
        written = lift.exercise or exercise or ""
        named = context.words.exercise(written) if written else None
        if named is not None:
            understood = named.exercise if named.how != "not known" else None
            context.choose("exercise", written, understood, named.how, named.nearest)
        is_own = not lift.exercise or lift.exercise == exercise or named is None or named.exercise in back_squats()
        gear = (named.gear if named else Gear()).over(self._gear_of_group(row, lift.group))
        gear = gear.over(self.carried.gear if is_own else Gear())
        if named is not None and named.exercise in back_squats():
            gear = gear.over(self._gear_in_remark(row, lift, note)).over(self.governing.gear)
        gear = with_own_gear(gear, lift.gear)
        remark = lift.note if note is None else note if lift.note is None else f"{lift.note}; {note}"
        is_warm_up, is_failed = marks_alone(note, context.lexicon)
        number = self._text(row, "set_number")
        is_warm_up |= (named is not None and named.is_warm_up) or marks_alone(number, context.lexicon)[0]
        is_warm_up |= is_warm_up_tag(number, context.lexicon, context.warm_up_signs)
        context.out.sets.append(
            SetRow(
                answer.athlete,
                answer.day,
                self.carried.ordinal,
                0,
                named.exercise if named else "unknown",
                written,
                gear.bar,
                gear.bar_written,
                gear.position,
                gear.width,
                gear.style,
                gear.grip_written,
                lift.load_kg,
                lift.reps,
                lift.rpe,
                lift.rir,
                lift.is_warm_up or is_warm_up,
                lift.is_failed or is_failed,
                remark,
                context.place(row, lift.column),
            )
        )

    def _gear_in_remark(self, row: int, lift: Lift, note: str | None) -> Gear:
        """What the remark of a set says of it; of one on the whole session, the place of the bar, which squats alone
        have: a grip may be that of another lift."""
        if note is not None:
            return gear_in_remark(self.context, note)
        return Gear(position=gear_in_remark(self.context, self._note_at(row, lift)).position)

    def _session_number(self, row: int) -> None:
        text = self._text(row, "session_number")
        if text is None:
            return
        number = parse_number(text)
        if number is not None and number in (1, 2, 3):
            self.carried.ordinal = int(number)
        elif fold(text) in {"pm", "afternoon", "evening", "abend", "nachmittag"}:
            self.carried.ordinal = 2

    def _gear_of_group(self, row: int, start: int | None) -> Gear:
        """Bar, place and grip in the columns of one group, for the sets of that group alone."""
        return Gear() if start is None else self._gear(row, start)

    def _gear(self, row: int, start: int | None = None) -> Gear:
        """Bar, place and grip of a row, from its columns in one group, or from those in none."""
        gear = Gear()
        for role, column_kind in _GEAR_ROLES:
            if (written := self._text(row, role) if start is None else self._text_in_group(row, role, start)) is None:
                continue
            found, unknown = self.context.gear(written, column_kind)
            is_open = not (found.bar or found.position or found.width or found.style)
            if is_open and self.context.lexicon.sheet_word(written, "missing"):
                continue  # "BD" is missing, unless a legend explains it
            self._choose_gear(written, column_kind, found, unknown)
            gear = gear.over(found)
        return gear

    def _text_in_group(self, row: int, role: str, start: int) -> str | None:
        columns = (column for column in self.table.having(role) if column.group and column.group.start == start)
        return next((as_text(cell) for one in columns if (cell := self.context.cell(row, one.index)) is not None), None)

    def _choose_gear(self, written: str, column: GearColumn, found: Gear, unknown: str) -> None:
        lexicon = self.context.lexicon
        parts = [part for part in (found.bar, found.position, found.width, found.style) if part]
        table = {"bar": lexicon.bar, "position": lexicon.position, "grip": lexicon.width}[column]
        how = (
            "not known"
            if not parts
            else "season.toml"
            if fold(written) in table.taught
            else "assumed"
            if unknown or written in self.context.words.slips
            else "vocabulary"
        )
        kind = {"bar": "bar", "position": "bar position", "grip": "grip"}[column]
        self.context.choose(kind, written, ", ".join(parts) or None, how, None if parts else table.nearest(written))  # type: ignore[arg-type]

    def _pain(self, row: int, answer: Answer) -> int:
        context = self.context
        found = [] if self._column("test") else pain_of_row(context, self.table, row, answer)
        is_diary = self._column("note") is None and self._column("exercise") is None  # remarks stand in the work
        for column in self.table.having("note", "work", "loads_planned"):
            cell = context.cell(row, column.index)
            if isinstance(cell, str) and len(cell) > 3 and not is_merged_down(context, row, column.index):
                noted = pain_in_notes(context, row, column.index, cell, answer)
                found += [one for one in noted if column.role == "note" or is_diary or one.rating is not None]
        if found and self.is_form:
            context.out.whole.add(context.key(row))
        context.out.pain += found
        return len(found)

    def _screens(self, row: int, answer: Answer) -> int:
        found = screens_of_row(self.context, self.table, row, answer)
        if found:
            self.context.out.whole.add(self.context.key(row))
        self.context.out.screens += found
        return len(found)

    def _session(self, row: int, answer: Answer) -> int:
        """What the row says of the whole session; a remark goes with it unless it belongs to a single set."""
        context = self.context
        effort = self._session_effort(row)
        minutes_column = self._column("duration")
        cell = context.cell(row, minutes_column.index) if minutes_column else None
        minutes = parse_minutes(cell) if cell is not None else None
        if cell is not None and minutes_column is not None and (minutes is None or not 0 < minutes <= 600):
            context.reject_cell(
                row, minutes_column.index, cell, "this is no duration of 1 to 600 minutes", "write minutes, such as 75"
            )
            minutes = None
        clock = self._clock(row)
        is_log = not self.is_form and (bool(self.groups) or row in context.stacks)
        note = self._note_of_session(row) if is_log else None
        rest = self._rest_day(row)
        if effort is None and minutes is None and note is None and rest is None and not (clock and is_log):
            return 0
        started = datetime.combine(answer.day, clock) if clock and is_log else None
        context.out.sessions.append(
            SessionRow(
                answer.athlete,
                answer.day,
                self.carried.ordinal,
                effort,
                minutes,
                started,
                note or rest,
                context.place(row),
            )
        )
        return 1

    def _session_effort(self, row: int) -> float | None:
        column = self._column("session_rpe")
        cell = self.context.cell(row, column.index) if column else None
        effort = parse_effort(cell) if cell is not None else None
        if cell is None or column is None:
            return None
        if effort is None or not 0 <= effort[0] <= 10:
            if not (isinstance(cell, str) and self.context.lexicon.sheet_word(cell, "missing")):
                self.context.reject_cell(
                    row, column.index, cell, "this is no session RPE from 0 to 10", "correct the cell and import again"
                )
            return None
        return effort[0]

    def _note_of_session(self, row: int) -> str | None:
        if not hold_whole_session(self.groups) and any(
            self.context.cell(row, c.index) is not None for c in self.table.having("load", "reps", "set_work")
        ):
            return None
        return (
            "; ".join(
                as_text(cell)
                for column in self.table.having("note")
                if (cell := self.context.cell(row, column.index)) is not None
            )
            or None
        )

    def _rest_day(self, row: int) -> str | None:
        for column in self.table.having("exercise", "work", "set_work", "load"):
            cell = self.context.cell(row, column.index)
            if isinstance(cell, str) and self.context.lexicon.sheet_word(cell, "rest"):
                return cell
        return None


def table_reader(context: SheetContext, table: Table) -> TableReader:
    """The reader of a table's rows."""
    form = is_form(table)
    groups = [] if form or is_measure(context, table) else set_columns(table)
    others = companions_in(context, table)
    if others:
        context.assume(f"Lines that begin with a name were read as that person's: {', '.join(sorted(others))}.")
    return TableReader(context, table, groups=groups, is_form=form, companions=others)


def is_measure(context: SheetContext, table: Table) -> bool:
    """Whether a table has kilograms by date, and neither lifts nor repetitions: the weight of a body, no load."""
    held = {column.role for column in table.columns}
    others = held & {"exercise", "reps", "sets", "work", "set_work", "percent", "rpe", "rir", "pain", "screen", "test"}
    loads = table.having("load")
    names_lift = any(column.heading is not None and column.heading.exercise for column in loads)
    return bool(loads) and not others and not names_lift and context.exercise is None


def read_table(context: SheetContext, table: Table) -> None:
    """Read every row of a table into the context's yield."""
    if is_measure(context, table) and not table.having("note"):
        context.assume("A table of kilograms by date, without lifts and repetitions, was read as no training.")
        for row in table.body:
            context.not_data(row, "a measure, no lift")
        return
    table_reader(context, table).read()
