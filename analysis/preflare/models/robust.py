"""Answers that lean less on the model: least squares with a constant for each athlete and CR2 errors; one athlete less.

    y_it = a_i + x_it'beta + e_it,   a_i a constant for each athlete, e_it of any dependence within an athlete

Only what changes within an athlete speaks. `cluster_robust` has CR2 for the mixed families.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from preflare.models.inputs import check_inputs
from preflare.models.records import FitError, Floats, Ints, MixedFit

DEPENDENT = 1e-8
"""A within-athlete column nearer than this share of its length to the columns before it is left out."""
EXHAUSTED = 1e-6
"""Eigenvalue of I - H_ii below which a direction of an athlete's residuals is fitted exactly and holds nothing."""
UNJUDGED = 0.5
"""A coefficient that draws more than this share from fitted-exactly directions has no error that data can show."""


@dataclass(frozen=True)
class WithinDesign:
    """Columns less each athlete's own means. Q: (n, r) orthonormal, X_within = Q R over `kept`. rows: by athlete."""

    Q: Floats
    R: Floats
    kept: Ints
    rows: list[Ints]


def linear_fixed_effects_cr2(y: ArrayLike, X: ArrayLike, group: ArrayLike) -> tuple[Floats, Floats, Floats]:
    """Least squares of y on X with a constant for each athlete; CR2 standard errors and Bell-McCaffrey df.

    y: (n,). X: (n, p), no intercept. group: (n,) codes. Returns estimates, standard errors and df, each (p,);
    NaN for a column that never changes within an athlete, or that repeats earlier ones; errors and df alone are NaN
    for one that changes within a single athlete. Raises FitError for
    fewer than two athletes.

    With H the hat matrix of athlete constants and X, e the residuals, A_i = (I - H_ii)^(-1/2) (generalised
    inverse) and c a column of (X'X)^-1 of the within-athlete X: the variance is sum_i (c'X_i'A_i e_i)^2, and
    df = trace(G)^2 / trace(G^2) with G_ij = a_i'(I - H)_ij a_j, a_i = A_i X_i c (working covariance:
    identity). Sources: Bell and McCaffrey (2002), Survey Methodology 28(2); Imbens and Kolesar (2016), Review
    of Economics and Statistics 98(4); Pustejovsky and Tipton (2018), Journal of Business and Economic
    Statistics 36(4).
    """
    inputs = check_inputs(y, X, np.zeros((len(np.asarray(y)), 0)), group, None, None, None)
    design = _within_design(inputs.X, inputs.group)
    if len(design.rows) < 2:
        raise FitError("too few groups", "a standard error between athletes needs at least two athletes")
    outcome = _less_own_mean(inputs.y[:, None], design.rows)[:, 0]
    coefficients = design.Q.T @ outcome
    residuals = outcome - design.Q @ coefficients
    to_columns = np.linalg.inv(design.R)
    found = to_columns @ coefficients
    adjusted, lost = _adjust(design, design.Q @ to_columns.T)
    variance = np.where(lost > UNJUDGED, np.nan, _sandwich(adjusted, residuals, design.rows))
    df = np.where(lost > UNJUDGED, np.nan, _bell_mccaffrey_df(adjusted, design))
    return tuple(_spread(values, design.kept, inputs.X.shape[1]) for values in (found, np.sqrt(variance), df))  # type: ignore[return-value]


def within_estimates(ys: Sequence[ArrayLike], X: ArrayLike, group: ArrayLike) -> list[Floats]:
    """The estimates alone of `linear_fixed_effects_cr2`, (p,) for each outcome (n,), all on one decomposition of X."""
    inputs = [check_inputs(y, X, np.zeros((len(np.asarray(y)), 0)), group, None, None, None) for y in ys]
    design = _within_design(inputs[0].X, inputs[0].group)
    to_columns = np.linalg.inv(design.R)
    found = []
    for one in inputs:
        outcome = _less_own_mean(one.y[:, None], design.rows)[:, 0]
        found.append(_spread(to_columns @ (design.Q.T @ outcome), design.kept, one.X.shape[1]))
    return found


def _spread(values: Floats, kept: Ints, p: int) -> Floats:
    """(p,) values at the kept columns, NaN elsewhere."""
    full = np.full(p, np.nan)
    full[kept] = values
    return full


def _less_own_mean(columns: Floats, rows: list[Ints]) -> Floats:
    centred = columns.copy()
    for own in rows:
        centred[own] -= columns[own].mean(axis=0)
    return centred


def _within_design(X: Floats, group: Ints) -> WithinDesign:
    order = np.argsort(group, kind="stable")
    first = np.unique(group[order], return_index=True)[1]
    rows = np.split(order, first[1:])
    within = _less_own_mean(X, rows)
    length = np.linalg.norm(within, axis=0)
    size = np.linalg.norm(X, axis=0)
    varies = np.flatnonzero(length > DEPENDENT * np.maximum(size, 1e-300))
    distance = np.abs(np.diag(np.linalg.qr(within[:, varies] / length[varies], mode="r")))
    kept = varies[: len(distance)][distance > DEPENDENT]
    Q, R = np.linalg.qr(within[:, kept])
    return WithinDesign(Q, R, kept.astype(np.int64), rows)


def _adjust(design: WithinDesign, weights: Floats) -> tuple[Floats, Floats]:
    """(n, r) A_i times each athlete's rows of `weights` (X_i c, one column a coefficient), and the share lost (r,).

    Lost: what lies in directions that one athlete's rows alone decide, whose residuals are 0 by construction.

    H_ii = Q_i Q_i' + 11'/n_i has low rank: only the span of [Q_i, 1] is changed by A_i.
    """
    adjusted = weights.copy()
    lost = np.zeros(weights.shape[1])
    for own in design.rows:
        thin = np.column_stack([design.Q[own], np.full(len(own), 1.0 / np.sqrt(len(own)))])
        left, singular, _ = np.linalg.svd(thin, full_matrices=False)
        remaining = 1.0 - singular**2
        factor = np.where(remaining > EXHAUSTED, 1.0 / np.sqrt(np.maximum(remaining, EXHAUSTED)), 0.0) - 1.0
        along = left.T @ weights[own]
        adjusted[own] += left @ (factor[:, None] * along)
        lost += (along[remaining <= EXHAUSTED] ** 2).sum(axis=0)
    return adjusted, lost / (weights**2).sum(axis=0)


def _sandwich(adjusted: Floats, residuals: Floats, rows: list[Ints]) -> Floats:
    by_athlete = np.stack([residuals[own] @ adjusted[own] for own in rows])
    return np.asarray((by_athlete**2).sum(axis=0))


def _bell_mccaffrey_df(adjusted: Floats, design: WithinDesign) -> Floats:
    """(r,) trace(G)^2 / trace(G^2) for each coefficient; I - H = I - QQ' - 11'/n_i within an athlete, -QQ' across."""
    r = adjusted.shape[1]
    df = np.zeros(r)
    for k in range(r):
        a = adjusted[:, k]
        in_design = np.stack([design.Q[own].T @ a[own] for own in design.rows])
        own_size = np.array([a[own] @ a[own] - a[own].sum() ** 2 / len(own) for own in design.rows])
        G = np.diag(own_size) - in_design @ in_design.T
        df[k] = np.trace(G) ** 2 / (G * G).sum()
    return df


def one_step_without_athlete(fit: MixedFit) -> Floats:
    """(A, K - 1 + p) thresholds and coefficients after leaving out each athlete, by one Newton step from the fit.

    phi - V s_i A / (A - 1), V the covariance of all free parameters and s_i the athlete's score; the factor
    makes up for the information that leaves with the athlete.
    """
    n_fixed = len(fit.thresholds) + len(fit.coefficients)
    moves = fit.scores @ fit.parameter_covariance
    moved = fit.parameters - moves * fit.n_groups / (fit.n_groups - 1)
    return moved[:, :n_fixed]
