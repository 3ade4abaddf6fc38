"""What cells of a sheet with days, weeks or people across say of who, when and what; which rows are headings."""

import re
from collections.abc import Container, Sequence
from dataclasses import dataclass, replace
from datetime import date

from preflare.reading.dates import is_week_word, read_date, without_frame
from preflare.reading.days_across import are_days_in_order
from preflare.reading.headings import Heading, parse_heading
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.numbers import parse_number
from preflare.reading.people_across import names_someone
from preflare.reading.settled_roles import SHORTHAND
from preflare.reading.shorthand import parse_work
from preflare.reading.text import Cell, as_text, fold, spaces
from preflare.reading.weeks import dated_weekday, day_among, day_behind_week_word, first_of_range, pieces_of
from preflare.reading.workbook import Sheet, cell_at

AXES = ("day", "week", "weekday", "person")
_MOST_WORDS_OF_A_DAY = 8  # "Session 3 - Monday 2 March 2026"; a longer text with a date in it is a remark
GEAR = frozenset({"bar", "grip", "bar_position"})
_OF_ROWS = frozenset({"exercise", "person", "set_number"})  # headings of what each row is about
_ABOUT_SETS = frozenset({"load", "reps", "sets", "rpe", "rir", "pain", "note", "session_rpe"}) | GEAR


@dataclass(frozen=True, slots=True)
class Mark:
    """What one cell says of who, when or what. kind: day, week, weekday, person, heading, exercise, or other."""

    kind: str
    text: str
    day: Cell = None
    number: int | None = None  # of a week or weekday
    heading: Heading | None = None


def date_line(filled: Sequence[tuple[int, Cell]], lexicon: Lexicon) -> Mark | None:
    """A day told over two or three cells ("Tuesday | 22 Sept 2026"), or None for any other row."""
    if not 2 <= len(filled) <= 3:
        return None
    marks = [mark_of(cell, lexicon) for _, cell in filled]
    kinds = [mark.kind for mark in marks]
    is_day = kinds.count("day") == 1 and set(kinds) <= {"day", "weekday", "week"} and len(set(kinds)) == len(kinds)
    return next(mark for mark in marks if mark.kind == "day") if is_day else None


def day_in_corner(marks: dict[int, Mark], lexicon: Lexicon) -> Mark | None:
    """The day, week or weekday that stands at the left of people across, or the week at the left of days or weekdays
    across ("Week 1 | Mon 2/3 | Thu 5/3"): that of the rows below them."""
    first, *beside = (marks[index] for index in sorted(marks))
    others = [mark.kind for mark in beside]
    if first.kind == "day" and _begins_with_week(first, lexicon):  # "Week 1: 2/3"
        first = first if any(_begins_with_week(mark, lexicon) for mark in beside) else replace(first, kind="week")
    is_of_days = first.kind == "week" and ("day" in others or others.count("weekday") >= 2)
    is_corner = first.kind in {"day", "week", "weekday"} and others.count("person") >= 2
    return first if (is_corner or is_of_days) and first.kind not in others else None


def _begins_with_week(mark: Mark, lexicon: Lexicon) -> bool:
    return is_week_word(mark.text.split()[0].strip(".:"), lexicon)


def name_in_corner(marks: dict[int, Mark]) -> Mark | None:
    """The name that stands alone at the left of days, weeks or weekdays across, whose log it may be."""
    first = marks[min(marks)]
    others = [mark.kind for mark in marks.values() if mark is not first]
    n_days = sum(kind in {"day", "week", "weekday"} for kind in others)
    return first if first.kind == "person" and n_days >= 2 and "person" not in others else None


_ROWS_TO_LOOK_AT = 12
_LEAST_WORK = 2  # cells of work below a word that may be a name


def names_over_work(
    sheet: Sheet, row: int, filled: Sequence[tuple[int, Cell]], lexicon: Lexicon
) -> dict[int, Mark] | None:
    """Words that nobody knows, two or more, each over a column of work and none of them a lift: they name people.

    So initials ("BW", "CO") and nicknames are found that look like no name.
    """
    if len(filled) < 2:
        return None
    marks = {index: mark_of(cell, lexicon) for index, cell in filled}
    over_work = {i for i, mark in marks.items() if _is_over_work(sheet, row, i, lexicon)}
    names = {i for i in over_work if _may_name_someone(marks[i], lexicon)}
    days = [i for i in over_work - names if marks[i].kind == "weekday" and marks[i].text[:1].isupper()]
    if len(days) == 1 and len(names) >= 2:
        names |= set(days)  # one "Pia" among names is no Polish Friday
    others = [mark for i, mark in marks.items() if i not in names]
    is_all = len(names) >= 2 and names == over_work and len({marks[i].text for i in names}) == len(names)
    left = [marks[i] for i in sorted(marks) if i < min(names, default=0)]
    labels = left if left and left[0].kind == "exercise" else left[:1]  # "Date | Exercise | Bar | Ada" are headings
    if any(mark.heading is not None and mark.heading.roles[0] in _ABOUT_SETS for mark in labels):
        return None  # "Bar | SSB | straight", "Squat | bar | SSB": what the lifts below were done with
    if not is_all or any(mark.kind in {"work", "number", "text"} for mark in others if mark is not marks[min(marks)]):
        return None
    return {i: replace(mark, kind="person", heading=None) if i in names else mark for i, mark in marks.items()}


def names_again(
    filled: Sequence[tuple[int, Cell]], marks: dict[int, Mark] | None, people: Container[str], lexicon: Lexicon
) -> dict[int, Mark] | None:
    """The marks of a row that holds names of the rows of headings above once more, two or more beside what stands at
    their left; any other row as it was. people: those names."""
    again = {i for i, cell in filled if as_text(cell) in people}
    if len(again) < 2 or any(i not in again for i, _ in filled[1:]):
        return marks
    found = marks or {i: mark_of(cell, lexicon) for i, cell in filled}
    corner = found[filled[0][0]]
    if filled[0][0] not in again and corner.kind not in {*AXES[:3], "heading"}:
        return marks
    return {i: replace(mark, kind="person", heading=None) if i in again else mark for i, mark in found.items()}


def _may_name_someone(mark: Mark, lexicon: Lexicon) -> bool:
    is_word = mark.kind in {"text", "person"} or (
        mark.heading is not None and mark.text.isupper() and len(mark.text) <= 3
    )
    is_gear = any(table.exact(mark.text) for table in (lexicon.bar, lexicon.width, lexicon.position))
    return is_word and not is_gear and len(mark.text.split()) <= 3 and not any(map(str.isdigit, mark.text))


def _is_over_work(sheet: Sheet, row: int, index: int, lexicon: Lexicon) -> bool:
    cells = [cell_at(sheet, below, index) for below in range(row + 1, min(row + 1 + _ROWS_TO_LOOK_AT, len(sheet.rows)))]
    return sum(isinstance(cell, str) and is_work_in_short(cell, lexicon) for cell in cells) >= _LEAST_WORK


def mark_of(cell: Cell, lexicon: Lexicon) -> Mark:
    """What a cell says of who, when or what."""
    if isinstance(cell, date):
        return Mark("day", as_text(cell), cell)
    if not isinstance(cell, str):
        return Mark("number", as_text(cell))
    return lexicon.remembered("mark", cell, lambda: _mark_of_text(cell, lexicon))


def _mark_of_text(cell: str, lexicon: Lexicon) -> Mark:
    text = as_text(cell)
    if names_total(cell):
        return Mark("total", text)
    plain = without_frame(cell)
    if weekday := lexicon.weekday.exact(plain.rstrip(" .")):
        return Mark("weekday", text, number=int(weekday))
    if len(cell.split()) <= _MOST_WORDS_OF_A_DAY and (of_week := dated_weekday(plain, lexicon)) is not None:
        return Mark("day", text, of_week)
    if (range_start := day_behind_week_word(plain, lexicon)) is not None:
        return Mark("week", text, range_start)
    if read_date(plain, lexicon) is not None:
        return Mark("day", text, plain)
    if parse_number(plain) is not None:
        return Mark("number", text)  # as a text file has it
    if is_work_in_short(cell, lexicon):
        return Mark("work", text)
    if lexicon.sheet_word(cell, "same"):
        return Mark("text", text)
    heading = parse_heading(cell, lexicon) if len(plain) > 1 else None  # a letter may be anything
    if heading is not None and heading.roles[0] == "week_column":
        in_pieces = (first_of_range(piece, lexicon) for piece in pieces_of(cell))
        behind = next((day for day in in_pieces if day is not None), None) or day_among(cell, lexicon)
        return Mark("week", text, behind, heading.number)
    if len(cell.split()) <= _MOST_WORDS_OF_A_DAY:
        found = (day_among(piece, lexicon) for piece in (*pieces_of(cell), cell))
        if (day := next((one for one in found if one is not None), None)) is not None:
            return Mark("day", text, day)
    if heading is not None:
        return Mark("exercise" if lexicon.exercise.exact(cell) else "heading", text, heading=heading)
    if lexicon.exercise.exact(cell):
        return Mark("exercise", text)
    return Mark("person" if names_someone(cell, lexicon) else "text", text)


def is_work_in_short(text: str, lexicon: Lexicon) -> bool:
    return bool(SHORTHAND.search(text)) and bool(parse_work(text, lexicon).sets)


def heads_of(filled: Sequence[tuple[int, Cell]], lexicon: Lexicon) -> dict[int, Mark] | None:
    """Column -> what stands there, for a row of headings; None for any other row.

    A row of headings holds no work and no numbers: two days, weeks, weekdays or people, or nearly all headings.
    """
    if len(filled) < 2:
        return None
    marks = {index: mark_of(cell, lexicon) for index, cell in filled}
    marks = _with_names_beside(marks, lexicon)
    marks = _with_headings_for_weekdays(_with_days_for_numbers(marks), lexicon)
    kinds = [mark.kind for mark in marks.values()]
    if "work" in kinds or "number" in kinds:
        return None
    axes = {kind: sum(mark.kind == kind for index, mark in marks.items() if index > 0) for kind in AXES}
    across = max(axes, key=lambda kind: axes[kind])
    first = min((index for index, mark in marks.items() if mark.kind == across and index > 0), default=0)
    left = [mark.heading for index, mark in marks.items() if index < first and mark.heading is not None]
    is_about_sets = any(heading.roles[0] in _ABOUT_SETS and "set_number" not in heading.roles for heading in left)
    names_rows = any(heading.roles[0] in _OF_ROWS for heading in left)
    days = [mark.day for mark in marks.values() if mark.kind == "day"]
    if is_about_sets and not (across == "day" and (names_rows or are_days_in_order(days, lexicon))):
        return None  # "reps | 6/6 | 5/4": no days
    n_axes = max(axes.values())
    n_headings = kinds.count("heading") + kinds.count("exercise")
    n_known = len(kinds) - kinds.count("text")
    if n_axes >= 2 and n_known >= 0.6 * len(kinds):
        return marks if max(axes, key=lambda kind: axes[kind]) != "person" or _are_people(marks) else None
    told = [mark.heading for mark in marks.values() if mark.heading and mark.heading.number is None]
    roles = {heading.roles[0] for heading in told if heading.is_exact}
    numbers = {mark.heading.number for mark in marks.values() if mark.heading and mark.heading.number is not None}
    if len(numbers) >= 2:
        roles.add("set_work")  # S1, S2, S3
    is_most = n_headings >= 0.7 * len(kinds) or _are_columns_again(marks)
    return marks if len(roles - {"note", "ignored"}) >= 1 and len(roles) >= 2 and is_most else None


_AGAIN = 3  # times that the same headings stand in a row


def _are_columns_again(marks: dict[int, Mark]) -> bool:
    """Whether two headings or more come again and again with one that nobody knows: "kg | reps | ? | kg | reps | ?"."""
    texts = [mark.text for mark in marks.values()]
    known = {mark.text for mark in marks.values() if mark.heading is not None}
    again = {text for text in texts if texts.count(text) >= _AGAIN}
    other = {mark.text for mark in marks.values() if mark.text in again and mark.heading is None}
    return len(again & known) >= 2 and len(other) == 1 and set(texts) - known == other


_DAY_AND_MONTH = re.compile(r"(\d{1,2})\.(\d{1,2})")


def _with_days_for_numbers(marks: dict[int, Mark]) -> dict[int, Mark]:
    """Among three days or more, 6.1 is the day of a number: 6.1., or 6.10. where the months beside it say so."""
    days = [i for i, mark in marks.items() if mark.kind == "day"]
    if len(days) < 3:
        return marks
    made = dict(marks)
    for i, mark in marks.items():
        if mark.kind in {"number", "day"} and (match := _DAY_AND_MONTH.fullmatch(mark.text)):
            months = [match[2], "10"] if match[2] == "1" else [match[2]]
            fitting = [month for month in months if int(month) in _months_beside(marks, i)]
            made[i] = Mark("day", mark.text, f"{match[1]}.{(fitting or months)[0]}.")
    return made


def _with_headings_for_weekdays(marks: dict[int, Mark], lexicon: Lexicon) -> dict[int, Mark]:
    """The same "weekday" again and again in one line is a heading that looks like one: "Wt | Reps | Wt | Reps"."""
    written = [mark.text for mark in marks.values() if mark.kind == "weekday"]
    roles = {text: tuple(lexicon.headings_of.get(fold(text), ())) for text in written if written.count(text) > 1}
    return {
        index: Mark("heading", mark.text, heading=Heading(mark.text, roles[mark.text], True))
        if mark.kind == "weekday" and roles.get(mark.text)
        else mark
        for index, mark in marks.items()
    }


def _months_beside(marks: dict[int, Mark], index: int) -> set[int]:
    """The months of the nearest days at the left and right of a column."""
    found: set[int] = set()
    for side in (sorted((i for i in marks if i < index), reverse=True), sorted(i for i in marks if i > index)):
        for i in side:
            day = marks[i].day
            if isinstance(day, date):
                found.add(day.month)
            elif isinstance(day, str) and (match := _DAY_AND_MONTH.search(day)):
                found.add(int(match[2]))
            else:
                continue
            break
    return found


def _with_names_beside(marks: dict[int, Mark], lexicon: Lexicon) -> dict[int, Mark]:
    """Among names, words that may be one are names too: "Tobias R.", "Jan" (a month elsewhere)."""
    sure = [index for index, mark in marks.items() if mark.kind == "person"]
    others = [index for index, mark in marks.items() if mark.kind == "text" and may_be_a_name(mark.text, lexicon)]
    if len(sure) < 2 and not len(sure) == len(others) == 1:
        return marks
    return {index: replace(mark, kind="person") if index in others else mark for index, mark in marks.items()}


def may_be_a_name(text: str, lexicon: Lexicon) -> bool:
    """Whether a text is one to three capitalised words that are neither a heading nor an exercise or bar."""
    parts = spaces(text).replace(".", " ").split()
    if not 1 <= len(parts) <= 3 or not all(part.isalpha() and part[0].isupper() for part in parts):
        return names_someone(text, lexicon)
    words = {fold(part) for part in parts} - lexicon.month.known.keys()
    is_known = any(word in lexicon.exercise.known or word in lexicon.bar.known for word in words)
    return not is_known and fold(text) not in lexicon.headings_of


def _are_people(marks: dict[int, Mark]) -> bool:
    """Whether the names of a row differ, or each comes as often as the others (a name over each of its columns)."""
    names = [mark.text for mark in marks.values() if mark.kind == "person"]
    counts = {names.count(name) for name in names}
    return len(set(names)) >= 2 and len(counts) == 1


def line_mark(cell: Cell, lexicon: Lexicon) -> Mark | None:
    """A row of one text: what it says, or None when it holds work."""
    mark = mark_of(cell, lexicon)
    return None if mark.kind in {"work", "number"} else mark
