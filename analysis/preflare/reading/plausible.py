"""Loads and dates that cannot be: judged against the rest of the athlete's own work and of the file.

The limits are common practice in checking logs, no published source: a slip of the decimal mark makes a load ten times
too heavy, while nobody doubles what 19 of 20 of their own sets stay under.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import chain, repeat
from statistics import median, quantiles

from preflare.reading.rows import SetRow
from preflare.reading.vocabulary import barbell_lifts

FEW, MANY = 5, 20  # loads of an exercise from which "usual" means something, and from which its top does
TIMES_QUARTILE = 3.0  # above three times the upper quartile of the athlete's own loads
TIMES_TOP = 2.0  # with many sets of a barbell lift: above twice the load that 19 of 20 sets stay under
LEAST_OF_USUAL = 8.0  # an eighth of the median and lighter than a bar: a slip downwards
LIGHTEST_BAR_KG = 15.0
HEAVIEST_KG = 600.0  # heavier than anyone has squatted; leg presses may be
YEARS_OFF = 5  # a date so far from the file's middle is a birthday or a slip


@dataclass(frozen=True, slots=True)
class Usual:
    """What an athlete lifts in an exercise, kg. top: the load that 19 of 20 sets stay under, None with few sets."""

    middle: float
    upper_quartile: float
    top: float | None


def usual_loads(sets: Iterable[SetRow], counted: Iterable[tuple[SetRow, int]] = ()) -> dict[tuple[str, str], Usual]:
    """(athlete, exercise) -> what is usual, where enough sets tell. counted: more sets, with how often each stands."""
    loads: dict[tuple[str, str], list[float]] = defaultdict(list)
    for one, n in chain(zip(sets, repeat(1), strict=False), counted):
        if one.load_kg:
            loads[what_of(one)] += repeat(one.load_kg, n)
    return {what: _usual(values) for what, values in loads.items() if len(values) >= FEW}


def _usual(loads: list[float]) -> Usual:
    top = quantiles(loads, n=20, method="inclusive")[18] if len(loads) >= MANY else None
    return Usual(median(loads), quantiles(loads, n=4)[2], top)


def what_of(one: SetRow) -> tuple[str, str]:
    """Athlete and exercise; an exercise that nobody knows counts by its written name."""
    return one.athlete, one.exercise_written.casefold() if one.exercise == "unknown" else one.exercise


def odd_load(one: SetRow, usual: Usual | None) -> str | None:
    """Why the load of a set cannot be, or None."""
    load = one.load_kg or 0.0
    kg = format(load, ".6g")
    if load < 0:
        return "the load is negative"
    if load > HEAVIEST_KG and one.exercise not in {"leg press", "belt squat"}:
        return f"the load of {kg} kg is more than anyone lifts: a decimal mark may be missing"
    if usual is None:
        return None
    is_barbell = one.exercise in barbell_lifts()
    above_top = is_barbell and usual.top is not None and load > TIMES_TOP * usual.top
    if load > TIMES_QUARTILE * usual.upper_quartile or above_top:
        times = f"{load / usual.middle:.1f} times"
        return f"the load of {kg} kg is {times} what this athlete usually lifts ({format(usual.middle, '.4g')} kg)"
    if is_barbell and 0 < load < LIGHTEST_BAR_KG and load * LEAST_OF_USUAL < usual.middle:
        usually = format(usual.middle, ".4g")
        return f"the load of {kg} kg is lighter than a bar, and this athlete usually lifts {usually} kg"
    return None


def odd_days(days: Mapping[str, Counter[date]]) -> dict[str, set[date]]:
    """File -> the dates that lie years away from its middle. days: file -> its dates, with how often each stands."""
    odd: dict[str, set[date]] = {}
    for file, seen in days.items():
        middle = median(chain.from_iterable(repeat(day.toordinal(), n) for day, n in seen.items()))
        odd[file] = {day for day in seen if abs(day.toordinal() - middle) > YEARS_OFF * 365.25}
    return odd
