"""The checks beside a grade: each a record of value, limit and outcome. They read a FitSet and never fit.

Only the first four may veto a grade (analysis plan, sections 6, 10 and 11); all others are notes beside it.
"""

import math
from dataclasses import asdict, dataclass, replace
from typing import Any

import numpy as np

from preflare.findings.contrasts import Contrast
from preflare.findings.fitting import FitSet, Fitted
from preflare.findings.words import sentence
from preflare.models.robust import one_step_without_athlete

LIMIT_Z = 1.96
LEAST_T_WITHOUT_ONE = 1.0
CALENDAR_LIMIT = 0.80


@dataclass(frozen=True)
class Check:
    """One check. outcome: passed, failed or not checked.

    vetoes: whether a failure contradicts the finding.
    """

    name: str
    value: float | None
    limit: float | None
    outcome: str
    vetoes: bool
    help: str

    def record(self) -> dict[str, Any]:
        return asdict(self)


def check(name: str, value: float, limit: float | None, failed: bool | None, vetoes: bool, **words: Any) -> Check:
    """A check record; failed None, or a value that is not a number, means that it was not checked."""
    known = failed is not None and math.isfinite(value)
    outcome = ("failed" if failed else "passed") if known else "not checked"
    key = outcome.replace(" ", "_")
    return Check(name, value if known else None, limit, outcome, vetoes, sentence("check", f"{name}.{key}", **words))


def lead_check(fits: FitSet, contrast: Contrast, log_odds: float) -> tuple[Check, bool]:
    """Does next week's exposure go with today's pain in the finding's own direction? And was load changed
    after pain?

    z of the lead term; fails when |z| > 1.96 and its sign is the finding's. A lead of the other sign is what
    a coach who reacts to pain makes, and says nothing against the finding. Second value: flagged in any
    direction.
    """
    z = _z(fits.lead, f"lead {contrast.id}")
    flagged = math.isfinite(z) and abs(z) > LIMIT_Z
    return check("lead", z, LIMIT_Z, flagged and _same_sign(z, log_odds), True), flagged


def without_a_difference(made: Check) -> Check:
    """A failed check of a contrast that is neither clear nor leaning: there is nothing it could speak against."""
    if not made.vetoes or made.outcome != "failed":
        return made
    words = sentence("check", "no_difference.not_checked")
    return replace(made, value=None, outcome="not checked", help=words)


def without_one_check(fitted: Fitted | None, contrast: Contrast, refit: Fitted | None = None) -> Check:
    """The smallest t, in the finding's direction, when one athlete is left out; fails at 1 or below.

    By one Newton step from the fit; by `refit`, the model without that very athlete, where there is one.
    """
    if fitted is None or f"within {contrast.id}" not in fitted.fit.names:
        return check("leave_one_out", math.nan, LEAST_T_WITHOUT_ONE, None, True)
    athlete, smallest = most_carrying_athlete(fitted, contrast)
    estimate, se = fitted.log_odds(contrast.id)
    if refit is not None and refit.fit.convergence.converged and math.isfinite(refit.log_odds(contrast.id)[0]):
        smallest = math.copysign(1.0, estimate) * refit.log_odds(contrast.id)[0] / se
    failed = smallest <= LEAST_T_WITHOUT_ONE
    name = fitted.design.rows.athletes[athlete]
    return check("leave_one_out", smallest, LEAST_T_WITHOUT_ONE, failed, True, athlete=name)


def most_carrying_athlete(fitted: Fitted, contrast: Contrast) -> tuple[int, float]:
    """The athlete without whom t is smallest by one Newton step, and that t in the finding's direction."""
    estimate, se = fitted.log_odds(contrast.id)
    column = fitted.n_thresholds + fitted.fit.names.index(f"within {contrast.id}")
    t = math.copysign(1.0, estimate) * np.asarray(one_step_without_athlete(fitted.fit))[:, column] / se
    return int(t.argmin()), float(t.min())


def risk_sign_check(fits: FitSet, contrast: Contrast, log_odds: float) -> Check:
    """Linear risk within athlete must have the finding's sign."""
    risk = fits.models(contrast.id).risk
    value = risk.estimate.get(contrast.id, math.nan) if risk else math.nan
    return check("linear_risk_sign", value, 0.0, not _same_sign(value, log_odds), True)


def event_cut_check(fits: FitSet, contrast: Contrast) -> Check:
    """Is the effect on ratings of the event and above the same as on all ratings?

    z = (b_logistic - b_ordinal) / sqrt(max(SE_l^2 - SE_o^2, (0.3 SE_l)^2)); fails when |z| > 1.96.
    """
    models = fits.models(contrast.id)
    if models.primary is None or models.binary is None or not models.binary.fit.convergence.converged:
        return check("event_cut", math.nan, LIMIT_Z, None, True, event=fits.event)
    z = event_cut_z(*models.binary.log_odds(contrast.id), *models.primary.log_odds(contrast.id))
    return check("event_cut", z, LIMIT_Z, abs(z) > LIMIT_Z, True, event=fits.event)


def event_cut_z(b_logistic: float, se_logistic: float, b_ordinal: float, se_ordinal: float) -> float:
    """The event-cut statistic of the analysis plan, section 11."""
    variance = max(se_logistic**2 - se_ordinal**2, (0.3 * se_logistic) ** 2)
    return (b_logistic - b_ordinal) / math.sqrt(variance) if variance > 0 else math.nan


def calendar_check(fits: FitSet, contrast: Contrast) -> Check:
    """How much of an exposure's within-athlete variation the calendar alone explains; above 80 %: a note."""
    fitted = fits.models(contrast.id).primary
    name = f"within {contrast.id}"
    if fitted is None or name not in fitted.design.names:
        return check("calendar", math.nan, CALENDAR_LIMIT, None, False)
    share = calendar_share(fitted, name)
    return check("calendar", share, CALENDAR_LIMIT, share > CALENDAR_LIMIT, False, percent=100 * share)


def calendar_share(fitted: Fitted, name: str) -> float:
    """R squared of a within column on the week and competition splines, over the reported rows."""
    design = fitted.design
    fit_rows = design.rows.reported
    calendar = [j for j, n in enumerate(design.names) if n.startswith(("week ", "weeks to competition", "season "))]
    y = design.X[fit_rows, design.column(name)]
    X = np.column_stack([np.ones(len(y)), design.X[fit_rows][:, calendar]])
    residual = y - X @ np.linalg.lstsq(X, y, rcond=None)[0]
    return float(1.0 - residual.var() / y.var())


def _z(fitted: Fitted | None, name: str) -> float:
    if fitted is None or name not in fitted.fit.names or not fitted.fit.convergence.converged:
        return math.nan
    j = fitted.fit.names.index(name)
    variance = float(fitted.fit.covariance[fitted.n_thresholds + j, fitted.n_thresholds + j])
    return float(fitted.fit.coefficients[j]) / math.sqrt(variance) if variance > 0 else math.nan


def _same_sign(one: float, other: float) -> bool:
    return math.isfinite(one) and math.isfinite(other) and one * other > 0
