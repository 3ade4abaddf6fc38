"""The raw difference: what the logs show before anything is allowed for.

It stands beside the adjusted one.
"""

import numpy as np
from numpy.typing import NDArray

from preflare.findings.contrasts import Contrast, at_level
from preflare.models.rows import AMOUNTS, ModelRows
from preflare.models.standardise import Interval, t_interval

Floats = NDArray[np.float64]


def raw_difference(contrast: Contrast, rows: ModelRows, event: int) -> Interval:
    """Difference per 100 reported sessions, all athletes thrown together, interval clustered by athlete.

    Words: share of events at the level less that at the reference. Amounts: slope of a straight line x size.
    """
    reported = rows.reported
    y = np.where(rows.rating >= event, 100.0, 0.0)
    group = rows.group[reported]
    if contrast.id in rows.left_out:
        return Interval(np.nan, np.nan, np.nan)
    if contrast.id in AMOUNTS:
        x = rows.values[contrast.id].to_numpy(float)[reported]
        return clustered_slope(x, y, group)
    exposed = at_level(contrast, rows, contrast.level)[reported]
    used = exposed | at_level(contrast, rows, contrast.reference)[reported]
    return clustered_slope(exposed[used].astype(float), y[used], group[used])


def clustered_slope(x: Floats, y: Floats, group: NDArray[np.int64]) -> Interval:
    """Least-squares slope of y on x, with a t interval from a variance clustered by group (HC0 x G/(G-1))."""
    nothing = Interval(np.nan, np.nan, np.nan)
    if len(x) < 3 or np.ptp(x) <= 1e-9 * np.abs(x).max():  # the same everywhere, but for rounding
        return nothing
    centred = x - x.mean()
    square = float(centred @ centred)
    slope = float(centred @ y) / square
    residual = y - y.mean() - slope * centred
    scores = np.bincount(group, weights=centred * residual)
    clusters = len(np.unique(group))
    if clusters < 2:
        return Interval(slope, np.nan, np.nan)
    se = float(np.sqrt((scores**2).sum() * clusters / (clusters - 1))) / square
    return t_interval(slope, se, clusters - 1)
