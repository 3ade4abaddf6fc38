"""Intervals from the profile likelihood, for a coefficient or for a random effect's SD: logistic and cumulative family.

With l(v) the highest log-likelihood at parameter value v and l^ the highest of all, the signed root

    r(v) = sign(v - v^) sqrt(2 (l^ - l(v)))

is close to a standard normal; the interval holds the values with |r| below its quantile. It needs no standard error, so
that it serves where the information is poor, and an SD's interval may begin at 0. The SD of a correlated random effect
is one parameter, the first entry of Lambda, once its term comes first. `profile_linear` does the same for that family.
Source: Pinheiro and Bates (2000), section 2.4; Venzon and Moolgavkar (1988), Applied Statistics 37(1).
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq
from scipy.stats import norm

from preflare.models.assemble import Problem
from preflare.models.columns import Standardised, constant_column, standardise_random
from preflare.models.likelihood import Likelihood
from preflare.models.optimise import Optimum, first_inverse_hessian, maximise, quasi_newton
from preflare.models.records import FitError, Floats

WIDEST = 2.0**6
"""How far a limit is looked for, in Wald half-widths, before it is called infinite."""


@dataclass(frozen=True)
class ProfileInterval:
    """An estimate and its limits in the units of the data; infinite where the likelihood never falls enough."""

    estimate: float
    low: float
    high: float


def profile_coefficient(problem: Problem, name: str, level: float = 0.95) -> ProfileInterval:
    """Interval of a coefficient, per unit of its column. The intercept of a logistic model has none here."""
    column = problem.inputs.names.index(name)
    step_back = problem.X.back[column]
    if np.count_nonzero(step_back) != 1:
        raise FitError("wrong shape", f"'{name}' is the intercept; its profile is not computed")
    place = problem.likelihood.layout.n_thresholds + column
    return _interval(problem, place, float(step_back[column]), level, lowest=-np.inf)


def profile_random_sd(problem: Problem, term: int, level: float = 0.95) -> ProfileInterval:
    """Interval of the SD of one random effect (column `term` of Z), in the units of Z."""
    layout = problem.likelihood.layout
    if layout.structure == "correlated" and layout.n_random > 1:
        problem, term = term_first(problem, term), 0
    return _interval(problem, int(layout.diagonal[term]), float(problem.Z.back[term, term]), level, lowest=0.0)


def term_first(problem: Problem, term: int) -> Problem:
    """The same correlated model with one random term first, so that its SD is the first entry of Lambda alone."""
    standard = standardise_term_first(problem.inputs.Z, term)
    blocks = [
        replace(block, Z=np.where(block.real[..., None], standard.values[block.rows], 0.0))
        for block in problem.likelihood.blocks
    ]
    return replace(problem, likelihood=replace(problem.likelihood, blocks=blocks), Z=standard)


def standardise_term_first(Z: Floats, term: int) -> Standardised:
    """The columns with one term first; centred, unless the term is the constant one that takes up the shift."""
    order = [term, *(j for j in range(Z.shape[1]) if j != term)]
    return standardise_random(Z[:, order], correlated=constant_column(Z) != term)


def _interval(problem: Problem, place: int, unit: float, level: float, lowest: float) -> ProfileInterval:
    """Both limits. unit: data units per standard unit. lowest: where the parameter's range ends, 0 for an SD."""
    best = maximise(problem.likelihood)
    estimate = abs(best.vector[place]) if lowest == 0.0 else float(best.vector[place])
    quantile = float(norm.ppf(0.5 + level / 2.0))
    error = float(np.sqrt(best.covariance[place, place]))
    step = quantile * (error if np.isfinite(error) and error > 0 else 0.5)

    def beyond(value: float) -> float:
        return _drop(problem.likelihood, best, place, value) - quantile

    low = find_limit(beyond, estimate, -step, lowest)
    high = find_limit(beyond, estimate, step, np.inf)
    return ProfileInterval(estimate * unit, low * unit, high * unit)


def _drop(likelihood: Likelihood, best: Optimum, place: int, value: float) -> float:
    """sqrt(2 (l^ - l(value))), the others optimised from where the information says that they go."""
    start = best.vector.copy()
    poor = not np.isfinite(best.covariance).all()
    inverse = first_inverse_hessian(likelihood, start) if poor else best.covariance.copy()
    if inverse[place, place] > 0 and not poor:
        towards = inverse[:, place] / inverse[place, place]
        start = start + towards * (value - start[place])
        inverse = inverse - np.outer(towards, inverse[place])
    start[place] = value
    if not likelihood.allows(start):
        start = np.where(np.arange(len(start)) == place, value, best.vector)
    inverse[place], inverse[:, place] = 0.0, 0.0

    def cost(vector: Floats) -> tuple[float, Floats]:
        """No slope along the held parameter: the optimiser leaves it alone."""
        value_there, gradient = likelihood.cost(vector)
        return value_there, np.where(np.arange(len(gradient)) == place, 0.0, gradient)

    vector, _, _ = quasi_newton(cost, start, inverse, tolerance=1e-8)
    return float(np.sqrt(max(0.0, 2.0 * (likelihood.cost(vector)[0] - best.cost))))


def find_limit(beyond: Callable[[float], float], estimate: float, step: float, end: float) -> float:
    """The value on one side where `beyond` changes sign; the end of the range or infinity where it never does."""
    inside, reach = estimate, 1.0
    while reach <= WIDEST:
        outside = estimate + step * reach
        if step < 0 and outside <= end:
            outside = end
        if beyond(outside) > 0:
            return float(brentq(beyond, inside, outside, xtol=abs(step) * 1e-6, rtol=1e-10))
        if outside == end:
            return end
        inside, reach = outside, reach * 1.5
    return float(np.copysign(np.inf, step))
