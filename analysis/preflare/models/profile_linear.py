"""Profile likelihood intervals of the linear mixed model: coefficients, SDs of random effects, the residual SD.

By maximum likelihood, whether or not the fit was by REML: a restricted likelihood has no coefficients to profile.
With L = sigma Lambda the factor of the random effects' covariance itself and s = log sigma^2, the deviance

    d(L, s) = sum_i log|H_i| + n (log 2 pi + s) + rss(Lambda) exp(-s),   Lambda = L exp(-s / 2),

has the derivatives that `linear` gives, at this sigma; by s it is n - rss exp(-s) - sum (dd/dLambda) Lambda / 2.
Holding a combination c'beta at v costs (c'beta^ - v)^2 / (c'S_xx^-1 c) in rss. The signed root and the search for the
limits are those of `profile`, and so is the trick that makes an SD one entry of L. Outcomes are divided by the ML
residual SD inside, so that every parameter is of the order of 1.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import minimize
from scipy.stats import norm

from preflare.models.linear import CrossProducts, LinearProblem, cross_products, maximise_linear, profile
from preflare.models.parameters import Layout
from preflare.models.profile import ProfileInterval, find_limit, standardise_term_first
from preflare.models.records import Floats

Hold = tuple[Floats, float]
"""A combination c (p,) of the standardised coefficients, and the value it is held at."""


@dataclass(frozen=True)
class _Ready:
    """A model whose outcomes are in units of `unit`. best: (entries of L, s) at the maximum; lowest: deviance there."""

    products: CrossProducts
    layout: Layout
    unit: float
    best: Floats
    lowest: float


def profile_linear_coefficient(problem: LinearProblem, name: str, level: float = 0.95) -> ProfileInterval:
    """Interval of any coefficient, the intercept's too, per unit of its column."""
    ready = _prepare(problem, problem.Z.values)
    combination = problem.X.back[problem.inputs.names.index(name)]
    here = profile(ready.products, ready.layout.factor_of(_relative(ready.best)))
    estimate = float(combination @ here.coefficients)
    error = float(np.sqrt(combination @ here.S_inverse @ combination * np.exp(ready.best[-1])))

    def drop(value: float) -> float:
        return _root(ready, None, 0.0, (combination, value))

    return _interval(drop, estimate, error, ready.unit, -np.inf, level)


def profile_linear_sd(problem: LinearProblem, term: int, level: float = 0.95) -> ProfileInterval:
    """Interval of the SD of one random effect, independent or correlated (column `term` of Z), in the units of Z."""
    standard, first = problem.Z, term
    if problem.layout.structure == "correlated" and problem.layout.n_random > 1:
        standard, first = standardise_term_first(problem.inputs.Z, term), 0
    ready = _prepare(problem, standard.values)
    unit = float(standard.back[first, first])
    place = int((ready.layout.diagonal - ready.layout.n_fixed)[first])
    estimate = abs(float(ready.best[place]))

    def drop(value: float) -> float:
        return _root(ready, place, value, None)

    return _interval(drop, estimate, 0.3 * max(estimate, 0.3), ready.unit * unit, 0.0, level)


def profile_residual_sd(problem: LinearProblem, level: float = 0.95) -> ProfileInterval:
    """Interval of the residual SD."""
    ready = _prepare(problem, problem.Z.values)
    place = len(ready.best) - 1
    error = float(np.sqrt(0.5 / problem.products.n))

    def drop(value: float) -> float:
        return _root(ready, place, 2.0 * np.log(value), None)

    return _interval(drop, float(np.exp(0.5 * ready.best[place])), error, ready.unit, 0.0, level)


def _interval(
    drop: Callable[[float], float], estimate: float, error: float, unit: float, lowest: float, level: float
) -> ProfileInterval:
    quantile = float(norm.ppf(0.5 + level / 2.0))

    def beyond(value: float) -> float:
        return drop(value) - quantile

    low = find_limit(beyond, estimate, -quantile * error, lowest)
    high = find_limit(beyond, estimate, quantile * error, np.inf)
    return ProfileInterval(estimate * unit, low * unit, high * unit)


def _prepare(problem: LinearProblem, Z: Floats) -> _Ready:
    """The maximum of the likelihood for random columns Z (n, q), outcomes in residual SDs."""
    products = cross_products(problem.inputs, problem.X.values, Z)
    entries, _, _ = maximise_linear(products, problem.layout, reml=False)
    unit = float(np.sqrt(profile(products, problem.layout.factor_of(entries)).rss / products.n))
    scale = np.append(np.ones(products.p), 1.0 / unit)
    scaled = replace(products, B=products.B * scale, total=products.total * np.outer(scale, scale))
    best = np.append(entries, 0.0)
    return _Ready(scaled, problem.layout, unit, best, deviance_at(scaled, problem.layout, best, None)[0])


def _relative(vector: Floats) -> Floats:
    """Entries of Lambda from (entries of L, s)."""
    return np.asarray(vector[:-1] * np.exp(-0.5 * vector[-1]))


def deviance_at(products: CrossProducts, layout: Layout, vector: Floats, hold: Hold | None) -> tuple[float, Floats]:
    """The deviance at (entries of L, s), coefficients profiled out but for the one held, and its gradient."""
    s = float(vector[-1])
    entries = _relative(vector)
    here = profile(products, layout.factor_of(entries))
    beta, rss = here.coefficients, here.rss
    if hold is not None:
        combination, value = hold
        direction = here.S_inverse @ combination
        excess = float((combination @ beta - value) / (combination @ direction))
        beta, rss = beta - direction * excess, rss + excess**2 * float(combination @ direction)
    n, p = products.n, products.p
    cost = here.log_det + n * (np.log(2.0 * np.pi) + s) + rss * np.exp(-s) - products.log_weights
    AL = products.A @ here.factor
    residual = products.B[:, :, p] - products.B[:, :, :p] @ beta
    u = here.U[:, :, p] - here.U[:, :, :p] @ beta
    left = residual - (AL @ u[..., None])[..., 0]
    by_factor = 2.0 * (AL @ here.M).sum(axis=0) - 2.0 * np.exp(-s) * left.T @ u
    by_entry = by_factor[layout.random_entries]
    by_s = n - rss * np.exp(-s) - 0.5 * float(by_entry @ entries)
    return float(cost), np.append(by_entry * np.exp(-0.5 * s), by_s)


def _root(ready: _Ready, place: int | None, value: float, hold: Hold | None) -> float:
    """sqrt(2 (l^ - l)) with the parameter at `place` held at `value`, or a combination of coefficients held."""
    start = ready.best.copy()
    free = np.arange(len(start)) != (-1 if place is None else place)
    start[~free] = value

    def cost(inside: Floats) -> tuple[float, Floats]:
        vector = start.copy()
        vector[free] = inside
        found, gradient = deviance_at(ready.products, ready.layout, vector, hold)
        return found, gradient[free]

    if not free.any():
        return float(np.sqrt(max(0.0, cost(start[free])[0] - ready.lowest)))
    answer = minimize(cost, start[free], jac=True, method="BFGS", options={"gtol": 1e-6, "maxiter": 300})
    return float(np.sqrt(max(0.0, answer.fun - ready.lowest)))
