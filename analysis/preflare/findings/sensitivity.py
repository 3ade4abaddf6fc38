"""What other choices would have given: lines beside a finding, and notes that never grade.

Missing reports are looked at by linear risk within athlete over all modelling rows: unreported sessions
filled with their predicted risk, tilted; or, at worst, all painful on one side of the exposure and none on
the other.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from preflare.findings.checks import Check, check
from preflare.findings.contrasts import Contrast
from preflare.findings.fitting import FitSet, LinearRisk, linear_risk
from preflare.models.design import Design
from preflare.models.standardise import t_interval

Floats = NDArray[np.float64]
TILTS = {
    "unreported a third as painful": 1 / 3,
    "unreported alike": 1.0,
    "unreported three times as painful": 3.0,
    "unreported six times as painful": 6.0,
}
"""Odds of an event when unreported, relative to a like session that was reported."""
RIDGE = 1e-3
RISK_LIMITS = (0.005, 0.99)


def sensitivity(
    contrast: Contrast, fits: FitSet | None, contributing: int
) -> tuple[list[dict[str, Any]], tuple[Check, ...]]:
    """Sensitivity lines {name, per_100, low, high} and the two notes on missing reports."""
    models = fits.models(contrast.id) if fits else None
    if (
        fits is None
        or models is None
        or models.primary is None
        or contrast.id not in models.primary.design.exposures
    ):
        return [], ()
    design = models.primary.design
    filled = filled_risks(design, fits.event)
    fitted = {
        name: linear_risk(design, np.ones(len(values), bool), values) for name, values in filled.items()
    }
    lines = [_line(name, risk, contrast.id) for name, risk in fitted.items()]
    low, high = worst_case(design, contrast.id, fits.event)
    lines.append({"name": "worst case of unreported sessions", "per_100": None, "low": low, "high": high})
    estimates = [risk.estimate[contrast.id] for risk in fitted.values()]
    turned = min(estimates) < 0 < max(estimates)
    notes = (
        check("missing_tilt", max(estimates) - min(estimates), None, turned, False),
        check("missing_reports", high - low, None, low < 0 < high, False),
    )
    return lines, notes


def _line(name: str, risk: LinearRisk, exposure: str) -> dict[str, Any]:
    interval = t_interval(risk.estimate[exposure], risk.standard_error[exposure], risk.df[exposure])
    return {"name": name, "per_100": interval.value, "low": interval.low, "high": interval.high}


def filled_risks(design: Design, event: int) -> dict[str, Floats]:
    """100 x event where reported; where not, the predicted risk with its odds tilted.

    One array (n,) for each tilt.
    """
    reported = design.rows.reported
    known = np.zeros(len(reported))
    known[reported] = design.rows.rating >= event
    predicted = predicted_risk(design, known)
    return {
        name: 100.0 * np.where(reported, known, tilt * predicted / (1 - predicted + tilt * predicted))
        for name, tilt in TILTS.items()
    }


def predicted_risk(design: Design, event_seen: Floats) -> Floats:
    """Linear risk of every row from the reported ones, athletes as a ridge, kept between 0.5 and 99 %."""
    reported, group = design.rows.reported, design.rows.group
    X = np.column_stack([design.X, np.eye(len(design.rows.athletes))[group]])
    X = X / np.maximum(np.abs(X).max(axis=0), 1e-9)
    seen = X[reported]
    inverse = seen.T @ seen + RIDGE * np.eye(X.shape[1])
    return np.clip(X @ np.linalg.solve(inverse, seen.T @ event_seen[reported]), *RISK_LIMITS)


def worst_case(design: Design, exposure: str, event: int) -> tuple[float, float]:
    """Lowest and highest estimate when unreported sessions are all events on one side of the own mean, none
    on the other."""
    reported = design.rows.reported
    event_seen = np.zeros(len(reported))
    event_seen[reported] = design.rows.rating >= event
    above = (
        design.X[:, design.column(f"within {exposure}")]
        + design.column_mean[design.column(f"within {exposure}")]
        > 0
    )
    everything = np.ones(len(reported), dtype=bool)
    estimates = [
        linear_risk(design, everything, 100.0 * np.where(reported, event_seen, side)).estimate[exposure]
        for side in (~above, above)
    ]
    return estimates[0], estimates[1]
