"""Intervals of what differs between athletes: SDs of the random effects, their correlations, the residual SD.

SDs by profile likelihood (`profile`, `profile_linear`; the linear family by ML), whose lower limit may be 0.
Correlations by Wald's interval on Fisher's z, atanh(rho), from the covariance of the entries of Lambda; none where an
SD is 0 or the correlation is -1 or 1. Every interval names its method.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.stats import norm

from preflare.models.assemble import Problem, solve
from preflare.models.columns import Standardised
from preflare.models.linear import LinearProblem, linear_maximum
from preflare.models.parameters import Layout
from preflare.models.profile import ProfileInterval, profile_random_sd
from preflare.models.profile_linear import profile_linear_sd, profile_residual_sd
from preflare.models.records import Floats

STEP = 1e-5
UNBOUNDED = 1.0 - 1e-6
"""A correlation beyond this has no interval on Fisher's scale."""


@dataclass(frozen=True)
class VarianceInterval:
    """An SD in the units of Z, or a correlation. NaN limits where the method has none; method then says why."""

    name: str
    estimate: float
    low: float
    high: float
    method: str


def variance_intervals(
    problem: Problem | LinearProblem, names: Sequence[str], level: float = 0.95
) -> tuple[VarianceInterval, ...]:
    """Every SD, every correlation of a correlated structure, a linear model's residual SD. names: of Z's columns."""
    linear = isinstance(problem, LinearProblem)
    how = "profile likelihood, ML" if linear else "profile likelihood"
    found = [_named(f"SD of {name}", _sd(problem, term, level), how) for term, name in enumerate(names)]
    layout = problem.layout if isinstance(problem, LinearProblem) else problem.likelihood.layout
    if layout.structure == "correlated":
        entries, covariance = _factor(problem)
        for j, k in [(row, column) for row in range(len(names)) for column in range(row)]:
            label = f"correlation of {names[k]} and {names[j]}"
            found.append(_correlation_interval(label, problem.Z, layout, entries, covariance, (j, k), level))
    if isinstance(problem, LinearProblem):
        found.append(_named("residual SD", profile_residual_sd(problem, level), how))
    return tuple(found)


def _sd(problem: Problem | LinearProblem, term: int, level: float) -> ProfileInterval:
    if isinstance(problem, LinearProblem):
        return profile_linear_sd(problem, term, level)
    return profile_random_sd(problem, term, level)


def _named(name: str, interval: ProfileInterval, method: str) -> VarianceInterval:
    return VarianceInterval(name, interval.estimate, interval.low, interval.high, method)


def _factor(problem: Problem | LinearProblem) -> tuple[Floats, Floats]:
    """Entries of Lambda in standardised units, and their covariance.

    Linear: twice the inverse Hessian of the profiled ML deviance; a correlation does not change with sigma.
    """
    if isinstance(problem, LinearProblem):
        entries, hessian = linear_maximum(problem, reml=False)
        return entries, np.asarray(2.0 * np.linalg.pinv(hessian, hermitian=True), dtype=np.float64)
    fit, n = solve(problem), problem.likelihood.layout.n_fixed
    return fit.parameters[n:], fit.parameter_covariance[n:, n:]


def _correlation(Z: Standardised, layout: Layout, entries: Floats, pair: tuple[int, int]) -> float:
    """Of two random effects in the data's units; NaN where an SD is 0."""
    factor = Z.back @ layout.factor_of(entries)
    S = factor @ factor.T
    j, k = pair
    sizes = S[j, j] * S[k, k]
    return float(S[j, k] / np.sqrt(sizes)) if sizes > 0 else float("nan")


def _correlation_interval(
    name: str,
    Z: Standardised,
    layout: Layout,
    entries: Floats,
    covariance: Floats,
    pair: tuple[int, int],
    level: float,
) -> VarianceInterval:
    estimate = _correlation(Z, layout, entries, pair)
    if not abs(estimate) < UNBOUNDED:
        return VarianceInterval(name, estimate, np.nan, np.nan, "none: an SD is 0, or the correlation is -1 or 1")
    gradient = np.zeros(len(entries))
    for place, shift in enumerate(np.eye(len(entries)) * STEP):
        ahead = _correlation(Z, layout, entries + shift, pair)
        gradient[place] = (ahead - _correlation(Z, layout, entries - shift, pair)) / (2.0 * STEP)
    error = np.sqrt(gradient @ covariance @ gradient) / (1.0 - estimate**2)
    half = norm.ppf(0.5 + level / 2.0) * error
    low, high = np.tanh(np.arctanh(estimate) + half * np.array([-1.0, 1.0]))
    return VarianceInterval(name, estimate, float(low), float(high), "Wald on Fisher's z")
