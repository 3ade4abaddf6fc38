"""The approximated likelihood beside brute-force integration, and its gradient beside numerical derivatives."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.special import expit
from scipy.stats import multivariate_normal, norm

from models.small import likelihood, small, some_vector
from preflare.models.conditional import fit_conditional
from preflare.models.inputs import check_inputs
from preflare.models.linear import cross_products, deviance, profile
from preflare.models.ordered_logit import category_constants, row_edges, row_terms, threshold_curvature
from preflare.models.parameters import Layout

FAMILIES = ("cumulative logit", "logistic")
STRUCTURES = ((0, "independent"), (1, "independent"), (2, "independent"), (2, "correlated"))
WIDE = ((3, "correlated"), (8, "independent"), (8, "correlated"))
"""More random terms than quadrature serves: Laplace alone."""


def numerical_gradient(function, vector, step=1e-3):
    """Richardson's extrapolation of central differences: error of order step^4."""
    gradient = np.zeros(len(vector))
    for j in range(len(vector)):
        shift = np.zeros(len(vector))
        shift[j] = step
        near = (function(vector + shift) - function(vector - shift)) / (2 * step)
        far = (function(vector + 2 * shift) - function(vector - 2 * shift)) / (4 * step)
        gradient[j] = (4 * near - far) / 3
    return gradient


@pytest.mark.parametrize("quadrature", [1, 3, 8])
@pytest.mark.parametrize(("q", "structure"), STRUCTURES)
@pytest.mark.parametrize("family", FAMILIES)
def test_gradient_is_that_of_the_approximated_likelihood(family, q, structure, quadrature):
    function = likelihood(small(), family, q, structure, quadrature)
    vector = some_vector(function.layout)

    _, gradient = function.cost(vector)

    expected = numerical_gradient(lambda at: function.cost(at)[0], vector, step=1e-3)
    assert_allclose(gradient, expected, rtol=1e-7, atol=1e-7)


@pytest.mark.parametrize(("q", "structure"), WIDE)
@pytest.mark.parametrize("family", FAMILIES)
def test_gradient_with_many_random_terms(family, q, structure):
    function = likelihood(wide(), family, q, structure, 1)
    vector = some_vector(function.layout)

    expected = numerical_gradient(lambda at: function.cost(at)[0], vector, step=1e-3)
    assert_allclose(function.cost(vector)[1], expected, rtol=1e-7, atol=1e-7)


@pytest.mark.parametrize("reml", [True, False])
@pytest.mark.parametrize(("q", "structure"), STRUCTURES[1:] + WIDE)
def test_gradient_of_the_linear_deviance(q, structure, reml):
    data = wide()
    inputs = check_inputs(data.rating, data.with_intercept, data.Z[:, :q], data.group, None, data.weights, data.offset)
    products = cross_products(inputs, inputs.X, inputs.Z)
    layout = Layout(0, 3, q, structure)
    entries = some_vector(layout)[layout.n_fixed :]

    _, gradient = deviance(products, layout, entries, reml)

    expected = numerical_gradient(lambda at: deviance(products, layout, at, reml)[0], entries, step=1e-3)
    assert_allclose(gradient, expected, rtol=1e-7, atol=1e-7)


def wide():
    """The small data with random intercept and seven random slopes."""
    data = small()
    more = np.random.default_rng(11).normal(size=(len(data.y), 6))
    return replace(data, Z=np.column_stack([data.Z, more]))


def test_scores_of_the_athletes_add_up_to_the_gradient():
    function = likelihood(small(), "cumulative logit", 2, "correlated", 1)
    vector = some_vector(function.layout)

    assert_allclose(function.scores(vector).sum(axis=0), -function.cost(vector)[1], atol=1e-10)


def dense_log_likelihood(data, function, vector, points=401, reach=9.0):
    """Sum over athletes of the log integral, by the trapezium rule on a square grid: exact to rounding."""
    layout = function.layout
    thresholds, factor = layout.thresholds(vector), layout.random_factor(vector)
    axis = np.linspace(-reach, reach, points)
    grid = np.stack([part.ravel() for part in np.meshgrid(*[axis] * layout.n_random, indexing="ij")], axis=1)
    log_prior = -0.5 * (grid**2).sum(axis=1) - layout.n_random / 2 * np.log(2 * np.pi)
    total = 0.0
    for block in function.blocks:
        for g in range(len(block.athletes)):
            real = block.real[g]
            X, Z, y, weight = block.X[g][real], block.Z[g][real], block.y[g][real], block.weight[g][real]
            eta = (block.offset[g][real] + X @ layout.coefficients(vector))[:, None] + Z @ factor @ grid.T
            edges = np.concatenate([[-np.inf], thresholds, [np.inf]])
            probability = expit(edges[y + 1][:, None] - eta) - expit(edges[y][:, None] - eta)
            with np.errstate(divide="ignore"):  # far out a probability underflows to 0: it adds nothing
                log_integrand = weight @ np.log(probability) + log_prior
            peak = log_integrand.max()
            total += peak + np.log(np.exp(log_integrand - peak).sum() * (axis[1] - axis[0]) ** layout.n_random)
    return total


@pytest.mark.parametrize(
    ("q", "structure", "nodes"), [(1, "independent", 25), (2, "independent", 25), (2, "correlated", 25)]
)
@pytest.mark.parametrize("family", FAMILIES)
def test_quadrature_agrees_with_brute_force(family, q, structure, nodes):
    data = small(n_athletes=4)
    function = likelihood(data, family, q, structure, nodes)
    vector = some_vector(function.layout)

    assert_allclose(-function.cost(vector)[0], dense_log_likelihood(data, function, vector), rtol=0, atol=1e-8)


def linear_at(data, q, structure, reml):
    """At an ordinary point: the checked inputs, Lambda, the cross-products, and minus half the profiled deviance."""
    inputs = check_inputs(data.rating, data.with_intercept, data.Z[:, :q], data.group, None, data.weights, data.offset)
    layout = Layout(0, 3, q, structure)
    entries = some_vector(layout)[layout.n_fixed :]
    products = cross_products(inputs, inputs.X, inputs.Z)
    factor = layout.factor_of(entries)
    return inputs, factor, products, -0.5 * deviance(products, layout, entries, reml)[0]


@pytest.mark.parametrize(("q", "structure"), STRUCTURES[1:])
def test_linear_likelihood_is_that_of_a_multivariate_normal(q, structure):
    inputs, factor, products, found = linear_at(small(n_athletes=4), q, structure, reml=False)
    here = profile(products, factor)

    together = inputs.group[:, None] == inputs.group
    V = together * (inputs.Z @ factor @ factor.T @ inputs.Z.T) + np.diag(1 / inputs.weights)
    mean = inputs.offset + inputs.X @ here.coefficients
    dense = multivariate_normal.logpdf(inputs.y, mean, V * here.rss / len(inputs.y))

    assert_allclose(found, dense, rtol=0, atol=1e-8)


@pytest.mark.parametrize(("q", "structure"), STRUCTURES[1:])
def test_restricted_likelihood_is_that_of_error_contrasts(q, structure):
    """Harville (1974): with K'X = 0 and K'K = I the density of K'y, times |X'X|^(-1/2), is REML's."""
    inputs, factor, products, found = linear_at(small(n_athletes=4), q, structure, reml=True)
    here = profile(products, factor)
    n, p = inputs.X.shape

    together = inputs.group[:, None] == inputs.group
    V = together * (inputs.Z @ factor @ factor.T @ inputs.Z.T) + np.diag(1 / inputs.weights)
    K = np.linalg.qr(inputs.X, mode="complete")[0][:, p:]
    contrasts = K.T @ (inputs.y - inputs.offset)
    dense = multivariate_normal.logpdf(contrasts, np.zeros(n - p), K.T @ V @ K * here.rss / (n - p))
    dense -= 0.5 * np.linalg.slogdet(inputs.X.T @ inputs.X)[1]

    assert_allclose(found, dense, rtol=0, atol=1e-8)


@pytest.mark.parametrize(("q", "structure"), STRUCTURES[1:])
def test_linear_likelihood_agrees_with_brute_force(q, structure):
    """The integral over the random effects on a grid, as for the other families."""
    inputs, factor, products, found = linear_at(small(n_athletes=4), q, structure, reml=False)
    here = profile(products, factor)
    sigma = np.sqrt(here.rss / len(inputs.y))

    axis = np.linspace(-10.0, 10.0, 601)
    grid = np.stack([part.ravel() for part in np.meshgrid(*[axis] * q, indexing="ij")], axis=1)
    log_prior = norm.logpdf(grid).sum(axis=1)
    total = 0.0
    for athlete in np.unique(inputs.group):
        own = inputs.group == athlete
        mean = (inputs.offset[own] + inputs.X[own] @ here.coefficients)[:, None]
        mean = mean + sigma * inputs.Z[own] @ factor @ grid.T
        log_density = norm.logpdf(inputs.y[own][:, None], mean, (sigma / np.sqrt(inputs.weights[own]))[:, None])
        log_integrand = log_density.sum(axis=0) + log_prior
        peak = log_integrand.max()
        total += peak + np.log(np.exp(log_integrand - peak).sum() * (axis[1] - axis[0]) ** q)

    assert_allclose(found, total, rtol=0, atol=1e-8)


def test_conditional_likelihood_has_its_maximum_and_information_there():
    """The likelihood written out stratum by stratum, with numerical derivatives."""
    rng = np.random.default_rng(6)
    X, stratum = rng.normal(size=(120, 3)), np.repeat(np.arange(30), 4)
    is_case = np.tile([True, False, False, False], 30)

    def log_likelihood(b):
        eta = (X @ b).reshape(30, 4)
        return (eta[:, 0] - np.log(np.exp(eta).sum(axis=1))).sum()

    fit = fit_conditional(X, is_case, stratum)

    def slope(j):
        return lambda at: numerical_gradient(log_likelihood, at)[j]

    information = -np.stack([numerical_gradient(slope(j), fit.coefficients) for j in range(3)])
    assert_allclose(numerical_gradient(log_likelihood, fit.coefficients), 0.0, atol=1e-7)
    assert_allclose(fit.scores.sum(axis=0), 0.0, atol=1e-7)
    assert_allclose(fit.log_likelihood, log_likelihood(fit.coefficients), rtol=1e-12)
    assert_allclose(fit.covariance, np.linalg.inv(information), rtol=1e-5)


def test_laplace_is_close_to_brute_force_but_not_equal():
    data = small(n_athletes=4)
    function = likelihood(data, "cumulative logit", 1, "independent", 1)
    vector = some_vector(function.layout)

    gap = abs(-function.cost(vector)[0] - dense_log_likelihood(data, function, vector))

    assert 1e-6 < gap < 0.05


def test_a_row_is_two_bernoulli_terms_and_a_constant():
    thresholds, eta = np.array([-0.7, 0.4, 2.0]), np.linspace(-6, 6, 13)
    edges = np.concatenate([[-np.inf], thresholds, [np.inf]])
    constants, _ = category_constants(thresholds)

    for y in range(4):
        ours = row_terms(eta, row_edges(thresholds, np.full(13, y))).log_density() + constants[y]
        assert_allclose(ours, np.log(expit(edges[y + 1] - eta) - expit(edges[y] - eta)), rtol=1e-10)


def test_curvature_of_the_constants_is_the_derivative_of_their_slope():
    thresholds, counts = np.array([-0.7, 0.4, 2.0]), np.array([5.0, 3.0, 2.0, 1.0])

    def slope(j):
        return lambda at: counts @ category_constants(at)[1][:, j]

    numerical = np.stack([numerical_gradient(slope(j), thresholds) for j in range(3)])
    assert_allclose(threshold_curvature(thresholds, counts), -numerical, atol=1e-7)


def test_rows_far_from_every_threshold_stay_finite():
    terms = row_terms(np.array([-1e5, 1e5]), row_edges(np.array([-3.0, 3.0]), np.array([2, 0])))

    assert np.isfinite(terms.log_density()).all()
