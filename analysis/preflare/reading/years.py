"""The year of dates that are written without one, for all sheets of a file together.

The dates of a sheet are gone through in their running order, so that New Year is found where December is followed by
January. What is left open then is one number, the year of the first of them; it is told by real dates that stand
beside them, by titles and names, by the weekdays written with them, by the season, by the other files of the import,
and at the very last it is the latest year in which all of them lie in the past, which is said.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

from preflare.reading.dates import Calendar, Order, Written, years_in

OLDEST = 20  # years before today; older logs say their year
LATEST = "they have none, nothing tells it, and it is the latest in which all of them lie in the past"
HALF_A_YEAR = 183  # days: a longer step back than this is New Year
_COMPACT = re.compile(r"(?<!\d)((?:19|20)\d\d)(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])(?!\d)")
_SHORT_SPAN = re.compile(r"(?<![\d./-])(\d\d)\s*[/–-]\s*(\d\d)(?![\d./-])")
_SHORT = re.compile(r"(?<![\w.])['’](\d\d)(?!\d)")


@dataclass(frozen=True, slots=True)
class Hint:
    """A year, or the two of a season over New Year, that a title or name holds."""

    years: tuple[int, ...]
    where: str  # in words, with the text: 'the title "Spring 2026"'


@dataclass(frozen=True, slots=True)
class DatedSheet:
    """What the dates of one sheet say, in running order, and the hints of its name and titles."""

    seen: Sequence[Written]
    hints: Sequence[Hint] = ()


@dataclass(frozen=True, slots=True)
class Told:
    """The years of one sheet. turn: (month, day) from which on a date belongs to the first of two years."""

    years: tuple[int, ...]
    turn: tuple[int, int] = (7, 1)
    start: date | None = None  # of dates over more than a year: each takes the year nearest to the one before
    how: str = ""  # in words; empty where no date lacks its year
    is_assumed: bool = False  # nothing told the year, so the latest was taken


@dataclass(frozen=True, slots=True)
class _Point:
    """One date: its day counted in a common year, how many New Years lie before it, and what is written of it."""

    day: date  # in the leap year 2024
    turns: int
    year: int | None
    weekday: int | None

    def of(self, first: int) -> date:
        """The date when the years begin with `first`; 29 February of another year is the 28th."""
        try:
            return self.day.replace(year=first + self.turns)
        except ValueError:
            return self.day.replace(year=first + self.turns, day=28)


def hints_in(text: str, where: str, today: date) -> list[Hint]:
    """What a title or name says of the year; a year that no log of today can have is none."""
    found = years_in(text)
    if not found and (match := _COMPACT.search(text)):
        found = (int(match[1]),)
    if not found:
        spans = [(2000 + int(a), 2000 + int(b)) for a, b in _SHORT_SPAN.findall(text) if int(b) == int(a) + 1]
        found = spans[0] if spans else tuple(2000 + int(year) for year in _SHORT.findall(text)[:1])
    is_possible = bool(found) and all(today.year - OLDEST <= year <= today.year + 1 for year in found)
    return [Hint(found, f'{where} "{text}"')] if is_possible else []


def lacks_years(sheets: Iterable[DatedSheet]) -> bool:
    """Whether any date stands there without its year."""
    return any(written.year is None and written.week is None for sheet in sheets for written in sheet.seen)


def settle_years(
    sheets: Sequence[DatedSheet],
    order: Order,
    hints: Sequence[Hint],
    season: tuple[date | None, date | None],
    elsewhere: Sequence[date],
    today: date,
) -> list[Told] | None:
    """The years of a file's sheets; None where day and month are open or no year fits.

    hints: of the file's name and folders, the nearest first. elsewhere: the dates of the other files.
    """
    points = _unrolled(sheets, order)
    open_points = [point for one in points for point in one if point.year is None]
    if not open_points:
        return None
    past = [year for year in range(today.year - OLDEST, today.year + 1) if _lies_before(open_points, year, today)]
    left, how = past, ""
    for narrowed, said in _evidence(points, sheets, hints, season, elsewhere, past):
        kept = [year for year in narrowed if year in left]
        if kept and len(kept) < len(left):
            left, how = kept, said
    left, how = _by_weekdays(open_points, left, past, how)
    if not left:
        return None
    first = _chosen(left, points, [*(hint for sheet in sheets for hint in sheet.hints), *hints])
    how, is_assumed = (how, False) if how else (LATEST, True)
    told = [
        _told(own, first, how, is_assumed) if lacks_years([sheet]) else _told(own, first)
        for own, sheet in zip(points, sheets, strict=True)
    ]
    for at, sheet in enumerate(sheets):
        if len(sheets) > 1 and _is_denied(told[at], sheet):  # sheets "2024" and "2025" with the same days of the year
            told[at] = (settle_years([sheet], order, hints, season, elsewhere, today) or [told[at]])[0]
    return told


def _is_denied(told: Told, sheet: DatedSheet) -> bool:
    """Whether a sheet's own name and titles give only other years than those that it got from the whole file."""
    return bool(sheet.hints) and not any(set(hint.years) & set(told.years) for hint in sheet.hints)


def _lies_before(points: Sequence[_Point], first: int, today: date) -> bool:
    """Whether all but a few slips of the pen lie in the past."""
    late = sum(point.of(first) > today for point in points)
    return late <= 0.02 * len(points)


# Running order ----------------------------------------------------------------------------------------------------


def _unrolled(sheets: Sequence[DatedSheet], order: Order) -> list[list[_Point]]:
    """Every sheet's dates with the New Years before them, counted over all sheets: 0 for the first year."""
    calendar = Calendar(order, (2024,))
    points: list[list[_Point]] = []
    for sheet in sheets:
        days = [(calendar.resolve(replace(one, year=2024)), one) for one in sheet.seen if one.week is None]
        known = [(day, written) for day, written in days if day is not None]
        turns = _turns([day for day, _ in known])
        own = [_Point(day, n, one.year, one.weekday) for (day, one), n in zip(known, turns, strict=True)]
        points.append(_beside(own, [point for one in points for point in one]))
    first = min((point.turns for one in points for point in one), default=0)
    return [[replace(point, turns=point.turns - first) for point in one] for one in points]


def _turns(days: Sequence[date]) -> list[int]:
    """How many New Years lie before each date of a series that runs forwards, or backwards with the newest first."""
    steps = [(after - before).days for before, after in pairwise(days)]
    small = [step for step in steps if step and abs(step) <= HALF_A_YEAR]
    runs_on = sum(step > 0 for step in small) >= sum(step < 0 for step in small)
    turns, seen = [0] if days else [], [(days[0], 0)] if days else []
    for day, step in zip(days[1:], steps, strict=True):
        turn = turns[-1]
        if runs_on and step < -HALF_A_YEAR:
            turn += 1
        elif not runs_on and step > HALF_A_YEAR:
            turn -= 1
        elif abs(step) > HALF_A_YEAR:  # a second series begins where the first did
            again = [n for before, n in seen if n != turn and abs((day - before).days) <= 45]
            turn = again[0] if again else turn
        turns.append(turn)
        seen.append((day, turn))
    return turns


def _beside(own: list[_Point], before: list[_Point]) -> list[_Point]:
    """A sheet's dates, shifted by whole years to where they lie nearest to those of the sheets before it."""
    if not own or not before:
        return own
    days = [point.of(2000) for point in before]
    low, high = min(days), max(days)

    def distance(shift: int) -> tuple[int, int]:
        day = own[0].of(2000 + shift)
        return max((low - day).days, (day - high).days, 0), abs(shift)

    last = max(point.turns for point in before)
    shift = min(range(-last - 1, last + 2), key=distance)
    return [replace(point, turns=point.turns + shift) for point in own]


# Evidence ---------------------------------------------------------------------------------------------------------


def _evidence(
    points: Sequence[Sequence[_Point]],
    sheets: Sequence[DatedSheet],
    hints: Sequence[Hint],
    season: tuple[date | None, date | None],
    elsewhere: Sequence[date],
    years: Sequence[int],
) -> Iterable[tuple[list[int], str]]:
    """(first years that fit, how that is said), the strongest evidence first."""
    every = [point for one in points for point in one]
    dated = [point for point in every if point.year is not None]
    if dated:
        fits = {year: sum(point.year == year + point.turns for point in dated) for year in years}
        best = max(fits.values(), default=0)
        yield [year for year in years if fits[year] == best > 0.5 * len(dated)], "other dates of the file show it"
    for own, sheet in zip(points, sheets, strict=True):
        for hint in sheet.hints:
            yield _fitting(hint, own, years), f"so says {hint.where}"
    for hint in hints:
        yield _fitting(hint, every, years), f"so says {hint.where}"
    open_points = [point for point in every if point.year is None]
    first, last = season
    if first is not None or last is not None:
        inside = _within(open_points, years, first or date.min, last or date.max)
        yield inside, "only so do they lie in the season of season.toml"
    if elsewhere:
        around = timedelta(days=60)
        inside = _within(open_points, years, min(elsewhere) - around, max(elsewhere) + around)
        yield inside, "only so do they go with the dates of the other files"


def _fitting(hint: Hint, points: Sequence[_Point], years: Sequence[int]) -> list[int]:
    """The first years that put dates into the year of a hint, and into no other than its two."""
    turns = {point.turns for point in points}
    if len(hint.years) > 1:
        return [year for year in years if {year + turn for turn in turns} <= set(hint.years)]
    return [year for year in years if hint.years[0] in {year + turn for turn in turns}]


def _within(points: Sequence[_Point], years: Sequence[int], first: date, last: date) -> list[int]:
    """The first years for which most dates lie in a period."""
    inside = {year: sum(first <= point.of(year) <= last for point in points) for year in years}
    best = max(inside.values(), default=0)
    return [year for year in years if inside[year] == best] if best > 0.5 * len(points) else []


def _by_weekdays(points: Sequence[_Point], left: list[int], past: Sequence[int], how: str) -> tuple[list[int], str]:
    """The years left that the written weekdays fit. Against a title, only where three or more all fit a year beside
    it: a title is easily left standing from the year before."""
    named = [point for point in points if point.weekday is not None]
    if not named:
        return left, how
    fits = {year: sum(point.of(year).isoweekday() == point.weekday for point in named) / len(named) for year in past}
    kept = [year for year in left if fits[year] >= 0.7]
    if kept:
        said = "the weekdays written beside them fit it"
        return kept, how if len(kept) == len(left) else f"{how}, and {said}" if how else said
    beside = [year for year in past if fits[year] >= 0.9 and any(abs(year - other) == 1 for other in left)]
    if len(named) >= 3 and len(beside) == 1 and max((fits[year] for year in left), default=0.0) < 0.4:
        return beside, f"the weekdays written beside them fit it, though {how or 'other things'} would give another"
    return left, how


def _chosen(left: Sequence[int], points: Sequence[Sequence[_Point]], hints: Sequence[Hint]) -> int:
    """One of the first years left: of a season over New Year by the training year, which turns in July; of a single
    year in a title that in which most dates lie; else the latest."""
    if len(left) == 1:
        return left[0]
    every = [point for one in points for point in one if point.year is None]
    hint = next((hint for hint in hints if any(year in left for year in hint.years)), None)
    if hint is not None and len(hint.years) == 2:
        late = sum(point.day.month >= 7 for point in every)
        return min(left) if 2 * late >= len(every) else max(left)
    if hint is not None:
        return max(left, key=lambda year: (sum(year + point.turns == hint.years[0] for point in every), year))
    return max(left)


def _told(points: Sequence[_Point], first: int, how: str = "", is_assumed: bool = False) -> Told:
    """The years of a sheet's dates, when the file's begin with `first`."""
    turns = sorted({point.turns for point in points}) or [0]
    if len(turns) == 1:
        return Told((first + turns[0],), how=how, is_assumed=is_assumed)
    early = min(point.day for point in points if point.turns == turns[0])
    late = max(point.day for point in points if point.turns == turns[1])
    if len(turns) == 2 and turns[1] == turns[0] + 1 and late < early:
        return Told((first + turns[0], first + turns[1]), (early.month, early.day), None, how, is_assumed)
    return Told(tuple(first + turn for turn in turns), (7, 1), points[0].of(first), how, is_assumed)
