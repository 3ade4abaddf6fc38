"""How much pain there was: weekly shares, rates, sites, each with an interval. Counts only, no model."""

from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd

from preflare.findings.intervals import poisson_rate, wilson
from preflare.models.standardise import Interval, t_interval

FLARE_UPS_HANG_TOGETHER = "exact Poisson interval; repeated flare-ups of one lifter make it somewhat too narrow"
DAYS_HANG_TOGETHER = "exact Poisson interval; days of one flare-up hang together, so it is too narrow"
WEEKS = "mean of the weekly shares; t interval over weeks, which hang together"
SESSIONS = "Wilson interval; sessions of one lifter hang together, so it is too narrow"


def surveillance(frame: pd.DataFrame, onsets: pd.DataFrame, views: Mapping[str, pd.DataFrame]) -> dict[str, Any]:
    """weekly, rates and sites of findings.json."""
    weekly = weekly_pain(frame)
    return {"weekly": weekly, "rates": rates(frame, onsets, weekly), "sites": sites(views)}


def weekly_pain(frame: pd.DataFrame) -> list[dict[str, Any]]:
    """By week (Monday): lifters who squatted, lifters with a rating, those with any arm pain, share with
    interval."""
    if len(frame) == 0:
        return []
    monday = frame["date"] - pd.to_timedelta(frame["date"].dt.day_of_week, unit="D")
    records = []
    for week, own in frame.groupby(monday):
        highest = own.groupby("athlete")["rating"].max()
        reporting, painful = int(highest.notna().sum()), int((highest >= 1).sum())
        share = wilson(painful, reporting)
        records.append({
            "week_start": week,
            "athletes": len(highest),
            "reporting": reporting,
            "with_pain": painful,
            "share": share.value,
            "low": share.low,
            "high": share.high,
        })  # fmt: skip
    return records


def rates(frame: pd.DataFrame, onsets: pd.DataFrame, weekly: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Flare-ups per 1000 squat sets, days affected, average weekly share with pain, response rate."""
    if len(frame) == 0:
        return []
    sets = float(frame["session_sets"].sum())
    reported = int(frame["rating"].notna().sum())
    with_pain = sum(week["with_pain"] for week in weekly)
    reporting = sum(week["reporting"] for week in weekly)
    affected = _days_affected(frame, onsets)
    mean_share = _mean_share(weekly)
    flares, response = len(onsets), wilson(reported, len(frame))
    per_sets = "per 1000 working squat sets"
    return [
        _rate("flare-ups", poisson_rate(flares, sets, 1000), per_sets, flares, sets, FLARE_UPS_HANG_TOGETHER),
        _rate(
            "days in a flare-up",
            poisson_rate(affected, sets, 1000),
            per_sets,
            affected,
            sets,
            DAYS_HANG_TOGETHER,
        ),
        _rate(
            "lifters with arm pain in a week",
            mean_share,
            "of 100 reporting lifters",
            with_pain,
            reporting,
            WEEKS,
        ),
        _rate(
            "sessions with a rating",
            _scaled(response, 100),
            "of 100 squat sessions",
            reported,
            len(frame),
            SESSIONS,
        ),
    ]


def _rate(name: str, rate: Interval, unit: str, numerator: float, denominator: float, how: str) -> dict[str, Any]:
    return {"name": name, "value": rate.value, "low": rate.low, "high": rate.high, "unit": unit,
            "numerator": numerator, "denominator": denominator, "how": how}  # fmt: skip


def _scaled(interval: Interval, factor: float) -> Interval:
    return Interval(factor * interval.value, factor * interval.low, factor * interval.high)


def _mean_share(weekly: list[dict[str, Any]]) -> Interval:
    shares = np.array([100 * week["share"] for week in weekly if week["reporting"] > 0], dtype=float)
    if len(shares) < 2:
        return Interval(float(shares.mean()) if len(shares) else np.nan, np.nan, np.nan)
    return t_interval(float(shares.mean()), float(shares.std(ddof=1) / np.sqrt(len(shares))), len(shares) - 1)


def _days_affected(frame: pd.DataFrame, onsets: pd.DataFrame) -> int:
    """Days from each onset to its end, or to the last logged day where it is not over."""
    if len(onsets) == 0:
        return 0
    end = onsets["end"].fillna(frame["date"].max())
    return int((end - onsets["onset"]).dt.days.sum())


def sites(views: Mapping[str, pd.DataFrame]) -> list[dict[str, Any]]:
    """Reports and lifters by site and side, where the store's view gives them."""
    view = views.get("site")
    if view is None:
        return []
    return [
        {
            "site": row["site"],
            "side": row["side"],
            "reports": int(row["reports"]),
            "athletes": int(row["athletes"]),
        }
        for row in view.to_dict("records")
    ]
