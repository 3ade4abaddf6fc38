"""Risks for an athlete whom the data do not hold, averaged over who that could be, at two levels of an exposure.

    risk = mean over rows of E_b F(x'beta + z'b - theta_k),   b ~ N(0, Sigma),   F the logistic function

z'b is normal with SD s_t = |Lambda'z_t|, so that each expectation is one integral over the predictor's random part,
whatever the number of random terms. It is done by the trapezium rule in z'b / s_t, whose error, of the order of
exp(-2 pi^2 / (step s_t)), is far below that of Gauss-Hermite nodes where athletes differ widely (s_t = 6: 1e-8, not
2e-4). `standardise` answers the other question: the
athletes there are, each at the own modes. Standard errors by the delta method from the covariance of everything
estimated, Sigma included; `simulate_new_athlete` draws the parameters instead, to see that the two agree.
For the logistic and the cumulative family (a linear model's mean needs no integral).
"""

import numpy as np
from scipy.special import expit

from preflare.models.assemble import Problem
from preflare.models.records import FitError, Floats, MixedFit
from preflare.models.standardise import StandardisedRisks, with_errors

NODES = np.linspace(-8.5, 8.5, 101)
"""Standard normal deviates: the density beyond is below 1e-16."""


def new_athlete_risk(
    problem: Problem, parameters: Floats, threshold: int | None, X: Floats, Z: Floats
) -> tuple[float, Floats]:
    """Mean risk over the rows, and its gradient by `parameters` (all of fit.parameters).

    X: (n, p), Z: (n, q) in the data's units, at the level asked about. threshold: index of the one that opens the
    event; None for a binary model, whose intercept is a column of X.
    """
    layout = problem.likelihood.layout
    n = layout.n_thresholds
    standard = Z @ problem.Z.back
    V = standard @ layout.random_factor(parameters)
    spread = np.sqrt((V * V).sum(axis=1))
    mean = X @ parameters[n : layout.n_fixed]
    if threshold is not None:
        mean = mean - parameters[threshold]
    risk, by_mean, by_spread = _logistic_normal(mean, spread)
    gradient = np.zeros(len(parameters))
    gradient[n : layout.n_fixed] = by_mean @ X / len(X)
    if threshold is not None:
        gradient[threshold] = -by_mean.mean()
    # d spread / d Lambda = z v' / spread; where spread is 0 the risk is flat in Lambda by symmetry.
    pull = np.divide(by_spread, spread, out=np.zeros_like(spread), where=spread > 0)
    by_factor = (pull[:, None] * standard).T @ V / len(X)
    gradient[layout.n_fixed :] = by_factor[layout.random_entries]
    return float(risk.mean()), gradient


def compare_new_athlete(
    problem: Problem,
    fit: MixedFit,
    threshold: int | None,
    at_from: tuple[Floats, Floats],
    at_to: tuple[Floats, Floats],
) -> StandardisedRisks:
    """Risks at two levels and their difference. at_from, at_to: (X, Z) at each level, same rows. fit: of `problem`.

    Raises FitError where a column has no finite estimate, or the fit did not end well.
    """
    _refuse_without_covariance(fit)
    return with_errors(
        new_athlete_risk(problem, fit.parameters, threshold, *at_from),
        new_athlete_risk(problem, fit.parameters, threshold, *at_to),
        fit.parameter_covariance,
    )


def simulate_new_athlete(
    problem: Problem,
    fit: MixedFit,
    threshold: int | None,
    at_from: tuple[Floats, Floats],
    at_to: tuple[Floats, Floats],
    times: int,
    rng: np.random.Generator,
) -> Floats:
    """(times, 2) the two risks at parameters drawn from their normal approximation. Percentiles are an interval."""
    _refuse_without_covariance(fit)
    values, vectors = np.linalg.eigh(fit.parameter_covariance)
    root = vectors * np.sqrt(np.clip(values, 0.0, None))
    draws = fit.parameters + rng.standard_normal((times, len(root))) @ root.T
    return np.array([[new_athlete_risk(problem, draw, threshold, *at)[0] for at in (at_from, at_to)] for draw in draws])


def rows_at(X: Floats, Z: Floats, column: int, term: int | None, value: float) -> tuple[Floats, Floats]:
    """(X, Z) with one column of X set to a value on every row, and its random slope's column of Z where it has one."""
    changed_X, changed_Z = X.copy(), Z.copy()
    changed_X[:, column] = value
    if term is not None:
        changed_Z[:, term] = value
    return changed_X, changed_Z


def _logistic_normal(mean: Floats, spread: Floats) -> tuple[Floats, Floats, Floats]:
    """E F(mean + spread e), e standard normal, and its derivatives by mean and by spread. All (n,)."""
    risk, by_mean, by_spread = np.zeros_like(mean), np.zeros_like(mean), np.zeros_like(mean)
    weights = np.exp(-0.5 * NODES**2) * (NODES[1] - NODES[0]) / np.sqrt(2.0 * np.pi)
    for e, weight in zip(NODES, weights, strict=True):
        p = expit(mean + spread * e)
        slope = p * (1.0 - p)
        risk += weight * p
        by_mean += weight * slope
        by_spread += weight * e * slope
    return risk, by_mean, by_spread


def _refuse_without_covariance(fit: MixedFit) -> None:
    if fit.convergence.separated:
        raise FitError(
            "separation", f"no finite estimate for {', '.join(fit.convergence.separated)}: leave it out first"
        )
    if not np.isfinite(fit.parameter_covariance).all():
        raise FitError("not converged", "a standard error needs a fit that ended well")
