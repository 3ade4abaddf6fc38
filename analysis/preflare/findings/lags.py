"""Which days' squat sets go with today's pain? A distributed lag over 28 days; exploratory, never graded.

Squat sets of each of the 28 days before a session enter linearly, their weight a smooth function of how long ago they
were. The model has the session's other exposures and the calendar, but no earlier pain: over four weeks earlier pain is
part of what the sets went with. Where a coach cuts sets after pain, the figures lean towards fewer.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from preflare.findings.fitting import Fitted, attempt, fit_ordinal
from preflare.models.cross_basis import cross_basis, lagged
from preflare.models.design import Block, lag_design
from preflare.models.rows import ModelRows, keep_rows
from preflare.models.splines import restricted_cubic_spline
from preflare.models.standardise import compare_risks, t_interval

Floats = NDArray[np.float64]
FIRST_LAG, LAST_LAG = 1, 28
LAG_KNOTS = (1.0, 4.0, 10.0, 28.0)
LONGEST_REST_DAYS = 10
"""A longer gap without any squat is taken as unlogged, not as rest."""
SETS_A_WEEK = 5.0
FEWEST_REPORTED = 200


@dataclass(frozen=True)
class LagFit:
    """The fitted model, its lag basis (lags, k) and the columns that hold the cross-basis."""

    fitted: Fitted
    basis: Floats
    columns: tuple[int, ...]


def lag_basis() -> Floats:
    """(28, 4): a constant and a restricted cubic spline of the lag in days."""
    lags = np.arange(FIRST_LAG, LAST_LAG + 1, dtype=float)
    return np.column_stack([np.ones(len(lags)), restricted_cubic_spline(lags, LAG_KNOTS) / 10.0])


def daily_sets(own: pd.DataFrame) -> "pd.Series[float]":
    """Squat sets on every day from an athlete's first to last squat session: rest 0, days of a long gap NaN."""
    by_day = own.groupby("date")["session_sets"].sum(min_count=1)
    every_day = pd.date_range(by_day.index.min(), by_day.index.max(), freq="D")
    days = pd.Series(by_day.index, index=by_day.index).reindex(every_day)
    gap = (days.bfill() - days.ffill()).dt.days
    rest = days.isna() & (gap <= LONGEST_REST_DAYS)
    return by_day.reindex(every_day).mask(rest, 0.0)


def doses_before(frame: pd.DataFrame) -> Floats:
    """(n, 28) squat sets of each of the 28 days before each session; NaN where a day is not logged."""
    made = np.full((len(frame), LAST_LAG - FIRST_LAG + 1), np.nan)
    for _, own in frame.groupby("athlete"):
        series = daily_sets(own)
        place = series.index.get_indexer(own["date"])
        made[frame.index.get_indexer(own.index)] = lagged(series.to_numpy(float), FIRST_LAG, LAST_LAG)[place]
    return made


def fit_lags(frame: pd.DataFrame, rows: ModelRows, event: int) -> LagFit | None:
    """The distributed-lag model over the modelling rows with four logged weeks before them; None with too few."""
    doses = pd.DataFrame(doses_before(frame), index=frame["session_id"])
    window = doses.loc[rows.frame["session_id"]].to_numpy(float)
    known = ~np.isnan(window).any(axis=1)
    if (known & rows.reported).sum() < FEWEST_REPORTED:
        return None
    subset = keep_rows(rows, known)
    if len(subset.athletes) < 2:
        return None
    basis = lag_basis()
    kept = doses.loc[subset.frame["session_id"]].to_numpy(float)
    names = tuple(f"sets by lag {k + 1}" for k in range(basis.shape[1]))
    design = lag_design(subset, Block("squat sets of the 28 days before", names, cross_basis(kept, basis)))
    fitted, _ = attempt(lambda: fit_ordinal(design, event))
    if fitted is None or not fitted.fit.convergence.converged or not set(names) <= set(design.names):
        return None
    return LagFit(fitted, basis, tuple(design.column(name) for name in names))


def lag_record(fit: LagFit | None) -> dict[str, Any] | None:
    """Lag by lag, one more set on that day; cumulative, 5 more sets a week for four weeks. Per 100 sessions."""
    if fit is None:
        return None
    rows = fit.fitted.design.rows
    points = [
        {"days_before": FIRST_LAG + i, **_difference(fit, weights)} for i, weights in enumerate(np.eye(len(fit.basis)))
    ]
    every_day = np.full(len(fit.basis), SETS_A_WEEK / 7)
    return {
        "exposure": "squat sets",
        "unit": "one more working set that many days before",
        "points": points,
        "cumulative": {"sets_a_week": SETS_A_WEEK, "days": LAST_LAG, **_difference(fit, every_day)},
        "sessions": len(rows.group),
        "reported": int(rows.reported.sum()),
        "athletes": len(rows.athletes),
        "grade": None,
        "exploratory": True,
    }


def _difference(fit: LagFit, added: Floats) -> dict[str, float]:
    """Change per 100 sessions when `added` (28,) sets are added on each of the days before every session."""
    fitted = fit.fitted
    X = fitted.design.X
    more = X.copy()
    more[:, fit.columns] += added @ fit.basis
    random_part = np.einsum("nq,nq->n", fitted.design.Z, np.asarray(fitted.fit.modes)[fitted.design.rows.group])
    risks = compare_risks(
        fitted.parameters,
        fitted.fit.covariance,
        fitted.n_thresholds,
        fitted.threshold,
        (X, random_part),
        (more, random_part),
    )
    interval = t_interval(100 * risks.difference, 100 * risks.se_difference, len(fitted.design.rows.athletes) - 1)
    return {"per_100": interval.value, "low": interval.low, "high": interval.high}
