"""What goes into a fit, checked: every refusal is a FitError that names the column or row, and what would help.

n rows, p columns of X (fixed effects), q columns of Z (random effects), one grouping factor. Rows of weight 0 leave
here. What each reason of a refusal calls for stands in `checks.REFUSALS`.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from preflare.models.records import FitError, Floats, Ints

COLLINEAR = 1e-9
"""A standardised column whose distance from the others is below this share of its length adds nothing."""


@dataclass(frozen=True)
class Inputs:
    """Rows ready to fit. y (n,), X (n, p), Z (n, q), group (n,) codes from 0, weights (n,), offset (n,), names (p,)."""

    y: Floats
    X: Floats
    Z: Floats
    group: Ints
    weights: Floats
    offset: Floats
    names: tuple[str, ...]

    @property
    def n_groups(self) -> int:
        """Codes in use and gaps between them: the length of anything by group."""
        return int(self.group.max()) + 1


def check_inputs(
    y: ArrayLike,
    X: ArrayLike,
    Z: ArrayLike,
    group: ArrayLike,
    names: Sequence[str] | None,
    weights: ArrayLike | None,
    offset: ArrayLike | None,
) -> Inputs:
    """Arrays of one length, finite, with at least two groups where there is a random term. Raises FitError.

    Rows of weight 0 are left out here, so that everything after counts only rows that speak.
    """
    outcome = np.asarray(y, dtype=float)
    n = len(outcome)
    if n == 0:
        raise FitError("no rows", "there are no rows to fit")
    columns, random = _matrix(X, n, "X"), _matrix(Z, n, "Z")
    labels = tuple(names) if names is not None else tuple(f"x{j + 1}" for j in range(columns.shape[1]))
    if len(labels) != columns.shape[1]:
        raise FitError("wrong shape", f"{len(labels)} names were given for {columns.shape[1]} columns")
    codes = _vector(group, n, "group")
    weight = np.ones(n) if weights is None else _vector(weights, n, "weights")
    shift = np.zeros(n) if offset is None else _vector(offset, n, "offset")
    _refuse_missing(outcome, columns, random, labels, {"group": codes, "weights": weight, "offset": shift})
    if (weight < 0).any() or (codes < 0).any():
        raise FitError("wrong shape", "weights and group codes must not be below 0")
    used = weight > 0
    if not used.any():
        raise FitError("no rows", "every row has weight 0")
    inputs = Inputs(
        outcome[used],
        columns[used],
        random[used],
        codes[used].astype(np.int64),
        weight[used],
        shift[used],
        labels,
    )
    _refuse_hopeless_random_terms(inputs)
    return inputs


def _matrix(values: ArrayLike, n: int, what: str) -> Floats:
    matrix = np.asarray(values, dtype=float)
    if matrix.ndim != 2 or len(matrix) != n:
        raise FitError(
            "wrong shape",
            f"{what} must have one row for each of the {n} outcomes; its shape is {matrix.shape}",
        )
    return matrix


def _vector(values: ArrayLike, n: int, what: str) -> Floats:
    vector = np.asarray(values, dtype=float)
    if vector.shape != (n,):
        raise FitError("wrong shape", f"{what} must have one value for each of the {n} outcomes")
    return vector


def _refuse_missing(y: Floats, X: Floats, Z: Floats, names: Sequence[str], vectors: dict[str, Floats]) -> None:
    """Raise FitError for the first value that is missing or infinite, naming it."""
    named = {"the outcome": y, **vectors}
    named |= {f"column '{name}'": X[:, j] for j, name in enumerate(names)}
    named |= {f"random term {j + 1}": Z[:, j] for j in range(Z.shape[1])}
    for what, values in named.items():
        bad = np.flatnonzero(~np.isfinite(values))
        if len(bad) == len(values):
            raise FitError("missing values", f"{what} is missing on every row")
        if len(bad):
            raise FitError("missing values", f"{what} is missing on {len(bad)} rows, the first being row {bad[0] + 1}")


def _refuse_hopeless_random_terms(inputs: Inputs) -> None:
    if inputs.Z.shape[1] == 0:
        return
    if len(np.unique(inputs.group)) < 2:
        raise FitError("too few groups", "differences between athletes cannot be estimated from one athlete")
    empty = np.flatnonzero(~inputs.Z.any(axis=0))
    if len(empty):
        raise FitError("empty random term", f"random term {empty[0] + 1} is 0 on every row")


def refuse_collinear(X: Floats, standard: Floats, names: Sequence[str], constant: bool) -> None:
    """Raise FitError when a column adds nothing to those before it, or when there are fewer rows than columns.

    X: (n, p) as given; standard: the same standardised. constant: thresholds are there, so that X may hold no
    constant.
    """
    n = len(X)
    flat = np.flatnonzero(np.ptp(X, axis=0) == 0) if constant else np.flatnonzero(~X.any(axis=0))
    if len(flat):
        raise FitError("constant column", f"column '{names[flat[0]]}' has the same value on every row; leave it out")
    full = np.column_stack([np.ones(n), standard]) if constant else standard
    if n < full.shape[1]:
        raise FitError("too few rows", f"{n} rows cannot place {full.shape[1]} coefficients")
    # |R_jj| of the QR decomposition is the distance of column j from the span of the columns before it.
    distance = np.abs(np.diag(np.linalg.qr(full / np.linalg.norm(full, axis=0), mode="r")))
    repeated = np.flatnonzero(distance < COLLINEAR)
    if len(repeated):
        name = names[int(repeated[0]) - int(constant)]
        raise FitError(
            "collinear columns", f"column '{name}' can be worked out from the columns before it; leave it out"
        )
