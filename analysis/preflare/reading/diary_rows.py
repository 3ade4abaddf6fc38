"""The lines of a diary read: what was done on the day above them, how it felt, and whose line it is."""

from dataclasses import dataclass
from datetime import date
from itertools import takewhile

from preflare.reading.companions import companions, shares
from preflare.reading.context import SheetContext
from preflare.reading.diary import day_opened, line_of
from preflare.reading.grid import add_lift
from preflare.reading.lifts import lift_of_work_set
from preflare.reading.marks import with_words_for_marks
from preflare.reading.notes import is_pain_alone, pain_in_note
from preflare.reading.ratings import Answer, pain_in_notes
from preflare.reading.rows import SessionRow
from preflare.reading.same_gear import with_same_bar
from preflare.reading.shorthand import Work
from preflare.reading.words import Gear
from preflare.reading.work_of_log import work_in


def read_diary(context: SheetContext) -> None:
    """Read a diary line by line; everything before the first date is title."""
    context.assume("The sheet has no columns and was read as a diary: a date, then the work of that day.")
    rows = context.sheet.rows
    n_titles = sum(1 for _ in takewhile(lambda cells: day_opened(cells, context.lexicon) is None, rows))
    texts = [line_of(cells) for cells in rows[n_titles:]]
    others = companions(texts, context.out.roster, context.lexicon)
    if others:
        context.assume(f"Lines that begin with a name were read as that person's: {', '.join(sorted(others))}.")
    reader = _LineReader(context, others)
    for row, cells in enumerate(rows):
        if row >= n_titles and any(cell is not None for cell in cells):
            context.out.not_data.pop(context.key(row), None)
            reader.read(row)


@dataclass(slots=True)
class _LineReader:
    """Reads lines in order. exercise: of the line above, where sets stand in lines of their own."""

    context: SheetContext
    others: frozenset[str]
    day: date | None = None
    exercise: str | None = None

    def read(self, row: int) -> None:
        context = self.context
        cells = context.sheet.rows[row]
        opened = day_opened(cells, context.lexicon)
        if opened is None:
            self._line(row, line_of(cells))
            return
        self.day, self.exercise = context.calendar.resolve(opened[0]), None
        if self.day is None or self.day > context.today:
            reason = "the date was not understood, has no year, or lies in the future"
            context.reject_row(row, reason, "write it like 2026-03-05")
            self.day = None
        elif opened[1]:
            self._line(row, opened[1])
        else:
            context.not_data(row, "a date line")

    def _line(self, row: int, text: str) -> None:
        context = self.context
        if context.person is None:
            remedy = 'name the person in season.toml: [[source]] file = "...", person = "..."'
            context.reject_row(row, "it is not known whose log this is", remedy)
            return
        if self.day is None:
            context.reject_row(row, "it has no date, and no line above it has one", "write the date above it")
            return
        parts = (
            shares(with_same_bar(text, context.lexicon), self.others, context.lexicon) if self.others else {None: text}
        )
        for whose, part in parts.items():
            self._part(row, part, Answer(whose or context.person, self.day, None, False))

    def _part(self, row: int, text: str, answer: Answer) -> None:
        context = self.context
        context.out.pain += pain_in_notes(context, row, 0, text, answer)
        marked = with_words_for_marks(text, context.marks)
        work = self._work(marked)
        if work is None:
            self._no_work(row, text, answer)
            return
        for problem in work.problems:
            if not is_pain_alone(problem.text, context.lexicon):
                context.reject_cell(row, 0, problem.text, problem.reason, 'write it like "5x3 @140"')
        for one in work.sets:
            lift = lift_of_work_set(context, one, None, one.exercise, None, 0)
            add_lift(context, row, 0, answer, lift, self.exercise, Gear())
            self.exercise = one.exercise or self.exercise

    def _work(self, text: str) -> Work | None:
        """The sets of a line that names their exercise, or stands below one that does."""
        work = work_in(self.context, text)
        if any(one.exercise for one in work.sets):
            return work
        is_whole = bool(work.sets) and all(problem.is_doubt for problem in work.problems)
        return work if self.exercise is not None and is_whole else None

    def _no_work(self, row: int, text: str, answer: Answer) -> None:
        """A line without sets: the name of an exercise whose sets follow, a remark, or figures that nobody knows."""
        context = self.context
        has_figures = any(letter.isdecimal() for letter in text)
        named = context.words.exercise(text.strip(" :-")) if not has_figures and len(text.split()) <= 6 else None
        if named is not None and named.exercise != "unknown":
            self.exercise = text.strip(" :-")
            context.not_data(row, "the name of an exercise")
        elif has_figures and not pain_in_note(text, context.lexicon):
            reason = "there are numbers in it, but no exercise with sets that could be read"
            context.reject_row(row, reason, 'write it like "Squat 5x3 @140"')
        else:
            session = SessionRow(answer.athlete, answer.day, 1, None, None, None, text, context.place(row))
            context.out.sessions.append(session)
