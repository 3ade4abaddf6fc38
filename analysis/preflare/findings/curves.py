"""Exploratory curves: how the share of painful sessions runs over intensity and over weekly sets.

Never graded.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chi2

from preflare.findings.checks import Check, check
from preflare.findings.fitting import Fitted, fit_ordinal
from preflare.models.design import Block, primary_design, set_exposures, sets_design, without_slopes
from preflare.models.rows import UNIT, ModelRows
from preflare.models.splines import restricted_cubic_spline
from preflare.models.standardise import delta_se, risk_interval, standardised_risk

Floats = NDArray[np.float64]
KNOT_QUANTILES = (0.05, 0.35, 0.65, 0.95)
SHOWN_QUANTILES = (0.02, 0.98)
POINTS = 25
CURVATURE_LIMIT = 0.05
CURVES = {"intensity": "% of 1RM", "sets": "working squat sets in the 7 days before"}
"""What each curve runs over, and its unit as shown."""


@dataclass(frozen=True)
class CurveFit:
    """A model in which one amount bends.

    knots in the models' unit; x: the amount in every row; bends: their columns.
    """

    exposure: str
    fitted: Fitted
    knots: tuple[float, ...]
    x: Floats
    bends: tuple[str, ...]


def fit_curve(rows: ModelRows, exposure: str, event: int) -> CurveFit | None:
    """The question's model with restricted cubic spline terms for one amount added; None where it cannot be
    fitted."""
    if exposure in rows.left_out:
        return None
    x = rows.values[exposure].to_numpy(float)
    knots = tuple(float(k) for k in np.quantile(x[rows.reported], KNOT_QUANTILES))
    if np.any(np.diff(knots) <= 1e-6):
        return None
    names = tuple(f"bend {j + 1} of {exposure}" for j in range(len(knots) - 2))
    block = Block(f"bends of {exposure}", names, restricted_cubic_spline(x, knots)[:, 1:])
    make = sets_design if exposure == "sets" else primary_design
    design = without_slopes(make(rows, event, extra=block))
    bends = tuple(name for name in names if name in design.names)
    try:
        fitted = fit_ordinal(design, event)
    except (ValueError, np.linalg.LinAlgError):
        return None
    usable = fitted.fit.convergence.converged and f"within {exposure}" in design.names
    return CurveFit(exposure, fitted, knots, x, bends) if usable else None


def curvature_p(curve: CurveFit) -> float:
    """Wald test of the bends: p of chi-squared with as many degrees of freedom; NaN without a usable
    variance."""
    fitted = curve.fitted
    places = [fitted.design.column(name) for name in curve.bends]
    if not places:
        return float("nan")
    b = np.asarray(fitted.fit.coefficients)[places]
    at = [fitted.n_thresholds + j for j in places]
    covariance = np.asarray(fitted.fit.covariance)[np.ix_(at, at)]
    statistic = float(b @ np.linalg.solve(covariance, b))
    return float(chi2.sf(statistic, len(places))) if statistic >= 0 else float("nan")


def curvature_check(curve: CurveFit | None) -> Check:
    """Whether pain rises evenly over the amount: a note, since "clear" speaks of the average slope."""
    p = curvature_p(curve) if curve else float("nan")
    return check("curvature", p, CURVATURE_LIMIT, p < CURVATURE_LIMIT, False)


def curve_record(curve: CurveFit, event: int) -> dict[str, Any]:
    """One curve of findings.json: points per 100 with intervals, and a rug of where the data are."""
    rows = curve.fitted.design.rows
    reported = rows.reported
    unit = UNIT[curve.exposure]
    first, last = np.quantile(curve.x[reported], SHOWN_QUANTILES)
    grid = np.linspace(first, last, POINTS)
    df = max(len(rows.athletes) - 1, 1)
    points = []
    for x in grid:
        risk, se = _risk_at(curve, float(x))
        interval = risk_interval(risk, se, df)
        points.append({"x": x * unit, "per_100": 100 * risk, "low": 100 * interval.low, "high": 100 * interval.high})
    painful = rows.rating >= event
    seen = curve.x[reported] * unit
    return {
        "exposure": curve.exposure,
        "unit": CURVES[curve.exposure],
        "points": points,
        "rug": {"pain": np.sort(seen[painful]), "none": np.sort(seen[~painful])},
        "curvature_p": curvature_p(curve),
        "grade": None,
        "exploratory": True,
    }


def _risk_at(curve: CurveFit, x: float) -> tuple[float, float]:
    """Standardised risk with the amount at x in every session, and its standard error."""
    fitted, design = curve.fitted, curve.fitted.design
    X, Z = set_exposures(design, {curve.exposure: x})
    basis = restricted_cubic_spline(np.array([x]), curve.knots)[0, 1:]
    for name in curve.bends:
        j = design.column(name)
        X[:, j] = basis[int(name.split()[1]) - 1] - design.column_mean[j]
    random_part = np.einsum("nq,nq->n", Z, np.asarray(fitted.fit.modes)[design.rows.group])
    risk, gradient = standardised_risk(fitted.parameters, fitted.n_thresholds, fitted.threshold, X, random_part)
    return risk, delta_se(gradient, fitted.fit.covariance)
