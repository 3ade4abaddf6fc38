"""Was the bar chosen because it hurt? Pain in the two weeks before each bar was used, raw and adjusted
difference."""

from typing import Any

import numpy as np
import pandas as pd

from preflare.findings.raw import clustered_slope
from preflare.models.rows import ModelRows
from preflare.models.standardise import Interval, t_interval

DAYS_BEFORE = 14
BARS = ("straight", "safety", "cambered", "other")


def bar_choice(
    frame: pd.DataFrame, rows: ModelRows, findings: list[dict[str, Any]], event: int
) -> list[dict[str, Any]]:
    """One record for each bar that was used, straight first.

    Mean prior rating over all its sessions, interval clustered by athlete; raw difference over the sessions that the
    adjusted one rests on, so that the two differ by adjustment alone.
    """
    if len(frame) == 0:
        return []
    prior = prior_pain(frame)
    compared = rows.frame if rows.reported.any() else frame
    adjusted = {finding["id"]: finding["effect"] for finding in findings}
    records = []
    for bar in BARS:
        used = frame["bar"].eq(bar)
        if not used.any():
            continue
        before = clustered_mean(prior[used], frame.loc[used, "athlete"])
        raw = _raw(compared, bar, event)
        effect = adjusted.get(bar, {})
        records.append({
            "bar": bar,
            "sessions": int(used.sum()),
            "reported": int(frame.loc[used, "rating"].notna().sum()),
            "prior_pain_mean": before.value,
            "prior_pain_low": before.low,
            "prior_pain_high": before.high,
            "raw_per_100": raw.value,
            "raw_low": raw.low,
            "raw_high": raw.high,
            "per_100": effect.get("per_100"),
            "low": effect.get("low"),
            "high": effect.get("high"),
        })  # fmt: skip
    return records


def prior_pain(frame: pd.DataFrame) -> pd.Series:
    """Mean rating of the same athlete in the 14 days before each session; NaN without one. Same index."""
    result = pd.Series(np.nan, index=frame.index)
    for _, own in frame.groupby("athlete"):
        day = own["date"].to_numpy("datetime64[D]").astype(int)
        rating = own["rating"].to_numpy(float)
        earlier = (day[None, :] < day[:, None]) & (day[None, :] >= day[:, None] - DAYS_BEFORE) & ~np.isnan(rating)
        n = earlier.sum(axis=1)
        total = (earlier * np.nan_to_num(rating)).sum(axis=1)
        result.loc[own.index] = np.where(n > 0, total / np.maximum(n, 1), np.nan)
    return result


def clustered_mean(values: pd.Series, cluster: pd.Series) -> Interval:
    """Mean with a t interval whose variance is clustered by athlete; NaN limits with one athlete."""
    known = values.notna()
    y, codes = values[known].to_numpy(float), pd.factorize(cluster[known])[0]
    if len(y) == 0:
        return Interval(np.nan, np.nan, np.nan)
    clusters = int(codes.max()) + 1
    if clusters < 2:
        return Interval(float(y.mean()), np.nan, np.nan)
    scores = np.bincount(codes, weights=y - y.mean())
    se = float(np.sqrt((scores**2).sum() * clusters / (clusters - 1)) / len(y))
    return t_interval(float(y.mean()), se, clusters - 1)


def _raw(frame: pd.DataFrame, bar: str, event: int) -> Interval:
    """Share of events on this bar less that on the straight bar, per 100 reported sessions of the whole
    frame."""
    used = frame[frame["rating"].notna() & frame["bar"].isin([bar, "straight"])]
    if bar == "straight" or len(used) == 0:
        return Interval(np.nan, np.nan, np.nan)
    x = used["bar"].eq(bar).to_numpy(float)
    return clustered_slope(x, 100.0 * (used["rating"].to_numpy(float) >= event), pd.factorize(used["athlete"])[0])
