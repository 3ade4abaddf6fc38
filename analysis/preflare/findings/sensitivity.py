"""What other choices would have given: lines beside a finding, and notes that never grade.

Fitted once a model.

Missing reports are looked at by linear risk within athlete over all modelling rows: unreported sessions
filled with their predicted risk, tilted; or, at worst, all painful on one side of the exposure and none on
the other.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from preflare.findings.checks import Check, check
from preflare.findings.contrasts import Contrast, levels_as_held
from preflare.findings.effects import effect, risks_at
from preflare.findings.fitting import (
    Fitted,
    LinearRisk,
    ModelSet,
    attempt,
    fit_ordinal,
    linear_risk,
    within_columns,
)
from preflare.findings.weights import safety_bar_weights
from preflare.findings.words import sentence, template
from preflare.models.design import Design
from preflare.models.robust import within_estimates
from preflare.models.standardise import Interval, t_interval

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


@dataclass(frozen=True)
class OtherChoices:
    """The same contrasts under other choices, for one question's models.

    tilts: name -> linear risk with unreported sessions filled. worst: exposure -> lowest and highest
    estimate. flares: rise -> linear risk of a flare-up day. first: the primary model on each session's first
    report, None where no session has more than one. weighted: the primary model with weights for the safety
    bar. primary: the graded model itself, for other levels of the same contrasts.
    """

    tilts: Mapping[str, LinearRisk]
    worst: Mapping[str, tuple[float, float]]
    flares: Mapping[int, LinearRisk]
    first: Fitted | None
    weighted: Fitted | None
    primary: Fitted


def fit_other_choices(
    models: ModelSet, event: int, flare_days: Mapping[int, Floats], weigh: bool
) -> OtherChoices | None:
    """Every sensitivity fit of one question's models; None where the primary model could not be fitted.

    flare_days: rise -> (n,) 1 where the session's rating makes a flare-up day, 0 where not, NaN where it is
    not known. weigh: fit the weights for the safety bar too.
    """
    if models.primary is None:
        return None
    design = models.primary.design
    everything = np.ones(len(design.rows.group), dtype=bool)
    filled = filled_risks(design, event)
    weights = safety_bar_weights(design) if weigh and "safety" in design.exposures else None
    return OtherChoices(
        tilts={name: linear_risk(design, everything, values) for name, values in filled.items()},
        worst=worst_cases(design, event),
        flares={rise: risk for rise, days in flare_days.items() if (risk := _flare_risk(design, days)) is not None},
        first=_first_report(design, event),
        weighted=attempt(lambda: fit_ordinal(design, event, weights=weights))[0] if weights is not None else None,
        primary=models.primary,
    )


def _first_report(design: Design, event: int) -> Fitted | None:
    reported = design.rows.reported
    first = design.rows.frame["rating_first"].to_numpy(float)[reported]
    if np.isnan(first).any() or (first == design.rows.rating).all():
        return None
    fitted: Fitted | None = attempt(lambda: fit_ordinal(design, event, rating=first))[0]
    return fitted


def _flare_risk(design: Design, days: Floats) -> LinearRisk | None:
    known = ~np.isnan(days)
    if days[known].sum() < 1:
        return None
    risk: LinearRisk | None = attempt(lambda: linear_risk(design, known, 100.0 * days[known]))[0]
    return risk


def sensitivity_lines(contrast: Contrast, other: OtherChoices | None, contributing: int) -> list[dict[str, Any]]:
    """Sensitivity lines {name, per_100, low, high, help} of one contrast."""
    if other is None or contrast.id not in other.worst:
        return []
    low, high = other.worst[contrast.id]
    lines: list[dict[str, Any] | None] = [_risk_line(name, risk, contrast.id) for name, risk in other.tilts.items()]
    lines.append({"name": "worst case of unreported sessions", "per_100": None, "low": low, "high": high, "help": None})
    lines.append(_model_line("first report of each session only", other.first, contrast, contributing))
    if contrast.id == "safety":
        name = "weighted for why the safety bar was chosen"
        lines.append(_model_line(name, other.weighted, contrast, contributing))
    if contrast.column == "bar":
        lines.append(_as_held_line(other.primary, contrast, contributing))
    lines += [_risk_line(f"flare-up days, rise of {n}", risk, contrast.id) for n, risk in other.flares.items()]
    return [line for line in lines if line is not None]


def _risk_line(name: str, risk: LinearRisk, exposure: str) -> dict[str, Any]:
    interval = t_interval(risk.estimate[exposure], risk.standard_error[exposure], risk.df[exposure])
    return _line(name, interval)


def _line(name: str, interval: Interval, help_: str | None = None) -> dict[str, Any]:
    return {"name": name, "per_100": interval.value, "low": interval.low, "high": interval.high, "help": help_}


def _as_held_line(fitted: Fitted, contrast: Contrast, contributing: int) -> dict[str, Any] | None:
    """The bar against the straight bar with each lifter's own grip and position in place of the declared ones."""
    if not fitted.fit.convergence.converged or contrast.id not in fitted.design.exposures:
        return None
    risks = risks_at(fitted, levels_as_held(contrast, fitted.design.rows))
    interval = t_interval(100 * risks.difference, 100 * risks.se_difference, max(contributing - 1, 1))
    has_grip = fitted.design.rows.applies["narrow"][fitted.design.rows.frame["bar"].eq(contrast.level)].any()
    key = "as_held" if has_grip else "as_held_no_grip"
    bar = template("finding", f"{contrast.id}.exposure")
    return _line("against the straight bar as each lifter held it", interval, sentence("finding", key, bar=bar))


def _model_line(name: str, fitted: Fitted | None, contrast: Contrast, contributing: int) -> dict[str, Any] | None:
    shown = effect(fitted, contrast, contributing) if fitted and fitted.fit.convergence.converged else None
    if shown is None:
        return None
    return _line(name, shown.difference)


def missing_report_checks(contrast: Contrast, other: OtherChoices | None) -> tuple[Check, ...]:
    """Does the direction stand under tilts, and at worst? Notes: printed, never graded on."""
    if other is None or contrast.id not in other.worst:
        return ()
    low, high = other.worst[contrast.id]
    estimates = [risk.estimate[contrast.id] for risk in other.tilts.values()]
    turned = min(estimates) < 0 < max(estimates)
    return (
        check("missing_tilt", max(estimates) - min(estimates), None, turned, False),
        check("missing_reports", high - low, None, low < 0 < high, False),
    )


def filled_risks(design: Design, event: int) -> dict[str, Floats]:
    """100 x event where reported; where not, the predicted risk with its odds tilted.

    One (n,) for each tilt.
    """
    reported, known = design.rows.reported, _event_seen(design, event)
    predicted = predicted_risk(design, known)
    return {
        name: 100.0 * np.where(reported, known, tilt * predicted / (1 - predicted + tilt * predicted))
        for name, tilt in TILTS.items()
    }


def predicted_risk(design: Design, event_seen: Floats) -> Floats:
    """Linear risk of every row from the reported ones, within athlete, kept between 0.5 and 99 %."""
    reported, group = design.rows.reported, design.rows.group
    n_athletes = len(design.rows.athletes)
    n = np.bincount(group[reported], minlength=n_athletes)

    def own_mean(column: Floats) -> Floats:
        return np.bincount(group[reported], weights=column[reported], minlength=n_athletes) / n

    X = design.X / np.maximum(np.abs(design.X).max(axis=0), 1e-9)
    mean_x, mean_y = np.stack([own_mean(column) for column in X.T], axis=1), own_mean(event_seen)
    within = (X - mean_x[group])[reported]
    square = within.T @ within + RIDGE * np.eye(X.shape[1])
    slope = np.linalg.solve(square, within.T @ (event_seen - mean_y[group])[reported])
    risk: Floats = np.clip(mean_y[group] + (X - mean_x[group]) @ slope, *RISK_LIMITS)
    return risk


def worst_cases(design: Design, event: int) -> dict[str, tuple[float, float]]:
    """Exposure -> lowest and highest estimate of linear risk at the worst.

    Unreported sessions are all events on one side of the athlete's own mean exposure, and none on the other.
    """
    reported, seen = design.rows.reported, _event_seen(design, event)
    outcomes = []
    for exposure in design.exposures:
        j = design.column(f"within {exposure}")
        above = design.X[:, j] + design.column_mean[j] > 0
        outcomes += [100.0 * np.where(reported, seen, side) for side in (~above, above)]
    columns = within_columns(design)
    found = within_estimates(outcomes, design.X[:, columns], design.rows.group) if outcomes else []
    place = [columns.index(design.column(f"within {exposure}")) for exposure in design.exposures]
    return {
        exposure: (float(found[2 * k][j]), float(found[2 * k + 1][j]))
        for k, (exposure, j) in enumerate(zip(design.exposures, place, strict=True))
    }


def _event_seen(design: Design, event: int) -> Floats:
    """(n,) 1 where an event was reported, else 0."""
    seen = np.zeros(len(design.rows.group))
    seen[design.rows.reported] = design.rows.rating >= event
    return seen
