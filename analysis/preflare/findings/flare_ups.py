"""Flare-ups from a series of daily ratings: onset, end, peak.

design.md section 6, our own working definition.

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
class Flare:
    """One flare-up. onset, end: days as given (end None while it is not over). peak: highest rating in it."""

    onset: pd.Timestamp
    end: pd.Timestamp | None
    peak: float


def flare_ups(
    days: Sequence[pd.Timestamp], ratings: Sequence[float], rule: FlareUp, rise: int | None = None
) -> list[Flare]:
    """The flare-ups of one athlete. days: reported days in order, one rating each (the day's highest)."""
    rise = rule.rise if rise is None else rise
    usual: list[float] = []
    flares: list[Flare] = []
    inside, below = False, 0
    for day, rating in zip(days, ratings, strict=True):
        base = median(usual[-rule.baseline_days :]) if len(usual) >= FEWEST_BASELINE_DAYS else None
        high = base is not None and rating >= base + rise and rating >= rule.at_least
        if inside:
            below = 0 if high else below + 1
            flares[-1] = Flare(flares[-1].onset, None, max(flares[-1].peak, rating))
            if below >= rule.over_after:
                flares[-1] = Flare(flares[-1].onset, day, flares[-1].peak)
                inside = False
        elif high:
            flares.append(Flare(day, None, rating))
            inside, below = True, 0
        else:
            usual.append(rating)
    return flares


def squad_flare_ups(frame: pd.DataFrame, rule: FlareUp, rise: int | None = None) -> pd.DataFrame:
    """Flare-ups of every athlete from the model frame's ratings: athlete, number, onset, end, peak,
    is_over."""
    reported = frame[frame["rating"].notna()]
    records = []
    for athlete, own in reported.groupby("athlete", sort=True):
        daily = own.groupby("date")["rating"].max()
        for number, flare in enumerate(flare_ups(list(daily.index), daily.tolist(), rule, rise), start=1):
            records.append((athlete, number, flare.onset, flare.end, flare.peak, flare.end is not None))
    columns = ["athlete", "number", "onset", "end", "peak", "is_over"]
    made = pd.DataFrame(records, columns=columns)
    made["end"] = pd.to_datetime(made["end"])
    made["onset"] = pd.to_datetime(made["onset"])
    return made.astype({"peak": np.float64})
