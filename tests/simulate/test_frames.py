"""The frame of a simulated season knows before a session only what a careful log would."""

from collections import defaultdict

import numpy as np
import pandas as pd
import pytest

from preflare.exposures import MODEL_FRAME
from preflare.simulate.estimated import estimated_intensity, one_rm_estimate
from preflare.simulate.frames import latest, weighted_mean, window_sum, world_frame
from preflare.simulate.worlds import simulate_season


@pytest.fixture(scope="module")
def season():
    return simulate_season("plant", 3, 4)


@pytest.fixture(scope="module")
def frame(season):
    return world_frame(season)


def test_columns_are_those_of_the_model_frame(frame):
    assert set(frame.columns) == {column.name for column in MODEL_FRAME}


def test_one_row_a_session_sorted_by_athlete_and_date(frame, season):
    assert len(frame) == season.trained.sum()
    assert frame[["athlete", "date"]].equals(
        frame[["athlete", "date"]].sort_values(["athlete", "date"], ignore_index=True)
    )
    assert frame["session_id"].is_unique


def test_unreported_session_is_missing_not_zero(frame, season):
    assert frame["rating"].notna().sum() == (season.reported & season.trained).sum()
    assert (frame["rating"].isna() == (frame["n_reports"] == 0)).all()


def test_grip_is_not_written_on_forward_handles(frame):
    forward = frame["bar"] == "safety"
    assert frame.loc[forward, ["grip_width", "bar_position"]].isna().all(axis=None)
    assert frame.loc[~forward, ["grip_width", "bar_position"]].notna().all(axis=None)
    assert (frame["grip_applies"] == ~forward).all()


def test_every_history_column_is_what_a_slow_reader_of_the_log_counts(frame):
    """Every tenth row again, by looking back and ahead through the lifter's own rows one by one."""
    for _, own in frame.groupby("athlete"):
        rows = own.to_dict("records")
        for k in range(0, len(rows), 10):
            expected = _counted_by_hand(rows, k)
            for name, value in expected.items():
                assert rows[k][name] == pytest.approx(value, nan_ok=True), (name, k)


def _counted_by_hand(rows, k):
    now = rows[k]["day"]
    before = [row for row in rows if row["day"] < now]
    rated = [row for row in before if not np.isnan(row["rating"])]
    rated_pre = [row for row in rated if now - row["day"] >= 8]
    after = [row for row in rows if 1 <= row["day"] - now <= 7]
    last_day = 7 * 39 + 4
    return {
        "last_rating": rated[-1]["rating"] if rated else np.nan,
        "last_rating_age": now - rated[-1]["day"] if rated else np.nan,
        "second_last_rating": rated[-2]["rating"] if len(rated) > 1 else np.nan,
        "recent_rating": _faded_mean([(now - row["day"], row["rating"]) for row in rated], 10),
        "any_event_7d": float(any(row["rating"] >= 4 and now - row["day"] <= 7 for row in rated)),
        "last_rating_pre": rated_pre[-1]["rating"] if rated_pre else np.nan,
        "second_last_rating_pre": rated_pre[-2]["rating"] if len(rated_pre) > 1 else np.nan,
        "recent_rating_pre": _faded_mean([(now - row["day"], row["rating"]) for row in rated_pre], 10),
        "any_event_8_14d": float(any(row["rating"] >= 4 and 8 <= now - row["day"] <= 14 for row in rated)),
        "sets_7d": sum(row["session_sets"] for row in before if now - row["day"] <= 7) if now >= 7 else np.nan,
        "older_sets": _faded_mean([(now - r["day"], r["session_sets"]) for r in before if now - r["day"] >= 8], 7),
        "past_intensity": _faded_mean([(now - row["day"], row["intensity"]) for row in before], 7),
        "past_safety": _faded_mean([(now - row["day"], row["bar"] == "safety") for row in before], 7),
        "past_narrow": _faded_mean(
            [(now - row["day"], row["grip_width"] == "narrow") for row in before if pd.notna(row["grip_width"])], 7
        ),
        "lead_sets": sum(row["session_sets"] for row in after) if now + 7 <= last_day else np.nan,
        "lead_cambered": np.mean([row["bar"] == "cambered" for row in after]) if after else np.nan,
    }


def _faded_mean(pairs, half_life):
    weights = [0.5 ** (age / half_life) for age, _ in pairs]
    return sum(w * value for w, (_, value) in zip(weights, pairs, strict=True)) / sum(weights) if pairs else np.nan


def test_weighted_mean_by_hand():
    # Two earlier values, 7 and 14 days old, half-life 7 days: weights 1/2 and 1/4, so (8/2 + 2/4) / (3/4) = 6.
    days = np.array([0.0, 7.0, 14.0])
    back = days[:, None] - days[None, :]
    assert weighted_mean(np.array([2.0, 8.0, 5.0]), back, back > 0, 7.0)[2] == pytest.approx(6.0)
    assert np.isnan(weighted_mean(np.array([2.0, 8.0, 5.0]), back, back > 0, 7.0)[0])


def test_window_sum_is_zero_without_sessions_and_missing_when_unlogged():
    window = np.array([[False, False], [True, False]])
    assert np.array_equal(window_sum(np.array([4.0, 9.0]), window, np.array([True, True])), [0.0, 4.0])
    assert np.isnan(window_sum(np.array([4.0, 9.0]), window, np.array([False, True]))[0])


def test_latest_skips_what_was_not_reported():
    values = np.array([3.0, np.nan, 1.0])
    counts = np.array([[False] * 3, [True, False, False], [True, True, False]])
    assert np.array_equal(latest(values, counts)[0], [np.nan, 3.0, 3.0], equal_nan=True)
    assert np.isnan(latest(values, counts, back=2)[0]).all()


def test_errors_of_the_1rm_reach_the_log_but_not_the_arm():
    season = simulate_season("me", 6, 2)
    ratio = (season.intensity_logged / season.intensity)[season.trained]
    assert 0.03 < ratio.std() < 0.07
    known = world_frame(season)["intensity"].to_numpy()
    assert np.allclose(known, np.concatenate([season.intensity_logged[i, season.trained[i]] for i in range(6)]))


def test_intensity_estimated_from_loads_comes_near_the_planted_one():
    season = simulate_season("estimated", 12, 2)
    found, planted = estimated_intensity(season)[season.trained], season.intensity[season.trained]
    known = ~np.isnan(found)
    assert known.mean() > 0.85
    # Loads are rounded to 2.5 kg, efforts to half a point, and a median of 42 days lags a rising 1RM a little.
    assert 0 < np.mean((found - planted)[known]) < 1.5
    assert np.std((found - planted)[known]) < 2.0
    assert np.array_equal(world_frame(season)["intensity"], found, equal_nan=True)


def test_a_bar_without_history_borrows_the_straight_bars_estimate():
    bests = defaultdict(list, {(0, "straight"): [(10, 100.0), (20, 110.0), (30, 120.0)]})
    none = defaultdict(list)
    # Median of the last 42 days; on day 60 only day 20 and 30 are left, on day 80 nothing.
    assert one_rm_estimate(0, "straight", 40, bests, none) == 110.0
    assert one_rm_estimate(0, "straight", 60, bests, none) == 115.0
    assert np.isnan(one_rm_estimate(0, "straight", 80, bests, none))
    # 128.8 / 144.7 is the published ratio; three lifters with both bars make the squad's own count instead.
    assert one_rm_estimate(0, "safety", 40, bests, none) == pytest.approx(110 * 128.8 / 144.7)
    own = defaultdict(list, {"safety": [(1, 0.8), (2, 0.9), (3, 0.85)]})
    assert one_rm_estimate(0, "safety", 40, bests, own) == pytest.approx(110 * 0.85)
    assert np.isnan(one_rm_estimate(0, "cambered", 40, bests, none))


def test_curls_are_logged_only_in_worlds_that_have_them():
    without, with_ = world_frame(simulate_season("null", 3, 1)), world_frame(simulate_season("curling", 3, 1))
    assert not without["logs_other_lifts"].any()
    assert without["elbow_flexion_7d"].isna().all()
    assert with_["logs_other_lifts"].all()
    assert with_.loc[with_["day"] >= 7, "elbow_flexion_7d"].notna().all()


def test_dates_start_on_a_monday(frame):
    assert pd.Timestamp(frame["date"].min()).weekday() in (0, 2)
    assert (frame["week"] == frame["day"] // 7).all()
