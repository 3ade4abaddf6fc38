"""What a fit hands back, and how it refuses. Complete when made; numbers that cannot be had are NaN beside a reason."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from preflare.errors import PreflareError

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
Family = Literal["cumulative logit", "logistic", "linear"]
RandomStructure = Literal["independent", "correlated"]


class FitError(PreflareError, ValueError):
    """These rows allow no fit at all. The message says why and what would help; `reason` is one word or two.

    reason: "no rows", "missing values", "wrong shape", "one category", "empty category", "too few groups",
    "constant column", "collinear columns", "empty random term", "too few rows", and those of single questions:
    "one cut", "variances", "not converged", "separation". `checks.REFUSALS` says what would help.
    """

    def __init__(self, reason: str, message: str) -> None:
        super().__init__(message)
        self.reason = reason


@dataclass(frozen=True)
class Convergence:
    """The optimiser's story, and what it says about the answer.

    converged: the Newton decrement and the mode searches met their limits at a point where the information is
    positive definite; where columns are separated this speaks of the other parameters, in the limit.
    gradient: largest absolute component left, by free parameters in standardised units.
    newton_decrement: g' H^-1 g with the true Hessian H, twice the log-likelihood still to be had; limit 1e-6.
    condition: ratio of the extreme eigenvalues of the information scaled to unit diagonal.
    singular: a random-effect variance is 0, or a correlation is -1 or 1, to the precision of the data.
    separated: columns that split the outcome perfectly; their estimates run to infinity, so that their covariance
    is NaN.
    iterations: quasi-Newton steps. message: the same in words; empty when there is nothing to say.
    """

    converged: bool
    gradient: float
    newton_decrement: float
    condition: float
    singular: bool
    separated: tuple[str, ...]
    iterations: int
    message: str


@dataclass(frozen=True)
class MixedFit:
    """A mixed model of one grouping factor. A groups, p columns of X, q columns of Z, K - 1 thresholds (K categories).

    family: which model. names: (p,) of the columns of X.
    coefficients: (p,) per unit of each column.
    thresholds: (K - 1,); empty for the logistic and linear families, whose intercept is a column of X.
    covariance: (K - 1 + p, K - 1 + p) of (thresholds, coefficients), the random part estimated beside them
    (linear: given the variances). NaN in the rows of separated columns.
    random_covariance: (q, q) of the random effects b, in the units of Z. random_sd: (q,).
    modes: (A, q) conditional modes of b. mode_se: (A, q) their conditional standard errors, parameters held.
    residual_sd: of the linear family; NaN otherwise.
    log_likelihood, log_likelihood_note: the value, and which constant and approximation it holds.
    parameters: every free parameter as optimised: (thresholds, coefficients) in the data's units, then the entries
    of the random factor in standardised units (linear: the coefficients alone).
    parameter_covariance: of `parameters`.
    scores: (A, n_parameters) each group's gradient of the log-likelihood by `parameters`; they sum to 0.
    random_structure: "independent" or "correlated". quadrature: nodes a dimension; 1 is Laplace.
    n_rows: rows of positive weight. n_groups: groups with such rows.
    """

    family: Family
    names: tuple[str, ...]
    coefficients: Floats
    thresholds: Floats
    covariance: Floats
    random_covariance: Floats
    random_sd: Floats
    modes: Floats
    mode_se: Floats
    residual_sd: float
    log_likelihood: float
    log_likelihood_note: str
    parameters: Floats
    parameter_covariance: Floats
    scores: Floats
    random_structure: RandomStructure
    quadrature: int
    n_rows: int
    n_groups: int
    convergence: Convergence

    @property
    def standard_errors(self) -> Floats:
        """(p,) of the coefficients; NaN for separated columns."""
        variances = np.diag(self.covariance)[len(self.thresholds) :]
        return np.sqrt(variances)
