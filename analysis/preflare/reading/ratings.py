"""Pain reports from one row of a table: ratings and words under headings that ask for pain, and remarks."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any, cast

from preflare.reading.context import SheetContext
from preflare.reading.numbers import parse_number, parse_rating
from preflare.reading.pain_lines import told_by_lines
from preflare.reading.pain_said import NO_RATING, OUTSIDE, Doubt, PainSaid, PainText, Said
from preflare.reading.pain_text import read_pain
from preflare.reading.rows import Moment, PainRow, Place
from preflare.reading.side_letters import LETTERS, WEAK, side_of_letter
from preflare.reading.sites_of_ratings import site_of_heading, site_when_blank, sites_in
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text, fold, words_of

MORNING_ENDS, AFTERNOON_BEGINS = 11, 15  # hours of the time stamp: earlier is before the session, later after it
_SCALE = re.compile(r"\b[01]\s*(?:-|–|to|bis|a|à|do|til|till|tot)\s*(\d{1,3})\b|/\s*(\d{1,3})\b", re.I)
_FILLED = {"before": "before", "after": "after", "morning": "next morning", "evening": "after"}


@dataclass(frozen=True, slots=True)
class Answer:
    """Who and when, for the reports of one row. origin: column of a training log, or form."""

    athlete: str
    day: date
    stamp: datetime | None
    is_form: bool


def is_form(table: Table) -> bool:
    """A table that asks about pain and holds no training."""
    roles = {column.role for column in table.columns}
    return "pain" in roles and not roles & {"load", "reps", "work", "set_work", "sets"}


def is_merged_down(context: SheetContext, row: int, column: int) -> bool:
    """Whether a cell is part of one merged over the row above too: what it says was read there."""
    rows = context.sheet.rows
    if row == 0 or (row, column) not in context.sheet.merged or column >= len(rows[row - 1]):
        return False
    return rows[row - 1][column] == rows[row][column]


def pain_of_row(context: SheetContext, table: Table, row: int, answer: Answer) -> list[PainRow]:
    """Every rating and severity word of a row."""
    reports: list[PainRow] = []
    columns = table.having("pain")
    for column in columns:
        cell = context.cell(row, column.index)
        if is_merged_down(context, row, column.index) or _is_answered_beside(context, columns, row, column):
            continue
        if cell is None and len(columns) == 1 and nothing_hurts(context, table, row):
            cell = 0.0
        if cell is None or (isinstance(cell, str) and (not fold(cell) or context.lexicon.sheet_word(cell, "missing"))):
            if isinstance(cell, str) and "?" in cell:
                context.reject_cell(
                    row,
                    column.index,
                    cell,
                    "the rating is missing; it counts as not reported",
                    "write a number from 0 to 10 if it is known",
                )
            continue
        reports += _from_cell(context, table, row, column, cell, answer)
    return reports


def nothing_hurts(context: SheetContext, table: Table, row: int) -> bool:
    """Whether the row's cell for the site says that there is none ("nothing hurts")."""
    column = table.first("site")
    cell = context.cell(row, column.index) if column else None
    return isinstance(cell, str) and _denies(context, cell.strip(" .!"))


def _is_yes_or_no(context: SheetContext, cell: Cell) -> bool:
    if isinstance(cell, bool):
        return True
    return isinstance(cell, str) and (context.lexicon.sheet_word(cell, "yes") or fold(cell) in _NO)


_NO = {"no", "n", "non", "nein", "nao", "nee", "nie", "nei", "nej", "false"}


def _is_answered_beside(context: SheetContext, columns: list[Column], row: int, column: Column) -> bool:
    """Whether this column holds a yes or no and another how bad it was: "Any elbow pain?" beside "How bad"."""
    cell = context.cell(row, column.index)
    if not _is_yes_or_no(context, cell):
        return False
    others = [one for one in columns if one is not column and context.cell(row, one.index) is not None]
    told = [one for one in others if not _is_yes_or_no(context, context.cell(row, one.index))]
    return any(_asks_about(one, column) for one in told)


def _asks_about(rated: Column, question: Column) -> bool:
    """Whether a column of ratings may be about what a question asks: it names no other site, side or moment."""
    if rated.heading is None or question.heading is None:
        return True
    names = ("site", "side", "moment")
    told = [(getattr(rated.heading, name), getattr(question.heading, name)) for name in names]
    return all(one is None or one == other for one, other in told)


def _denies(context: SheetContext, text: str) -> bool:
    """Whether an answer to where it hurts is that it does not."""
    if context.lexicon.severity.exact(text) == "none":
        return True
    told = read_pain(text, context.lexicon, Said(is_asked=True)).reports
    return bool(told) and all(one.rating == 0 and not one.site for one in told) and not any(map(str.isdigit, text))


def _from_cell(
    context: SheetContext, table: Table, row: int, column: Column, cell: Cell, answer: Answer
) -> list[PainRow]:
    if isinstance(cell, date | datetime):
        context.reject_cell(
            row,
            column.index,
            cell,
            "the spreadsheet turned a rating into a date",
            "write it as text, for example 3-4 with a leading apostrophe",
        )
        return []
    text = as_text(cell)
    if (top := _other_scale(column.written)) is not None:
        reason = f"this column's scale ends at {top}, and only ratings from 0 to 10 are read"
        context.reject_cell(row, column.index, cell, reason, "rate from 0 to 10, or rename the heading if it is wrong")
        return []
    told = _told(context, text, column, answer)
    for doubt in told.doubts:
        remedy = (
            "correct the cell and import again" if doubt.reason == OUTSIDE else _REMEDIES.get(doubt.reason, _PLAINLY)
        )
        context.reject_cell(row, column.index, doubt.text if told.reports else cell, doubt.reason, remedy)
    rows: list[PainRow] = []
    for one in told.reports:
        if one.evidence != text:
            understood = f"rating {format(one.rating, 'g')}" if one.rating is not None else one.severity
            context.choose("severity", text, understood, "vocabulary")
        elif one.rating is None:
            context.choose("severity", text, one.severity, "vocabulary")
        rows += _rows_of(context, table, row, column, answer, one)
    return rows


_REMEDIES = {OUTSIDE: "correct the cell and import again", NO_RATING: "write a number from 0 to 10"}
_PLAINLY = 'write one number from 0 to 10, and a side or site before it ("left 3")'


def _told(context: SheetContext, text: str, column: Column, answer: Answer) -> PainText:
    """What a cell says; a plain number or a known word first, as most cells hold nothing else."""
    heading = column.heading
    if (rating := parse_rating(text)) is not None and not rating.is_doubtful:
        evidence = f'"{text}" read as {format(rating.value, "g")}' if rating.is_range else text
        return _told_number(rating.value, evidence, text)
    if rating is None and (number := parse_number(text)) is not None:
        return _told_number(number, text, text)
    word = context.lexicon.severity.exact(text)
    if word == "none":
        return _told_number(0.0, f'"{text}" read as 0', text)
    if word is not None:
        return PainText([PainSaid("", "unknown", None, word, "", None, text)])
    said = Said(is_asked=True, day=answer.day, pairs=_pairs(context, column.written))
    if heading is not None and heading.site:
        said = replace(said, sites=(heading.site,))
    told = read_pain(text, context.lexicon, said)
    reports = [replace(one, evidence=_evidence(text, one)) for one in told.reports]
    return PainText(reports, told.doubts)


def _told_number(value: float, evidence: str, text: str) -> PainText:
    if not 0 <= value <= 10:
        return PainText([], [Doubt(text, OUTSIDE)])
    return PainText([PainSaid("", "unknown", value, None, "", None, evidence)])


def _evidence(text: str, one: PainSaid) -> str:
    """The cell in quotes, and what it was read as where the number does not stand in it as it is."""
    is_plain = one.rating is not None and re.search(rf"(?<!\d){format(one.rating, 'g')}(?!\d)", text) is not None
    if one.rating is None or (is_plain and not one.is_range):
        return f'"{text}"'
    return f'"{text}" read as {format(one.rating, "g")}'


def _pairs(context: SheetContext, heading: str) -> tuple[str, str] | None:
    """The two sides or the two moments that a heading names, in its order: "Elbow R/L", "Ellenbogen vor / nach"."""
    if not re.search(r"[/|+&-]", heading):
        return None
    words = words_of(heading)
    letters = [_SIDE_LETTERS[word] for word in words if word in _SIDE_LETTERS]
    sides = [hit for start, end, hit in context.lexicon.sides_in(words) if end == start + 1 and len(words[start]) > 1]
    moments = [hit for _, _, hit in context.lexicon.moments_in(heading)]
    for names in (sides, letters, moments):
        if len(names) == 2 and len(set(names)) == 2 and "both" not in names:
            return names[0], names[1]
    return None


_SIDE_LETTERS = {letter: side for letter, side in (LETTERS | WEAK).items() if letter != "s"}  # "athlete's" leaves one


def _rows_of(
    context: SheetContext, table: Table, row: int, column: Column, answer: Answer, one: PainSaid
) -> list[PainRow]:
    """The rows of one report of a cell: a row a site, where the cell leaves it to its heading or to other columns."""
    places = _places(context, table, row, column, one.rating)
    if one.site and not (column.heading and column.heading.site == one.site and one.side == "unknown"):
        places = [(one.site, places[0][1] if one.side == "unknown" else one.side)]
    elif one.side != "unknown":
        places = [(site, one.side) for site, _ in places]
    if one.rating != 0 and len({site for site, _ in places}) > 1 and len({side for _, side in places}) == 1:
        reason = f"one rating for several sites ({', '.join(site for site, _ in places)}): it is not known whose it is"
        cell = context.cell(row, column.index)
        context.reject_cell(row, column.index, cell, reason, "write a row, or a rating, for each site")
        return []
    return [
        _row_of(context, table, row, column, answer, replace(one, site=site, side=side))
        for site, side in dict.fromkeys(places)
    ]


def _row_of(context: SheetContext, table: Table, row: int, column: Column, answer: Answer, one: PainSaid) -> PainRow:
    """A report with what its column, its row and its file say of kind, moment and origin."""
    kind = one.kind if one.kind not in {"", "pain"} else (column.heading.kind if column.heading else None) or "pain"
    if (kind_column := table.first("pain_kind")) and isinstance(written := context.cell(row, kind_column.index), str):
        kind = next((hit for _, _, hit in context.lexicon.kind.find(words_of(written))), "other")
    moment = one.moment or moment_of(context, table, row, column, answer)
    origin = "form" if answer.is_form else "column"
    return _report(replace(one, kind=kind), answer, moment, origin, context.place(row, column.index))


def _report(one: PainSaid, answer: Answer, moment: Any, origin: Any, place: Place) -> PainRow:
    """A report by its parts; side, moment, kind and origin are words that a vocabulary gave."""
    side, kind = cast(Any, one.side), cast(Any, one.kind)
    return PainRow(
        one.person or answer.athlete, answer.day, answer.stamp, one.rating, one.severity, one.site, side, moment, kind,
        origin, one.evidence, place,
    )  # fmt: skip


def _other_scale(heading: str) -> int | None:
    """The end of the scale that a heading names, unless it is 10: "(0-5)" -> 5."""
    match = _SCALE.search(heading)
    top = int(match[1] or match[2]) if match else 10
    return None if top == 10 else top


def _places(
    context: SheetContext, table: Table, row: int, column: Column, rating: float | None
) -> list[tuple[str, str]]:
    """The (site, side) pairs that a rating is about: its heading, the row's site and side columns, or season.toml."""
    heading = column.heading
    side = (heading.side if heading else None) or "unknown"
    if (side_column := table.first("side")) and isinstance(written := context.cell(row, side_column.index), str):
        hits = {hit for _, _, hit in context.lexicon.sides_in(words_of(written))}
        side = "both" if len(hits) > 1 else hits.pop() if hits else side_of_letter(written) or side
    if side == "unknown":
        side = _side_in_note(context, table, row) or side
    if heading and heading.site:
        return [(site_of_heading(context, heading.written, heading.site), side)]
    if (asked := _site_asked(context, table, row, column)) is not None:
        return [(asked, side)]
    site_column = table.first("site")
    cell = context.cell(row, site_column.index) if site_column else None
    if isinstance(cell, str) and site_column is not None:
        if pairs := sites_in(context, cell, side):
            return pairs
        if nothing_hurts(context, table, row):
            return [(context.settings.season.default_site or "unknown", side)]
        if not context.lexicon.sheet_word(cell, "missing"):
            context.choose("site", cell, None, "not known", context.lexicon.site.nearest(cell))
            return [("other", side)]
    default = context.settings.season.default_site
    if rating == 0 and site_column is not None and default:
        context.assume(f"A rating of 0 without a site was taken to be about the {default}, as season.toml says.")
        return [(default, side)]
    if default:
        context.assume(f"Pain without a site was taken to be about the {default}, as season.toml says.")
    told = context.legend.pain.site if context.legend.pain and site_column is None else None
    if site_column is not None and default is None:
        told = site_when_blank(context, site_column.written)
    return [(default or told or "unknown", side)]


def _site_asked(context: SheetContext, table: Table, row: int, column: Column) -> str | None:
    """The site of the question that a row answers with yes, for the rating beside it."""
    for other in table.having("pain"):
        is_answered = other is not column and _is_yes_or_no(context, context.cell(row, other.index))
        if is_answered and other.heading is not None and other.heading.site is not None:
            return other.heading.site
    return None


def _side_in_note(context: SheetContext, table: Table, row: int) -> str | None:
    """The side, where a remark beside a rating is nothing but that word."""
    cells = (context.cell(row, column.index) for column in table.having("note"))
    return next((hit for cell in cells if isinstance(cell, str) and (hit := context.lexicon.side.exact(cell))), None)


def moment_of(context: SheetContext, table: Table, row: int, column: Column, answer: Answer) -> Moment:
    """When a rating was given: heading, when-column, season.toml, else the kind of file and time stamp."""
    if column.heading and column.heading.moment:
        return column.heading.moment
    when = table.first("moment")
    cell = context.cell(row, when.index) if when else None
    if isinstance(cell, str) and fold(cell):
        hit = context.lexicon.moment.exact(cell)
        hits = [found for _, _, found in context.lexicon.moments_in(cell)]
        hit = hit or (hits[-1] if hits else None)
        context.choose(
            "moment",
            cell,
            hit,
            "vocabulary" if hit else "not known",
            None if hit else context.lexicon.moment.nearest(cell),
        )
        if hit:
            return cast(Moment, hit)
    if context.rules.filled:
        return cast(Moment, _FILLED[context.rules.filled])
    if not answer.is_form:
        told = context.legend.pain.moment if context.legend.pain else None
        return cast(Moment, told) if told else "after"
    if answer.stamp is None:
        return "unknown"
    hour = answer.stamp.hour
    return "before" if hour < MORNING_ENDS else "after" if hour >= AFTERNOON_BEGINS else "unknown"


def pain_in_notes(
    context: SheetContext, row: int, column: int, text: str, answer: Answer, people: Mapping[str, str] | None = None
) -> list[PainRow]:
    """Pain reports found in a remark, unless season.toml switches notes off.

    people: letters and names that the remark may begin with or hold -> person; without them it is about `answer`'s.
    """
    if not context.settings.season.notes:
        return []
    otherwise = "unknown" if answer.is_form else "after"
    place = context.place(row, column)
    told = told_by_lines(context, text, answer.day, context.letters if people is None else people)
    for written, site in told.slips.items():
        context.choose("site", written, site, "assumed")
    for doubt in told.doubts:
        context.reject_cell(row, column, doubt.text, doubt.reason, 'write it like "left elbow 3/10 after"')
    return [_report(one, answer, one.moment or otherwise, "note", place) for one in told.reports]
