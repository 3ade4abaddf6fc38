"""The likelihood of the cumulative logit when some columns have an effect of their own at every threshold.

    P(y <= k | b) = F(tau_tk - eta_t),   tau_tk = theta_k - w_t'gamma_k,   eta = offset + x'beta + z'b

w holds the columns that are free by cut, gamma_k their effects at cut k; everything else is as in `cumulative`. A row's
edges are then its own, but b still enters through eta alone: with a = tau_t(y+1) - eta and c = tau_ty - eta a row is
again two Bernoulli terms and a factor without b (`ordered_logit`), so that mode search, Laplace, quadrature and the
adjoint gradient are those of `laplace`, unchanged. The factor log(1 - exp(-(tau_t(y+1) - tau_ty))) is now a row's, and
keeps the edges of a row's own category from crossing; other rows' edges may cross (`partial_odds` looks).

The vector: thresholds, beta, then gamma: all cuts of the first free column, all of the second, and so on. The last
`n_free` columns of a Block's X are w.
"""

from dataclasses import dataclass

import numpy as np

from preflare.models.laplace import Evaluation, athlete_by_category, edge_information, integrate
from preflare.models.likelihood import Likelihood
from preflare.models.ordered_logit import FARTHEST, Edges, row_terms
from preflare.models.padding import Block
from preflare.models.parameters import Layout
from preflare.models.records import Floats, Ints
from preflare.models.separation import unbounded_direction


@dataclass(frozen=True)
class PartialLayout(Layout):
    """n_free: columns with an effect at every cut; n_coefficients counts beta and all of gamma."""

    n_free: int = 0

    @property
    def n_common(self) -> int:
        return self.n_coefficients - self.n_free * self.n_thresholds

    def common(self, vector: Floats) -> Floats:
        """beta (n_common,)."""
        return self.coefficients(vector)[: self.n_common]

    def by_cut(self, vector: Floats) -> Floats:
        """gamma (n_free, n_thresholds)."""
        return self.coefficients(vector)[self.n_common :].reshape(self.n_free, self.n_thresholds)


@dataclass(frozen=True)
class RowCuts:
    """upper, lower: (G, T) tau at the row's own edges, infinite beyond the last. inner: (G, T) both are finite.

    gap: upper - lower, 1 where a row has one edge only (its factor is then 1, and left out).
    """

    upper: Floats
    lower: Floats
    inner: Floats
    gap: Floats


class PartialLikelihood(Likelihood):
    """As Likelihood, for a PartialLayout."""

    layout: PartialLayout

    def allows(self, vector: Floats) -> bool:
        """Whether both edges of every row's own category rise, and can be told from infinity."""
        return all(self._block_allows(block, vector) for block in self.blocks)

    def _block_allows(self, block: Block, vector: Floats) -> bool:
        tau = row_thresholds(block, self.layout, vector)
        return bool((own_cuts(block, tau).gap > 0).all() and (np.abs(tau) < FARTHEST).all())

    def _evaluate(self, block: Block, vector: Floats, start: Floats) -> Evaluation:
        layout = self.layout
        cuts = own_cuts(block, row_thresholds(block, layout, vector))
        V = block.Z @ layout.random_factor(vector)
        eta_fixed = _common_part(block, layout, vector)
        edges = Edges(np.exp(-cuts.upper), np.exp(cuts.lower))
        mode, log_likelihood, slopes = integrate(block, edges, eta_fixed, V, start, self.nodes)
        factor = block.weight * cuts.inner * np.log(-np.expm1(-cuts.gap))
        by_gap = block.weight * cuts.inner / np.expm1(cuts.gap)
        rows, columns = layout.random_entries
        gradient = np.concatenate(
            [
                self._by_fixed(block, by_gap - slopes.upper, -by_gap - slopes.lower, slopes.upper + slopes.lower),
                slopes.factor[:, rows, columns],
            ],
            axis=1,
        )
        return Evaluation(log_likelihood + factor.sum(axis=1), gradient, mode)

    def _by_fixed(self, block: Block, by_upper: Floats, by_lower: Floats, by_eta: Floats) -> Floats:
        """(G, n_fixed) from the rows' derivatives by tau at their upper and lower edge, and by eta: each (G, T)."""
        K, p = self.layout.n_thresholds + 1, self.layout.n_common

        def by_threshold(scale: Floats) -> Floats:
            as_upper = athlete_by_category(block, scale * by_upper, K)[:, :-1]
            return as_upper + athlete_by_category(block, scale * by_lower, K)[:, 1:]

        free = [-by_threshold(block.X[..., p + j]) for j in range(self.layout.n_free)]
        by_common = (by_eta[:, None, :] @ block.X[..., :p])[:, 0, :]
        return np.concatenate([by_threshold(np.ones_like(by_eta)), by_common, *free], axis=1)

    def fixed_information(self, vector: Floats) -> Floats:
        """(n_fixed, n_fixed) information on thresholds and coefficients with Lambda held, at the remembered modes."""
        layout = self.layout
        total = np.zeros((layout.n_fixed, layout.n_fixed))
        for block, u in zip(self.blocks, self.modes, strict=True):
            cuts = own_cuts(block, row_thresholds(block, layout, vector))
            V = block.Z @ layout.random_factor(vector)
            eta = _common_part(block, layout, vector) + (V @ u[..., None])[..., 0]
            terms = row_terms(eta, Edges(np.exp(-cuts.upper), np.exp(cuts.lower)))
            J_upper, J_lower = edge_designs(block.y, block.X, layout.n_thresholds, layout.n_free)
            total += edge_information(block, terms, V, J_upper, J_lower)
            bend = block.weight * cuts.inner / (4.0 * np.sinh(np.minimum(cuts.gap, FARTHEST) / 2.0) ** 2)
            by_gap = (J_upper - J_lower).reshape(block.y.size, layout.n_fixed)
            total += by_gap.T @ (bend.reshape(-1, 1) * by_gap)
        return total

    def separating_direction(self, y: Ints, X: Floats) -> Floats:
        """(p,) as `separation` says. X: (n, p) with every free column once for each cut, as the coefficients stand."""
        n, m, p = self.layout.n_thresholds, self.layout.n_free, self.layout.n_common
        once = np.column_stack([X[:, :p], X[:, p::n]]) if m else X
        J_upper, J_lower = edge_designs(y, once, n, m)
        slack_rows = np.vstack([J_upper[y < n], -J_lower[y > 0]])
        return unbounded_direction(slack_rows, len(y))[n:]


def row_thresholds(block: Block, layout: PartialLayout, vector: Floats) -> Floats:
    """tau (G, T, K - 1) of every row."""
    w = block.X[..., layout.n_common :]
    return np.asarray(layout.thresholds(vector) - w @ layout.by_cut(vector))


def own_cuts(block: Block, tau: Floats) -> RowCuts:
    """The edges of each row's own category. tau: (G, T, K - 1)."""
    n = tau.shape[2]
    below_top, above_bottom = block.y < n, block.y > 0
    upper = np.take_along_axis(tau, np.minimum(block.y, n - 1)[..., None], axis=2)[..., 0]
    lower = np.take_along_axis(tau, np.maximum(block.y - 1, 0)[..., None], axis=2)[..., 0]
    inner = below_top & above_bottom
    return RowCuts(
        np.where(below_top, upper, np.inf),
        np.where(above_bottom, lower, -np.inf),
        inner.astype(float),
        np.where(inner, upper - lower, 1.0),
    )


def edge_designs(y: Ints, X: Floats, n_thresholds: int, n_free: int) -> tuple[Floats, Floats]:
    """(..., n_fixed) derivatives of a row's upper and lower edge less eta by (thresholds, beta, gamma).

    y: (...,). X: (..., n_common + n_free), the free columns last. Zeros stand for an edge at infinity.
    """
    table = np.eye(n_thresholds + 2)[:, 1:-1]
    p = X.shape[-1] - n_free
    designs = []
    for which in (table[y + 1], table[y]):
        free = [-X[..., p + j, None] * which for j in range(n_free)]
        designs.append(np.concatenate([which, -X[..., :p], *free], axis=-1))
    return designs[0], designs[1]


def _common_part(block: Block, layout: PartialLayout, vector: Floats) -> Floats:
    return np.asarray(block.offset + block.X[..., : layout.n_common] @ layout.common(vector))
