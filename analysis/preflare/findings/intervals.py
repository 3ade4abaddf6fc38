"""Intervals for shares and rates of surveillance."""

import math

from scipy.stats import chi2
from scipy.stats import norm as normal

from preflare.models.standardise import Interval


def wilson(successes: int, trials: int, level: float = 0.95) -> Interval:
    """A share with Wilson's score interval. Source: Wilson EB. J Am Stat Assoc 1927;22:209-212."""
    if trials == 0:
        return Interval(math.nan, math.nan, math.nan)
    z = float(normal.ppf(0.5 + level / 2))
    share = successes / trials
    centre = (share + z**2 / (2 * trials)) / (1 + z**2 / trials)
    half = z / (1 + z**2 / trials) * math.sqrt(share * (1 - share) / trials + z**2 / (4 * trials**2))
    return Interval(share, max(centre - half, 0.0), min(centre + half, 1.0))


def poisson_rate(events: float, exposure: float, per: float = 1.0, level: float = 0.95) -> Interval:
    """Events per `per` units of exposure with the exact Poisson interval (Garwood F.

    Biometrika 1936;28:437-442).

    Assumes independent events; repeated flare-ups of one athlete make it too narrow, and reports say so.
    """
    if exposure <= 0:
        return Interval(math.nan, math.nan, math.nan)
    tail = (1 - level) / 2
    low = float(chi2.ppf(tail, 2 * events)) / 2 if events > 0 else 0.0
    high = float(chi2.ppf(1 - tail, 2 * events + 2)) / 2
    return Interval(per * events / exposure, per * low / exposure, per * high / exposure)
