"""What is known of each declared contrast: counts, effect, checks; then the family together: adjusted p and
grade."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import pandas as pd

from preflare.findings.checks import (
    Check,
    calendar_check,
    event_cut_check,
    lead_check,
    most_carrying_athlete,
    risk_sign_check,
    without_a_difference,
    without_one_check,
)
from preflare.findings.contrasts import FAMILY, Contrast
from preflare.findings.effects import Effect, effect, spanning
from preflare.findings.fitting import FitSet, ModelSet, fit_all, fit_without_athlete
from preflare.findings.gate import Counts, count, gate, more_athletes
from preflare.findings.grade import ADJUSTED_LIMIT, CLEAR, CONTRADICTED, NO_CLEAR, TOO_LITTLE, grade
from preflare.findings.multiplicity import benjamini_hochberg
from preflare.findings.raw import raw_difference
from preflare.findings.sentences import gate_reasons, reason
from preflare.findings.words import named
from preflare.models.rows import ModelRows, modelling_rows
from preflare.models.standardise import Interval

FEWEST_WEEKS = 12
NOT_IN_DOUBT = 2.0
"""A one-step t above this is far enough from the veto's 1 (the step is off by a tenth or two)."""
MOST_REFITTED = 60
"""Above this many athletes one Newton step stands for the refit (analysis plan, section 10)."""
UNKNOWN = Interval(float("nan"), float("nan"), float("nan"))


@dataclass(frozen=True)
class Evidence:
    """One contrast.

    effect: None when there is none to show. reasons: why it may not be graded, in sentences; empty when it may.
    checks: the vetoing ones and the calendar note. flagged: next week's exposure went with today's pain, in either
    direction. family: which model the counts per 100 come from. p: plain, of the ordinal log-odds, NaN when it is
    not in the family; p_adjusted: Benjamini-Hochberg. raw: the unadjusted difference per 100. is_modelled: False
    where no model could be fitted at all.
    """

    contrast: Contrast
    counts: Counts
    effect: Effect | None
    reasons: tuple[str, ...]
    raw: Interval = UNKNOWN
    checks: tuple[Check, ...] = ()
    same_sign: bool = False
    flagged: bool = False
    family: str = "cumulative"
    p: float = float("nan")
    p_adjusted: float = float("nan")
    grade: str = TOO_LITTLE
    is_modelled: bool = True

    @property
    def more_athletes(self) -> int | None:
        """How many more would be needed; None where the answer is in, or nothing says how many."""
        if self.grade in (CLEAR, CONTRADICTED) or not self.is_modelled:
            return None
        error = self.effect.standard_error if self.effect else float("nan")
        return more_athletes(self.counts.contributing, error)


@dataclass(frozen=True)
class Graded:
    """A season's graded contrasts, in the family's order, with the rows and fits that they rest on.

    refusal: why there is no model at all, as a sentence; None when there is one.
    """

    rows: ModelRows
    event: int
    fits: FitSet | None
    refusal: str | None
    evidence: tuple[Evidence, ...] = field(default=())


def grade_season(frame: pd.DataFrame, event: int = 4) -> Graded:
    """Fit once, check, adjust for several contrasts, grade: the statistics of `review`, without what stands
    around."""
    rows = modelling_rows(frame)
    refusal = description_only(frame, rows)
    fits = None if refusal else fit_all(rows, event)
    alone = [_evidence(contrast, rows, fits, refusal, event) for contrast in FAMILY]
    adjusted = benjamini_hochberg([item.p for item in alone])
    refitted = [_refitted(item, q, fits) for item, q in zip(alone, adjusted, strict=True)]
    graded = tuple(_graded(item, q) for item, q in zip(refitted, adjusted, strict=True))
    return Graded(rows, event, fits, refusal, graded)


def _refitted(item: Evidence, adjusted: float, fits: FitSet | None) -> Evidence:
    """Where one step leaves a veto in doubt and athletes are few, the one who carries most is left out by a refit."""
    fitted = fits.models(item.contrast.id).primary if fits else None
    if not adjusted <= ADJUSTED_LIMIT or fits is None or fitted is None or len(fits.rows.athletes) > MOST_REFITTED:
        return item
    athlete, t = most_carrying_athlete(fitted, item.contrast)
    if t > NOT_IN_DOUBT:
        return item
    exact = without_one_check(fitted, item.contrast, fit_without_athlete(fits, item.contrast.id, athlete))
    return replace(item, checks=tuple(exact if check.name == exact.name else check for check in item.checks))


def _graded(item: Evidence, adjusted: float) -> Evidence:
    given = grade(not item.reasons, item.p, adjusted, item.same_sign, item.checks)
    checks = item.checks
    if given in (NO_CLEAR, TOO_LITTLE):
        # The event cut stays as it is: it also says from which model the counts come.
        checks = tuple(check if check.name == "event_cut" else without_a_difference(check) for check in checks)
    return replace(item, p_adjusted=adjusted, grade=given, checks=checks)


def description_only(frame: pd.DataFrame, rows: ModelRows) -> str | None:
    """Why no model can be fitted at all, as a sentence; None when one can."""
    if len(frame) == 0:
        return reason("no_squats")
    if frame["rating"].notna().sum() == 0:
        return reason("no_reports")
    weeks = int(frame["week"].max()) + 1
    if weeks < FEWEST_WEEKS:
        return reason("few_weeks", n=weeks)
    if not rows.reported.any():
        return reason("no_history")
    if len(rows.athletes) < 2:
        return reason("one_athlete")
    return None


def _evidence(contrast: Contrast, rows: ModelRows, fits: FitSet | None, refusal: str | None, event: int) -> Evidence:
    counts = count(contrast, rows, event)
    raw = raw_difference(contrast, rows, event)
    if fits is None:
        return Evidence(contrast, counts, None, (str(refusal),), raw, is_modelled=False)
    models = fits.models(contrast.id)
    shown = effect(models.primary, contrast, counts.contributing) if models.primary else None
    reasons = _reasons(contrast, counts, rows, models, shown, event)
    if shown is None or not np.isfinite(shown.standard_error):
        return Evidence(contrast, counts, None, reasons, raw)
    lead, flagged = lead_check(fits, contrast, shown.log_odds)
    sign = risk_sign_check(fits, contrast, shown.log_odds)
    cut = event_cut_check(fits, contrast)
    from_binary = effect(models.binary, contrast, counts.contributing) if cut.outcome == "failed" else None
    return Evidence(
        contrast=contrast,
        counts=counts,
        effect=spanning(from_binary, shown) if from_binary else shown,
        reasons=reasons,
        raw=raw,
        checks=(
            lead,
            without_one_check(models.primary, contrast),
            sign,
            cut,
            calendar_check(fits, contrast),
        ),
        same_sign=sign.outcome == "passed",
        flagged=flagged,
        family="logistic" if from_binary else "cumulative",
        p=float("nan") if reasons else shown.p,
    )


def _reasons(
    contrast: Contrast,
    counts: Counts,
    rows: ModelRows,
    models: ModelSet,
    shown: Effect | None,
    event: int,
) -> tuple[str, ...]:
    """Why this contrast may not be graded, as sentences; empty when it may."""
    if contrast.id in rows.left_out:
        return (reason("unwritten", exposure=named("finding.exposure_name", contrast.exposure)),)
    reasons = gate_reasons(gate(counts), counts, contrast, event)
    if models.primary is None:
        reasons.append(reason("not_fitted", problem=models.problem))
    elif not models.primary.fit.convergence.converged:
        reasons.append(reason("not_converged"))
    elif contrast.id in models.separated:
        reasons.append(reason("separated"))
    elif not reasons and (shown is None or not np.isfinite(shown.standard_error)):
        reasons.append(reason("no_contrast"))
    return tuple(reasons)


def model_story(item: Evidence, fits: FitSet | None) -> Mapping[str, Any]:
    """The `model` part of a finding: family, formula and the optimiser's story."""
    models = fits.models(item.contrast.id) if fits else None
    fitted = (models.binary if item.family == "logistic" else models.primary) if models else None
    if fitted is None:
        return {"family": item.family, "formula": None, "converged": None, "convergence": {}}
    story = fitted.fit.convergence
    shown = (
        "gradient",
        "newton_decrement",
        "condition",
        "singular",
        "separated",
        "iterations",
        "message",
    )
    return {
        "family": item.family,
        "formula": fitted.design.formula,
        "converged": bool(story.converged),
        "convergence": {key: getattr(story, key) for key in shown},
    }
