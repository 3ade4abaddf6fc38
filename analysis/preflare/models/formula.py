"""A model written as a formula on a data frame: `fit_formula("rating ~ intensity + bar", data, ...)`.

Formulas are formulaic's (Wilkinson and Rogers's notation, as in R): `a + b`, `a * b`, `np.log(load)`,
`C(bar, contr.treatment("straight"))`. The random part is a formula of its own, "1 + intensity", within the groups of
one column. What comes back is the same MixedFit as from matrices; `model_matrices` hands over the matrices for the
checks that need them.

Nothing is left out silently: a row with a missing value is refused by column and row.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd
from formulaic import Formula
from formulaic.errors import FormulaicError

from preflare.models.cumulative import fit_cumulative
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic
from preflare.models.records import Family, FitError, Floats, Ints, MixedFit, RandomStructure

INTERCEPT = "Intercept"


@dataclass(frozen=True)
class ModelMatrices:
    """y (n,), X (n, p), Z (n, q), group (n,) codes into `groups`; names of the columns of X and of Z.

    levels: what the codes 0 to K - 1 of an ordered outcome, or 0 and 1 of a binary one, stand for; empty for a number.
    """

    y: Floats
    X: Floats
    Z: Floats
    group: Ints
    names: tuple[str, ...]
    random_names: tuple[str, ...]
    groups: tuple[str, ...]
    levels: tuple[str, ...]


def fit_formula(
    formula: str,
    data: pd.DataFrame,
    *,
    group: str,
    family: Family,
    random: str = "1",
    structure: RandomStructure = "independent",
    weights: str | None = None,
    offset: str | None = None,
    quadrature: int = 1,
    reml: bool = True,
) -> MixedFit:
    """Fit a formula. group, weights, offset: names of columns. random: formula of the random effects ("0": none).

    quadrature is for the ordered and the binary outcome, reml for a number. Raises FitError where the formula cannot be
    read on these data, or these rows allow no fit.
    """
    made = model_matrices(formula, data, group=group, family=family, random=random)
    prior, shift = (None if name is None else _column(data, name).to_numpy(float) for name in (weights, offset))
    y, X, Z, codes = made.y, made.X, made.Z, made.group
    if family == "linear":
        return fit_linear(y, X, Z, codes, names=made.names, random=structure, weights=prior, offset=shift, reml=reml)
    fit = fit_logistic if family == "logistic" else fit_cumulative
    return fit(y, X, Z, codes, names=made.names, random=structure, weights=prior, offset=shift, quadrature=quadrature)


def model_matrices(formula: str, data: pd.DataFrame, *, group: str, family: Family, random: str = "1") -> ModelMatrices:
    """The matrices of a formula. An ordered outcome's thresholds take the place of the intercept. Raises FitError."""
    outcome, separator, terms = formula.partition("~")
    if not separator or not outcome.strip():
        raise FitError("wrong shape", f"write the formula as 'outcome ~ terms'; it is '{formula}'")
    _refuse_missing(data, formula, random, group)
    X = _matrix(terms, data)
    if family == "cumulative logit":
        X = X.drop(columns=INTERCEPT, errors="ignore")
    Z = _matrix(random, data)
    codes, groups = pd.factorize(_column(data, group), sort=True)
    y, levels = _outcome(outcome.strip(), data, family)
    return ModelMatrices(
        y=y,
        X=X.to_numpy(float),
        Z=Z.to_numpy(float),
        group=codes.astype(np.int64),
        names=tuple(X.columns),
        random_names=tuple(Z.columns),
        groups=tuple(str(name) for name in groups),
        levels=levels,
    )


def _matrix(terms: str, data: pd.DataFrame) -> pd.DataFrame:
    """(n, p) columns of one side of a formula, coded by treatment contrasts. Raises FitError in the library's words."""
    try:
        made = Formula(terms.strip() or "1").get_model_matrix(data, na_action="raise", output="pandas")
    except (FormulaicError, ValueError, KeyError, TypeError) as error:
        told = str(error).strip().splitlines() or [type(error).__name__]
        raise FitError("wrong shape", f"'{terms.strip()}' cannot be read on these columns: {told[0]}") from error
    if "0" in terms and made.shape[1] == 0:
        return pd.DataFrame(index=data.index)
    return pd.DataFrame(made)


def _column(data: pd.DataFrame, name: str) -> "pd.Series[object]":
    if name not in data:
        raise FitError("wrong shape", f"there is no column '{name}' among {', '.join(map(str, data.columns))}")
    return data[name]


def _refuse_missing(data: pd.DataFrame, formula: str, random: str, group: str) -> None:
    """Raise FitError for the first column of the model that has a missing value, naming the row by its place."""
    if len(data) == 0:
        raise FitError("no rows", "there are no rows to fit")
    words = set(re.findall(r"[^\W\d]\w*", f"{formula} {random}")) | {group}
    for name in data.columns:
        bad = np.flatnonzero(data[name].isna()) if name in words else np.zeros(0)
        if len(bad):
            row = int(bad[0]) + 1
            raise FitError(
                "missing values", f"column '{name}' is missing on {len(bad)} rows, the first being row {row}"
            )


def _outcome(name: str, data: pd.DataFrame, family: Family) -> tuple[Floats, tuple[str, ...]]:
    """The outcome as numbers, and what its codes stand for."""
    if family == "linear":
        return _matrix(f"0 + {name}", data).iloc[:, 0].to_numpy(float), ()
    values = _column(data, name)
    levels = _levels(values)
    if family == "logistic" and len(levels) > 2:
        raise FitError("wrong shape", f"'{name}' has {len(levels)} values; a logistic model needs two")
    if family == "logistic" and set(levels) <= {0, 1}:
        levels = [0, 1]
    codes = pd.Categorical(values, categories=levels, ordered=True).codes
    return codes.astype(float), tuple(str(level) for level in levels)


def _levels(values: "pd.Series[object]") -> Sequence[object]:
    """The levels in use, in their order: a categorical's own, numbers by size. Raises FitError for unordered words."""
    if isinstance(values.dtype, pd.CategoricalDtype):
        used = set(values.unique())
        return [level for level in values.cat.categories if level in used]
    if not (pd.api.types.is_numeric_dtype(values) or pd.api.types.is_bool_dtype(values)):
        raise FitError("wrong shape", f"the order of '{values.name}' is not known: make it an ordered categorical")
    return sorted(values.unique())
