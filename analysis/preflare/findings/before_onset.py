"""What the weeks before a flare-up looked like, against the same athlete's ordinary days. Description, never graded."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.stats import binom

from preflare.findings.bar_choice import clustered_mean

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
DAYS_BEFORE = 28
FEWEST_SESSIONS = 3


@dataclass(frozen=True)
class Described:
    """One exposure: frame column, the word whose share is looked at (None for an amount), label and unit."""

    label: str
    column: str
    word: str | None
    unit: str


DESCRIBED = (
    Described("intensity", "intensity", None, "points of %1RM"),
    Described("safety bar", "bar", "safety", "of 100 sessions"),
    Described("cambered bar", "bar", "cambered", "of 100 sessions"),
    Described("narrow grip", "grip_width", "narrow", "of 100 sessions"),
    Described("wide grip", "grip_width", "wide", "of 100 sessions"),
    Described("high bar position", "bar_position", "high", "of 100 sessions"),
    Described("session sets", "session_sets", None, "working squat sets a session"),
    Described("weekly sets", "sets_7d", None, "working squat sets in 7 days"),
)


def before_onset(frame: pd.DataFrame, onsets: pd.DataFrame) -> list[dict[str, Any]]:
    """One record for each exposure: the 28 days before an onset less the athlete's ordinary days.

    A flare-up counts where both hold three sessions or more. Ordinary days are the athlete's sessions that lie in no
    28 days before an onset and in no flare-up. Amounts: median over flare-ups with the sign test's interval. Shares,
    whose median is mostly 0: mean over flare-ups with a t interval clustered by athlete.
    """
    values = [described_values(frame, described) for described in DESCRIBED]
    athletes, rows = [], []
    places = frame.groupby("athlete").indices
    for athlete, own_onsets in onsets.groupby("athlete"):
        own = places.get(athlete, np.array([], dtype=int))
        for before, ordinary in windows(frame["date"].to_numpy()[own], own_onsets):
            if before.sum() >= FEWEST_SESSIONS and ordinary.sum() >= FEWEST_SESSIONS:
                rows.append([_mean(v[own][before]) - _mean(v[own][ordinary]) for v in values])
                athletes.append(athlete)
    table = np.array(rows, dtype=float).reshape(len(rows), len(DESCRIBED))
    cluster = pd.Series(athletes, dtype="str")
    return [_record(described, table[:, j], cluster) for j, described in enumerate(DESCRIBED)]


def described_values(frame: pd.DataFrame, described: Described) -> Floats:
    """An amount as it is, a word as 100 where it is the one and 0 where another; NaN where not written."""
    column = frame[described.column]
    if described.word is None:
        amount: Floats = column.to_numpy(float)
        return amount
    return np.where(column.notna(), 100.0 * column.eq(described.word), np.nan)


def windows(dates: NDArray[np.datetime64], onsets: pd.DataFrame) -> list[tuple[Bools, Bools]]:
    """For each onset of one athlete: which sessions lie in the 28 days before it, and which are ordinary."""
    day = np.timedelta64(1, "D")
    starts = onsets["onset"].to_numpy()
    ends = onsets["end"].to_numpy()
    before = [(dates >= start - DAYS_BEFORE * day) & (dates < start) for start in starts]
    ordinary = np.ones(len(dates), dtype=bool)
    for start, end, own in zip(starts, ends, before, strict=True):
        inside = (dates >= start) & (np.isnat(end) | (dates <= end))
        ordinary &= ~(own | inside)
    return [(own, ordinary) for own in before]


def _mean(values: Floats) -> float:
    known = values[~np.isnan(values)]
    return float(known.mean()) if len(known) else float("nan")


def _record(described: Described, differences: Floats, athletes: pd.Series) -> dict[str, Any]:
    known = ~np.isnan(differences)
    values = differences[known]
    record: dict[str, Any] = {
        "exposure": described.label,
        "unit": described.unit,
        "days": DAYS_BEFORE,
        "flare_ups": len(values),
        "athletes": int(athletes[known].nunique()),
    }
    if described.word is None:
        low, high = median_interval(values)
        middle = float(np.median(values)) if len(values) else None
        return record | {"statistic": "median", "difference": middle, "low": low, "high": high}
    mean = clustered_mean(pd.Series(values), athletes[known].reset_index(drop=True))
    return record | {"statistic": "mean", "difference": mean.value, "low": mean.low, "high": mean.high}


def median_interval(values: Floats, level: float = 0.95) -> tuple[float | None, float | None]:
    """Distribution-free interval of a median by order statistics; none where too few values allow that level.

    Takes the values as independent, which flare-ups of one athlete are not quite. Source: the sign test inverted,
    e.g. Conover WJ. Practical Nonparametric Statistics, 3rd ed. (from memory).
    """
    n = len(values)
    rank = int(binom.ppf((1 - level) / 2, n, 0.5)) if n else 0
    while rank > 0 and binom.cdf(rank - 1, n, 0.5) > (1 - level) / 2:
        rank -= 1
    if rank < 1:
        return None, None
    ordered = np.sort(values)
    return float(ordered[rank - 1]), float(ordered[n - rank])
