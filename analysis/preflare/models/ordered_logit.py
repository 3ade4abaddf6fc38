"""One row of the cumulative-logit model, and its derivatives.

    P(y <= k) = F(theta_k - eta),   F(x) = 1 / (1 + exp(-x)),   theta_0 = -inf < theta_1 < ... < theta_K = inf.

With a = theta_(y+1) - eta and c = theta_y - eta (categories from 0), the row's probability is F(a) - F(c), and

    F(a) - F(c) = F(a) F(-c) (1 - exp(c - a)),

two Bernoulli terms and a factor that holds no eta. So the row's log-likelihood is

    log F(a) + log F(-c) + log(1 - exp(-(theta_(y+1) - theta_y))),

concave in eta, with derivatives that are polynomials of `upper` = F(a) and `lower` = F(c): one exponential a row. A
binary outcome is the case of one threshold.
"""

from dataclasses import dataclass

import numpy as np

from preflare.models.records import Floats, Ints

FARTHEST = 300.0
"""Linear predictors are held within this distance of 0, where F is 0 or 1 to all digits and exp is finite."""


@dataclass(frozen=True)
class Edges:
    """exp(-theta_(y+1)) and exp(theta_y) of each row's category: 0 beyond the lowest and the highest threshold."""

    upper: Floats
    lower: Floats


@dataclass(frozen=True)
class RowTerms:
    """F(a), F(c) and 1 - F(c) of each row, all of one shape."""

    upper: Floats
    lower: Floats
    not_lower: Floats

    def log_density(self) -> Floats:
        """log F(a) + log F(-c): the row's log-likelihood without the part that holds thresholds alone."""
        return np.log(self.upper * self.not_lower)

    def slope(self) -> Floats:
        """First derivative of the row's log-likelihood by eta."""
        return self.upper + self.lower - 1.0

    def curvatures(self) -> tuple[Floats, Floats]:
        """What the two terms add to minus the second derivative by eta; both at least 0."""
        return self.upper * (1.0 - self.upper), self.lower * self.not_lower


def row_edges(thresholds: Floats, y: Ints) -> Edges:
    """The edges of each row's category. thresholds: (K - 1,) rising. y: any shape, 0 to K - 1."""
    upper = np.append(np.exp(-thresholds), 0.0)
    lower = np.append(0.0, np.exp(thresholds))
    return Edges(upper[y], lower[y])


def row_terms(eta: Floats, edges: Edges) -> RowTerms:
    """The two Bernoulli terms of each row at linear predictor eta (same shape as the edges)."""
    odds = np.exp(np.clip(eta, -FARTHEST, FARTHEST))
    share = 1.0 / (edges.lower + odds)
    return RowTerms(1.0 / (1.0 + odds * edges.upper), edges.lower * share, odds * share)


def category_constants(thresholds: Floats) -> tuple[Floats, Floats]:
    """log(1 - exp(-(theta_(k+1) - theta_k))) of each category, and its derivative by the thresholds.

    Returns (K,) and (K, K - 1). The lowest and the highest category have 0. Needs rising thresholds; as two
    of them meet, the constant falls without limit, which keeps an optimiser from letting them cross.
    """
    gaps = np.diff(thresholds)
    n = len(thresholds)
    value = np.zeros(n + 1)
    value[1:n] = np.log(-np.expm1(-gaps))
    by_gap = 1.0 / np.expm1(gaps)
    derivative = np.zeros((n + 1, n))
    inner = np.arange(1, n)
    derivative[inner, inner] = by_gap
    derivative[inner, inner - 1] = -by_gap
    return value, derivative


def threshold_curvature(thresholds: Floats, counts: Floats) -> Floats:
    """(K - 1, K - 1) minus the second derivative of sum_k counts_k constant_k by the thresholds. counts: (K,)."""
    n = len(thresholds)
    by_gap = counts[1:n] / (4.0 * np.sinh(np.diff(thresholds) / 2.0) ** 2)
    curvature = np.zeros((n, n))
    inner = np.arange(n - 1)
    curvature[inner, inner] += by_gap
    curvature[inner + 1, inner + 1] += by_gap
    curvature[inner, inner + 1] -= by_gap
    curvature[inner + 1, inner] -= by_gap
    return curvature
