"""Do the ratings look as the fitted model says they should? Randomised quantile residuals of the ordinal
model.

A rating's residual lies between the model's chance of a lower rating and of that rating or a lower one, drawn
evenly between; under a true model they are even between 0 and 1. Dunn PK, Smyth GK. J Comput Graph Stat
1996;5:1-10. The chances are the model's own at each athlete's modes, so no simulation is needed. Passing says
nothing about confounding; with many sessions a trivial misfit fails.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit
from scipy.stats import kstest, norm

from preflare.findings.checks import Check, check
from preflare.findings.fitting import Fitted

Floats = NDArray[np.float64]
UNIFORMITY_LIMIT = 0.01
AUTOCORRELATION_LIMIT = 0.10


def quantile_residuals(fitted: Fitted, rng: np.random.Generator) -> Floats:
    """One residual between 0 and 1 for each reported row of an ordinal fit."""
    design, codes = fitted.design, fitted.codes
    reported = design.rows.reported
    modes = np.asarray(fitted.fit.modes)[design.rows.group[reported]]
    eta = design.X[reported] @ fitted.fit.coefficients + np.einsum("nq,nq->n", design.Z[reported], modes)
    edges = np.concatenate([[-np.inf], fitted.fit.thresholds, [np.inf]])
    low, high = expit(edges[codes] - eta), expit(edges[codes + 1] - eta)
    return np.asarray(low + rng.random(len(low)) * (high - low))


def lag_one(residuals: Floats, group: NDArray[np.int64]) -> float:
    """Correlation of normal scores of consecutive reported sessions of the same athlete; NaN without any
    pair."""
    score = norm.ppf(np.clip(residuals, 1e-9, 1 - 1e-9))
    pair = group[1:] == group[:-1]
    if pair.sum() < 3:
        return float("nan")
    return float(np.corrcoef(score[1:][pair], score[:-1][pair])[0, 1])


def residual_checks(fitted: Fitted, rng: np.random.Generator) -> tuple[Check, ...]:
    """Uniformity (Kolmogorov-Smirnov p) and autocorrelation within athlete; notes beside a grade, never a
    veto."""
    residuals = quantile_residuals(fitted, rng)
    p = float(kstest(residuals, "uniform").pvalue)
    r = lag_one(residuals, fitted.design.rows.group[fitted.design.rows.reported])
    return (
        check("residuals", p, UNIFORMITY_LIMIT, p < UNIFORMITY_LIMIT, False),
        check("residual_autocorrelation", r, AUTOCORRELATION_LIMIT, abs(r) > AUTOCORRELATION_LIMIT, False),
    )
