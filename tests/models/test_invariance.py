"""The same model in other words: units, shifts, order of rows, labels and reference levels change nothing else."""

import numpy as np
import pytest
from numpy.testing import assert_allclose

from models.small import small
from preflare.models.conditional import fit_conditional
from preflare.models.cumulative import fit_cumulative
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic

DATA = small(n_athletes=14, rows=25, seed=5)


def fit(family, X=None, Z=None, group=None, order=None, random="correlated", **options):
    """The family's fit of the small data with some parts replaced. X without intercept."""
    X, Z = DATA.X if X is None else X, DATA.Z if Z is None else Z
    group = DATA.group if group is None else group
    order = np.arange(len(group)) if order is None else order
    if family == "cumulative logit":
        return fit_cumulative(DATA.y[order], X[order], Z[order], group[order], random=random, **options)
    X = np.column_stack([np.ones(len(X)), X])[order]
    if family == "logistic":
        return fit_logistic(DATA.flare[order], X, Z[order], group[order], random=random, **options)
    return fit_linear(DATA.rating[order], X, Z[order], group[order], random=random, **options)


FAMILIES = pytest.mark.parametrize("family", ["cumulative logit", "logistic", "linear"])


def slopes(fitted):
    """Coefficients less the intercept, and their covariance."""
    return fitted.coefficients[-2:], fitted.covariance[-2:, -2:]


def assert_same_fit(one, other):
    # A covariance is as exact as the difference step of the Hessian allows: about 1e-5 of a variance.
    assert_allclose(one.log_likelihood, other.log_likelihood, atol=1e-7)
    assert_allclose(one.coefficients, other.coefficients, atol=1e-6)
    assert_allclose(one.thresholds, other.thresholds, atol=1e-6)
    assert_allclose(one.covariance, other.covariance, rtol=1e-5, atol=1e-6)
    assert_allclose(one.random_covariance, other.random_covariance, rtol=1e-5, atol=1e-7)


@FAMILIES
def test_column_in_other_units(family):
    units = np.array([1e4, 1.0])

    plain, scaled = fit(family), fit(family, X=DATA.X * units)

    assert_allclose(plain.coefficients[-2:], scaled.coefficients[-2:] * units, rtol=1e-6)
    assert_allclose(slopes(plain)[1], slopes(scaled)[1] * np.outer(units, units), rtol=1e-5)
    # A restricted likelihood is that of contrasts, times |X'X|^(-1/2): in the column's units.
    moved = np.log(1e4) if family == "linear" else 0.0
    assert_allclose(plain.log_likelihood - moved, scaled.log_likelihood, atol=1e-7)


@FAMILIES
@pytest.mark.parametrize("random", ["independent", "correlated"])
def test_every_column_in_other_units(family, random):
    """Columns of X and of the random slope, and a tiny one, at once."""
    units, random_units = np.array([1e4, 1e-4]), np.array([1.0, 1e4])

    plain, scaled = fit(family, random=random), fit(family, X=DATA.X * units, Z=DATA.Z * random_units, random=random)

    assert_allclose(plain.coefficients[-2:], scaled.coefficients[-2:] * units, rtol=1e-6)
    assert_allclose(slopes(plain)[1], slopes(scaled)[1] * np.outer(units, units), rtol=1e-5)
    assert_allclose(plain.random_sd, scaled.random_sd * random_units, rtol=1e-5)
    assert_allclose(plain.log_likelihood, scaled.log_likelihood, atol=1e-7)


def test_linear_outcome_in_other_units():
    """The same density in other units: n - p contrasts for REML, each log(1e4) further out."""
    X = np.column_stack([np.ones(len(DATA.X)), DATA.X])

    plain, scaled = fit("linear"), fit_linear(DATA.rating * 1e4, X, DATA.Z, DATA.group, random="correlated")

    assert_allclose(scaled.coefficients, plain.coefficients * 1e4, rtol=1e-6)
    assert_allclose(scaled.covariance, plain.covariance * 1e8, rtol=1e-5)
    assert_allclose(scaled.random_covariance, plain.random_covariance * 1e8, rtol=1e-5)
    assert_allclose(scaled.residual_sd, plain.residual_sd * 1e4, rtol=1e-6)
    further = (len(DATA.X) - X.shape[1]) * np.log(1e4)
    assert_allclose(scaled.log_likelihood, plain.log_likelihood - further, atol=1e-6)


def test_shifted_linear_outcome_moves_the_intercept_alone():
    X = np.column_stack([np.ones(len(DATA.X)), DATA.X])

    plain, shifted = fit("linear"), fit_linear(DATA.rating + 1e3, X, DATA.Z, DATA.group, random="correlated")

    assert_allclose(shifted.coefficients, plain.coefficients + np.array([1e3, 0.0, 0.0]), rtol=1e-7)
    assert_allclose(shifted.log_likelihood, plain.log_likelihood, atol=1e-6)


@pytest.mark.parametrize("family", ["cumulative logit", "logistic"])
def test_quadrature_is_of_the_same_model_in_other_units(family):
    units = np.array([1e4, 1.0])
    order = np.random.default_rng(7).permutation(len(DATA.y))

    plain = fit(family, quadrature=5)
    scaled = fit(family, X=DATA.X * units, Z=DATA.Z * [1.0, 1e4], order=order, quadrature=5)

    assert_allclose(plain.log_likelihood, scaled.log_likelihood, atol=1e-7)
    assert_allclose(plain.coefficients[-2:], scaled.coefficients[-2:] * units, rtol=1e-6)


@FAMILIES
def test_random_column_in_other_units(family):
    plain, scaled = fit(family), fit(family, Z=DATA.Z * [1.0, 1e4])

    assert_allclose(plain.log_likelihood, scaled.log_likelihood, atol=1e-7)
    assert_allclose(plain.random_sd, scaled.random_sd * [1.0, 1e4], rtol=1e-5)
    assert_allclose(plain.modes, scaled.modes * [1.0, 1e4], atol=1e-5)
    assert_allclose(plain.mode_se, scaled.mode_se * [1.0, 1e4], atol=1e-5)


@FAMILIES
def test_shifted_column_moves_the_intercept_alone(family):
    plain, shifted = fit(family), fit(family, X=DATA.X + np.array([300.0, 0.0]))

    assert_allclose(plain.coefficients[-2:], shifted.coefficients[-2:], atol=1e-6)
    assert_allclose(slopes(plain)[1], slopes(shifted)[1], rtol=1e-4)
    moved = 300.0 * plain.coefficients[-2]
    if family == "cumulative logit":
        assert_allclose(shifted.thresholds, plain.thresholds + moved, rtol=1e-6)
    else:
        assert_allclose(shifted.coefficients[0], plain.coefficients[0] - moved, rtol=1e-6)


@FAMILIES
def test_shifted_random_slope_column_is_the_same_correlated_model(family):
    plain, shifted = fit(family), fit(family, Z=DATA.Z + np.array([0.0, 5.0]))

    assert_allclose(plain.log_likelihood, shifted.log_likelihood, atol=1e-7)
    at_zero = np.array([[1.0, 5.0], [0.0, 1.0]])
    assert_allclose(at_zero @ shifted.random_covariance @ at_zero.T, plain.random_covariance, rtol=1e-3, atol=1e-5)


@FAMILIES
def test_order_of_rows(family):
    order = np.random.default_rng(1).permutation(len(DATA.y))

    assert_same_fit(fit(family), fit(family, order=order))


@FAMILIES
def test_labels_of_athletes(family):
    labels = np.random.default_rng(2).permutation(20)[:14]

    plain, relabelled = fit(family), fit(family, group=labels[DATA.group])

    assert_same_fit(plain, relabelled)
    assert_allclose(relabelled.modes[labels], plain.modes, atol=1e-6)
    assert_allclose(relabelled.scores[labels], plain.scores, atol=1e-5)
    unused = np.setdiff1d(np.arange(relabelled.modes.shape[0]), labels)
    assert_allclose(relabelled.modes[unused], 0.0)


@FAMILIES
def test_other_reference_level(family):
    other = DATA.X.copy()
    other[:, 1] = 1.0 - other[:, 1]

    plain, turned = fit(family), fit(family, X=other)

    assert_allclose(plain.coefficients[-1], -turned.coefficients[-1], atol=1e-6)
    assert_allclose(plain.log_likelihood, turned.log_likelihood, atol=1e-7)


@FAMILIES
def test_other_reference_level_of_three(family):
    """Bars straight, safety, cambered: against the cambered one the effects are those less its own."""
    bar = np.random.default_rng(3).integers(0, 3, len(DATA.y))
    against_straight = np.column_stack([bar == 1, bar == 2]).astype(float)
    against_cambered = np.column_stack([bar == 1, bar == 0]).astype(float)

    plain, turned = fit(family, X=against_straight), fit(family, X=against_cambered)

    safety, cambered = plain.coefficients[-2:]
    assert_allclose(turned.coefficients[-2:], [safety - cambered, -cambered], atol=1e-6)
    contrast = np.array([1.0, -1.0])
    assert_allclose(slopes(turned)[1][0, 0], contrast @ slopes(plain)[1] @ contrast, rtol=1e-5)
    assert_allclose(plain.log_likelihood, turned.log_likelihood, atol=1e-7)
    assert_allclose(plain.modes, turned.modes, atol=1e-5)


def test_conditional_logit_in_other_words():
    """Units, a shift, order of rows, labels of strata, reference level."""
    rng = np.random.default_rng(8)
    X = np.column_stack([rng.normal(size=160), rng.random(160) < 0.4]).astype(float)
    stratum, is_case = np.repeat(np.arange(40), 4), np.tile([True, False, False, False], 40)
    order, labels = rng.permutation(160), rng.permutation(40)
    other = np.column_stack([X[:, 0] * 1e4 + 5e6, 1.0 - X[:, 1]])

    plain = fit_conditional(X, is_case, stratum)
    turned = fit_conditional(other[order], is_case[order], labels[stratum][order])

    units = np.array([1e4, -1.0])
    assert_allclose(turned.coefficients * units, plain.coefficients, rtol=1e-7)
    assert_allclose(turned.covariance * np.outer(units, units), plain.covariance, rtol=1e-7)
    assert_allclose(turned.log_likelihood, plain.log_likelihood, atol=1e-9)
    assert_allclose(turned.scores[labels] / units, plain.scores, atol=1e-6)


@pytest.mark.parametrize("family", ["cumulative logit", "logistic"])
def test_a_row_of_weight_two_is_the_row_twice(family):
    """A weight of the linear model is a precision, not a count."""
    weights = np.where(np.arange(len(DATA.y)) % 3 == 0, 2.0, 1.0)
    twice = np.repeat(np.arange(len(DATA.y)), weights.astype(int))

    assert_same_fit(fit(family, weights=weights), fit(family, order=twice))


@FAMILIES
def test_a_row_of_weight_zero_is_no_row(family):
    weights = (np.arange(len(DATA.y)) % 5 > 0).astype(float)

    assert_same_fit(fit(family, weights=weights), fit(family, order=np.flatnonzero(weights)))


@FAMILIES
def test_an_offset_takes_the_place_of_its_coefficient(family):
    plain = fit(family)
    offset = DATA.X[:, 0] * plain.coefficients[-2]

    shifted = fit(family, offset=offset)

    assert_allclose(shifted.coefficients[-2], 0.0, atol=1e-5)
    assert_allclose(shifted.coefficients[-1], plain.coefficients[-1], atol=1e-5)


def test_logistic_is_the_cumulative_model_of_one_threshold():
    binary = fit("logistic")

    ordinal = fit_cumulative(DATA.flare, DATA.X, DATA.Z, DATA.group, random="correlated")

    assert_allclose(ordinal.coefficients, binary.coefficients[1:], atol=1e-6)
    assert_allclose(-ordinal.thresholds[0], binary.coefficients[0], atol=1e-6)
    assert_allclose(ordinal.log_likelihood, binary.log_likelihood, atol=1e-8)
    assert_allclose(ordinal.covariance[1:, 1:], binary.covariance[1:, 1:], rtol=1e-5)


def test_reversed_ratings_turn_every_sign():
    plain = fit("cumulative logit")

    turned = fit_cumulative(2 - DATA.y, DATA.X, DATA.Z, DATA.group, random="correlated")

    assert_allclose(turned.coefficients, -plain.coefficients, atol=1e-6)
    assert_allclose(turned.thresholds, -plain.thresholds[::-1], atol=1e-6)


def test_linear_precision_weights_are_those_of_averaged_rows():
    """Ten averages of three readings, weighted by three: the same coefficients as the thirty readings themselves."""
    rng = np.random.default_rng(4)
    group = np.repeat(np.arange(10), 6)
    x = rng.normal(size=60)
    b = rng.normal(size=10)[group]
    readings = (1 + 0.5 * x + b)[:, None] + rng.normal(size=(60, 3))
    long = np.repeat(np.arange(60), 3)
    X, ones = np.column_stack([np.ones(60), x]), np.ones((60, 1))

    averaged = fit_linear(readings.mean(axis=1), X, ones, group, weights=np.full(60, 3.0), reml=False)
    every = fit_linear(readings.ravel(), X[long], ones[long], group[long], reml=False)

    # The spread within a row's readings informs sigma alone; with balanced rows the coefficients barely see it.
    assert_allclose(averaged.coefficients, every.coefficients, atol=5e-3)
