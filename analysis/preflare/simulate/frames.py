"""A simulated season as a model frame, without the way through logs and store: what calibration feeds to the findings.

One row per squat session, the columns of `preflare.exposures.MODEL_FRAME`, with the same windows: days d-7 to d-1
before the session of day d, days d+1 to d+7 after it, ratings known once their session is over. Every day of the
season is logged, so a window is unknown only where it reaches beyond the season.
"""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pandas as pd

from preflare.simulate.constants import constants
from preflare.simulate.draws import Bools, Floats
from preflare.simulate.estimated import estimated_intensity
from preflare.simulate.worlds import (
    BARS,
    CAMBERED,
    FIRST_DAY,
    GRIPS,
    HIGH,
    NARROW,
    NOT_APPLICABLE,
    POSITIONS,
    SAFETY,
    WIDE,
    SimulatedSeason,
)

EXPOSURE_HALF_LIFE = 7.0
RATING_HALF_LIFE = 10.0
WEEK = 7


def world_frame(season: SimulatedSeason) -> pd.DataFrame:
    """The model frame of a simulated season, sorted by athlete and date.

    Where the world says so, intensity is not what the world knows but what its loads and efforts let one estimate.
    """
    if season.world.estimated_one_rm:
        season = replace(season, intensity_logged=estimated_intensity(season))
    width = len(str(season.n_athletes))
    frames = [_athlete_frame(season, i, f"Lifter {i + 1:0{width}d}") for i in range(season.n_athletes)]
    frame = pd.concat(frames, ignore_index=True)
    frame.insert(1, "session_id", np.arange(1, len(frame) + 1))
    return frame


def _athlete_frame(season: SimulatedSeason, athlete: int, name: str) -> pd.DataFrame:
    """One lifter's rows."""
    trained = season.trained[athlete]
    day = season.day[trained].astype(np.float64)
    columns: dict[str, object] = {
        "athlete": np.full(len(day), name, dtype=object),
        "date": pd.to_datetime([FIRST_DAY + timedelta(days=int(d)) for d in day]),
        "season": 0,
        "day": season.day[trained],
        "week": np.floor(day / WEEK),
    }
    columns |= _session_columns(season, athlete, trained)
    rating = np.where(season.reported[athlete, trained], season.rating[athlete, trained], np.nan).astype(float)
    days_back = day[:, None] - day[None, :]
    sets = season.sets[athlete, trained]
    columns |= {"rating": rating, "rating_first": rating, "n_reports": (~np.isnan(rating)).astype(int)}
    columns["rating_elsewhere"] = np.full(len(rating), np.nan)
    columns |= _ratings_before(rating, days_back)
    columns |= _ratings_before_window(rating, days_back)
    columns |= {"sets_7d": window_sum(sets, (days_back >= 1) & (days_back <= WEEK), day >= WEEK), "session_sets": sets}
    columns |= {"older_sets": weighted_mean(sets, days_back, days_back > WEEK, EXPOSURE_HALF_LIFE)}
    columns |= _exposures_around(season, athlete, trained, days_back)
    ahead = (days_back <= -1) & (days_back >= -WEEK)
    columns |= {"lead_sets": window_sum(sets, ahead, day + WEEK <= season.day[-1])}
    columns |= _other_lifts(season, athlete, trained, days_back, day)
    return pd.DataFrame(columns)


def _session_columns(season: SimulatedSeason, athlete: int, trained: Bools) -> dict[str, object]:
    """What the session itself was, as a careful log would have it."""
    grip = season.grip[athlete, trained]
    n = len(grip)
    return {
        "intensity": season.intensity_logged[athlete, trained],
        "intensity_source": np.full(n, "own bar", dtype=object),
        "bar": BARS[season.bar[athlete, trained]],
        "grip_width": GRIPS[grip],
        "bar_position": POSITIONS[season.position[athlete, trained]],
        "grip_applies": grip != NOT_APPLICABLE,
        "weeks_to_competition": season.weeks_to_competition[athlete, trained],
        "competition_entered": season.competition_ahead[athlete, trained],
        "is_mixed_bar": np.zeros(n, dtype=bool),
        "is_mixed_grip": np.zeros(n, dtype=bool),
        "one_rm_kg": np.full(n, np.nan),
        "top_load_kg": np.full(n, np.nan),
        "effort_unmarked_share": np.zeros(n),
    }


def weighted_mean(values: Floats, days_back: Floats, counts: Bools, half_life: float) -> Floats:
    """Exponentially weighted mean of earlier values for each session; NaN where there is none.

    values: (n,), NaN where unknown. days_back: (n, n), row's day less column's. counts: (n, n) which columns enter.
    """
    use = counts & ~np.isnan(values)[None, :]
    # Weights are relative to the newest value that enters, so that a long silence cannot make them vanish.
    newest = np.where(use, days_back, np.inf).min(axis=1, keepdims=True)
    age = np.where(use, days_back - np.where(np.isfinite(newest), newest, 0.0), 0.0)
    weights = np.where(use, 0.5 ** (age / half_life), 0.0)
    total = weights.sum(axis=1)
    known = np.where(np.isnan(values), 0.0, values)
    mean: Floats = np.divide(weights @ known, total, out=np.full(len(values), np.nan), where=total > 0)
    return mean


def window_sum(values: Floats, window: Bools, is_logged: Bools) -> Floats:
    """Sum over the window's sessions, 0 when there are none; NaN where the window is not wholly logged."""
    return np.where(is_logged, window @ values, np.nan)


def _window_mean(values: Floats, window: Bools) -> Floats:
    use = (window & ~np.isnan(values)[None, :]).astype(float)
    count = use.sum(axis=1)
    mean: Floats = np.divide(use @ np.nan_to_num(values), count, out=np.full(len(values), np.nan), where=count > 0)
    return mean


def latest(values: Floats, counts: Bools, back: int = 1) -> tuple[Floats, Floats]:
    """The latest known value among the columns that count (back = 2: the one before), and its column; NaN if none."""
    found, column = np.full(len(values), np.nan), np.full(len(values), np.nan)
    for row in range(len(values)):
        known = np.flatnonzero(counts[row] & ~np.isnan(values))
        if len(known) >= back:
            column[row] = known[-back]
            found[row] = values[known[-back]]
    return found, column


def _age(days_back: Floats, column: Floats) -> Floats:
    rows = np.arange(len(column))
    return np.where(np.isnan(column), np.nan, days_back[rows, np.nan_to_num(column).astype(int)])


def _any_event(rating: Floats, window: Bools) -> Floats:
    event = constants()["ratings"]["event"]
    return np.asarray((window & (rating >= event)[None, :]).any(axis=1), dtype=np.float64)


def _ratings_before(rating: Floats, days_back: Floats) -> dict[str, Floats]:
    earlier = days_back > 0
    last, column = latest(rating, earlier)
    return {
        "last_rating": last,
        "last_rating_age": _age(days_back, column),
        "second_last_rating": latest(rating, earlier, back=2)[0],
        "recent_rating": weighted_mean(rating, days_back, earlier, RATING_HALF_LIFE),
        "any_event_7d": _any_event(rating, earlier & (days_back <= WEEK)),
    }


def _ratings_before_window(rating: Floats, days_back: Floats) -> dict[str, Floats]:
    """The same as they stood before the 7 days whose sets are counted."""
    earlier = days_back > WEEK
    last, column = latest(rating, earlier)
    return {
        "last_rating_pre": last,
        "last_rating_pre_age": _age(days_back, column),
        "second_last_rating_pre": latest(rating, earlier, back=2)[0],
        "recent_rating_pre": weighted_mean(rating, days_back, earlier, RATING_HALF_LIFE),
        "any_event_8_14d": _any_event(rating, earlier & (days_back <= 2 * WEEK)),
    }


def _exposures_around(season: SimulatedSeason, athlete: int, trained: Bools, days_back: Floats) -> dict[str, Floats]:
    """How the lifter squatted lately (past_) and in the week after (lead_)."""
    bar, grip, position = (a[athlete, trained] for a in (season.bar, season.grip, season.position))
    held = grip != NOT_APPLICABLE
    values = {
        "intensity": season.intensity_logged[athlete, trained],
        "safety": (bar == SAFETY).astype(float),
        "cambered": (bar == CAMBERED).astype(float),
        "other": np.zeros(len(bar)),
        "narrow": np.where(held, grip == NARROW, np.nan),
        "wide": np.where(held, grip == WIDE, np.nan),
        "high": np.where(held, position == HIGH, np.nan),
    }
    ahead = (days_back <= -1) & (days_back >= -WEEK)
    past = {
        f"past_{name}": weighted_mean(v, days_back, days_back > 0, EXPOSURE_HALF_LIFE) for name, v in values.items()
    }
    lead = {f"lead_{name}": _window_mean(v, ahead) for name, v in values.items() if name != "other"}
    return past | lead


def _other_lifts(
    season: SimulatedSeason, athlete: int, trained: Bools, days_back: Floats, day: Floats
) -> dict[str, Floats | Bools]:
    """Presses, pulls and curls of the 7 days before, where the world has them."""
    window = (days_back >= 1) & (days_back <= WEEK)
    columns: dict[str, Floats | Bools] = {}
    for name in ("pressing", "pulling", "elbow_flexion"):
        sets = getattr(season, name)
        unknown = np.full(len(day), np.nan)
        columns[f"{name}_7d"] = unknown if sets is None else window_sum(sets[athlete, trained], window, day >= WEEK)
    columns["logs_other_lifts"] = np.full(len(day), season.pressing is not None)
    return columns
