"""Every fit that the findings need, made once.

Checks and grades read this FitSet and never fit for themselves.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from preflare.findings.words import sentence
from preflare.models.categories import Categories, merge_categories
from preflare.models.cumulative import fit_cumulative
from preflare.models.design import Block, Design, primary_design, sets_design, without_columns, without_slopes
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic
from preflare.models.robust import linear_fixed_effects_cr2
from preflare.models.rows import UNIT, ModelRows, keep_rows

Floats = NDArray[np.float64]
LEADS = ("intensity", "safety", "cambered", "narrow", "wide", "high", "sets")


@dataclass(frozen=True)
class Fitted:
    """A mixed model and the design it was fitted on.

    n_thresholds, threshold: how many, and the index of the one that opens the event (None in a binary or linear
    model). codes: (reported rows,) the outcome as fitted: categories, or 0 and 1; zeros in a linear model.
    """

    design: Design
    fit: Any
    n_thresholds: int
    threshold: int | None
    codes: NDArray[np.int64]

    @property
    def parameters(self) -> Floats:
        """Thresholds, then coefficients, in the order of fit.covariance."""
        return np.concatenate([np.asarray(self.fit.thresholds, float)[: self.n_thresholds], self.fit.coefficients])

    def log_odds(self, exposure: str) -> tuple[float, float]:
        """Coefficient of an exposure's within term, per UNIT, and its standard error; NaN where it is not
        in."""
        name = f"within {exposure}"
        names = self.fit.names
        if name not in names:
            return float("nan"), float("nan")
        j = names.index(name)
        variance = float(self.fit.covariance[self.n_thresholds + j, self.n_thresholds + j])
        return float(self.fit.coefficients[j]), float(np.sqrt(variance)) if variance > 0 else float("nan")


@dataclass(frozen=True)
class LinearRisk:
    """Athlete fixed effects on 100 x event, CR2 standard errors, Bell-McCaffrey df; by exposure, per UNIT."""

    estimate: dict[str, float]
    standard_error: dict[str, float]
    df: dict[str, float]


@dataclass(frozen=True)
class ModelSet:
    """One question's models: the primary one, the binary and the linear one beside it, linear risk.

    Each is None where it could not be fitted; `problem` then says why, in plain words. separated: exposures
    that split the ratings perfectly; they left the model, so that the others can still be told.
    """

    primary: Fitted | None
    binary: Fitted | None
    linear: Fitted | None
    risk: LinearRisk | None
    problem: str | None
    separated: tuple[str, ...] = ()


@dataclass(frozen=True)
class FitSet:
    """All fits of one review. main: every contrast but weekly sets. sets: weekly sets.

    lead: next week's exposures.
    """

    rows: ModelRows
    event: int
    main: ModelSet
    sets: ModelSet
    lead: Fitted | None

    def models(self, contrast_id: str) -> ModelSet:
        return self.sets if contrast_id == "sets" else self.main


def fit_all(rows: ModelRows, event: int) -> FitSet:
    """Fit the primary model, the model for weekly sets, both second opinions and the lead model."""
    main = _model_set(primary_design(rows, event), event)
    sets = _model_set(sets_design(rows, event), event)
    return FitSet(rows, event, main, sets, _fit_lead(rows, event))


def _model_set(design: Design, event: int) -> ModelSet:
    primary, problem = attempt(lambda: fit_ordinal(design, event))
    gone = primary.fit.convergence.separated if primary else ()
    if gone:
        design = without_columns(design, gone)
        primary, problem = attempt(lambda: fit_ordinal(design, event))
    binary, _ = attempt(lambda: fit_binary(design, event))
    linear, _ = attempt(lambda: fit_rating(design))
    risk, _ = attempt(lambda: fit_linear_risk(design, event))
    separated = tuple(name.removeprefix("within ") for name in gone if name.startswith("within "))
    return ModelSet(primary, binary, linear, risk, problem, separated)


def attempt(fit: Callable[[], Any]) -> tuple[Any, str | None]:
    """The fit, or None and why it could not be made. Only refusals of the engine are caught."""
    try:
        return fit(), None
    except (ValueError, np.linalg.LinAlgError) as problem:
        return None, str(problem)


def fit_ordinal(design: Design, event: int, rating: Floats | None = None, weights: Floats | None = None) -> Fitted:
    """Cumulative logit of the rating over the reported rows, sparse categories merged, never across the event.

    rating: (reported rows,) another reading of the outcome. weights: (n,) of all modelling rows.
    """
    ratings = design.rows.rating if rating is None else rating
    categories: Categories = merge_categories(ratings, event)
    if categories.count < 2 or categories.event_code is None:
        problem = "no_event" if categories.event_code is None else "one_rating"
        raise ValueError(sentence("finding", f"too_little_reasons.problem.{problem}", event=event))
    fit_rows = design.rows.reported
    codes = categories.of(ratings)
    fit = fit_cumulative(
        codes,
        design.X[fit_rows],
        design.Z[fit_rows],
        design.rows.group[fit_rows],
        names=design.names,
        weights=None if weights is None else weights[fit_rows],
    )
    return Fitted(design, fit, categories.count - 1, categories.event_code - 1, codes)


def fit_binary(design: Design, event: int) -> Fitted:
    """Logistic model of rating >= event with the same terms."""
    fit_rows = design.rows.reported
    y = (design.rows.rating >= event).astype(int)
    if len(y) == 0 or y.min() == y.max():
        raise ValueError(f"ratings of {event} or more and below it are not both there")
    names = ("intercept", *design.names)
    X = np.column_stack([np.ones(len(y)), design.X[fit_rows]])
    fit = fit_logistic(y, X, design.Z[fit_rows], design.rows.group[fit_rows], names=names)
    return Fitted(design, fit, 0, None, y)


def fit_rating(design: Design) -> Fitted:
    """Linear mixed model of the rating itself (REML) with the same terms."""
    fit_rows = design.rows.reported
    names = ("intercept", *design.names)
    X = np.column_stack([np.ones(int(fit_rows.sum())), design.X[fit_rows]])
    fit = fit_linear(design.rows.rating, X, design.Z[fit_rows], design.rows.group[fit_rows], names=names)
    return Fitted(design, fit, 0, None, np.zeros(len(X), dtype=np.int64))


def fit_linear_risk(design: Design, event: int) -> LinearRisk:
    """The second opinion: linear risk of an event within athlete."""
    fit_rows = design.rows.reported
    return linear_risk(design, fit_rows, np.where(design.rows.rating >= event, 100.0, 0.0))


def linear_risk(design: Design, fit_rows: NDArray[np.bool_], y: Floats) -> LinearRisk:
    """Athlete fixed effects of y on the design's within-athlete columns over `fit_rows`."""
    columns = within_columns(design)
    estimate, se, df = linear_fixed_effects_cr2(y, design.X[fit_rows][:, columns], design.rows.group[fit_rows])
    place = {name: columns.index(design.column(f"within {name}")) for name in design.exposures}
    return LinearRisk(
        {name: float(estimate[j]) for name, j in place.items()},
        {name: float(se[j]) for name, j in place.items()},
        {name: float(df[j]) for name, j in place.items()},
    )


def within_columns(design: Design) -> list[int]:
    """The columns that change within an athlete: all but the between terms."""
    return [j for j, name in enumerate(design.names) if not name.startswith("between ")]


def fit_without_athlete(fits: FitSet, contrast_id: str, athlete: int) -> Fitted | None:
    """The contrast's primary model without one athlete (code into rows.athletes); None where it cannot be fitted."""
    rows = keep_rows(fits.rows, fits.rows.group != athlete)
    make = sets_design if contrast_id == "sets" else primary_design
    fitted: Fitted | None = attempt(lambda: fit_ordinal(make(rows, fits.event), fits.event))[0]
    return fitted


def lead_block(rows: ModelRows) -> Block:
    """Next week's mean of each exposure, in UNITs, within athlete; NaN where the week after is not known."""
    names = [name for name in LEADS if name not in rows.left_out]
    columns = []
    for name in names:
        value = rows.frame[f"lead_{name}"].to_numpy(float) / UNIT.get(name, 1.0)
        if name in ("narrow", "wide", "high"):
            value = _own_mean_where_missing(value, rows.group)
        columns.append(value)
    return Block("next week's exposures", tuple(f"lead {name}" for name in names), np.column_stack(columns))


def _own_mean_where_missing(value: Floats, group: NDArray[np.int64]) -> Floats:
    """A week on forward handles has no grip width: the athlete's own mean says neither more nor less."""
    known = ~np.isnan(value)
    count = np.bincount(group[known], minlength=int(group.max()) + 1)
    total = np.bincount(group[known], weights=value[known], minlength=len(count))
    overall = value[known].mean() if known.any() else 0.0
    own = np.where(count > 0, total / np.maximum(count, 1), overall)
    return np.where(known, value, own[group])


def _fit_lead(rows: ModelRows, event: int) -> Fitted | None:
    """The primary model with next week's exposures added, random intercept only, where the week after is
    known."""
    block = lead_block(rows)
    known: NDArray[np.bool_] = np.asarray(~np.isnan(block.values).any(axis=1))
    if not (known & rows.reported).any():
        return None
    subset = keep_rows(rows, known)
    if len(subset.athletes) < 2:
        return None
    design = without_slopes(primary_design(subset, event, extra=lead_block(subset)))
    fitted: Fitted | None = attempt(lambda: fit_ordinal(design, event))[0]
    return fitted
