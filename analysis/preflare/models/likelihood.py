"""The log-likelihood of all athletes as one function of a parameter vector, with warm starts for the modes.

    l(phi) = sum_i L_i(phi),   phi = (thresholds, coefficients, entries of Lambda)   (`parameters`),

L_i an athlete's integral by `laplace`. An athlete's mode at one phi starts the search at the next.
"""

from dataclasses import dataclass, field

import numpy as np

from preflare.models.laplace import Evaluation, Nodes, evaluate, information
from preflare.models.ordered_logit import FARTHEST, threshold_curvature
from preflare.models.padding import Block
from preflare.models.parameters import Layout
from preflare.models.records import Floats, Ints
from preflare.models.separation import separating_direction


@dataclass
class Likelihood:
    """Sum over blocks. The modes of the last evaluation start the next search; nothing else changes between calls.

    counts: (K,) weighted number of rows of each category. n_groups: length of anything by group.
    """

    blocks: list[Block]
    layout: Layout
    nodes: Nodes
    counts: Floats
    n_groups: int
    modes: list[Floats] = field(init=False)
    modes_found: bool = field(init=False, default=True)

    def __post_init__(self) -> None:
        self.modes = [np.zeros((len(block.athletes), self.layout.n_random)) for block in self.blocks]

    def allows(self, vector: Floats) -> bool:
        """Whether the thresholds rise and can be told from infinity."""
        thresholds = self.layout.thresholds(vector)
        return bool((np.diff(thresholds) > 0).all() and (np.abs(thresholds) < FARTHEST).all())

    def evaluations(self, vector: Floats) -> list[Evaluation]:
        """Every block at `vector`; remembers the modes."""
        results = [self._evaluate(block, vector, start) for block, start in zip(self.blocks, self.modes, strict=True)]
        self.modes = [result.mode.u for result in results]
        self.modes_found = all(result.mode.found for result in results)
        return results

    def _evaluate(self, block: Block, vector: Floats, start: Floats) -> Evaluation:
        return evaluate(block, self.layout, vector, start, self.nodes)

    def cost(self, vector: Floats) -> tuple[float, Floats]:
        """Minus the log-likelihood, and its gradient. Infinite where the thresholds do not rise."""
        if not self.allows(vector):
            return np.inf, np.zeros_like(vector)
        results = self.evaluations(vector)
        value = sum(float(result.log_likelihood.sum()) for result in results)
        gradient = sum((result.gradient.sum(axis=0) for result in results), np.zeros_like(vector))
        return -value, -gradient

    def scores(self, vector: Floats) -> Floats:
        """(n_groups, n_parameters) each group's gradient of the log-likelihood; 0 for a code without rows."""
        scores = np.zeros((self.n_groups, self.layout.size))
        for block, result in zip(self.blocks, self.evaluations(vector), strict=True):
            scores[block.athletes] = result.gradient
        return scores

    def fixed_information(self, vector: Floats) -> Floats:
        """(n_fixed, n_fixed) information on thresholds and coefficients with Lambda held, at the remembered modes."""
        n = self.layout.n_thresholds
        total = sum(
            (information(block, self.layout, vector, u) for block, u in zip(self.blocks, self.modes, strict=True)),
            np.zeros((self.layout.n_fixed, self.layout.n_fixed)),
        )
        total[:n, :n] += threshold_curvature(self.layout.thresholds(vector), self.counts)[:n, :n]
        return total

    def separating_direction(self, y: Ints, X: Floats) -> Floats:
        """(p,) direction of coefficients along which the likelihood never falls (`separation`). X: (n, p) standard."""
        return separating_direction(y, X, len(self.counts) - 1, fixed_threshold=self.layout.n_thresholds == 0)
