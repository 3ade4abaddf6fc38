"""What the weeks before a flare-up looked like, against the same athlete's ordinary days.

Description, never graded.
"""

from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.stats import binom

Floats = NDArray[np.float64]
DAYS_BEFORE = 28
FEWEST_SESSIONS = 3


def before_onset(frame: pd.DataFrame, onsets: pd.DataFrame) -> list[dict[str, Any]]:
    """One record for each exposure: median over flare-ups of (28 days before) less (own ordinary days),
    interval.

    Ordinary days: the athlete's sessions that lie in no 28 days before an onset and in no flare-up. A
    flare-up counts where both hold three sessions or more.
    """
    values = _described(frame)
    differences = [row for _, onset in onsets.iterrows() if (row := _one(frame, values, onsets, onset)) is not None]
    table = pd.DataFrame(differences, columns=list(values.columns))
    return [_record(name, table[name].dropna().to_numpy(float), unit) for name, unit in UNITS.items()]


UNITS = {
    "intensity": "points of %1RM",
    "safety bar": "of 100 sessions",
    "cambered bar": "of 100 sessions",
    "narrow grip": "of 100 sessions",
    "wide grip": "of 100 sessions",
    "high bar position": "of 100 sessions",
    "session sets": "working squat sets a session",
    "weekly sets": "working squat sets in 7 days",
}


def _described(frame: pd.DataFrame) -> pd.DataFrame:
    def share(column: str, word: str) -> "pd.Series[float]":
        return (100.0 * frame[column].eq(word).astype(float)).where(frame[column].notna(), np.nan)

    return pd.DataFrame({
        "intensity": frame["intensity"].astype(float),
        "safety bar": share("bar", "safety"),
        "cambered bar": share("bar", "cambered"),
        "narrow grip": share("grip_width", "narrow"),
        "wide grip": share("grip_width", "wide"),
        "high bar position": share("bar_position", "high"),
        "session sets": frame["session_sets"].astype(float),
        "weekly sets": frame["sets_7d"].astype(float),
    })  # fmt: skip


def _one(
    frame: pd.DataFrame, values: pd.DataFrame, onsets: pd.DataFrame, onset: pd.Series
) -> "pd.Series[float] | None":
    """Means of the 28 days before one onset less the athlete's ordinary means; None with too few sessions."""
    own = frame["athlete"].eq(onset["athlete"])
    before = own & frame["date"].between(
        onset["onset"] - pd.Timedelta(days=DAYS_BEFORE), onset["onset"] - pd.Timedelta(days=1)
    )
    ordinary = own.copy()
    for _, other in onsets[onsets["athlete"].eq(onset["athlete"])].iterrows():
        end = other["end"] if pd.notna(other["end"]) else frame["date"].max()
        start = other["onset"] - pd.Timedelta(days=DAYS_BEFORE)
        ordinary &= ~frame["date"].between(start, end)
    if before.sum() < FEWEST_SESSIONS or ordinary.sum() < FEWEST_SESSIONS:
        return None
    return values[before].mean() - values[ordinary].mean()


def _record(name: str, differences: Floats, unit: str) -> dict[str, Any]:
    low, high = median_interval(differences)
    return {
        "exposure": name,
        "unit": unit,
        "days": DAYS_BEFORE,
        "flare_ups": len(differences),
        "difference": float(np.median(differences)) if len(differences) else None,
        "low": low,
        "high": high,
    }


def median_interval(values: Floats, level: float = 0.95) -> tuple[float | None, float | None]:
    """Distribution-free interval of a median by order statistics; none where too few values allow that level.

    Source: the sign test inverted, e.g. Conover WJ. Practical Nonparametric Statistics, 3rd ed. (from
    memory).
    """
    n = len(values)
    rank = int(binom.ppf((1 - level) / 2, n, 0.5)) if n else 0
    while rank > 0 and binom.cdf(rank - 1, n, 0.5) > (1 - level) / 2:
        rank -= 1
    if rank < 1:
        return None, None
    ordered = np.sort(values)
    return float(ordered[rank - 1]), float(ordered[n - rank])
