"""Several contrasts at once. Benjamini Y, Hochberg Y. J R Stat Soc B 1995;57:289-300."""

from collections.abc import Sequence

import numpy as np


def benjamini_hochberg(p_values: Sequence[float]) -> list[float]:
    """Adjusted p-values of those given, in their order; NaN stays NaN and is no member of the family."""
    p = np.asarray(p_values, dtype=float)
    adjusted = np.full(len(p), np.nan)
    members = np.flatnonzero(~np.isnan(p))
    if len(members) == 0:
        return adjusted.tolist()
    order = members[np.argsort(p[members], kind="stable")]
    scaled = p[order] * len(order) / np.arange(1, len(order) + 1)
    adjusted[order] = np.minimum(np.minimum.accumulate(scaled[::-1])[::-1], 1.0)
    return [float(value) for value in adjusted]
