"""Work in short as it is read in a sheet: by the habits of its log where the text alone leaves it open."""

import re
from dataclasses import replace

from preflare.reading.bracketed import without_undone
from preflare.reading.context import SheetContext
from preflare.reading.item import Habits
from preflare.reading.shorthand import Work, parse_work

_OF_LAST = "An effort behind several equal sets was read as that of the last one, as a line of the log says."

_OF_ALL = "An effort beside several sets was read as that of each of them, as a line of the log says."


_OF_PLANNED = "A set such as 80x2/4 was read as two repetitions of four that were meant"
_ONE_OF = re.compile(r"\d[\d.,]*\s*(?:kgs?|lbs?)?\s*[x×*]\s*\d{1,2}\s*/\s*\d{1,2}(?!\s*/)")


def work_in(context: SheetContext, text: str, small: bool = False, is_one_set: bool = False) -> Work:
    """The sets in a text; what the habits of the log settled is said. small: a small number may be a load (curls).

    is_one_set: its column is that of one set, so that "80x2/4" cannot be two.
    """
    text = without_undone(context, text)
    plain = parse_work(text, context.lexicon, small)
    if not (plain.sets or plain.problems):
        return plain
    habits, told = context.habits.of(context.sheet) if context.habits is not None else (Habits(), "")
    if _ONE_OF.search(text) and (is_one_set or habits.is_of_planned):
        how = ", as a line of the log says." if habits.is_of_planned else ": its column holds one set."
        context.assume(f"{_OF_PLANNED}{how}")
        habits = replace(habits, is_of_planned=True)
    else:
        habits = replace(habits, is_of_planned=False)
    if habits == Habits(has_schemes=habits.has_schemes):
        return plain
    work = parse_work(text, context.lexicon, small, habits)
    if [(one.load, one.reps) for one in work.sets] != [(one.load, one.reps) for one in plain.sets]:
        context.assume(told)
    if [(one.rpe, one.rir) for one in work.sets] != [(one.rpe, one.rir) for one in plain.sets]:
        context.assume(_OF_LAST if habits.is_effort_of_last else told)
    return work


def is_effort_of_last(context: SheetContext) -> bool:
    """Whether a line of the log says that an effort is that of the last set."""
    if context.habits is None or not context.habits.of(context.sheet)[0].is_effort_of_last:
        return False
    context.assume(_OF_LAST)
    return True


def is_effort_of_all(context: SheetContext) -> bool:
    """Whether a line of the log says that an effort is that of every set of its row."""
    if context.habits is None or not context.habits.of(context.sheet)[0].is_effort_of_all:
        return False
    context.assume(_OF_ALL)
    return True
