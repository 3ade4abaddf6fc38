"""How much pain there was: weekly shares, rates, sites, each with an interval. Counts only, no model.

Incidence, prevalence and burden in the sense of Bahr R et al. Br J Sports Med 2020;54:372-389 (from memory). What the
store knows (every reported day, training hours) comes in as views; without them the frame's sessions speak alone.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from preflare.findings.intervals import poisson_rate, wilson
from preflare.findings.words import sentence
from preflare.models.standardise import Interval, t_interval

ENOUGH_DURATIONS = 0.8
"""Training hours are a denominator only where this share of training days has a duration."""


@dataclass(frozen=True)
class Totals:
    """Counts behind the rates. hours: of training, NaN where too few days have a duration."""

    onsets: int
    flare_days: int
    squat_sets: float
    sessions: int
    reported: int
    events: int
    hours: float


def surveillance(
    frame: pd.DataFrame, onsets: pd.DataFrame, views: Mapping[str, pd.DataFrame], event: int
) -> dict[str, Any]:
    """weekly, rates and sites of findings.json."""
    weekly = weekly_pain(frame, views.get("weekly_pain"))
    counted = totals(frame, onsets, event, views.get("surveillance_count"))
    return {"weekly": weekly, "rates": rates(counted, weekly), "sites": sites(views.get("site"))}


def weekly_pain(frame: pd.DataFrame, view: pd.DataFrame | None = None) -> list[dict[str, Any]]:
    """By week (Monday): lifters with a log, with a rating, with any arm pain, the share of these with its interval."""
    counts = _weekly_counts(frame) if view is None else view
    records = []
    for row in counts.to_dict("records"):
        share = wilson(int(row["with_pain"]), int(row["reporting"]))
        records.append(
            {
                "week_start": row["week_start"],
                "athletes": int(row["athletes"]),
                "reporting": int(row["reporting"]),
                "with_pain": int(row["with_pain"]),
                "share": share.value,
                "low": share.low,
                "high": share.high,
            }
        )
    return records


def _weekly_counts(frame: pd.DataFrame) -> pd.DataFrame:
    """Week by week from squat sessions alone: lifters who squatted, with a rating, with a rating of 1 or more."""
    if len(frame) == 0:
        return pd.DataFrame(columns=["week_start", "athletes", "reporting", "with_pain"])
    monday = frame["date"] - pd.to_timedelta(frame["date"].dt.day_of_week, unit="D")
    highest = frame.assign(week_start=monday).groupby(["week_start", "athlete"])["rating"].max()
    by_week = highest.groupby(level="week_start")
    counted = {
        "athletes": by_week.size(),
        "reporting": by_week.count(),
        "with_pain": (highest >= 1).groupby(level="week_start").sum(),
    }
    return pd.DataFrame(counted).reset_index()


def totals(frame: pd.DataFrame, onsets: pd.DataFrame, event: int, view: pd.DataFrame | None = None) -> Totals:
    """The counts behind the rates, summed over seasons; from the store's view where there is one."""
    if view is None or len(view) == 0:
        return Totals(
            onsets=len(onsets),
            flare_days=_flare_days(frame, onsets),
            squat_sets=float(frame["session_sets"].sum()),
            sessions=len(frame),
            reported=int(frame["rating"].notna().sum()),
            events=int((frame["rating"] >= event).sum()),
            hours=float("nan"),
        )
    summed = view.sum(numeric_only=True)
    known = summed["training_days"] > 0 and summed["days_with_duration"] / summed["training_days"] >= ENOUGH_DURATIONS
    return Totals(
        onsets=int(summed["onsets"]),
        flare_days=int(summed["flare_days"]),
        squat_sets=float(summed["squat_sets"]),
        sessions=int(summed["squat_sessions"]),
        reported=int(summed["reported_sessions"]),
        events=int(summed["event_sessions"]),
        hours=float(summed["hours"]) if known else float("nan"),
    )


def rates(counted: Totals, weekly: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Flare-ups and days in them per 1000 sets (and hours where known), weekly share with pain, events, response."""
    if counted.sessions == 0:
        return []
    made = [
        _poisson("flare-ups", counted.onsets, counted.squat_sets, "working squat sets", "flare_ups"),
        _poisson("days in a flare-up", counted.flare_days, counted.squat_sets, "working squat sets", "flare_days"),
    ]
    if np.isfinite(counted.hours):
        made.append(_poisson("flare-ups", counted.onsets, counted.hours, "hours of training", "flare_ups"))
    with_pain = sum(week["with_pain"] for week in weekly)
    reporting = sum(week["reporting"] for week in weekly)
    made.append(
        _rate(
            "lifters with arm pain in a week",
            _mean_share(weekly),
            "of 100 reporting lifters",
            with_pain,
            reporting,
            "weeks",
        )
    )
    made.append(_share("sessions followed by pain", counted.events, counted.reported, "reported squat sessions"))
    made.append(_share("sessions with a rating", counted.reported, counted.sessions, "squat sessions"))
    return made


def _poisson(name: str, events: int, exposure: float, of: str, how: str) -> dict[str, Any]:
    return _rate(name, poisson_rate(events, exposure, 1000), f"per 1000 {of}", events, exposure, how)


def _share(name: str, successes: int, trials: int, of: str) -> dict[str, Any]:
    share = wilson(successes, trials)
    per_100 = Interval(100 * share.value, 100 * share.low, 100 * share.high)
    return _rate(name, per_100, f"of 100 {of}", successes, trials, "sessions")


def _rate(name: str, rate: Interval, unit: str, numerator: float, denominator: float, how: str) -> dict[str, Any]:
    """One rate of findings.json. how: key of the words that say how its interval was made, and what it leaves out."""
    return {
        "name": name,
        "value": rate.value,
        "low": rate.low,
        "high": rate.high,
        "unit": unit,
        "numerator": numerator,
        "denominator": denominator,
        "how": sentence("finding", f"rate_how.{how}"),
    }


def _mean_share(weekly: list[dict[str, Any]]) -> Interval:
    shares = np.array([100 * week["share"] for week in weekly if week["reporting"] > 0], dtype=float)
    if len(shares) < 2:
        return Interval(float(shares.mean()) if len(shares) else np.nan, np.nan, np.nan)
    return t_interval(float(shares.mean()), float(shares.std(ddof=1) / np.sqrt(len(shares))), len(shares) - 1)


def _flare_days(frame: pd.DataFrame, onsets: pd.DataFrame) -> int:
    """Days from each onset up to its end, or to the last logged day where it is not over."""
    if len(onsets) == 0:
        return 0
    end = onsets["end"].fillna(frame["date"].max())
    return int((end - onsets["onset"]).dt.days.sum())


def sites(view: pd.DataFrame | None) -> list[dict[str, Any]]:
    """Reports and lifters by site and side, where the store's view gives them."""
    if view is None:
        return []
    return [
        {"site": row["site"], "side": row["side"], "reports": int(row["reports"]), "athletes": int(row["athletes"])}
        for row in view.to_dict("records")
    ]
