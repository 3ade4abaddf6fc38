"""Day first or month first: settled for a whole file from all its dates, never cell by cell."""

from datetime import date
from itertools import pairwise

from preflare.reading.dates import Calendar, Order, Written

_ORDERS: tuple[Order, ...] = ("day first", "month first")
_YEARS_BACK = 10  # in which weekdays are looked for
_LEAST_TO_FOLLOW = 4  # open dates
_CLOSE = 14  # days between one session and the next, as a rule; with day and month swapped they lie months apart
_ANY_YEAR = 2024  # a leap year, for dates without one


def decide_order(
    seen: list[Written],
    told: bool | None,
    within: tuple[date | None, date | None] = (None, None),
    is_across: bool = False,
) -> tuple[Order, str]:
    """Day first or month first for one file, from all its dates; the second value says how it was settled.

    within: the season's first and last day. Where no date shows the order, the one that puts every date into the
    season is taken, if the other does not. is_across: days stand across, where no row before or behind tells of a date.
    """
    if told is not None:
        return ("day first" if told else "month first"), "season.toml says so"
    day_first = month_first = 0
    years = {written.year for written in seen if written.year is not None}
    for written in seen:
        if written.first is None or written.second is None:
            continue
        if written.by_dots or written.first > 12:
            day_first += 1
        elif written.second > 12:
            month_first += 1
        elif written.weekday and (written.year or years) and written.first != written.second:
            own = [written.year] if written.year else sorted(years)
            is_day_first = any(_falls_on(year, written.second, written.first, written.weekday) for year in own)
            is_month_first = any(_falls_on(year, written.first, written.second, written.weekday) for year in own)
            day_first += is_day_first and not is_month_first  # 7 January and 1 July may be the same weekday
            month_first += is_month_first and not is_day_first
    if day_first and not month_first:
        return "day first", "its dates show it"
    if month_first and not day_first:
        return "month first", "its dates show it"
    if day_first:
        return "undecided", "its dates contradict each other"
    for fits, how in (
        (
            [o for o in _ORDERS if _all_within(seen, o, within)],
            "only so do all its dates lie in the season of season.toml",
        ),
        ([o for o in _ORDERS if is_across and _among_the_others(seen, o)], "only so do they lie among its other dates"),
        ([o for o in _ORDERS if _on_its_weekdays(seen, o)], "only so do they fall on the weekdays written beside them"),
        ([o for o in _ORDERS if _follows_closely(seen, o)], "only so do they follow one another by days"),
    ):
        if len(fits) == 1:
            return fits[0], how
    return "undecided", "no date in it shows which"


def _among_the_others(seen: list[Written], order: Order) -> bool:
    """Whether every open date lies near one that is not open, of which there must be more."""
    sure = [w for w in seen if w.year is not None and w.month is not None and w.day is not None]
    known = [date(w.year or 0, w.month or 0, w.day or 0) for w in sure]
    open_dates = [w for w in seen if w.first is not None and w.first != w.second]
    if not open_dates or len(known) <= len(open_dates):
        return False
    calendars = [Calendar(order, (year,)) for year in {day.year for day in known}]
    days = [[day for one in calendars if (day := one.resolve(w)) is not None] for w in open_dates]
    return all(any(abs((day - near).days) <= _CLOSE for day in fitting for near in known) for fitting in days)


def _on_its_weekdays(seen: list[Written], order: Order) -> bool:
    """Whether some year puts every open date without a year on the weekday written with it; two dates at least."""
    dated = [w for w in seen if w.first is not None and w.year is None and w.weekday and w.first != w.second]
    days = {(w.second, w.first, w.weekday) if order == "day first" else (w.first, w.second, w.weekday) for w in dated}
    this_year = date.today().year
    return len(days) >= 2 and any(
        all(_falls_on(year, month or 0, day or 0, weekday or 0) for month, day, weekday in days)
        for year in range(this_year - _YEARS_BACK, this_year + 1)
    )


def _follows_closely(seen: list[Written], order: Order) -> bool:
    """Whether open dates, in the order in which they stand, lie within days of one another; four at least."""
    dated = [w for w in seen if w.first is not None]
    pairs = dict.fromkeys((w.year, w.first, w.second) for w in dated)
    calendar = Calendar(order, (_ANY_YEAR,))
    days = [calendar.resolve(Written(year or _ANY_YEAR, first=first, second=second)) for year, first, second in pairs]
    known = [day for day in days if day is not None]
    if len(known) < _LEAST_TO_FOLLOW or len(known) < len(days):
        return False
    steps = sorted(abs((after - before).days) for before, after in pairwise(known))
    return steps[len(steps) // 2] <= _CLOSE


def _all_within(seen: list[Written], order: Order, within: tuple[date | None, date | None]) -> bool:
    first, last = within
    if first is None or last is None:
        return False
    calendar = Calendar(order)
    open_dates = [written for written in seen if written.first is not None and written.year is not None]
    days = [calendar.resolve(written) for written in open_dates]
    return bool(days) and all(day is not None and first <= day <= last for day in days)


def may_be_swapped(seen: list[Written]) -> bool:
    """Whether a spreadsheet of another country may have turned part of a day-first column into true dates.

    It turns 05/03 into 3 May and leaves 13/03 as text: then every true date has a day of at most 12, and every text
    date a first number above 12.
    """
    true_dates = [written for written in seen if written.is_true_date]
    texts = [written for written in seen if written.first is not None and not written.by_dots]
    return (
        len(true_dates) > 1
        and len(texts) > 1
        and all((written.day or 0) <= 12 for written in true_dates)
        and all((written.first or 0) > 12 for written in texts)
    )


def _falls_on(year: int, month: int, day: int, weekday: int) -> bool:
    try:
        return date(year, month, day).isoweekday() == weekday
    except ValueError:
        return False
