"""Distributed lags: what a day's dose goes with days later, as a product of a dose basis and a lag basis.

For doses x_{t-l}, l = 0..L, a dose function f and lag functions g_k, column k of the cross-basis on day t is
sum over l of f(x_{t-l}) g_k(l). Source: Gasparrini A, Armstrong B, Kenward MG. Stat Med 2010;29:2224-2234 (from
memory).
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def lagged(series: Floats, first: int, last: int) -> Floats:
    """(n, last - first + 1) doses `first` to `last` days before each day of an unbroken daily series (n,).

    A rest day is 0, an unlogged day NaN; days before the series begins are NaN.
    """
    n = len(series)
    made = np.full((n, last - first + 1), np.nan)
    for column, lag in enumerate(range(first, last + 1)):
        if lag < n:
            made[lag:, column] = series[: n - lag]
    return made


def cross_basis(doses: Floats, lag_basis: Floats) -> Floats:
    """(n, k) cross-basis of lagged doses (n, lags), passed through the dose function, and a lag basis (lags, k).

    A row with any unlogged dose is NaN: no part of the window is guessed.
    """
    return np.asarray(doses @ lag_basis)
