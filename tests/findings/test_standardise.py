"""Standardised risks against predictions made one by one, and standard errors against numerical differentiation."""

import math

import numpy as np
import pytest

from preflare.findings.contrasts import FAMILY
from preflare.findings.effects import contrast_risks, effect, risk_ratio
from preflare.findings.evidence import Graded
from preflare.findings.fitting import Fitted
from preflare.models.standardise import (
    delta_se,
    risk_interval,
    standardised_risk,
    t_interval,
    t_p_value,
)

CONTRAST = {contrast.id: contrast for contrast in FAMILY}


def _by_hand(fitted: Fitted, name: str, row: int, value: float) -> float:
    """Log-odds of an event for one session with one exposure changed, written out term by term."""
    design = fitted.design
    athlete = design.rows.group[row]
    eta = sum(coefficient * value for coefficient, value in zip(fitted.fit.coefficients, design.X[row], strict=True))
    eta += float(design.Z[row] @ fitted.fit.modes[athlete])
    was = design.X[row, design.column(f"within {name}")] + design.column_mean[design.column(f"within {name}")]
    moved = (value - design.centre[name][athlete]) - was
    slope = fitted.fit.coefficients[design.column(f"within {name}")]
    slope += fitted.fit.modes[athlete, 1 + design.slopes.index(name)] / design.scale[name]
    return eta + slope * moved - fitted.fit.thresholds[fitted.threshold]


def test_intensity_against_session_by_session_predictions(plant_graded: Graded) -> None:
    fitted = plant_graded.fits.main.primary
    rows = plant_graded.rows
    own = rows.frame["intensity"].groupby(rows.group).transform("mean").to_numpy()
    sides = []
    for points in (-5, 5):
        chances = [
            1 / (1 + math.exp(-_by_hand(fitted, "intensity", i, (own[i] + points) / 10))) for i in range(len(own))
        ]
        sides.append(100 * np.mean(chances))
    shown = effect(fitted, CONTRAST["intensity"], 24)
    assert (shown.risk_from.value, shown.risk_to.value) == pytest.approx(sides, rel=1e-9)
    assert shown.difference.value == pytest.approx(sides[1] - sides[0], rel=1e-9)


def test_narrow_grip_is_compared_only_where_a_grip_applies(plant_graded: Graded) -> None:
    fitted, rows = plant_graded.fits.main.primary, plant_graded.rows
    applies = np.flatnonzero(rows.applies["narrow"])
    wide = fitted.fit.coefficients[fitted.design.column("within wide")]
    chances = []
    for i in applies:
        athlete = rows.group[i]
        slope = wide + fitted.fit.modes[athlete, 1 + fitted.design.slopes.index("wide")] / fitted.design.scale["wide"]
        without_wide = -slope * rows.values["wide"][i]
        chances.append(1 / (1 + math.exp(-(_by_hand(fitted, "narrow", i, 0.0) + without_wide))))
    assert effect(fitted, CONTRAST["narrow"], 9).risk_from.value == pytest.approx(100 * np.mean(chances), rel=1e-9)


def test_a_bars_two_levels_stand_at_medium_grip_low_position_and_no_other_bar(plant_graded: Graded) -> None:
    fitted = plant_graded.fits.main.primary
    risks = contrast_risks(fitted, CONTRAST["safety"])
    other = contrast_risks(fitted, CONTRAST["cambered"])
    assert risks.risk_from == pytest.approx(other.risk_from, rel=1e-12)


@pytest.mark.parametrize("name", ["intensity", "safety", "narrow", "sets"])
def test_delta_method_gradients_against_numerical_differentiation(plant_graded: Graded, name: str) -> None:
    fitted = plant_graded.fits.models(name).primary
    risks = contrast_risks(fitted, CONTRAST[name])

    class Moved:
        """The fit with one parameter moved."""

        def __init__(self, j: int, step: float) -> None:
            thresholds, coefficients = fitted.fit.thresholds.copy(), fitted.fit.coefficients.copy()
            if j < fitted.n_thresholds:
                thresholds[j] += step
            else:
                coefficients[j - fitted.n_thresholds] += step
            self.thresholds, self.coefficients = thresholds, coefficients
            self.modes, self.covariance = fitted.fit.modes, fitted.fit.covariance

    def difference(j: int, step: float) -> float:
        moved = Fitted(fitted.design, Moved(j, step), fitted.n_thresholds, fitted.threshold, fitted.codes)
        return contrast_risks(moved, CONTRAST[name]).difference

    numerical = [(difference(j, 1e-5) - difference(j, -1e-5)) / 2e-5 for j in range(len(fitted.parameters))]
    analytic = risks.gradient_to - risks.gradient_from
    assert analytic == pytest.approx(np.array(numerical), abs=1e-8)
    assert risks.se_difference == pytest.approx(
        math.sqrt(np.array(numerical) @ fitted.fit.covariance @ np.array(numerical)), rel=1e-5
    )


def test_one_threshold_by_hand() -> None:
    # Two sessions, log-odds 0.5 x - theta with theta = 1: expit(-0.5) and expit(0).
    risk, gradient = standardised_risk(np.array([1.0, 0.5]), 1, 0, np.array([[1.0], [2.0]]), np.zeros(2))
    low, half = 1 / (1 + math.exp(0.5)), 0.5
    assert risk == pytest.approx((low + half) / 2)
    assert gradient == pytest.approx([-(low * (1 - low) + 0.25) / 2, (low * (1 - low) * 1 + 0.25 * 2) / 2])


def test_odds_to_risk_worked_example() -> None:
    # Risk 8 in 100, odds ratio 1.8: 13.53383 in 100, worked out from the definition.
    before, _ = standardised_risk(np.array([-math.log(0.08 / 0.92), 1.0]), 1, 0, np.zeros((1, 1)), np.zeros(1))
    after, _ = standardised_risk(
        np.array([-math.log(0.08 / 0.92), 1.0]), 1, 0, np.full((1, 1), math.log(1.8)), np.zeros(1)
    )
    assert (100 * before, 100 * after) == pytest.approx((8.0, 13.53383459), abs=1e-7)


def test_a_risks_interval_stays_between_none_and_all() -> None:
    interval = risk_interval(0.02, 0.03, 5)
    assert 0 < interval.low < 0.02 < interval.high < 1


def test_t_interval_and_p_by_the_handbook() -> None:
    # t quantile 2.570582 at 5 degrees of freedom; P(|t| > 2.570582) = 0.05 (handbook tables of Student's t).
    interval = t_interval(1.0, 2.0, 5)
    assert (interval.low, interval.high) == pytest.approx((1 - 5.141163, 1 + 5.141163), abs=1e-5)
    assert t_p_value(2.570582, 1.0, 5) == pytest.approx(0.05, abs=1e-7)


def test_without_a_standard_error_there_is_no_p() -> None:
    assert math.isnan(t_p_value(1.0, math.nan, 5))
    assert math.isnan(t_p_value(1.0, 0.0, 5))
    assert math.isnan(delta_se(np.array([1.0]), np.array([[-1.0]])))


def test_a_risk_ratio_is_that_of_the_two_risks(plant_graded: Graded) -> None:
    fitted = plant_graded.fits.main.primary
    shown = effect(fitted, CONTRAST["safety"], 12)
    ratio = risk_ratio(fitted, CONTRAST["safety"], 11)
    assert ratio.value == pytest.approx(shown.risk_to.value / shown.risk_from.value)
    assert ratio.low < ratio.value < ratio.high
