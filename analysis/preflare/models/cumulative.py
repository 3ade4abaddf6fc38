"""The cumulative-logit mixed model for an ordered outcome with one grouping factor.

    P(y <= k | b) = F(theta_k - eta),   eta = offset + x'beta + z'b,   b ~ N(0, Sigma),   F the logistic function

y has K categories, 0 to K - 1; theta has K - 1 rising thresholds, so X holds no intercept. A positive coefficient
moves ratings up. Sigma is diagonal ("independent") or full ("correlated"). The marginal likelihood is approximated by
Laplace's method or by adaptive Gauss-Hermite quadrature (`laplace`), maximised in standardised units (`columns`,
`optimise`), and everything is handed back in the units of the data. A binary outcome is the case of one threshold
(`logistic`).

Sources: McCullagh (1980); Tutz and Hennevogl (1996) for random effects; Pinheiro and Bates (1995) for the integral.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from preflare.models.assemble import Problem, solve
from preflare.models.columns import standardise_for_thresholds, standardise_random
from preflare.models.inputs import Inputs, check_inputs, refuse_collinear
from preflare.models.laplace import gauss_hermite
from preflare.models.likelihood import Likelihood
from preflare.models.padding import make_blocks
from preflare.models.parameters import Layout
from preflare.models.records import FitError, Floats, MixedFit, RandomStructure


def fit_cumulative(
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
    """Fit by maximum likelihood. y: (n,) whole numbers 0 to K - 1, every category in use. X: (n, p), no intercept.

    Z: (n, q) columns of the random effects, the ones of a random intercept among them; q may be 0. group:
    (n,) codes. weights: (n,) prior weights, a row counted so often. offset: (n,) added to eta. quadrature:
    nodes a dimension, 1 is Laplace; more for at most two random terms. Raises FitError where these rows allow
    no fit.
    """
    return solve(
        cumulative_problem(
            y, X, Z, group, names=names, random=random, weights=weights, offset=offset, quadrature=quadrature
        )
    )


def cumulative_problem(
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
    """The model as `fit_cumulative` takes it, checked and standardised, not yet optimised. Raises FitError."""
    inputs = check_inputs(y, X, Z, group, names, weights, offset)
    n_categories = count_categories(inputs.y)
    refuse_quadrature(quadrature, inputs.Z.shape[1])
    X_standard = standardise_for_thresholds(inputs.X)
    refuse_collinear(inputs.X, X_standard.values, inputs.names, constant=True)
    Z_standard = standardise_random(inputs.Z, correlated=random == "correlated")
    layout = Layout(n_categories - 1, inputs.X.shape[1], inputs.Z.shape[1], random)
    likelihood = build_likelihood(inputs, layout, X_standard.values, Z_standard.values, n_categories, quadrature)
    return Problem("cumulative logit", inputs, likelihood, X_standard, Z_standard, quadrature)


def build_likelihood(
    inputs: Inputs,
    layout: Layout,
    X: Floats,
    Z: Floats,
    n_categories: int,
    quadrature: int,
    kind: type[Likelihood] = Likelihood,
) -> Likelihood:
    """The likelihood of standardised columns X and Z, of the kind that fits the layout."""
    return kind(
        blocks=make_blocks(inputs, X, Z, n_categories),
        layout=layout,
        nodes=gauss_hermite(quadrature, layout.n_random),
        counts=np.bincount(inputs.y.astype(np.int64), weights=inputs.weights, minlength=n_categories).astype(float),
        n_groups=inputs.n_groups,
    )


def count_categories(y: Floats) -> int:
    """Number of categories. Raises FitError unless y uses each of 0 to K - 1, K >= 2."""
    if (y != np.floor(y)).any() or y.min() < 0:
        raise FitError("wrong shape", "categories must be whole numbers from 0")
    counts = np.bincount(y.astype(np.int64))
    if (counts > 0).sum() < 2:
        raise FitError("one category", "every outcome is the same: there is nothing to explain")
    if (counts == 0).any():
        raise FitError("empty category", f"no row has category {np.flatnonzero(counts == 0)[0]}; number the rest anew")
    return len(counts)


def refuse_quadrature(quadrature: int, n_random: int) -> None:
    """Raise FitError for quadrature that cannot be done: under one node, or more than one for over two random terms."""
    if quadrature < 1 or (quadrature > 1 and n_random > 2):
        raise FitError(
            "wrong shape", f"quadrature={quadrature} serves one or two random terms; use 1 (Laplace) for more"
        )
