"""Columns in units that an optimiser likes, and the way back.

X_s = X T with T (p, p), so that X beta = X_s beta_s with beta = T beta_s. Every column is divided by its standard
deviation; it is centred too where a constant (an intercept column, or thresholds) can take up the shift. The random
columns obey the same algebra, b = T b_s, but an independent random structure survives rescaling only, not centring.
"""

from dataclasses import dataclass

import numpy as np

from preflare.models.records import Floats


@dataclass(frozen=True)
class Standardised:
    """values: (n, p) the columns in standard units. back: (p, p) T. centre: (p,) mean taken out, in standard units.

    centre may be (n_thresholds, p) where a column's shift moves some thresholds only.
    """

    values: Floats
    back: Floats
    centre: Floats


def constant_column(X: Floats) -> int | None:
    """The first column with one and the same value, not 0, on every row; None where there is none."""
    if X.shape[1] == 0 or len(X) == 0:
        return None
    constant = np.flatnonzero((np.ptp(X, axis=0) == 0) & (X[0] != 0))
    return int(constant[0]) if len(constant) else None


def standardise_with_intercept(X: Floats) -> Standardised:
    """Scale every column; centre the others when one column is constant."""
    intercept = constant_column(X)
    scale = column_scale(X)
    back = np.diag(1.0 / scale)
    if intercept is not None:
        for j in range(X.shape[1]):
            if j != intercept:
                back[intercept, j] = -X[:, j].mean() / (scale[j] * X[0, intercept])
    return Standardised(X @ back, back, np.zeros(X.shape[1]))


def standardise_for_thresholds(X: Floats) -> Standardised:
    """Scale and centre every column: thresholds take up the shift, theta = theta_s + centre . beta_s."""
    scale = column_scale(X)
    mean = X.mean(axis=0)
    return Standardised((X - mean) / scale, np.diag(1.0 / scale), mean / scale)


def standardise_random(Z: Floats, correlated: bool) -> Standardised:
    """Scale the random columns; centre them beside a constant one when the structure is correlated."""
    if correlated:
        return standardise_with_intercept(Z)
    scale = column_scale(Z)
    return Standardised(Z / scale, np.diag(1.0 / scale), np.zeros(Z.shape[1]))


def column_scale(X: Floats) -> Floats:
    """(p,) standard deviation of each column; of a constant column its size, and 1 for a column of zeros."""
    if X.shape[1] == 0:
        return np.ones(0)
    spread = X.std(axis=0)
    size = np.abs(X).max(axis=0)
    constant = spread <= 1e-12 * size
    return np.where(constant, np.where(size > 0, size, 1.0), spread)


def to_data_units(n_thresholds: int, standardised: Standardised) -> Floats:
    """J (m, m), m = n_thresholds + p: (thresholds, coefficients) in data units = J times the standard ones."""
    p = len(standardised.back)
    J = np.zeros((n_thresholds + p, n_thresholds + p))
    J[:n_thresholds, :n_thresholds] = np.eye(n_thresholds)
    J[:n_thresholds, n_thresholds:] = standardised.centre
    J[n_thresholds:, n_thresholds:] = standardised.back
    return J
