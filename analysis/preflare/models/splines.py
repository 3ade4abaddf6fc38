"""Restricted cubic splines: smooth between the outer knots, straight beyond them.

Basis for knots k_1 < ... < k_m: x itself and, for j = 1..m-2,
    ((x - k_j)+^3 - (x - k_{m-1})+^3 (k_m - k_j)/(k_m - k_{m-1}) + (x - k_m)+^3 (k_{m-1} - k_j)/(k_m -
    k_{m-1})) / (k_m - k_1)^2.
Source: Harrell FE. Regression Modeling Strategies, 2nd ed., Springer 2015, section 2.4.5 (from memory).
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

WEEK_QUANTILES = (0.05, 0.25, 0.50, 0.75, 0.95)
COMPETITION_KNOTS = (0.0, 4.0, 8.0, 12.0)


def restricted_cubic_spline(x: NDArray[np.float64], knots: Sequence[float]) -> NDArray[np.float64]:
    """Basis columns (n, m - 1) of x (n,) for m >= 3 strictly increasing knots, in the unit of x."""
    k = np.asarray(knots, dtype=float)
    if len(k) < 3 or np.any(np.diff(k) <= 0):
        raise ValueError(f"a restricted cubic spline needs three or more increasing knots, not {list(knots)}")
    last, before_last = k[-1], k[-2]
    columns = [x]
    for knot in k[:-2]:
        bend = _cube(x - knot) - _cube(x - before_last) * (last - knot) / (last - before_last)
        bend = bend + _cube(x - last) * (before_last - knot) / (last - before_last)
        columns.append(bend / (last - k[0]) ** 2)
    return np.stack(columns, axis=-1)


def _cube(x: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.maximum(x, 0.0) ** 3
