"""Flare-ups from a series of daily ratings: onset, end, peak.

A working definition of our own, fixed in season.toml.

A flare-up day has a rating at least `rise` above the athlete's own baseline and at least `at_least`; baseline
is the median of the last `baseline_days` reported days outside a flare-up (at least 5). It is over after
`over_after` reported days in a row below; a new rise before that belongs to the same flare-up.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

import numpy as np
import pandas as pd

from preflare.settings import FlareUp

FEWEST_BASELINE_DAYS = 5


@dataclass(frozen=True)
class RatedDay:
    """One reported day. is_high: a flare-up day by its rating; None while the baseline is not known yet.

    number: the flare-up that the day belongs to, from 1, or None. is_last: the day on which that flare-up is
    over.
    """

    rating: float
    is_high: bool | None
    number: int | None
    is_last: bool


def rated_days(ratings: Sequence[float], rule: FlareUp, rise: int | None = None) -> list[RatedDay]:
    """One athlete's reported days in order, each with its place in a flare-up. ratings: the day's highest."""
    rise = rule.rise if rise is None else rise
    usual: list[float] = []
    days: list[RatedDay] = []
    number, inside, below = 0, False, 0
    for rating in ratings:
        base = median(usual[-rule.baseline_days :]) if len(usual) >= FEWEST_BASELINE_DAYS else None
        high = None if base is None else rating >= max(base + rise, rule.at_least)
        if high and not inside:
            number, inside = number + 1, True
        elif not inside:
            usual.append(rating)
        below = 0 if high or not inside else below + 1
        over = inside and below >= rule.over_after
        days.append(RatedDay(rating, high, number if inside else None, over))
        inside = inside and not over
    return days


def squad_flare_ups(frame: pd.DataFrame, rule: FlareUp, rise: int | None = None) -> pd.DataFrame:
    """Flare-ups of every athlete from the model frame's ratings: athlete, number, onset, end, peak,
    is_over."""
    records = []
    for athlete, daily in daily_ratings(frame):
        days = rated_days(daily.tolist(), rule, rise)
        for number in sorted({day.number for day in days if day.number is not None}):
            inside = [i for i, day in enumerate(days) if day.number == number]
            over = days[inside[-1]].is_last
            end = daily.index[inside[-1]] if over else pd.NaT
            peak = max(days[i].rating for i in inside)
            records.append((athlete, number, daily.index[inside[0]], end, peak, over))
    made = pd.DataFrame(records, columns=["athlete", "number", "onset", "end", "peak", "is_over"])
    made["onset"], made["end"] = pd.to_datetime(made["onset"]), pd.to_datetime(made["end"])
    return made.astype({"peak": np.float64})


def daily_ratings(frame: pd.DataFrame) -> list[tuple[str, "pd.Series[float]"]]:
    """Each athlete's highest rating of each reported day, by date."""
    reported = frame[frame["rating"].notna()]
    return [(str(name), own.groupby("date")["rating"].max()) for name, own in reported.groupby("athlete", sort=True)]


def flare_up_sessions(frame: pd.DataFrame, rule: FlareUp, rise: int) -> "pd.Series[float]":
    """By the frame's index: 1 where the session's day is a flare-up day, 0 where not, NaN unreported or no
    baseline."""
    made = pd.Series(np.nan, index=frame.index)
    for _, own in frame[frame["rating"].notna()].groupby("athlete"):
        daily = own.groupby("date")["rating"].max()
        flags = [day.is_high for day in rated_days(daily.tolist(), rule, rise)]
        known = pd.Series([np.nan if flag is None else float(flag) for flag in flags], index=daily.index)
        made[own.index] = own["date"].map(known)
    return made
