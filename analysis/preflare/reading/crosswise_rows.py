"""The rows of sheets with days, weeks or people across (see crosswise.py) to sets, ratings and remarks."""

import re
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from preflare.reading.context import SheetContext, numbered_week
from preflare.reading.crosswise import Above, Block, Crosswise, Group, Mark, is_label, is_number_of_a_set, mark_of
from preflare.reading.dates import read_date
from preflare.reading.grid import add_lift, gear_in_remarks, is_other_row
from preflare.reading.headings import Heading, parse_heading
from preflare.reading.lexicon import names_total
from preflare.reading.lift_cells import SetColumns, is_missing, is_warm_up_tag
from preflare.reading.lifts import lifts_of_row, set_columns
from preflare.reading.numbers import parse_effort
from preflare.reading.ratings import Answer, pain_in_notes, pain_of_row
from preflare.reading.rows import SessionRow
from preflare.reading.stand_ins import stand_in
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text, fold
from preflare.reading.weeks import first_of_range
from preflare.reading.words import Gear

_YEAR_REMEDY = "give the year in season.toml: [[source]] year = 2026, or [season] from = 2026-01-05"
_NAMED = re.compile(r"^\s*([^\W\d][\w.'’-]*(?:\s+[^\W\d][\w.'’-]*){0,2})\s*[:–-]\s*(.+)$", re.S)
_SENTENCES = re.compile(r"(?<=[.;!])\s+|\n+")


@dataclass(slots=True)
class Labels:
    """What the words at the left of a row say, or still say from the rows above."""

    exercise: str | None = None
    other: Heading | None = None  # the row holds ratings, remarks or efforts
    gear: Gear = field(default_factory=Gear)
    is_warm_up: bool = False
    person: str | None = None
    day: date | None = None
    week: date | None = None
    weekday: int | None = None
    written: str = ""


def read_crosswise(context: SheetContext, found: Crosswise) -> None:
    """Read every block of a sheet. A row is stored when something of it is; cells that cannot be read are set aside."""
    for row, what in found.not_data.items():
        context.not_data(row, what)
    carried = Labels(day=_day_of(context, _first_day(context, found.titles)), week=_week_of_titles(context, found.titles))
    for block in found.blocks:
        reader = _BlockReader(context, block, carried)
        reader.read()


def _first_day(context: SheetContext, titles: list[str]) -> Cell:
    """The day that the sheet's name or a title gives for all of it, where that is one day."""
    marks = [mark_of(text, context.lexicon) for text in (context.sheet.name, *titles) if text]
    return next((mark.day for mark in marks if mark.kind == "day"), None)


def _week_of_titles(context: SheetContext, titles: list[str]) -> date | None:
    """The Monday of the week that a title or the sheet's name gives for all of it."""
    for text in (*titles, context.sheet.name):
        if text and (mark := mark_of(text, context.lexicon)).kind == "week":
            return _monday(context, mark)
        for piece in re.split(r"\s[-–—]\s|[|:()]", text):
            if (start := first_of_range(piece.strip(), context.lexicon)) is not None:
                day = _day_of(context, start)
                return None if day is None else day - timedelta(days=day.weekday())
    return None


def _day_of(context: SheetContext, cell: Cell) -> date | None:
    written = read_date(cell, context.lexicon) if cell is not None else None
    return context.calendar.resolve(written) if written is not None else None


def _monday(context: SheetContext, week: Mark) -> date | None:
    if week.day is not None:
        day = _day_of(context, week.day)
        return None if day is None else day - timedelta(days=day.weekday())
    return numbered_week(context, week.number) if week.number is not None else None


class _BlockReader:
    """Reads the rows of one block in order."""

    def __init__(self, context: SheetContext, block: Block, carried: Labels) -> None:
        self.context, self.block, self.carried = context, block, carried
        self.own: dict[Above, Labels] = {group.above: Labels() for group in block.groups}
        self.sets: dict[Above, list[SetColumns]] = {}
        self.set_aside: set[int] = set()

    def read(self) -> None:
        for group in self.block.groups:
            table = Table([*self.block.common, *group.columns], self.block.header_rows, self.block.body)
            stand_in(self.context, table)
            self.sets[group.above] = set_columns(Table([c for c in group.columns if not is_label(c)], ()))
        for row in sorted([*self.block.body, *self.block.lines]):
            if row in self.block.lines:
                self._line(row, self.block.lines[row])
            else:
                self._row(row)

    # Lines of one text ----------------------------------------------------------------------------------------------

    def _line(self, row: int, mark: Mark) -> None:
        carried = self.carried
        what = {"day": "a date line", "week": "a date line", "person": "a line with a name", "total": "totals"}
        if mark.kind == "day":
            carried.day = _day_of(self.context, mark.day)
        elif mark.kind == "week":
            carried.week, carried.day = _monday(self.context, mark), None
        elif mark.kind == "weekday":
            carried.weekday, carried.day = mark.number, None
        elif mark.kind == "person":
            carried.person = mark.text
        elif mark.kind == "exercise":
            carried.exercise = mark.text
        self.context.not_data(row, what.get(mark.kind, "a line of text"))

    # Rows -----------------------------------------------------------------------------------------------------------

    def _row(self, row: int) -> None:
        context, out = self.context, self.context.out
        before = (len(out.sets), len(out.pain), len(out.sessions), len(out.rejected))
        common = self._labels(row, self.block.common, self.carried, is_common=True)
        if common is None:
            context.not_data(row, "totals")
            return
        for group in self.block.groups:
            own = self._labels(row, [c for c in group.columns if is_label(c)], self.own[group.above], is_common=False)
            if own is not None:
                self._group(row, group, common, own)
        self._remarks_for_all(row, common)
        if before == (len(out.sets), len(out.pain), len(out.sessions), len(out.rejected)):
            context.not_data(row, "a row with nothing filled in")

    def _labels(self, row: int, columns: list[Column], carried: Labels, is_common: bool) -> Labels | None:
        """What the label columns of a row say, with what the rows above said; None for a row of totals."""
        context, lexicon = self.context, self.context.lexicon
        here = replace(carried, other=None, is_warm_up=False, written="")
        gear = Gear()
        for column in columns:
            cell = context.cell(row, column.index)
            if cell is None or not (is_label(column) or column.role in {"note"}):
                continue
            text = as_text(cell)
            if column.role == "note" or (isinstance(cell, str) and lexicon.sheet_word(cell, "same")):
                continue
            if names_total(text):
                return None
            if column.role in {"bar", "grip", "bar_position"}:
                kind = {"bar": "bar", "grip": "grip", "bar_position": "position"}[column.role]
                gear = gear.over(context.words.gear(text, kind)[0])  # type: ignore[arg-type]
                continue
            self._label(here, column, cell, text)
        if here.exercise != carried.exercise or gear != Gear():
            here.gear = gear
        for name in ("exercise", "person", "day", "week", "weekday", "gear"):
            setattr(carried, name, getattr(here, name))
        return here

    def _label(self, here: Labels, column: Column, cell: Cell, text: str) -> None:
        """Take what one label cell says into the row's labels."""
        context = self.context
        mark = mark_of(cell, context.lexicon)
        if column.role == "person" or (column.role not in {"exercise"} and mark.kind == "person"):
            here.person = context.letters.get(text.strip(" ."), text)
        elif mark.kind == "day" and column.role != "exercise":
            here.day, here.weekday = _day_of(context, mark.day), None
        elif mark.kind == "week" or column.role == "week":
            here.week, here.day = self._week(mark, cell), None
        elif mark.kind == "weekday" and column.role != "exercise":
            here.weekday, here.day = mark.number, None
        elif mark.kind == "number" and column.role != "exercise":
            return
        elif is_warm_up_tag(text, context.lexicon):
            here.is_warm_up = True
        elif is_number_of_a_set(text, context.lexicon):
            return
        elif is_other_row(context, text):
            here.other, here.written = parse_heading(text, context.lexicon), text
        else:
            here.exercise, here.written = text, text

    def _week(self, mark: Mark, cell: Cell) -> date | None:
        if mark.kind == "week":
            return _monday(self.context, mark)
        number = re.search(r"(?<!\d)\d{1,2}(?!\d)", as_text(cell))
        return numbered_week(self.context, int(number[0])) if number else None

    # The cells under one day or person ------------------------------------------------------------------------------

    def _group(self, row: int, group: Group, common: Labels, own: Labels) -> None:
        context = self.context
        columns = [c for c in group.columns if not is_label(c) and c.role != "ignored"]
        filled = [c for c in columns if self._is_filled(row, c, own.written or common.written)]
        if not filled:
            return
        person = group.above.person or own.person or common.person or context.rules.person or context.person
        person = context.letters.get((person or "").strip(" ."), person or "")
        if not person:
            remedy = f'name the person in season.toml: [[source]] file = "{context.file}", person = "..."'
            self._set_aside(row, filled[0], "it is not known whose log this is", remedy)
            return
        day = self._day(group.above, own, common)
        if day is None or day > context.today:
            told = "it is not known on which day this was" if day is None else f"the date {day} lies in the future"
            for column in filled:
                self._set_aside(row, column, told, _YEAR_REMEDY)
            return
        answer = Answer(person, day, None, False)
        if (other := own.other or common.other) is not None:
            self._other(row, filled, other, answer)
            return
        self._work(row, group, answer, own, common)
        self._beside_work(row, group, filled, answer)

    def _set_aside(self, row: int, column: Column, reason: str, remedy: str) -> None:
        self.context.reject_cell(row, column.index, self.context.cell(row, column.index), reason, remedy)

    def _is_filled(self, row: int, column: Column, label: str) -> bool:
        context = self.context
        cell = context.cell(row, column.index)
        if cell is None or is_missing(context, cell):
            return False
        is_copy = (row, column.index) in context.sheet.merged and as_text(cell) == label
        return not is_copy and not (isinstance(cell, str) and context.lexicon.sheet_word(cell, "rest"))

    def _day(self, above: Above, own: Labels, common: Labels) -> date | None:
        """The day of a cell: above it, at its left, or a week of one and a weekday of the other."""
        context = self.context
        if above.day is not None:
            return _day_of(context, above.day)
        week = _monday(context, above.week) if above.week is not None else own.week or common.week
        weekday = above.weekday or own.weekday or common.weekday
        if week is not None and weekday is not None:
            return week + timedelta(days=weekday - 1)
        return own.day or common.day or (week if above.week is not None else None)

    def _work(self, row: int, group: Group, answer: Answer, own: Labels, common: Labels) -> None:
        context = self.context
        label = own.exercise or common.exercise
        has_numbers = any(one.load or one.reps for one in self.sets[group.above])
        gear = own.gear.over(common.gear)
        for lift in lifts_of_row(context, row, self.sets[group.above], label or context.exercise):
            lift.is_warm_up = lift.is_warm_up or own.is_warm_up or common.is_warm_up
            text = as_text(context.cell(row, lift.column))
            said = Gear() if has_numbers else gear_in_remarks(context, text)
            add_lift(context, row, lift.column, answer, lift, label, said.over(gear))

    def _beside_work(self, row: int, group: Group, filled: list[Column], answer: Answer) -> None:
        """Ratings, remarks and efforts that stand in columns of their own, and pain that stands behind the work."""
        context, out = self.context, self.context.out
        table = Table(group.columns, ())
        out.pain += pain_of_row(context, table, row, answer, None)
        for column in filled:
            text = as_text(context.cell(row, column.index))
            if column.role == "note":
                out.pain += pain_in_notes(context, row, column.index, text, answer)
                place = context.place(row, column.index)
                out.sessions.append(SessionRow(answer.athlete, answer.day, 1, None, None, None, text, place))
            elif column.role == "work":
                found = pain_in_notes(context, row, column.index, text, answer)
                out.pain += [one for one in found if one.rating is not None]

    def _other(self, row: int, filled: list[Column], heading: Heading, answer: Answer) -> None:
        """A row of ratings, remarks or efforts of whole sessions."""
        context, out = self.context, self.context.out
        seen: set[str] = set()
        for column in filled:
            cell = context.cell(row, column.index)
            if (text := as_text(cell)) in seen and (row, column.index) in context.sheet.merged:
                continue
            seen.add(text)
            place = context.place(row, column.index)
            if heading.roles[0] == "pain":
                as_pain = Table([Column(column.index, heading.written, heading, "pain")], ())
                out.pain += pain_of_row(context, as_pain, row, answer, None)
            elif heading.roles[0] == "session_rpe":
                effort = parse_effort(cell) if cell is not None else None
                if effort is None or not 0 <= effort[0] <= 10:
                    self._set_aside(row, column, "this is no session RPE from 0 to 10", "correct the cell")
                    continue
                out.sessions.append(SessionRow(answer.athlete, answer.day, 1, effort[0], None, None, None, place))
            elif heading.roles[0] == "note":
                out.pain += pain_in_notes(context, row, column.index, text, answer)
                out.sessions.append(SessionRow(answer.athlete, answer.day, 1, None, None, None, text, place))
            else:
                reason = f'the row "{heading.written}" is not read in a grid'
                self._set_aside(row, column, reason, "nothing, unless it holds work")

    # Remarks that serve the whole row -------------------------------------------------------------------------------

    def _remarks_for_all(self, row: int, common: Labels) -> None:
        """A column of remarks beside several people: "Ada: left elbow 3" is Ada's."""
        context = self.context
        for column in self.block.common:
            cell = context.cell(row, column.index)
            if column.role != "note" or not isinstance(cell, str):
                continue
            day = self._day(Above(), Labels(), common)
            people = {group.above.person for group in self.block.groups} - {None}
            for sentence in _SENTENCES.split(cell):
                named = _NAMED.match(sentence)
                person = self._meant(named[1], people) if named else None
                person = person or (common.person or context.person if not people else None)
                text = named[2] if named and person and people else sentence
                answer = Answer(person or "", day or context.today, None, False)
                pain = pain_in_notes(context, row, column.index, text, answer)
                if pain and (person is None or day is None):
                    remedy = "write the name before it, such as \"Ada: left elbow 3\""
                    context.reject_cell(row, column.index, sentence, "it is not known whose remark this is", remedy)
                elif day is not None and person is not None:
                    context.out.pain += pain
                    place = context.place(row, column.index)
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
