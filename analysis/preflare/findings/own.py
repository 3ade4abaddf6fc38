"""One athlete's own estimates: the squad's model at the own modes, and the own rows alone. No grade on either."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit

from preflare.findings.contrasts import FAMILY, Contrast, at_level, levels
from preflare.findings.effects import with_intercept
from preflare.findings.fitting import Fitted
from preflare.models.design import set_exposures
from preflare.models.rows import AMOUNTS, EXPOSURES, ModelRows
from preflare.models.standardise import Interval, t_interval

Floats = NDArray[np.float64]
FEWEST_REPORTED_ALONE = 30
FEWEST_AT_LEVEL_ALONE = 10


def own_pulled(fitted: Fitted, contrast: Contrast, df: float) -> list[Interval | None]:
    """The contrast over each athlete's own sessions at the own modes: the own difference, pulled towards the squad's.

    Per 100 sessions, by athlete code; None for an athlete without a session where the contrast applies. The modes' own
    uncertainty is added to the delta-method variance, as if independent of the coefficients'.
    """
    rows = fitted.design.rows
    compared = levels(contrast, rows)
    n = np.bincount(rows.group[compared.where], minlength=len(rows.athletes))
    sides = [_own_risks(fitted, values, compared.where) for values in (compared.at_from, compared.at_to)]
    risk, gradient, by_mode = (after - before for before, after in zip(*sides, strict=True))
    variance = np.einsum("ap,pq,aq->a", gradient, fitted.fit.covariance, gradient)
    variance = variance + ((by_mode * np.nan_to_num(np.asarray(fitted.fit.mode_se))) ** 2).sum(axis=1)
    se = np.sqrt(np.maximum(variance, 0.0))
    return [t_interval(100 * float(risk[a]), 100 * float(se[a]), df) if n[a] else None for a in range(len(n))]


def _own_risks(
    fitted: Fitted, values: Mapping[str, Floats | float], where: NDArray[np.bool_]
) -> tuple[Floats, Floats, Floats]:
    """By athlete: mean risk (A,), its gradient by (thresholds, coefficients) (A, .) and by the own modes (A, q)."""
    design = fitted.design
    group = design.rows.group[where]
    n_athletes = len(design.rows.athletes)
    X, Z = set_exposures(design, values)
    X, Z = with_intercept(fitted, X[where]), Z[where]
    eta = X @ fitted.parameters[fitted.n_thresholds :] + np.einsum("nq,nq->n", Z, np.asarray(fitted.fit.modes)[group])
    if fitted.threshold is not None:
        eta = eta - fitted.parameters[fitted.threshold]
    risk = expit(eta)
    slope = risk * (1 - risk)
    gradient = np.zeros((n_athletes, len(fitted.parameters)))
    gradient[:, fitted.n_thresholds :] = _means(slope[:, None] * X, group, n_athletes)
    if fitted.threshold is not None:
        gradient[:, fitted.threshold] = -_means(slope[:, None], group, n_athletes)[:, 0]
    return _means(risk[:, None], group, n_athletes)[:, 0], gradient, _means(slope[:, None] * Z, group, n_athletes)


def _means(columns: Floats, group: NDArray[np.int64], n_groups: int) -> Floats:
    """Mean of each column over each group, 0 for an empty group: (n_groups, columns)."""
    n = np.maximum(np.bincount(group, minlength=n_groups), 1)
    return np.stack([np.bincount(group, weights=column, minlength=n_groups) / n for column in columns.T], axis=1)


def rows_of_athletes(rows: ModelRows) -> list[NDArray[np.int64]]:
    """The places of each athlete's modelling rows, by athlete code."""
    order = np.argsort(rows.group, kind="stable")
    return np.split(order, np.cumsum(np.bincount(rows.group, minlength=len(rows.athletes)))[:-1])


def own_alone(rows: ModelRows, places: NDArray[np.int64], event: int) -> dict[str, Interval]:
    """Linear risk on one athlete's own reported sessions: exposures and a straight calendar trend, HC3 errors.

    places: the athlete's modelling rows. By exposure, per 100 sessions; only with 30 reported sessions and, for words,
    10 at each level.
    """
    own = places[rows.reported[places]]
    if len(own) < FEWEST_REPORTED_ALONE:
        return {}
    y = 100.0 * (rows.frame["rating"].to_numpy(float)[own] >= event)
    names = [name for name in EXPOSURES if name not in rows.left_out]
    X = np.column_stack(
        [
            *(np.where(rows.applies[n], rows.values[n], 0.0)[own] for n in names),
            rows.frame["day"].to_numpy(float)[own],
        ]
    )
    keep = [j for j in range(X.shape[1]) if X[:, j].std() > 1e-8]
    fitted = _hc3(np.column_stack([np.ones(len(y)), X[:, keep]]), y)
    if fitted is None:
        return {}
    estimate, se, df = fitted
    shown = {}
    for place, j in enumerate(keep[: len(keep)], start=1):
        if j < len(names) and _both_levels(rows, own, names[j]):
            shown[names[j]] = t_interval(float(estimate[place]), float(se[place]), df)
    return shown


def _both_levels(rows: ModelRows, own: NDArray[np.int64], exposure: str) -> bool:
    if exposure in AMOUNTS:
        return True
    contrast = next(item for item in FAMILY if item.id == exposure)
    counts = [int(at_level(contrast, rows, level)[own].sum()) for level in (contrast.reference, contrast.level)]
    return min(counts) >= FEWEST_AT_LEVEL_ALONE


def _hc3(X: Floats, y: Floats) -> tuple[Floats, Floats, int] | None:
    """Least squares with HC3 standard errors (MacKinnon JG, White H.

    J Econometrics 1985;29:305-325); None if singular.
    """
    if np.linalg.matrix_rank(X) < X.shape[1]:
        return None
    inverse = np.linalg.inv(X.T @ X)
    estimate = inverse @ (X.T @ y)
    leverage = np.einsum("ij,jk,ik->i", X, inverse, X)
    weight = ((y - X @ estimate) / np.maximum(1 - leverage, 1e-6)) ** 2
    covariance = inverse @ (X.T * weight) @ X @ inverse
    return estimate, np.sqrt(np.diag(covariance)), len(y) - X.shape[1]
