"""Pain reports from one row of a table."""

import re
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, cast

from preflare.reading.context import SheetContext
from preflare.reading.notes import NotePain, pain_in_note, side_of_letter
from preflare.reading.numbers import parse_number, parse_rating
from preflare.reading.rows import Moment, PainRow, Place
from preflare.reading.tables import Column, Table
from preflare.reading.text import Cell, as_text, fold, words_of
from preflare.reading.words import nearest_word

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


def pain_of_row(context: SheetContext, table: Table, row: int, answer: Answer, usual_site: str | None) -> list[PainRow]:
    """Every rating and severity word of a row."""
    reports: list[PainRow] = []
    columns = table.having("pain")
    for column in columns:
        cell = context.cell(row, column.index)
        if _is_answered_beside(context, columns, row, column):
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
        reports += _from_cell(context, table, row, column, cell, answer, usual_site)
    return reports


def nothing_hurts(context: SheetContext, table: Table, row: int) -> bool:
    """Whether the row's cell for the site says that there is none ("nothing hurts")."""
    column = table.first("site")
    cell = context.cell(row, column.index) if column else None
    return isinstance(cell, str) and context.lexicon.severity.exact(cell.strip(" .!")) == "none"


def _is_yes_or_no(context: SheetContext, cell: Cell) -> bool:
    if isinstance(cell, bool):
        return True
    return isinstance(cell, str) and (
        context.lexicon.sheet_word(cell, "yes") or context.lexicon.severity.exact(cell) == "none"
    )


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
    told, asked = rated.heading, question.heading
    site, side, moment = (told.site, asked.site), (told.side, asked.side), (told.moment, asked.moment)
    return all(one is None or one == other for one, other in (site, side, moment))


def _from_cell(
    context: SheetContext, table: Table, row: int, column: Column, cell: Cell, answer: Answer, usual_site: str | None
) -> list[PainRow]:
    place = context.place(row, column.index)
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
    bare, sites, own_side = _place_in_cell(context, text)
    rating, word, evidence = _value(context, bare)
    if bare != text:
        evidence = f'"{text}"'
    if rating is None and word is None:
        found = pain_in_note(text, context.lexicon) if len(words_of(text)) > 1 else []
        if found:
            moment = moment_of(context, table, row, column, answer)
            return [
                _noted(answer, one, one.moment or moment, "form" if answer.is_form else "column", place)
                for one in found
            ]
        context.reject_cell(
            row,
            column.index,
            cell,
            "this is neither a rating from 0 to 10 nor a known word for pain",
            "write a number from 0 to 10",
        )
        return []
    if rating is not None and not 0 <= rating <= 10:
        context.reject_cell(
            row, column.index, cell, "the rating lies outside 0 to 10", "correct the cell and import again"
        )
        return []
    if evidence:
        context.choose("severity", text, f"rating {format(rating, 'g')}" if rating is not None else word, "vocabulary")
    kind = (column.heading.kind if column.heading else None) or "pain"
    if (kind_column := table.first("pain_kind")) and isinstance(written := context.cell(row, kind_column.index), str):
        kind = next((hit for _, _, hit in context.lexicon.kind.find(words_of(written))), "other")
    moment = moment_of(context, table, row, column, answer)
    places = _places(context, table, row, column, rating, usual_site)
    if sites or own_side:
        places = [
            (site, own_side or side) for site in (sites or [place[0] for place in places]) for side in [places[0][1]]
        ]
    if rating != 0 and len({site for site, _ in places}) > 1 and len({side for _, side in places}) == 1:
        reason = f"one rating for several sites ({', '.join(site for site, _ in places)}): it is not known whose it is"
        context.reject_cell(row, column.index, cell, reason, "write a row, or a rating, for each site")
        return []
    origin = "form" if answer.is_form else "column"
    return [
        _report(answer, rating, word, site, side, moment, kind, origin, evidence or text, place)
        for site, side in places
    ]


def _place_in_cell(context: SheetContext, text: str) -> tuple[str, list[str], str | None]:
    """(the text without them, sites, side) of a pain cell that names a place beside its value: "3 dx", "spalla 2".

    Only where value and place are all that it holds; otherwise the text comes back as it is.
    """
    words = words_of(text)
    if len(words) < 2 or len(words) > 6:
        return text, [], None
    spots, sides = list(context.lexicon.site.find(words)), context.lexicon.sides_in(words)
    taken = {i for start, end, _ in (*spots, *sides) for i in range(start, end)}
    if not taken or len(taken) == len(words):
        return text, [], None
    plain = re.sub(r"(\d)\s*/\s*10\b", r"\1", text)
    named = {words[i] for i in taken}
    pieces = [piece for piece in re.split(r"[\s:()]+|,(?!\d)|(?<!\d),", plain) if piece]
    left = " ".join(piece for piece in pieces if not set(fold(piece).split()) <= named)
    rating, word, _ = _value(context, left)
    if rating is None and word is None:
        return text, [], None
    hits = {hit for _, _, hit in sides}
    side = "both" if len(hits) > 1 else hits.pop() if hits else None
    return left, list(dict.fromkeys(hit for _, _, hit in spots)), side


def _report(
    answer: Answer, rating: float | None, word: str | None, site: str, side: Any, moment: Any, kind: Any, origin: Any,
    evidence: str, place: Place,
) -> PainRow:  # fmt: skip
    """A report by its parts; side, moment, kind and origin are words that a vocabulary gave."""
    return PainRow(
        answer.athlete, answer.day, answer.stamp, rating, word, site, side, moment, kind, origin, evidence, place
    )


def _noted(answer: Answer, one: NotePain, moment: str, origin: str, place: Place) -> PainRow:
    """A report that free text held."""
    return _report(answer, one.rating, one.severity, one.site, one.side, moment, one.kind, origin, one.evidence, place)


def _other_scale(heading: str) -> int | None:
    """The end of the scale that a heading names, unless it is 10: "(0-5)" -> 5."""
    match = _SCALE.search(heading)
    top = int(match[1] or match[2]) if match else 10
    return None if top == 10 else top


def _value(context: SheetContext, text: str) -> tuple[float | None, str | None, str]:
    """(rating, severity word, evidence to keep) of a cell."""
    if (rating := parse_rating(text)) is not None:
        return rating.value, None, f'"{text}" read as {format(rating.value, "g")}' if rating.is_range else ""
    if (number := parse_number(text)) is not None:
        return number, None, ""
    word = context.lexicon.severity.exact(text)
    if word is None:
        hits = {hit for _, _, hit in context.lexicon.severity.find(words_of(text))}
        only = len(words_of(text)) <= 3 and not any(letter.isdecimal() for letter in text)
        word = hits.pop() if only and len(hits) == 1 and not _names_site(context, text) else None
    if word == "none":
        return 0.0, None, f'"{text}" read as 0'
    return None, word, text if word else ""


def _names_site(context: SheetContext, text: str) -> bool:
    return any(True for _ in context.lexicon.site.find(words_of(text)))


def _places(
    context: SheetContext, table: Table, row: int, column: Column, rating: float | None, usual_site: str | None
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
        return [(heading.site, side)]
    if (asked := _site_asked(context, table, row, column)) is not None:
        return [(asked, side)]
    site_column = table.first("site")
    cell = context.cell(row, site_column.index) if site_column else None
    if isinstance(cell, str) and site_column is not None:
        if pairs := _sites_in(context, cell, side):
            return pairs
        if nothing_hurts(context, table, row):
            return [(context.settings.season.default_site or "unknown", side)]
        if not context.lexicon.sheet_word(cell, "missing"):
            context.choose("site", cell, None, "not known", context.lexicon.site.nearest(cell))
            return [("other", side)]
    default = context.settings.season.default_site
    if rating == 0 and site_column is not None and (default or usual_site):
        site = default or usual_site or "unknown"
        context.assume(
            f"A rating of 0 without a site was taken to be about the {site}, "
            f"{'as season.toml says' if default else 'the site named most often'}."
        )
        return [(site, side)]
    if default:
        context.assume(f"Pain without a site was taken to be about the {default}, as season.toml says.")
    told = context.legend.pain.site if context.legend.pain and site_column is None else None
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


def _without_slips(context: SheetContext, words: list[str]) -> list[str]:
    """The words with each slip of one letter in the name of a site put right, where no other known word is as near."""
    site, severity = context.lexicon.site, context.lexicon.severity
    near = {word: nearest_word(word, site) for word in words if len(word) >= 5 and word not in severity.known}
    return [near.get(word) or word for word in words]


def _sites_in(context: SheetContext, text: str, side: str) -> list[tuple[str, str]]:
    words = words_of(text)
    spots = list(context.lexicon.site.find(words))
    if not spots:
        words = _without_slips(context, words)
        spots = list(context.lexicon.site.find(words))
        for _, _, hit in spots:
            context.choose("site", text, hit, "assumed")
            context.assume(f'"{text}" was read as {hit}: a word in it is one letter off.')
    if not spots:
        return []
    for _, _, hit in spots:
        context.choose("site", text, hit, "season.toml" if fold(text) in context.lexicon.site.taught else "vocabulary")
    sides = context.lexicon.sides_in(words)
    if len(spots) > 1 and len(sides) > 1:  # "left elbow, right wrist": each side goes to the site that follows it
        return [(hit, next((s for _, end, s in reversed(sides) if end <= start), side)) for start, _, hit in spots]
    hits = {hit for _, _, hit in sides}
    letter = re.search(r"(?<![\w'’])([A-Z])\s*\)?$", text)
    if not hits and letter is not None and (told := side_of_letter(letter[1])) is not None:
        hits = {told}  # "łokieć P"
    plural = any(words[start].endswith("s") and hit in {"elbow", "forearm"} for start, _, hit in spots)
    one = "both" if len(hits) > 1 else hits.pop() if hits else "both" if plural and side == "unknown" else side
    return [(site, one) for site in dict.fromkeys(hit for _, _, hit in spots)]


def usual_site(context: SheetContext, table: Table) -> str | None:
    """The site named most often in a table's site column."""
    column = table.first("site")
    if column is None:
        return None
    counts: dict[str, int] = {}
    for row in table.body:
        cell = context.cell(row, column.index)
        if isinstance(cell, str):
            for _, _, hit in context.lexicon.site.find(words_of(cell)):
                counts[hit] = counts.get(hit, 0) + 1
    return max(counts, key=lambda site: counts[site]) if counts else None


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


def pain_in_notes(context: SheetContext, row: int, column: int, text: str, answer: Answer) -> list[PainRow]:
    """Pain reports found in a remark, unless season.toml switches notes off."""
    if not context.settings.season.notes:
        return []
    otherwise = "unknown" if answer.is_form else "after"
    place = context.place(row, column)
    return [_noted(answer, one, one.moment or otherwise, "note", place) for one in pain_in_note(text, context.lexicon)]
