"""Draws from a fit and residuals by simulation: silent on the model's own data, loud on data with one fault."""

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.stats import kstest

from models.small import small
from preflare.models.cumulative import fit_cumulative
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic
from preflare.models.outcomes import (
    Rows,
    check_residuals,
    draw_outcomes,
    draw_random_effects,
    quantile_residuals,
    simulated_residuals,
)

DATA = small(n_athletes=40, rows=30, seed=21)
ONES = DATA.Z[:, :1]
ROWS = Rows.of(DATA.X, ONES, DATA.group)


def test_place_among_draws_as_in_the_worked_example():
    """Draws 0 0 1 1 2 3 3 4 5 7: y = 3 lies in [0.5, 0.7], 8 at 1, -1 at 0 (after the DHARMa vignette, R)."""
    draws = np.tile([0, 0, 1, 1, 2, 3, 3, 4, 5, 7], (400, 1))
    rng = np.random.default_rng(1)

    inside = simulated_residuals(draws, np.full(400, 3.0), rng)

    assert inside.min() >= 0.5
    assert inside.max() <= 0.7
    assert kstest(inside, "uniform", args=(0.5, 0.2)).pvalue > 0.01
    assert_allclose(simulated_residuals(draws[:2], np.array([8.0, -1.0]), rng), [1.0, 0.0])


@pytest.mark.parametrize("family", ["cumulative logit", "logistic", "linear"])
def test_residuals_of_the_right_model_raise_no_alarm(family):
    fits = {
        "cumulative logit": lambda: (DATA.y, fit_cumulative(DATA.y, DATA.X, ONES, DATA.group), ROWS),
        "logistic": lambda: (DATA.flare, fit_logistic(DATA.flare, DATA.with_intercept, ONES, DATA.group), None),
        "linear": lambda: (DATA.rating, fit_linear(DATA.rating, DATA.with_intercept, DATA.Z, DATA.group), None),
    }
    y, fit, rows = fits[family]()
    Z = DATA.Z if family == "linear" else ONES
    rows = rows or Rows.of(DATA.with_intercept, Z, DATA.group)

    tests = check_residuals(quantile_residuals(fit, rows, y, np.random.default_rng(2)), DATA.group)

    assert min(tests.uniformity_p, tests.dispersion_p, tests.autocorrelation_p) > 0.01


def test_carry_over_from_day_to_day_is_seen_as_autocorrelation():
    rng = np.random.default_rng(5)
    noise = np.zeros(len(DATA.y))
    for i in range(1, len(noise)):
        noise[i] = (0.7 * noise[i - 1] if DATA.group[i] == DATA.group[i - 1] else 0.0) + rng.normal()
    y = np.digitize(DATA.X[:, 0] + 1.5 * noise, [-1.0, 0.5, 2.0])

    fit = fit_cumulative(y, DATA.X, ONES, DATA.group)
    residuals = quantile_residuals(fit, ROWS, y, rng)

    assert check_residuals(residuals, DATA.group).autocorrelation > 0.2
    assert check_residuals(residuals, DATA.group).autocorrelation_p < 1e-4
    # Athletes' rows in among each other, each athlete's own still in order of time: the same.
    day = np.arange(len(y)) - np.searchsorted(DATA.group, DATA.group)
    by_day = np.argsort(day, kind="stable")
    assert_allclose(
        check_residuals(residuals[by_day], DATA.group[by_day]).autocorrelation,
        check_residuals(residuals, DATA.group).autocorrelation,
    )


def test_ratings_all_drawn_to_the_middle_are_underdispersed():
    rng = np.random.default_rng(6)
    fit = fit_linear(DATA.rating, DATA.with_intercept, ONES, DATA.group)
    rows = Rows.of(DATA.with_intercept, ONES, DATA.group)
    middle = quantile_residuals(fit, rows, DATA.with_intercept @ fit.coefficients + fit.modes[DATA.group, 0], rng)

    tests = check_residuals(middle, DATA.group)

    assert tests.dispersion < 0.1
    assert tests.dispersion_p < 1e-4
    assert tests.uniformity_p < 1e-4


def test_draws_have_the_moments_of_the_model():
    fit = fit_cumulative(DATA.y, DATA.X, DATA.Z, DATA.group, random="correlated")
    rng = np.random.default_rng(7)

    b = draw_random_effects(fit, 20_000, rng)
    again = np.mean([draw_outcomes(fit, Rows.of(DATA.X, DATA.Z, DATA.group), fit.modes, rng) for _ in range(50)])

    assert_allclose(np.cov(b.T), fit.random_covariance, atol=0.06)
    assert_allclose(again, DATA.y.mean(), atol=0.05)
