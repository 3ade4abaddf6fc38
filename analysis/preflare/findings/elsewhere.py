"""A negative-control outcome: does the exposure also go with pain away from the arm? A note beside a grade, no more.

What moves the arm alone leaves knee, hip and back as they are; what moves both is more general, such as hard weeks or
who reports when. The same models, with the highest rating of knee, hip or back in the same window as their outcome.
Source: Lipsitch M, Tchetgen Tchetgen E, Cohen T. Epidemiology 2010;21:383-388.
"""

from dataclasses import dataclass, replace

import numpy as np

from preflare.findings.checks import Check, check
from preflare.findings.contrasts import FAMILY, Contrast
from preflare.findings.effects import effect
from preflare.findings.fitting import FitSet, Fitted, attempt, fit_ordinal
from preflare.findings.gate import count, gate
from preflare.models.design import primary_design, sets_design
from preflare.models.rows import ModelRows, keep_rows
from preflare.models.standardise import t_quantile

COLUMN = "rating_elsewhere"
ANY_PAIN = 1
"""The event of the gate: thirty sessions with any pain there."""


@dataclass(frozen=True)
class Elsewhere:
    """Both questions' models of pain elsewhere; None where the ratings allow none."""

    rows: ModelRows
    main: Fitted | None
    sets: Fitted | None


def fit_elsewhere(fits: FitSet) -> Elsewhere | None:
    """The primary model and the model for weekly sets on pain elsewhere; None where too few sessions have a rating."""
    rows = rows_elsewhere(fits.rows)
    if rows is None or not _enough(rows):
        return None
    main: Fitted | None = attempt(lambda: fit_ordinal(primary_design(rows, fits.event), ANY_PAIN))[0]
    sets: Fitted | None = attempt(lambda: fit_ordinal(sets_design(rows, fits.event), ANY_PAIN))[0]
    return Elsewhere(rows, main, sets)


def rows_elsewhere(rows: ModelRows) -> ModelRows | None:
    """The modelling rows with pain elsewhere as their rating; None where the logs hold none."""
    if COLUMN not in rows.frame or rows.frame[COLUMN].notna().sum() == 0:
        return None
    frame = rows.frame.assign(rating=rows.frame[COLUMN])
    return keep_rows(replace(rows, frame=frame), np.ones(len(frame), dtype=bool))


def _enough(rows: ModelRows) -> bool:
    """Whether any contrast passes the data gate."""
    return any(not gate(count(contrast, rows, ANY_PAIN)) for contrast in FAMILY)


def elsewhere_check(contrast: Contrast, fitted: Elsewhere | None) -> Check:
    """t of the contrast on pain elsewhere against t's 95 % limit; not checked where the data gate is not passed."""
    model = None if fitted is None else (fitted.sets if contrast.id == "sets" else fitted.main)
    if fitted is None or model is None or not model.fit.convergence.converged:
        return _not_checked()
    counts = count(contrast, fitted.rows, ANY_PAIN)
    shown = None if gate(counts) else effect(model, contrast, counts.contributing)
    if shown is None or not shown.log_odds_se > 0:
        return _not_checked()
    t, limit = shown.log_odds / shown.log_odds_se, t_quantile(shown.df)
    return check("elsewhere", t, limit, abs(t) > limit, False)


def _not_checked() -> Check:
    return check("elsewhere", float("nan"), None, None, False)
