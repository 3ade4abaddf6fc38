"""Whether a column, alone or with others, splits the ordered outcome perfectly, so that no estimate is finite.

The likelihood of a row of category y rises or stays as (thresholds, coefficients) move along (t, d) if and only if

    t_(y+1) - x'd >= 0   and   t_y - x'd <= 0        (terms beyond the lowest and the highest threshold absent).

If such a direction exists with one inequality strict, the likelihood has no maximum (Albert and Anderson 1984). A
linear program looks for it: maximise the sum of the slacks within a box.
"""

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_array

from preflare.models.records import Floats, Ints

NEGLIGIBLE = 1e-6


def separating_direction(y: Ints, X: Floats, n_thresholds: int, fixed_threshold: bool) -> Floats:
    """(p,) direction of coefficients along which the likelihood never falls; zeros where every estimate is finite.

    X: (n, p), columns of about unit size. fixed_threshold: the one threshold is no parameter (logistic model with an
    intercept column in X).
    """
    slack_rows = _slack_rows(y, X, n_thresholds, fixed_threshold)
    return unbounded_direction(slack_rows, len(y))[0 if fixed_threshold else n_thresholds :]


def unbounded_direction(slack_rows: Floats, n_rows: int) -> Floats:
    """(m,) direction whose product with no slack row (s, m) is negative and with some positive; zeros without one."""
    nowhere = np.zeros(slack_rows.shape[1])
    if len(nowhere) == 0:
        return nowhere
    gain = np.asarray(slack_rows.sum(axis=0)).ravel()
    answer = linprog(-gain, A_ub=-csr_array(slack_rows), b_ub=np.zeros(len(slack_rows)), bounds=(-1, 1), method="highs")
    if answer.status != 0 or -answer.fun < NEGLIGIBLE * n_rows:
        return nowhere
    return np.asarray(answer.x)


def _slack_rows(y: Ints, X: Floats, n_thresholds: int, fixed_threshold: bool) -> Floats:
    """One row an inequality: its product with (t, d) must not be negative."""
    if fixed_threshold:
        return np.where(y[:, None] == 1, X, -X)
    edges = np.eye(n_thresholds + 2)[:, 1:-1]
    below_top, above_bottom = y < n_thresholds, y > 0
    upper = np.column_stack([edges[y + 1], -X])[below_top]
    lower = np.column_stack([-edges[y], X])[above_bottom]
    rising = np.column_stack([np.diff(np.eye(n_thresholds), axis=0), np.zeros((n_thresholds - 1, X.shape[1]))])
    return np.vstack([upper, lower, rising])
