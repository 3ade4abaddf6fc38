"""Is a term's effect the same at every threshold? The check of proportional odds, cut by cut.

The cumulative logit gives a term one coefficient for all cuts of the rating. Here each cut k has its own logistic model
of rating > k with the same terms, b_k. Under proportional odds all b_k estimate one number. They come from the same
athletes, so that their joint covariance is taken from the athletes' influences, V_k s_ik (A athletes, factor
A / (A - 1)), and the differences of m + 1 cuts are judged by Hotelling's statistic: T^2 (A - m) / (m (A - 1)) against
F(m, A - m).
`partial_odds` has one likelihood for all cuts; this check needs no order of the cuts, and no model for all.
Sources: Brant (1990), Biometrics 46 for the cuts; Hotelling's T^2 for the few athletes.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.stats import f as fisher

from preflare.models.logistic import fit_logistic
from preflare.models.records import FitError, Floats, MixedFit

FEWEST = 10
"""Reports on the smaller side of a cut below which the cut is left out."""


@dataclass(frozen=True)
class EffectByCut:
    """A term's effect at each cut. cuts: k of rating > k. estimates, errors: log-odds per unit, model-based.

    statistic, df, p: the joint test that all are equal; NaN with the reason where it cannot be made. left_out: cuts
    with too few reports, or without a fit.
    """

    term: str
    cuts: tuple[int, ...]
    estimates: Floats
    errors: Floats
    statistic: float
    df: tuple[int, int]
    p: float
    left_out: tuple[int, ...]
    reason: str


def effect_by_cut(
    y: ArrayLike, X: ArrayLike, Z: ArrayLike, group: ArrayLike, names: Sequence[str], term: str
) -> EffectByCut:
    """Fit every cut of y (n,), categories 0 to K - 1, and compare one column's effect. X: (n, p), no intercept."""
    ratings = np.asarray(y, dtype=int)
    with_intercept = np.column_stack([np.ones(len(ratings)), np.asarray(X, dtype=float)])
    column = 1 + list(names).index(term)
    cuts, left_out, estimates, errors, influences = [], [], [], [], []
    for cut in range(int(ratings.max())):
        above = (ratings > cut).astype(int)
        fit = _fit_or_none(above, with_intercept, Z, group, ["intercept", *names])
        if fit is None or np.isnan(fit.covariance[column, column]):
            left_out.append(cut)
            continue
        cuts.append(cut)
        estimates.append(fit.coefficients[column])
        errors.append(fit.standard_errors[column])
        influences.append(fit.scores @ fit.parameter_covariance[:, column])
    statistic, df, p, reason = _all_equal(np.array(estimates), np.array(influences))
    return EffectByCut(
        term, tuple(cuts), np.array(estimates), np.array(errors), statistic, df, p, tuple(left_out), reason
    )


def _fit_or_none(above: ArrayLike, X: Floats, Z: ArrayLike, group: ArrayLike, names: Sequence[str]) -> MixedFit | None:
    """The logistic fit of one cut; None where it has too few reports on a side, or no converged fit."""
    count = int(np.sum(above))
    if min(count, len(X) - count) < FEWEST:
        return None
    try:
        fit = fit_logistic(above, X, Z, group, names=names)
    except FitError:
        return None
    return fit if fit.convergence.converged else None


def _all_equal(estimates: Floats, influences: Floats) -> tuple[float, tuple[int, int], float, str]:
    """Hotelling's test that the estimates are equal. influences: (cuts, A)."""
    m = len(estimates) - 1
    if m < 1:
        return float("nan"), (0, 0), float("nan"), "fewer than two cuts have enough reports"
    present = influences.any(axis=0)
    n_athletes = int(present.sum())
    if n_athletes - m < 2:
        return float("nan"), (m, 0), float("nan"), f"{n_athletes} athletes are too few to compare {m + 1} cuts"
    difference = np.diff(estimates)
    moves = np.diff(influences, axis=0)
    covariance = moves @ moves.T * n_athletes / (n_athletes - 1)
    t_squared = float(difference @ np.linalg.solve(covariance, difference))
    statistic = t_squared * (n_athletes - m) / (m * (n_athletes - 1))
    df = (m, n_athletes - m)
    return statistic, df, float(fisher.sf(statistic, *df)), ""
