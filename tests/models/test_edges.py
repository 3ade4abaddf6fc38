"""Data with one known fault: each has a named outcome in words, never a silent NaN, never a false "converged"."""

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.special import expit

from models.small import small
from preflare.models.cumulative import build_likelihood, fit_cumulative
from preflare.models.inputs import check_inputs
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic
from preflare.models.parameters import Layout
from preflare.models.records import FitError

DATA = small(n_athletes=14, rows=25, seed=5)
ONES = DATA.Z[:, :1]


def test_no_difference_between_athletes_is_singular_and_still_converged():
    """Every athlete has the very same ratings on the very same days."""
    one = small(n_athletes=1, rows=40, seed=2)
    n = 6
    y, X, group = np.tile(one.y, n), np.tile(one.X, (n, 1)), np.repeat(np.arange(n), len(one.y))

    fit = fit_cumulative(y, X, np.ones((len(y), 1)), group, names=["intensity", "safety"])

    assert fit.convergence.singular
    assert fit.convergence.converged
    assert "variance is 0" in fit.convergence.message
    assert_allclose(fit.random_sd, 0.0)
    # Without random effects the same: the data hold no difference.
    alone = fit_cumulative(y, X, np.zeros((len(y), 0)), group)
    assert_allclose(fit.coefficients, alone.coefficients, atol=1e-6)
    assert_allclose(fit.covariance, alone.covariance, rtol=1e-5)


def test_slopes_that_follow_the_intercepts_exactly_are_singular():
    rng = np.random.default_rng(6)
    group = np.repeat(np.arange(20), 30)
    x = rng.normal(size=600)
    b = rng.normal(size=20)[group]
    rating = 1 + b + 0.8 * b * x + rng.normal(size=600)

    fit = fit_linear(rating, np.column_stack([np.ones(600), x]), np.column_stack([np.ones(600), x]), group,
                     random="correlated")  # fmt: skip

    correlation = fit.random_covariance[0, 1] / np.prod(fit.random_sd)
    assert fit.convergence.converged
    assert correlation > 0.97


def test_a_bar_that_always_hurts_is_named():
    bar = (np.arange(len(DATA.flare)) % 9 == 0).astype(float)
    flare = np.where(bar == 1, 1, DATA.flare)
    X = np.column_stack([np.ones(len(bar)), DATA.X[:, 0], bar])

    fit = fit_logistic(flare, X, ONES, DATA.group, names=["intercept", "intensity", "cambered"])

    assert fit.convergence.separated == ("cambered",)
    assert "no finite estimate for cambered" in fit.convergence.message
    assert np.isnan(fit.standard_errors[2])
    assert np.isfinite(fit.standard_errors[:2]).all()
    assert fit.convergence.converged
    without = fit_logistic(
        flare[bar == 0], X[bar == 0, :2], ONES[bar == 0], DATA.group[bar == 0], names=["intercept", "intensity"]
    )
    # In the limit the rows of a separated bar hold nothing about the others: the same fit as without those rows.
    assert_allclose(fit.coefficients[:2], without.coefficients, atol=1e-4)
    assert_allclose(fit.standard_errors[:2], without.standard_errors, rtol=1e-3)


def test_a_bar_that_always_hurts_most_is_named_in_the_ordered_model():
    bar = (np.arange(len(DATA.y)) % 9 == 0).astype(float)
    y = np.where(bar == 1, 2, DATA.y)

    fit = fit_cumulative(y, np.column_stack([DATA.X[:, 0], bar]), ONES, DATA.group, names=["intensity", "cambered"])

    assert fit.convergence.separated == ("cambered",)
    assert fit.convergence.converged
    assert np.isnan(fit.standard_errors[1])


@pytest.mark.parametrize("fit_family", [fit_cumulative, fit_logistic])
def test_a_separated_bar_with_its_own_slope_leaves_the_others_converged(fit_family):
    """A bar in two sessions of two athletes, never followed by pain, with a random slope that nothing then bounds."""
    rng = np.random.default_rng(0)
    group = np.repeat(np.arange(24), 85)
    n = len(group)
    x = rng.normal(size=n)
    bar = np.zeros(n)
    bar[[100, 300]] = 1.0
    latent = 0.5 * x + rng.normal(size=24)[group] + rng.logistic(size=n)
    y = np.where(bar == 1, 0, np.digitize(latent, [2.0] if fit_family is fit_logistic else [0.5, 1.5, 2.5]))
    Z = np.column_stack([np.ones(n), x, bar])
    X = Z if fit_family is fit_logistic else Z[:, 1:]

    fit = fit_family(y, X, Z, group, names=["intercept", "intensity", "cambered"][-X.shape[1] :])

    assert fit.convergence.separated == ("cambered",)
    assert fit.convergence.converged, fit.convergence.message
    assert np.isfinite(fit.standard_errors[:-1]).all()


def test_the_mode_search_does_not_go_in_circles():
    """Three painful sessions on a rare bar, tall in standard units: Newton's whole step goes out and back for ever."""
    n = 4
    inputs = check_inputs(
        np.ones(n), np.zeros((n, 0)), np.full((n, 1), 25.0), [0, 0, 0, 1], None, None, np.full(n, -4.0)
    )
    layout = Layout(0, 0, 1, "independent", fixed_thresholds=(0.0,))
    function = build_likelihood(inputs, layout, inputs.X, inputs.Z, 2, 1)

    function.cost(np.array([1.0]))

    assert function.modes_found
    # The mode solves u = 25 x 3 x F(4 - 25 u) for the first athlete.
    u = function.modes[0][0, 0]
    assert_allclose(u, 75 * expit(4 - 25 * u), rtol=1e-8)


def test_a_strong_effect_without_separation_is_not_called_separated():
    bar = (np.arange(len(DATA.flare)) % 9 == 0).astype(float)
    flare = np.where(bar == 1, 1, DATA.flare)
    flare[np.flatnonzero(bar)[0]] = 0
    X = np.column_stack([np.ones(len(bar)), DATA.X[:, 0], bar])

    fit = fit_logistic(flare, X, ONES, DATA.group)

    assert fit.convergence.separated == ()
    assert fit.convergence.converged
    assert np.isfinite(fit.standard_errors).all()


def refusal(call):
    with pytest.raises(FitError) as caught:
        call()
    return caught.value.reason, str(caught.value)


def test_one_athlete_is_refused_in_words():
    one = np.zeros(len(DATA.y), int)

    reason, words = refusal(lambda: fit_cumulative(DATA.y, DATA.X, ONES, one))

    assert reason == "too few groups"
    assert words == "differences between athletes cannot be estimated from one athlete"


def test_one_athlete_without_random_effects_is_fitted():
    fit = fit_cumulative(DATA.y, DATA.X, np.zeros((len(DATA.y), 0)), np.zeros(len(DATA.y), int))

    assert fit.convergence.converged


@pytest.mark.parametrize(
    ("fit", "reason"),
    [
        (lambda: fit_cumulative(np.ones(len(DATA.y)), DATA.X, ONES, DATA.group), "one category"),
        (lambda: fit_cumulative(DATA.y * 2, DATA.X, ONES, DATA.group), "empty category"),
        (lambda: fit_logistic(np.zeros(len(DATA.y)), DATA.with_intercept, ONES, DATA.group), "one category"),
        (lambda: fit_linear(np.full(len(DATA.y), 3.0), DATA.with_intercept, ONES, DATA.group), "one category"),
        (lambda: fit_cumulative([], np.zeros((0, 2)), np.zeros((0, 1)), []), "no rows"),
        (lambda: fit_cumulative(DATA.y, DATA.X, ONES, DATA.group, weights=np.zeros(len(DATA.y))), "no rows"),
        (lambda: fit_cumulative(DATA.y, DATA.X, ONES, DATA.group, quadrature=0), "wrong shape"),
        (lambda: fit_cumulative(DATA.y, DATA.X, np.ones((len(DATA.y), 3)), DATA.group, quadrature=5), "wrong shape"),
        (lambda: fit_cumulative(DATA.y, DATA.X, ONES * 0, DATA.group), "empty random term"),
        (lambda: fit_cumulative(DATA.y, DATA.X[:5], ONES, DATA.group), "wrong shape"),
        (lambda: fit_cumulative([0, 1, 0, 1], np.eye(4), np.ones((4, 1)), [0, 0, 1, 1]), "too few rows"),
    ],
)
def test_hopeless_rows_are_refused_by_name(fit, reason):
    assert refusal(fit)[0] == reason


def test_a_column_missing_on_every_row_is_named():
    X = DATA.X.copy()
    X[:, 1] = np.nan

    words = refusal(lambda: fit_cumulative(DATA.y, X, ONES, DATA.group, names=["intensity", "safety"]))[1]

    assert words == "column 'safety' is missing on every row"


def test_one_missing_value_is_named_with_its_row():
    y = DATA.y.astype(float)
    y[6] = np.nan

    assert refusal(lambda: fit_cumulative(y, DATA.X, ONES, DATA.group))[1] == (
        "the outcome is missing on 1 rows, the first being row 7"
    )


def test_a_column_that_repeats_others_is_named():
    X = np.column_stack([DATA.X, DATA.X[:, 0] - 2 * DATA.X[:, 1] + 3])

    reason, words = refusal(lambda: fit_cumulative(DATA.y, X, ONES, DATA.group, names=["a", "b", "c"]))

    assert reason == "collinear columns"
    assert "'c'" in words


def test_a_constant_column_is_named():
    X = np.column_stack([DATA.X, np.full(len(DATA.y), 7.0)])

    assert refusal(lambda: fit_cumulative(DATA.y, X, ONES, DATA.group, names=["a", "b", "c"])) == (
        "constant column",
        "column 'c' has the same value on every row; leave it out",
    )


def test_two_rows_an_athlete_are_fitted_or_say_why():
    rng = np.random.default_rng(9)
    group = np.repeat(np.arange(40), 2)
    x = rng.normal(size=80)
    y = np.digitize(0.5 * x + rng.normal(size=40)[group] + rng.logistic(size=80), [0.0, 1.5])

    fit = fit_cumulative(y, x[:, None], np.column_stack([np.ones(80), x]), group)

    assert fit.convergence.converged
    assert np.isfinite(fit.covariance).all()


def test_two_thousand_athletes_with_one_row_each():
    rng = np.random.default_rng(10)
    x = rng.normal(size=2000)
    y = np.digitize(0.5 * x + rng.logistic(size=2000), [0.0, 1.5])

    fit = fit_cumulative(y, x[:, None], np.ones((2000, 1)), np.arange(2000))

    # One row cannot tell an athlete's level from chance: the variance is badly placed, and the fit ends in a named way.
    assert fit.convergence.converged or fit.convergence.message
    assert abs(fit.coefficients[0] - 0.5) < 4 * 0.05 * (1 + fit.random_sd[0])


def test_a_model_without_columns_has_the_thresholds_of_the_margins():
    nothing = np.zeros((len(DATA.y), 0))

    fit = fit_cumulative(DATA.y, nothing, nothing, DATA.group)

    below = np.cumsum(np.bincount(DATA.y))[:-1] / len(DATA.y)
    assert_allclose(fit.thresholds, np.log(below / (1 - below)), atol=1e-7)
    assert fit_cumulative(DATA.y, nothing, ONES, DATA.group).convergence.converged


def test_many_random_terms():
    rng = np.random.default_rng(12)
    group = np.repeat(np.arange(25), 60)
    n = len(group)
    X = rng.normal(size=(n, 9))
    sd = np.array([1.0, 0.6, 0.5, 0.4, 0, 0, 0, 0, 0.5])
    Z = np.column_stack([np.ones(n), X[:, :8]])
    b = rng.normal(size=(25, 9)) * sd
    y = np.digitize(0.3 * X[:, 0] + (Z * b[group]).sum(axis=1) + rng.logistic(size=n), [-1.0, 0.0, 1.0, 2.0])

    fit = fit_cumulative(y, X, Z, group)

    assert fit.convergence.converged
    assert fit.convergence.newton_decrement < 1e-6
    assert (np.abs(fit.random_sd - sd) < 0.35).all()
