"""The logistic mixed model, the cumulative logit of one threshold held at 0.

    P(y = 1 | b) = F(eta),   eta = offset + x'beta + z'b,   b ~ N(0, Sigma)

X holds its own intercept column. Everything else is said in `cumulative`.
"""

from collections.abc import Sequence

from numpy.typing import ArrayLike

from preflare.models.assemble import Problem, solve
from preflare.models.columns import standardise_random, standardise_with_intercept
from preflare.models.cumulative import build_likelihood, refuse_quadrature
from preflare.models.inputs import check_inputs, refuse_collinear
from preflare.models.parameters import Layout
from preflare.models.records import FitError, Floats, MixedFit, RandomStructure


def fit_logistic(
    y: ArrayLike,
    X: ArrayLike,
    Z: ArrayLike,
    group: ArrayLike,
    *,
    names: Sequence[str] | None = None,
    random: RandomStructure = "independent",
    weights: ArrayLike | None = None,
    offset: ArrayLike | None = None,
    quadrature: int = 1,
) -> MixedFit:
    """Fit by maximum likelihood. y: (n,) 0 or 1, both in use. X: (n, p) with its intercept column. The rest
    as in `fit_cumulative`; counts out of a total are two rows, weighted by successes and failures. Raises
    FitError.
    """
    return solve(
        logistic_problem(
            y, X, Z, group, names=names, random=random, weights=weights, offset=offset, quadrature=quadrature
        )
    )


def logistic_problem(
    y: ArrayLike,
    X: ArrayLike,
    Z: ArrayLike,
    group: ArrayLike,
    *,
    names: Sequence[str] | None = None,
    random: RandomStructure = "independent",
    weights: ArrayLike | None = None,
    offset: ArrayLike | None = None,
    quadrature: int = 1,
) -> Problem:
    """The model as `fit_logistic` takes it, checked and standardised, not yet optimised. Raises FitError."""
    inputs = check_inputs(y, X, Z, group, names, weights, offset)
    _refuse_outcome(inputs.y)
    refuse_quadrature(quadrature, inputs.Z.shape[1])
    X_standard = standardise_with_intercept(inputs.X)
    refuse_collinear(inputs.X, X_standard.values, inputs.names, constant=False)
    Z_standard = standardise_random(inputs.Z, correlated=random == "correlated")
    layout = Layout(0, inputs.X.shape[1], inputs.Z.shape[1], random, fixed_thresholds=(0.0,))
    likelihood = build_likelihood(inputs, layout, X_standard.values, Z_standard.values, 2, quadrature)
    return Problem("logistic", inputs, likelihood, X_standard, Z_standard, quadrature)


def _refuse_outcome(y: Floats) -> None:
    if not set(y.tolist()) <= {0.0, 1.0}:
        raise FitError("wrong shape", "the outcome of a logistic model must be 0 or 1")
    if y.min() == y.max():
        raise FitError("one category", f"every outcome is {y[0]:.0f}: there is nothing to explain")
