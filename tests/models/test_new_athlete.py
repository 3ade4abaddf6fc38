"""Risks averaged over athletes who could come: scipy's integrals, published prevalences, delta method by simulation."""

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.integrate import quad
from scipy.special import expit
from scipy.stats import norm

from models.open_data import cbpp
from models.small import small
from preflare.models.assemble import solve
from preflare.models.cumulative import cumulative_problem
from preflare.models.logistic import logistic_problem
from preflare.models.new_athlete import (
    _logistic_normal,
    compare_new_athlete,
    new_athlete_risk,
    rows_at,
    simulate_new_athlete,
)
from preflare.models.records import FitError


@pytest.mark.parametrize(("spread", "limit"), [(0.0, 1e-12), (0.5, 1e-10), (2.0, 1e-10), (6.0, 1e-7)])
@pytest.mark.parametrize("mean", [-4.0, -1.0, 0.3])
def test_the_integral_is_that_of_scipy(mean, spread, limit):
    risk, by_mean, by_spread = _logistic_normal(np.array([mean]), np.array([spread]))

    def integral(function):
        return quad(lambda e: function(mean + spread * e, e) * norm.pdf(e), -12, 12, limit=200, epsabs=1e-12)[0]

    assert_allclose(risk[0], integral(lambda eta, e: expit(eta)), atol=limit)
    assert_allclose(by_mean[0], integral(lambda eta, e: expit(eta) * expit(-eta)), atol=10 * limit)
    assert_allclose(by_spread[0], integral(lambda eta, e: e * expit(eta) * expit(-eta)), atol=10 * limit)


def test_prevalence_over_herds_is_the_published_one():
    """cbpp, lme4 by 25 nodes, its estimates integrated by R: 0.2162531, 0.0972766, 0.0863310, 0.0574587."""
    table, y, weights = cbpp()
    problem = logistic_problem(y, table.with_intercept, table.ones, table.group, weights=weights, quadrature=25)
    fit = solve(problem)

    for period, expected in enumerate([0.2162531, 0.0972766, 0.0863310, 0.0574587]):
        X = np.array([[1.0, *(float(period == k) for k in (1, 2, 3))]])
        assert_allclose(new_athlete_risk(problem, fit.parameters, None, X, np.ones((1, 1)))[0], expected, atol=1e-5)


def season(n_athletes=30, structure="correlated"):
    data = small(n_athletes, rows=25, seed=5)
    problem = cumulative_problem(data.y, data.X, data.Z, data.group, random=structure)
    return data, problem, solve(problem)


def test_gradient_is_that_of_the_risk():
    data, problem, fit = season(8)

    _, gradient = new_athlete_risk(problem, fit.parameters, 1, data.X, data.Z)

    step = 1e-5
    for j in range(len(gradient)):
        shift = np.eye(len(gradient))[j] * step
        ahead = new_athlete_risk(problem, fit.parameters + shift, 1, data.X, data.Z)[0]
        behind = new_athlete_risk(problem, fit.parameters - shift, 1, data.X, data.Z)[0]
        assert_allclose(gradient[j], (ahead - behind) / (2 * step), atol=1e-9)


@pytest.mark.parametrize("structure", ["independent", "correlated"])
def test_risk_is_the_mean_over_drawn_athletes(structure):
    """400,000 athletes from N(0, Sigma) in the data's units; four Monte Carlo errors."""
    data, problem, fit = season(structure=structure)
    rng = np.random.default_rng(1)
    X, Z = data.X[:3], data.Z[:3]

    b = rng.multivariate_normal(np.zeros(2), fit.random_covariance, size=400_000)
    drawn = expit(X @ fit.coefficients + b @ Z.T - fit.thresholds[1]).mean(axis=1)

    risk, _ = new_athlete_risk(problem, fit.parameters, 1, X, Z)
    assert abs(risk - drawn.mean()) < 4 * drawn.std() / np.sqrt(len(drawn))


def test_intervals_by_the_delta_method_and_by_simulation_agree():
    data, problem, fit = season(60)
    at_from, at_to = (rows_at(data.X[:40], data.Z[:40], 0, 1, value) for value in (0.0, 1.0))

    risks = compare_new_athlete(problem, fit, 1, at_from, at_to)
    draws = simulate_new_athlete(problem, fit, 1, at_from, at_to, 1500, np.random.default_rng(2))

    # A percentile of 1,500 draws is uncertain by about 0.07 standard errors; four of those.
    for estimate, error, drawn in (
        (risks.risk_from, risks.se_from, draws[:, 0]),
        (risks.risk_to, risks.se_to, draws[:, 1]),
        (risks.difference, risks.se_difference, draws[:, 1] - draws[:, 0]),
    ):
        limits = np.percentile(drawn, [2.5, 97.5])
        assert_allclose((limits - [estimate - 1.96 * error, estimate + 1.96 * error]) / error, 0.0, atol=0.28)


def test_without_differences_between_athletes_it_is_the_plain_risk():
    data = small(8, rows=20)
    problem = cumulative_problem(data.y, data.X, np.zeros((len(data.y), 0)), data.group)
    fit = solve(problem)

    risk, _ = new_athlete_risk(problem, fit.parameters, 0, data.X, np.zeros((len(data.y), 0)))

    assert_allclose(risk, expit(data.X @ fit.coefficients - fit.thresholds[0]).mean(), rtol=1e-12)


def test_a_new_athlete_is_less_extreme_than_the_typical_one():
    """Averaging a rare event over athletes raises it: 0.198 at a typical herd, 0.216 over herds (cbpp, above)."""
    _, problem, fit = season()
    rare = np.full((1, 2), 0.0), np.array([[1.0, 0.0]])

    risk, _ = new_athlete_risk(problem, fit.parameters, 1, *rare)

    typical = expit(-fit.thresholds[1])
    assert typical < risk < 0.5 or 0.5 < risk < typical


def test_a_separated_bar_has_no_contrast():
    data = small(14, rows=25, seed=5)
    bar = (np.arange(len(data.y)) % 9 == 0).astype(float)
    problem = logistic_problem(
        np.where(bar == 1, 1, data.flare), np.column_stack([np.ones(len(bar)), bar]), data.Z[:, :1], data.group,
        names=["intercept", "cambered"],
    )  # fmt: skip
    rows = np.column_stack([np.ones(len(bar)), bar]), data.Z[:, :1]

    with pytest.raises(FitError, match="no finite estimate for cambered"):
        compare_new_athlete(problem, solve(problem), None, rows, rows)
