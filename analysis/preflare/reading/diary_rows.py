"""The lines of a diary read: one reader with a context that is carried (diary_work.Standing).

A day, a person, a lift and its gear hold for the lines below them. A line that is not understood is set aside with its
text and a remedy.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from preflare.reading.context import SheetContext
from preflare.reading.diary_corrections import doubt_in_passing, is_correction, put_right, put_right_beside
from preflare.reading.diary_lines import (
    DayHead,
    day_heads,
    day_of_month,
    explains,
    first_day,
    has_sets,
    is_broken_day,
    is_ornament,
    is_total,
    lines_of,
    names_week,
    next_weekday,
    totals_sets,
    week_date,
    weekday_head,
    without_bullet,
)
from preflare.reading.diary_pain import store_asked, store_remark
from preflare.reading.diary_people import People, head_of_person, name_alone, people_in, shares
from preflare.reading.diary_words import says
from preflare.reading.diary_work import (
    Block,
    LiftHead,
    Standing,
    gears_beside,
    is_like_another_day,
    is_only_planned,
    is_plan_and_done,
    is_plan_line,
    lead_of,
    lift_head,
    names_unit,
    store_same,
    store_work,
    without_plan,
    work_in,
)
from preflare.reading.item import LEAST_LOAD
from preflare.reading.lexicon import Lexicon
from preflare.reading.lines import monday_before, resolve_day
from preflare.reading.loads_led import tells_efforts_in_brackets, with_sets_written_out
from preflare.reading.marks import marks_in
from preflare.reading.rows import SessionRow
from preflare.reading.shorthand import Work, parse_work
from preflare.reading.words import Gear

PLAN_LEFT_OUT = "Sets that a line calls planned or not done were not stored."
_LEAST_OF_BLOCKS = 2  # people of a day behind whose blocks a line may be nobody's of them
_AS_FAR = 45  # days between two days of a diary, within which a slip of a month is put right


def read_diary(context: SheetContext) -> None:
    """Read a diary line by line; everything before the first date is title."""
    context.assume("The sheet has no columns and was read as a diary: a date, then the work of that day.")
    lines = lines_of(context.sheet)
    heads = day_heads(lines, context.lexicon)
    first = first_day(lines, heads, context.lexicon)
    context.marks = marks_in([line for at, line in enumerate(lines) if at < first or explains(line)], context.lexicon)
    people = people_in(context, lines, first)
    reader = DiaryReader(context, lines, heads, people, has_efforts=tells_efforts_in_brackets(lines))
    for row, line in enumerate(lines):
        if not line.strip():
            continue
        if row < first:
            reader.read_title(row, line)
            continue
        context.out.not_data.pop(context.key(row), None)
        reader.read_line(row, line)
    for row, text, day in reader.corrections:
        put_right(context, row, text, day, people)


@dataclass(slots=True)
class DiaryReader:
    """Reads the lines of a diary from top to bottom."""

    context: SheetContext
    lines: Sequence[str]
    heads: dict[int, DayHead]
    people: People
    standing: Standing = field(default_factory=Standing)
    has_efforts: bool = False  # whether a line says that numbers in brackets are efforts
    monday: date | None = None  # of the week that a line names
    last_day: date | None = None
    corrections: list[tuple[int, str, date | None]] = field(default_factory=list)  # row, text, the day above it

    def read_title(self, row: int, line: str) -> None:
        """A line before the first day: a title, or what the diary explains of itself."""
        if names_week(line, self.context.lexicon):
            self._open_week(line)
        if has_sets(line) and not explains(line) and _names_itself(line, self.context.lexicon):
            reason = "it stands before the first date that was understood"
            self.context.reject_row(row, reason, "write the date above it, like 2026-03-05")
            return
        self.context.not_data(row, "explained" if explains(line) else "title")

    def read_line(self, row: int, line: str) -> None:
        """Any line from the first day on."""
        context, lexicon = self.context, self.context.lexicon
        if is_ornament(line):
            context.not_data(row, "a line of signs")
        elif row in self.heads:
            self._open_day(row, self.heads[row])
        elif names_week(line, lexicon):
            self._open_week(line)
            context.not_data(row, "a line that names the week")
        elif is_total(without_bullet(line)):
            context.not_data(row, "totals")
        elif totals_sets(without_bullet(line), lexicon):
            reason = "it holds sets in a line of totals, which were taken for some that stand elsewhere"
            context.reject_row(row, reason, "write sets that stand nowhere else below their date")
        elif is_correction(line):
            self.corrections.append((row, line.strip(), self.standing.day))
        elif self._opens_weekday(row, line) or self._opens_numbered(row, line):
            pass
        elif is_broken_day(line, lexicon):
            context.reject_row(row, "it looks like a date and is none", "write it like 2026-03-05")
            self.standing.open_day(None, f"the date in line {context.sheet.line_numbers[row]} was not understood")
        elif explains(line) and not has_sets(line):
            context.not_data(row, "explained")
        else:
            doubt_in_passing(context, row, line, self.standing.day)
            self._read_content(row, without_bullet(line))

    # Days ---------------------------------------------------------------------------------------------------------

    def _open_week(self, line: str) -> None:
        written = week_date(line, self.context.lexicon)
        day = self.context.calendar.resolve(written) if written else None
        self.monday = monday_before(day) if day else None

    def _open_day(self, row: int, head: DayHead) -> None:
        context = self.context
        day = context.calendar.resolve(head.written)
        if head.written_as is not None:
            day = self._with_doubt(row, head, day)
        elif day is not None and head.written.weekday not in {None, day.isoweekday()}:
            reason = f"{day} does not fall on the weekday written beside it; the lines below were stored for that date"
            context.reject_cell(row, 0, self.lines[row], reason, "correct the weekday or the date and import again")
        if day is None or day > context.today:
            reason = "the date was not understood, has no year, or lies in the future"
            context.reject_row(row, reason, "write it like 2026-03-05")
            self.standing.open_day(None, f"the date in line {context.sheet.line_numbers[row]} was not understood")
        else:
            self.standing.open_day(day)
            self.last_day = day
            self.standing.unit = self._unit_of_day(row)
            context.not_data(row, "a date line")
        if head.rest:
            self.standing.unit = names_unit(head.rest) or self.standing.unit
            self._read_content(row, without_bullet(head.rest), is_beside_day=True)

    def _unit_of_day(self, row: int) -> str | None:
        """The unit that a remark further down says all weights of a day to be in ("hotel gym, all weights in lb")."""
        next_day = min((head for head in self.heads if head > row), default=len(self.lines))
        for line in self.lines[row + 1 : next_day]:
            if line and says("all_weights", line) and (unit := names_unit(line)) is not None:
                self.context.assume(f'The loads of a day were read as {unit}, as it says: "{line.strip()}".')
                return unit
        return None

    def _with_doubt(self, row: int, head: DayHead, day: date | None) -> date | None:
        """The day of a date with a slip, where it falls on its weekday and follows the days above; said either way."""
        ahead = self.last_day is None or (day is not None and timedelta(0) <= day - self.last_day <= timedelta(_AS_FAR))
        if day is None or not ahead or head.written.weekday not in {None, day.isoweekday()}:
            return None
        reason = f'"{head.written_as}" was taken for a slip, and the day for {day}; the lines below were stored for it'
        self.context.reject_cell(row, 0, self.lines[row], reason, "correct it and import again")
        return day

    def _opens_weekday(self, row: int, line: str) -> bool:
        """A line that begins with a weekday: its day where the week is known or the last day is near; else a remark."""
        if (found := weekday_head(line, self.context.lexicon)) is None:
            return False
        number, rest = found
        day = self.monday + timedelta(days=number - 1) if self.monday else None
        if day is None and self.last_day is not None:
            day = next_weekday(self.last_day, number)
            if day == self.last_day + timedelta(days=1) and rest and not has_sets(rest):
                return False  # "Tuesday: elbow still 3": a remark about the day after
        if day is None or day > self.context.today:
            return False
        self.context.assume(
            "A weekday without a date was taken for the next such day, or that of the week named above."
        )
        self.standing.open_day(day)
        self.last_day = day
        self.context.not_data(row, "a date line")
        if rest:
            self._read_content(row, without_bullet(rest), is_beside_day=True)
        return True

    def _opens_numbered(self, row: int, line: str) -> bool:
        """A weekday with the day of the month, where the day before or a title says the month: "Tue 3rd"."""
        context = self.context
        said = day_of_month(line, context.lexicon)
        titles = self.lines[: min(self.heads, default=row)]
        day = resolve_day(said, context.lexicon, context.calendar, self.last_day, titles) if said else None
        if day is None or day > context.today:
            return False
        self.standing.open_day(day)
        self.last_day = day
        context.not_data(row, "a date line")
        return True

    # Content ------------------------------------------------------------------------------------------------------

    def _read_content(self, row: int, text: str, is_beside_day: bool = False) -> None:
        context, standing = self.context, self.standing
        if standing.day is None:
            if not is_beside_day:
                context.reject_row(row, standing.why, "write the date above it")
            return
        indent = len(self.lines[row]) - len(self.lines[row].lstrip())
        if (person := name_alone(text, self.people)) is not None:
            standing.person, standing.exercise, standing.led = person, None, None
            standing.block = Block(indent, {person}) if standing.block is None else standing.block.next(indent, person)
            context.not_data(row, "a line that names a person")
            return
        if standing.block is not None and not is_beside_day:
            self._leave_block(row, text, indent)
        if (led := head_of_person(text, self.people)) is not None:
            person, rest = led
            standing.led = (indent, person)
            if standing.exercise and store_same(context, row, rest, person, standing, self.people):
                return
            if self._is_of_person(rest):
                self._read_for(row, rest, person)
                return
        if standing.led is not None and (indent <= standing.led[0] or is_beside_day):
            standing.led = None
        self._read_for(row, text, standing.led[1] if standing.led is not None and led is None else None)

    def _leave_block(self, row: int, text: str, indent: int) -> None:
        """A line that stands out from a person's indented block is no part of it: behind the last block of several
        people it is the writer's, or nobody's in particular, unless such a line stood behind an earlier block."""
        standing, block = self.standing, self.standing.block
        assert block is not None
        if indent > block.indent:
            block.is_indented = True
        elif block.is_indented and not has_sets(without_plan(text)[0]):
            if len(block.people) < _LEAST_OF_BLOCKS or self._names_more(row):
                block.has_lines_behind = True
            elif not block.has_lines_behind:
                standing.person = standing.exercise = None
                if (owner := self.people.owner) is not None:
                    told = f"Lines below the blocks of several people that name nobody were read as {owner}'s."
                    self.context.assume(told)

    def _names_more(self, row: int) -> bool:
        """Whether another person's block follows in the same day."""
        next_day = min((head for head in self.heads if head > row), default=len(self.lines))
        return any(name_alone(line, self.people) for line in self.lines[row + 1 : next_day])

    def _is_of_person(self, rest: str) -> bool:
        """Whether a line behind a person's name is all theirs: no other person has a part in it."""
        return len({person for person, _ in shares(rest, self.people, has_sets(rest))} - {None}) == 0

    def _read_for(self, row: int, text: str, person: str | None) -> None:
        """Read the text of a line that is one person's, or nobody's in particular."""
        context, standing = self.context, self.standing
        text = with_sets_written_out(text, self.has_efforts)
        owner = person or standing.person or self.people.owner
        text, plan = without_plan(text)
        if plan:
            context.assume(PLAN_LEFT_OUT)
            self._keep_remark(row, plan, owner, has_pain=True)
        if is_only_planned(text):
            if is_plan_and_done(text) and not is_plan_line(text):
                reason = "it holds sets that were planned and perhaps some that were done"
                context.reject_row(row, reason, "write what was done in a line of its own")
                return
            context.assume(PLAN_LEFT_OUT)
            self._keep_remark(row, text, owner)
            return
        if store_asked(context, row, text, self.people, owner, standing):
            return
        head = lift_head(text, context)
        if not has_sets(text) and is_like_another_day(text, head, context):
            context.reject_row(row, f'it is not known which sets "{text}" stands for', "write the sets themselves")
            return
        if head is not None and self._counts_repetitions(text, head):
            self._read_sets(row, text, person, owner)
            return
        if head is not None and not has_sets(head.rest) and (head.is_sure or self._sets_follow(row)):
            self._open_lift(row, head, person, owner)
            return
        if head is not None and has_sets(head.rest) and (head.beside or not _names_itself(head.rest, context.lexicon)):
            self._open_lift(row, replace(head, rest=""), person, owner)
            text = head.rest
        self._read_sets(row, text, person, owner)

    def _counts_repetitions(self, text: str, head: LiftHead) -> bool:
        """Whether what stands behind a lift's name is repetitions alone: "pull-ups: 8, 7, 6"."""
        if has_sets(head.rest) or not any(map(str.isdigit, head.rest)) or any(map(str.isalpha, head.rest)):
            return False
        work = work_in(text, self.standing, self.context)
        return bool(work.sets) and not work.problems and all(one.exercise for one in work.sets)

    def _open_lift(self, row: int, head: LiftHead, person: str | None, owner: str | None) -> None:
        """A lift begins: alone in its line, or with text behind it that is gear, a remark or pain."""
        standing = self.standing
        standing.open_exercise(head.written, gears_beside(head, self.people, self.context, row))
        told = f"{head.beside} {head.rest}".casefold().split()
        if (unit := names_unit(" ".join(told))) is not None and "lb" not in told:  # beside a lift, "lb" is the low bar
            standing.unit = unit
        if person is not None:
            standing.person = person
        self.context.not_data(row, "a line that names the lift below it")
        if head.beside or head.rest:
            store_remark(self.context, row, f"{head.beside}. {head.rest}".strip(" ."), self.people, owner, standing)

    def _sets_follow(self, row: int) -> bool:
        """Whether the next line with text holds sets."""
        return has_sets(next((line for line in self.lines[row + 1 :] if line.strip()), ""))

    def _read_sets(self, row: int, text: str, person: str | None, owner: str | None) -> None:
        context, standing = self.context, self.standing
        parts = shares(text, self.people, is_work=True) if person is None else [(person, text)]
        is_work = False
        for whose, part in parts:
            work = work_in(part, standing, context)
            if not work.sets or not (has_sets(part) or _are_plain(work, standing.exercise is not None)):
                continue
            is_work = True
            if work.sets[0].exercise is None and not self._belongs(row, part):
                return
            if (name := whose or owner) is None:
                reason = "it is not known whose sets these are"
                context.reject_row(row, reason, "write the name before them, or name the person in season.toml")
                return
            n_before = len(context.out.sets)
            store_work(context, row, work, name, standing)
            put_right_beside(context, row, part, range(n_before, len(context.out.sets)))
        has_pain = store_remark(context, row, text, self.people, owner, standing)
        if not is_work:
            self._keep_remark(row, text, owner, has_pain=has_pain)

    def _belongs(self, row: int, text: str) -> bool:
        """Whether sets without a lift of their own are of the lift above. A name before a colon that nobody knows is
        another lift; other words that nobody knows leave it open."""
        lead = lead_of(text, self.context)
        if lead.unknown and lead.is_led:
            self.standing.open_exercise(lead.label, {})
        elif lead.unknown:
            reason = f'it is not known what "{lead.unknown}" before the sets means: another lift, or somebody else?'
            self.context.reject_row(row, reason, 'write the lift and a colon before them: "Squat: 5x3 @140"')
            return False
        elif lead.label and self.standing.exercise is not None:
            gear, unknown = self.context.words.gear(lead.label, "grip")
            if not unknown and (gear.bar or gear.width or gear.position):
                own = replace(gear, bar_written=gear.bar and lead.label)
                self.standing.gears[None] = own.over(self.standing.gears.get(None, Gear()))
        return True

    def _keep_remark(self, row: int, text: str, owner: str | None, has_pain: bool | None = None) -> None:
        """Keep a line as a remark on its session; one with figures that were not understood is set aside."""
        context = self.context
        if has_pain is None:
            store_remark(context, row, text, self.people, owner, self.standing)
        elif not has_pain and any(map(str.isdecimal, text)) and row not in self.heads:
            reason = "there are numbers in it, but no exercise with sets that could be read"
            context.reject_row(row, reason, 'write it like "Squat 5x3 @140"')
            return
        if owner is None or self.standing.day is None:
            context.not_data(row, "a remark")
            return
        context.out.sessions.append(SessionRow(owner, self.standing.day, 1, None, None, None, text, context.place(row)))


def _are_plain(work: Work, is_under_lift: bool) -> bool:
    """Whether sets in a text without a sign between load and repetitions name their lift, have a barbell's load, or
    are several at the weight of the body below the name of a lift ("bw 5-5-4", "+5 4-3-3")."""
    named = any(one.exercise for one in work.sets)
    is_of_body = is_under_lift and len(work.sets) > 1 and not work.problems and all(one.is_added for one in work.sets)
    return named or is_of_body or all(one.load is not None and one.load >= LEAST_LOAD for one in work.sets)


def _names_itself(text: str, lexicon: Lexicon) -> bool:
    """Whether the sets of a text name their lift."""
    return any(one.exercise for one in parse_work(text, lexicon).sets)
