"""Conditional logistic regression with one case in each stratum, by Newton's method.

The case's chance among its stratum is exp(x b) / sum over the stratum of exp(x b): whatever is constant in a stratum
drops out. Source: Breslow NE, Day NE. Statistical Methods in Cancer Research I. IARC 1980, chapter 7 (from memory).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
STEPS = 50
LARGEST = 15.0
"""A coefficient beyond this many standard deviations' log-odds runs to infinity: no finite estimate."""


@dataclass(frozen=True)
class ConditionalFit:
    """coefficients (p,) and covariance (p, p) from the information; scores (strata, p) of each stratum at the optimum.

    log_likelihood: of the cases' places. converged: False where the estimate runs to infinity or the steps did not end.
    """

    coefficients: Floats
    covariance: Floats
    scores: Floats
    log_likelihood: float
    converged: bool


def fit_conditional(X: Floats, is_case: NDArray[np.bool_], stratum: Ints) -> ConditionalFit:
    """X: (n, p). is_case: (n,) one True in each stratum. stratum: (n,) codes 0..S-1.

    Raises ValueError where a stratum has no case or more than one, or where no column varies within any stratum.
    """
    n_strata = int(stratum.max()) + 1 if len(stratum) else 0
    if n_strata == 0 or (np.bincount(stratum[is_case], minlength=n_strata) != 1).any():
        raise ValueError("each stratum needs exactly one case")
    spread = X.std(axis=0)
    if (spread == 0).any():
        raise ValueError("a column does not vary")
    scaled = (X - X.mean(axis=0)) / spread
    b, information, scores, log_likelihood, done = _newton(scaled, is_case, stratum, n_strata)
    finite = np.linalg.matrix_rank(information) == len(b)
    covariance = np.linalg.inv(information) if finite else np.full_like(information, np.nan)
    return ConditionalFit(
        b / spread,
        covariance / np.outer(spread, spread),
        scores * spread,
        log_likelihood,
        bool(done and finite and np.abs(b).max() < LARGEST),
    )


def _newton(
    X: Floats, is_case: NDArray[np.bool_], stratum: Ints, n_strata: int
) -> tuple[Floats, Floats, Floats, float, bool]:
    b, done = np.zeros(X.shape[1]), False
    for _ in range(STEPS):
        scores, information, log_likelihood = _derivatives(X, is_case, stratum, n_strata, b)
        step = np.linalg.lstsq(information, scores.sum(axis=0), rcond=None)[0]
        largest = float(np.abs(step).max())
        if largest < 1e-9:
            done = True
            break
        b = b + step * min(1.0, 2.0 / largest)  # damped: a far step may overshoot
    return b, information, scores, log_likelihood, done


def _derivatives(
    X: Floats, is_case: NDArray[np.bool_], stratum: Ints, n_strata: int, b: Floats
) -> tuple[Floats, Floats, float]:
    """Scores by stratum, information, log-likelihood."""
    eta = X @ b
    chance = np.exp(eta - eta.max())
    chance = chance / np.bincount(stratum, weights=chance, minlength=n_strata)[stratum]
    mean = np.stack([np.bincount(stratum, weights=chance * x, minlength=n_strata) for x in X.T], axis=1)
    centred = X - mean[stratum]
    order = np.argsort(stratum[is_case], kind="stable")
    scores = X[is_case][order] - mean
    return scores, (centred * chance[:, None]).T @ centred, float(np.log(chance[is_case]).sum())
