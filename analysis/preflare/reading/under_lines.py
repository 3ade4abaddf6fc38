"""Rows under lines of text: what a day, week, lift or bar that stands alone in a row settles for the rows below it."""

from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from preflare.reading.dates import read_date, without_frame, years_in
from preflare.reading.lexicon import generic_words
from preflare.reading.lifts_of_titles import lift_of_titles
from preflare.reading.lines import Governing, Line, line_of_title, monday_before, resolve_day, week_of_line
from preflare.reading.notes import pain_in_note
from preflare.reading.numbered_weeks import numbered_week
from preflare.reading.numbers import parse_number
from preflare.reading.people import looks_like_a_name
from preflare.reading.ratings import Answer, pain_in_notes
from preflare.reading.who_when import RowsInOrder
from preflare.reading.words import Gear

READ = ""  # a row outside of the columns of which something was stored or set aside
_ASIDE = {
    "cut off": (
        "it holds a part of a date and nothing else; is the file cut off?",
        "complete it and import again",
    ),
    "sets": ("it is one text with sets in it, in no column of work", "write its parts under the headings of the table"),
}


@dataclass(slots=True)
class RowsUnderLines(RowsInOrder):
    """A table whose rows stand under lines of text."""

    governing: Governing = field(default_factory=Governing)
    last_day: date | None = None  # of the line before that named a day
    is_form: bool = False

    def _open_by_titles(self) -> None:
        """Let the titles of a table name the day, week and lift of its rows, where no column does."""
        kinds = set() if self._column("date", "timestamp") else {"day", "week", "weekday"}
        kinds |= set() if self._column("exercise") else {"exercise"}
        for title in self.table.titles if self.table.header_rows else ():
            line = line_of_title(title, self.context.words)
            if line.kind in kinds:
                self._govern(self.table.header_rows[0], line)
        if "exercise" in kinds and self.governing.exercise is None and self.table.header_rows:
            self._lift_by_titles()

    def _lift_by_titles(self) -> None:
        lift = lift_of_titles(self.table, self.context.words)
        if lift is not None:
            self.governing.open_exercise(lift)
            self.context.assume(f'Sets below a title with "{lift}" were read as {lift} where nothing names their lift.')

    def _is_apart(self, line: Line) -> bool:
        """Whether a line of text is no value of the column that it stands in."""
        role = next((column.role for column in self.table.columns if column.index == line.column), "unknown")
        if line.is_merged or line.kind == "total":
            return True
        if role in {"load", "reps", "sets", "rpe", "rir", "set_number"} and parse_number(line.text) is not None:
            return False
        if role == "exercise" and (line.kind in {"exercise", "sets"} or not self._is_sentence(line)):
            return False
        return role not in {"work", "set_work", "pain", "note", "person", "first_name", "last_name"}

    def _is_sentence(self, line: Line) -> bool:
        """Whether a line where lifts stand can be none: a long text, or one that tells of pain."""
        return (
            line.kind != "remark" or len(line.text.split()) > 5 or bool(pain_in_note(line.text, self.context.lexicon))
        )

    def _govern(self, row: int, line: Line) -> str:
        """Take down what a line says of the rows below; answers what it is, READ where it was stored or set aside."""
        context, governing = self.context, self.governing
        if line.kind == "total":
            return "totals"
        if line.kind in {"day", "weekday", "week"}:
            return self._govern_day(row, line)
        if line.kind == "exercise":
            governing.open_exercise(line.said)
            self.carried.exercise = None
            return "a line that names the lift below it"
        if line.kind == "bar":
            gear, _ = context.words.gear(line.said, "bar")
            governing.open_bar(gear)
            context.assume(f'The line "{line.text}" was taken to name the bar of the squats below it.')
            return "a line that names the bar below it"
        if line.kind in {"cut off", "sets"}:
            reason, remedy = _ASIDE[line.kind]
            context.reject_row(row, reason, remedy)
            return READ
        self._is_aside(line.column, line.text)
        return self._pain_in_line(row, line) or "a line of text"

    def _govern_day(self, row: int, line: Line) -> str:
        context, governing, lexicon = self.context, self.governing, self.context.lexicon
        if line.kind == "week":
            number, behind = week_of_line(line.text, lexicon)
            written = read_date(behind, lexicon) if behind is not None else None
            if written is not None and written.year is None and (years := years_in(line.text)):
                written = replace(written, year=years[0])
            day = context.calendar.resolve(written) if written else None
            governing.monday = monday_before(day) if day else numbered_week(context, number) if number else None
            self.carried.day, self.carried.refused = None, f'"{line.text}" names a week and no day'
            return "a line that names the week below it"
        governing.open_day()
        if line.kind == "weekday":
            if self._column("date", "timestamp") is not None and governing.monday is None:
                return "a line of text"
            number = int(lexicon.weekday.exact(line.said.strip(" .")) or 1)
            opened = governing.monday + timedelta(days=number - 1) if governing.monday else None
        else:
            titles = (context.sheet.name, *self.table.titles)
            opened = resolve_day(line.said, lexicon, context.calendar, self.last_day, titles)
        self.carried.exercise, self.carried.gear, self.carried.ordinal = None, Gear(), 1
        self.carried.day = opened if opened is not None and opened <= context.today else None
        self.last_day = self.carried.day or self.last_day
        self.carried.refused = None
        if self.carried.day is None:
            said = f"the date {opened} lies in the future" if opened else f'it is not known which day "{line.text}" is'
            self.carried.refused = f"{said} (line {context.sheet.line_numbers[row]})"
        return "a line that names the day"

    def _pain_in_line(self, row: int, line: Line) -> str | None:
        """Keep the pain that a remark between the rows tells of; answers READ when there was any."""
        if self.carried.person is None or self.carried.day is None:
            return None
        answer = Answer(self.carried.person, self.carried.day, self.carried.stamp, self.is_form)
        found = pain_in_notes(self.context, row, line.column, line.text, answer)
        self.context.out.pain += found
        return READ if found else None

    def _is_aside(self, index: int, cell: str) -> bool:
        """A single text cell in a row: a legend or remark, unless it opens a section or carries work of its own."""
        role = next((column.role for column in self.table.columns if column.index == index), "unknown")
        if role in {"work", "set_work", "pain", "note"}:
            return False
        lexicon = self.context.lexicon
        if self._column("date", "timestamp") is None and read_date(without_frame(cell), lexicon) is not None:
            self._open_day(without_frame(cell))
        elif self._column("exercise") is None and lexicon.exercise.exact(cell):
            self.carried.exercise = cell
        elif self._column("person", "first_name") is None and self.context.is_unnamed:
            name = looks_like_a_name(cell, generic_words())
            if name and name == cell and len(name.split()) == 2:
                self.carried.person = name
        return role != "exercise" or lexicon.exercise.exact(cell) is None

    def _open_day(self, cell: str) -> None:
        written = read_date(cell, self.context.lexicon)
        if written is not None and self._column("date", "timestamp") is None:
            self.carried.day = self.context.calendar.resolve(written)
