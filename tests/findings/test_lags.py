"""Distributed lags: the cross-basis against published software, the daily series by hand, a lag that was planted."""

import numpy as np
import pandas as pd
import pytest

from findings.squat_rows import sessions
from preflare.findings.evidence import Graded
from preflare.findings.lags import LAST_LAG, _difference, daily_sets, doses_before, fit_lags, lag_basis, lag_record
from preflare.models.cross_basis import cross_basis, lagged
from preflare.models.rows import modelling_rows

NAN = float("nan")
# x and its cross-bases over lags 0 to 3 as the R package dlnm 2.4.10 makes them (rows from day 4 on).
DOSES = np.array([0, 2, 1, 4, 3, 0, 5, 2, 6, 1], dtype=float)
LAGS = np.arange(4.0)


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        (4, (7, 1.6666667, 1)),
        (5, (10, 4, 2.8888889)),
        (6, (8, 4.6666667, 3.1111111)),
        (7, (12, 6, 5.3333333)),
        (10, (14, 8.3333333, 6.5555556)),
    ],
)
def test_linear_dose_and_quadratic_lag_as_in_dlnm(row: int, expected: tuple[float, ...]) -> None:
    basis = np.column_stack([np.ones(4), LAGS / 3, (LAGS / 3) ** 2])
    assert cross_basis(lagged(DOSES, 0, 3), basis)[row - 1] == pytest.approx(expected, abs=5e-8)


@pytest.mark.parametrize(("row", "expected"), [(4, (7, 2)), (5, (10, 3)), (6, (8, 5)), (7, (12, 7)), (10, (14, 7))])
def test_linear_dose_and_two_strata_of_lag_as_in_dlnm(row: int, expected: tuple[float, ...]) -> None:
    basis = np.column_stack([np.ones(4), LAGS >= 2])
    assert cross_basis(lagged(DOSES, 0, 3), basis)[row - 1] == pytest.approx(expected)


@pytest.mark.parametrize(
    ("row", "expected"),
    [(4, (2, 0, 0, 0)), (5, (1, 2, 0, 0)), (6, (0, 1, 2, 0)), (7, (3, 0, 1, 2)), (10, (0, 4, 0, 3))],
)
def test_threshold_dose_at_each_lag_as_in_dlnm(row: int, expected: tuple[float, ...]) -> None:
    over_two = np.maximum(DOSES - 2, 0)
    assert cross_basis(lagged(over_two, 0, 3), np.eye(4))[row - 1] == pytest.approx(expected)


def test_the_first_days_have_no_full_window() -> None:
    assert np.isnan(cross_basis(lagged(DOSES, 0, 3), np.eye(4))[:3]).any(axis=1).all()


def test_rest_is_zero_and_a_long_gap_is_missing() -> None:
    own = sessions([{"day": 0, "session_sets": 4.0}, {"day": 3, "session_sets": 5.0}, {"day": 15, "session_sets": 6.0}])
    series = daily_sets(own)
    assert series.iloc[:4].tolist() == [4, 0, 0, 5]
    assert series.iloc[4:15].isna().all()
    assert series.iloc[15] == 6


def test_two_sessions_of_a_day_add_up() -> None:
    own = sessions([{"day": 0, "session_sets": 4.0}, {"day": 0, "session_sets": 3.0}, {"day": 1, "session_sets": 2.0}])
    assert daily_sets(own).tolist() == [7, 2]


def test_doses_count_back_from_the_session_and_leave_its_own_day_out() -> None:
    frame = sessions([{"day": 4 * i, "session_sets": float(i + 1)} for i in range(9)])
    doses = doses_before(frame)
    assert np.isnan(doses[6]).any()
    # Day 32: four days before it 8 sets (day 28), eight days before 7 sets, ... 28 days before 2 sets.
    assert doses[8][[3, 7, 27]].tolist() == [8, 7, 2]
    assert doses[8].sum() == 8 + 7 + 6 + 5 + 4 + 3 + 2


def test_planted_lags_are_found(plant_frame: pd.DataFrame) -> None:
    # Planted: a set adds most to the log-odds on the day after and fades, a curve that the lag basis can draw.
    rng = np.random.default_rng(11)
    basis = lag_basis()
    fading = 0.25 * np.exp(-np.arange(1, 29) / 5)
    planted = basis @ np.linalg.lstsq(basis, fading, rcond=None)[0]
    level = np.nan_to_num(doses_before(plant_frame)) @ planted
    rating = (level - level.mean() + rng.logistic(size=len(plant_frame)) + 2).round().clip(0, 10)
    frame = plant_frame.assign(rating=pd.Series(rating, plant_frame.index).where(plant_frame["rating"].notna()))
    fit = fit_lags(frame, modelling_rows(frame), 4)
    places = list(fit.columns)
    found = basis @ fit.fitted.fit.coefficients[places]
    at = [fit.fitted.n_thresholds + j for j in places]
    error = np.sqrt(np.diag(basis @ fit.fitted.fit.covariance[np.ix_(at, at)] @ basis.T))
    assert (np.abs(found - planted) < 3.5 * error).all()
    assert lag_record(fit)["points"][0]["low"] > 0


def test_one_set_on_every_day_is_the_sum_of_its_days(plant_frame: pd.DataFrame, plant_graded: Graded) -> None:
    fit = fit_lags(plant_frame, plant_graded.rows, 4)
    # Of a thousandth of a set, so that the risk curve is straight.
    each = sum(_difference(fit, 0.001 * day)["per_100"] for day in np.eye(LAST_LAG))
    assert _difference(fit, np.full(LAST_LAG, 0.001))["per_100"] == pytest.approx(each, rel=1e-3)


def test_the_record_says_what_it_is(plant_frame: pd.DataFrame, plant_graded: Graded) -> None:
    record = lag_record(fit_lags(plant_frame, plant_graded.rows, 4))
    assert [point["days_before"] for point in record["points"]] == list(range(1, LAST_LAG + 1))
    assert all(point["low"] < point["per_100"] < point["high"] for point in record["points"])
    assert (record["cumulative"]["sets_a_week"], record["cumulative"]["days"]) == (5, 28)
    assert (record["grade"], record["exploratory"]) == (None, True)


def test_too_few_logged_weeks_give_no_lags(plant_frame: pd.DataFrame) -> None:
    early = plant_frame[plant_frame["week"] < 5]
    assert fit_lags(early, modelling_rows(early), 4) is None
    assert lag_record(None) is None
