"""A squad's own exposures, from .sql files of its own: one at a time in the primary model. Exploratory, never graded.

Each enters as the lifter's departure from the own mean, with a random slope, beside everything that the primary model
holds. Nothing allows for how many were tried, and no check has been run on them: a figure here is a question.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from preflare.findings.contrasts import Levels
from preflare.findings.effects import risks_at
from preflare.findings.fitting import Fitted, attempt, fit_ordinal
from preflare.findings.sentences import signed
from preflare.findings.words import sentence
from preflare.models.design import Block, Design, primary_design, split_within_between
from preflare.models.rows import ModelRows, keep_rows
from preflare.models.standardise import Interval, t_interval

Floats = NDArray[np.float64]
FEWEST_REPORTED = 30
FEWEST_VARYING = 3
"""Reported sessions, and lifters whose own value changes, below which nothing is estimated."""
YES_NO = "yes/no"


@dataclass(frozen=True)
class Own:
    """One exposure as its file's header declares it: the estimate is per `size` of `unit` (yes against no: 1)."""

    name: str
    label: str
    unit: str
    size: float
    meaning: str
    known: str


@dataclass(frozen=True)
class _Rests:
    """What an estimate rests on. varying: lifters whose own value changes over their reported sessions."""

    sessions: int
    reported: int
    missing: int
    athletes: int
    varying: int


def own_exposures(
    frame: pd.DataFrame, rows: ModelRows, declared: Sequence[Mapping[str, Any]], event: int, is_modelled: bool
) -> list[dict[str, Any]]:
    """One record for each declared exposure that is a column of the frame, in the order given.

    declared: {name, label, unit, size, meaning, known} of each. is_modelled: whether the logs allow a model at all.
    """
    return [_record(Own(**item), rows, event, is_modelled) for item in declared if item["name"] in frame]


def _record(own: Own, rows: ModelRows, event: int, is_modelled: bool) -> dict[str, Any]:
    values = _numbers(rows.frame[own.name])
    subset, rests = (rows, _Rests(0, 0, len(rows.group), 0, 0)) if values is None else _known(rows, values)
    interval, problem = None, "not_a_number" if values is None else None
    if values is not None:
        interval, problem = _estimate(own, subset, rests, event) if is_modelled else (None, "no_model")
    return {
        "id": own.name,
        "label": own.label,
        "unit": own.unit,
        "size": own.size,
        "meaning": own.meaning,
        "known": own.known,
        "per_100": interval.value if interval else None,
        "low": interval.low if interval else None,
        "high": interval.high if interval else None,
        "sessions": rests.sessions,
        "reported": rests.reported,
        "missing": rests.missing,
        "athletes": rests.athletes,
        "contributing": rests.varying,
        "grade": None,
        "exploratory": True,
        "sentence": _sentence(own, interval, problem, rests, event),
    }


def _numbers(column: "pd.Series[Any]") -> Floats | None:
    """A column as numbers (yes 1, no 0), or None where it holds words or dates."""
    if pd.api.types.is_numeric_dtype(column) or pd.api.types.is_bool_dtype(column):
        values: Floats = column.to_numpy(float)
        return values
    return None


def _known(rows: ModelRows, values: Floats) -> tuple[ModelRows, _Rests]:
    """The rows in which the exposure is known, and what they are."""
    known: NDArray[np.bool_] = np.isfinite(values)
    subset = keep_rows(rows, known)
    own = pd.Series(values[known][subset.reported]).groupby(subset.group[subset.reported])
    varying = int((own.max() > own.min()).sum()) if subset.reported.any() else 0
    missing = int((~known).sum())
    return subset, _Rests(len(subset.group), int(subset.reported.sum()), missing, len(subset.athletes), varying)


def _estimate(own: Own, rows: ModelRows, rests: _Rests, event: int) -> tuple[Interval | None, str | None]:
    """Difference per 100 sessions for `size` more, or why there is none."""
    if rests.reported < FEWEST_REPORTED or rests.varying < FEWEST_VARYING:
        return None, "too_few"
    design = design_with(rows, own.name, event)
    fitted: Fitted | None = attempt(lambda: fit_ordinal(design, event))[0]
    name = f"within {own.name}"
    if fitted is None or not fitted.fit.convergence.converged or name in fitted.fit.convergence.separated:
        return None, "not_fitted"
    if name not in design.names:
        return None, "nothing_new"
    risks = risks_at(fitted, _levels(own, rows))
    interval = t_interval(100 * risks.difference, 100 * risks.se_difference, max(rests.varying - 1, 1))
    return (interval, None) if np.isfinite(interval.high - interval.low) else (None, "not_fitted")


def design_with(rows: ModelRows, column: str, event: int) -> Design:
    """The primary design with a within-athlete term and a random slope for one more column of the frame."""
    value = rows.frame[column].to_numpy(float)
    mean, within = split_within_between(value, rows.group, rows.reported)
    name = f"within {column}"
    design = primary_design(rows, event, extra=Block(column, (name,), within[:, None]))
    spread = float(within[rows.reported].std())
    if name not in design.names or spread == 0:
        return design
    return replace(
        design,
        Z=np.column_stack([design.Z, within / spread]),
        slopes=(*design.slopes, column),
        centre={**design.centre, column: mean},
        scale={**design.scale, column: spread},
    )


def _levels(own: Own, rows: ModelRows) -> Levels:
    """No against yes; an amount at the own value less and plus half a size."""
    everywhere = np.ones(len(rows.group), dtype=bool)
    if own.unit == YES_NO:
        return Levels({own.name: 0.0}, {own.name: 1.0}, everywhere)
    value = rows.frame[own.name].to_numpy(float)
    return Levels({own.name: value - own.size / 2}, {own.name: value + own.size / 2}, everywhere)


def _sentence(own: Own, interval: Interval | None, problem: str | None, rests: _Rests, event: int) -> str:
    places = {"label": own.label, "unit": own.unit, "event": event, "size": f"{own.size:g}"}
    if interval is None:
        told = {"reported": rests.reported, "varying": rests.varying, "fewest": FEWEST_REPORTED}
        return sentence("finding", f"own_exposure.{problem}", few=FEWEST_VARYING, **told, **places)
    key = "yes_no" if own.unit == YES_NO else "amount"
    figures = {"value": signed(interval.value), "low": signed(interval.low), "high": signed(interval.high)}
    return sentence("finding", f"own_exposure.{key}", **figures, **places)
