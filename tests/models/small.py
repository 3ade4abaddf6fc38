"""Small invented data for the engine's tests, and likelihoods built from them."""

from dataclasses import dataclass

import numpy as np

from preflare.models.columns import standardise_for_thresholds, standardise_random, standardise_with_intercept
from preflare.models.cumulative import build_likelihood
from preflare.models.inputs import check_inputs
from preflare.models.likelihood import Likelihood
from preflare.models.parameters import Layout


@dataclass(frozen=True)
class Small:
    """y: categories 0 to 2. flare: 0 or 1. rating: continuous. X (n, 2). Z (n, 2): ones and the first column of X."""

    y: np.ndarray
    flare: np.ndarray
    rating: np.ndarray
    X: np.ndarray
    Z: np.ndarray
    group: np.ndarray
    weights: np.ndarray
    offset: np.ndarray

    @property
    def with_intercept(self) -> np.ndarray:
        return np.column_stack([np.ones(len(self.y)), self.X])


def small(n_athletes: int = 6, rows: int = 9, seed: int = 3) -> Small:
    """Unequal numbers of rows, three categories, real differences between athletes."""
    rng = np.random.default_rng(seed)
    sizes = rng.integers(max(2, rows - 3), rows + 3, n_athletes)
    group = np.repeat(np.arange(n_athletes), sizes)
    n = len(group)
    X = np.column_stack([rng.normal(size=n), rng.random(n) < 0.4]).astype(float)
    b = rng.normal(size=(n_athletes, 2)) * [1.0, 0.5]
    eta = 0.6 * X[:, 0] - 0.5 * X[:, 1] + b[group, 0] + b[group, 1] * X[:, 0]
    latent = eta + rng.logistic(size=n)
    y = np.digitize(latent, [0.2, 1.4])
    return Small(
        y=y,
        flare=(y > 0).astype(int),
        rating=eta + rng.normal(size=n),
        X=X,
        Z=np.column_stack([np.ones(n), X[:, 0]]),
        group=group,
        weights=rng.uniform(0.5, 2.0, n),
        offset=rng.normal(size=n) * 0.3,
    )


def likelihood(data: Small, family: str, q: int, structure: str, quadrature: int) -> Likelihood:
    """The function that a fit maximises, weights and offset included."""
    if family == "cumulative logit":
        inputs = check_inputs(data.y, data.X, data.Z[:, :q], data.group, None, data.weights, data.offset)
        X, layout = standardise_for_thresholds(inputs.X), Layout(2, 2, q, structure)
    else:
        inputs = check_inputs(
            data.flare, data.with_intercept, data.Z[:, :q], data.group, None, data.weights, data.offset
        )
        X, layout = standardise_with_intercept(inputs.X), Layout(0, 3, q, structure, fixed_thresholds=(0.0,))
    Z = standardise_random(inputs.Z, structure == "correlated")
    return build_likelihood(inputs, layout, X.values, Z.values, 3 if layout.n_thresholds else 2, quadrature)


def some_vector(layout: Layout) -> np.ndarray:
    """An ordinary point of the parameter space, no optimum."""
    rng = np.random.default_rng(8)
    vector = rng.normal(size=layout.size) * 0.4
    vector[: layout.n_thresholds] = np.sort(vector[: layout.n_thresholds])
    vector[layout.diagonal] = 0.5 + 0.2 * np.arange(layout.n_random)
    return vector
