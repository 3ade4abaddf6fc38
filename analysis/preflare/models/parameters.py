"""The vector that an optimiser sees, and the quantities that a reader sees.

The vector is (thresholds, coefficients, entries of Lambda). Lambda (q, q) is the random factor, b = Lambda u with
u ~ N(0, I), so that b has covariance Lambda Lambda'. Its entries are raw, not logged: the likelihood is an even
function of each column of Lambda, so that a variance of 0 is an ordinary smooth optimum, not the edge of a cliff.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from preflare.models.records import Floats, Ints, RandomStructure


@dataclass(frozen=True)
class Layout:
    """Where each parameter stands. fixed_thresholds: given ones, which are then no parameters (the logistic model)."""

    n_thresholds: int
    n_coefficients: int
    n_random: int
    structure: RandomStructure
    fixed_thresholds: tuple[float, ...] = ()

    @cached_property
    def random_entries(self) -> tuple[Ints, Ints]:
        """Rows and columns of the free entries of Lambda: its diagonal, or its lower triangle."""
        if self.structure == "independent":
            diagonal = np.arange(self.n_random)
            return diagonal, diagonal
        rows, columns = np.tril_indices(self.n_random)
        return rows.astype(np.int64), columns.astype(np.int64)

    @property
    def n_fixed(self) -> int:
        """Thresholds and coefficients together."""
        return self.n_thresholds + self.n_coefficients

    @property
    def size(self) -> int:
        return self.n_fixed + len(self.random_entries[0])

    @cached_property
    def diagonal(self) -> Ints:
        """Places in the vector of the diagonal of Lambda."""
        rows, columns = self.random_entries
        return self.n_fixed + np.flatnonzero(rows == columns)

    def thresholds(self, vector: Floats) -> Floats:
        if self.n_thresholds == 0:
            return np.array(self.fixed_thresholds)
        return vector[: self.n_thresholds]

    def coefficients(self, vector: Floats) -> Floats:
        return vector[self.n_thresholds : self.n_fixed]

    def random_factor(self, vector: Floats) -> Floats:
        """Lambda (q, q), lower triangular."""
        return self.factor_of(vector[self.n_fixed :])

    def factor_of(self, entries: Floats) -> Floats:
        """Lambda (q, q) from its free entries alone."""
        factor = np.zeros((self.n_random, self.n_random))
        factor[self.random_entries] = entries
        return factor
