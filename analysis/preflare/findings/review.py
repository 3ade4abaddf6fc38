"""From the model frame to findings.json: fit once, check, adjust for several contrasts, grade, say it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd

from preflare.findings import athletes as athlete_pages
from preflare.findings import bar_choice, before_onset, curves, notes, surveillance
from preflare.findings.beside import beside
from preflare.findings.checks import (
    Check,
    calendar_check,
    check,
    event_cut_check,
    lead_check,
    risk_sign_check,
    without_one_check,
)
from preflare.findings.contrasts import FAMILY, Contrast
from preflare.findings.effects import Effect, effect
from preflare.findings.fitting import FitSet, fit_all
from preflare.findings.flare_ups import squad_flare_ups
from preflare.findings.gate import Counts, count, gate, more_athletes
from preflare.findings.grade import TOO_LITTLE, grade
from preflare.findings.multiplicity import benjamini_hochberg
from preflare.findings.plain import plain
from preflare.findings.raw import raw_difference
from preflare.findings.sensitivity import sensitivity
from preflare.findings.sentences import Told, finding_sentence, gate_reasons, reason
from preflare.models.rows import ModelRows, modelling_rows
from preflare.models.standardise import Interval
from preflare.settings import Settings

SCHEMA_VERSION = 1
FEWEST_WEEKS = 12
CURVATURE_LIMIT = 0.05


@dataclass(frozen=True)
class Evidence:
    """What is known of one contrast before the family is looked at together.

    effect: None when there is none to show. reasons: why it may not be graded; empty when it may. flagged:
    next week's exposure went with today's pain, in either direction.
    """

    contrast: Contrast
    counts: Counts
    effect: Effect | None
    reasons: tuple[str, ...]
    checks: tuple[Check, ...] = ()
    same_sign: bool = False
    flagged: bool = False
    family: str = "cumulative"
    p: float = float("nan")
    raw: Interval = field(default_factory=lambda: Interval(np.nan, np.nan, np.nan))


def review(
    frame: pd.DataFrame, settings: Settings, context: Mapping[str, Any] | None = None
) -> dict[str, Any]:
    """The whole of findings.json, JSON-ready, from the model frame (one row per squat session).

    context, each part optional: "season", "made", "definitions", "logs", "changes" (parts of findings.json,
    taken over as they stand) and "views" (name -> DataFrame from the store, used where a frame alone cannot
    know). Data that allow no model give findings graded "too little data" that say why, never an exception.
    """
    context = dict(context or {})
    event = settings.event.rating
    rows = modelling_rows(frame)
    refusal = description_only(frame, rows)
    fits = None if refusal else fit_all(rows, event)
    fitted_curves = {name: curves.fit_curve(rows, name, event) for name in curves.CURVES} if fits else {}
    bent = {name: curve for name, curve in fitted_curves.items() if curve is not None}
    evidence = [_evidence(contrast, rows, fits, refusal, event) for contrast in FAMILY]
    adjusted = benjamini_hochberg([item.p for item in evidence])
    onsets = _onsets(frame, settings, context)
    findings = [
        _finding(item, q, fits, rows, onsets, event, bent.get(item.contrast.id))
        for item, q in zip(evidence, adjusted, strict=True)
    ]
    flagged = [item.contrast for item in evidence if item.flagged]
    found = {
        "schema_version": SCHEMA_VERSION,
        "made": context.get("made"),
        "season": _season(frame, settings, context),
        "definitions": _definitions(settings, context),
        "logs": context.get("logs"),
        "findings": findings,
        "curves": [curves.curve_record(curve, event) for curve in bent.values()],
        "surveillance": surveillance.surveillance(frame, onsets, context.get("views", {})),
        "bar_choice": bar_choice.bar_choice(frame, rows, findings, event),
        "before_onset": before_onset.before_onset(frame, onsets),
        "athletes": athlete_pages.athletes(frame, fits, findings, onsets, settings, context.get("views", {})),
        "changes": context.get("changes", []),
        "notes": notes.notes(frame, rows, fits, flagged, refusal, event),
    }
    return plain(found)


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


def _evidence(
    contrast: Contrast, rows: ModelRows, fits: FitSet | None, refusal: str | None, event: int
) -> Evidence:
    counts = count(contrast, rows, event)
    raw = raw_difference(contrast, rows, event)
    if fits is None:
        return Evidence(contrast, counts, None, (refusal or "",), raw=raw)
    models = fits.models(contrast.id)
    short = gate(counts)
    reasons = gate_reasons(short, counts, contrast, event)
    if contrast.id in rows.left_out:
        reasons = [reason("unwritten", exposure=contrast.exposure)]
    shown = effect(models.primary, contrast, counts.contributing) if models.primary else None
    if models.primary is None:
        reasons.append(reason("not_fitted", problem=models.problem))
    elif not models.primary.fit.convergence.converged:
        reasons.append(reason("not_converged"))
    elif shown is None and not reasons:
        reasons.append(reason("no_contrast"))
    if shown is None or not np.isfinite(shown.standard_error) or not models.primary:
        return Evidence(contrast, counts, None, tuple(reasons or [reason("no_contrast")]), raw=raw)
    lead, flagged = lead_check(fits, contrast, shown.log_odds)
    sign = risk_sign_check(fits, contrast, shown.log_odds)
    cut = event_cut_check(fits, contrast)
    checks = (lead, without_one_check(models.primary, contrast), sign, cut, calendar_check(fits, contrast))
    p = shown.p
    family = "cumulative"
    if cut.outcome == "failed" and models.binary is not None:
        shown, family = effect(models.binary, contrast, counts.contributing) or shown, "logistic"
    return Evidence(
        contrast=contrast,
        counts=counts,
        effect=shown,
        reasons=tuple(reasons),
        checks=checks,
        same_sign=sign.outcome == "passed",
        flagged=flagged,
        family=family,
        p=float("nan") if reasons else p,
        raw=raw,
    )


def _finding(
    item: Evidence,
    adjusted: float,
    fits: FitSet | None,
    rows: ModelRows,
    onsets: pd.DataFrame,
    event: int,
    curve: curves.CurveFit | None,
) -> dict[str, Any]:
    """One finding, as design.md section 8 has it."""
    given = grade(not item.reasons, item.p, adjusted, item.same_sign, item.checks)
    more = more_athletes(
        item.counts.contributing, item.effect.standard_error if item.effect else float("nan")
    )
    needed = more if given == TOO_LITTLE and fits is not None else (more if item.effect else None)
    lines, notes_beside = sensitivity(item.contrast, fits, item.counts.contributing)
    checks = (*item.checks, *_curvature(item.contrast, curve), *notes_beside) if item.effect else ()
    told = Told(item.contrast, item.effect, given, checks, item.reasons, needed, event)
    contrast = item.contrast
    return {
        "id": contrast.id,
        "question": {
            "exposure": contrast.exposure,
            "from": contrast.from_,
            "to": contrast.to,
            "size": contrast.size,
            "unit": contrast.unit,
            "outcome": f"arm rating of {event} or more after the session",
            "scope": "squad",
            "primary": True,
        },
        "effect": _effect_record(item, adjusted),
        "risks": _risks_record(item),
        "counts": _counts_record(item, onsets, rows),
        "model": _model_record(item, fits),
        "checks": [check.record() for check in checks],
        "sensitivity": lines,
        "beside": beside(contrast, fits, item.counts.contributing),
        "grade": given,
        "more_athletes": needed,
        "sentence": finding_sentence(told),
    }


def _curvature(contrast: Contrast, curve: curves.CurveFit | None) -> tuple[Check, ...]:
    """For an amount: whether pain rises evenly over it."""
    if contrast.id not in curves.CURVES:
        return ()
    p = curves.curvature_p(curve) if curve else float("nan")
    return (check("curvature", p, CURVATURE_LIMIT, p < CURVATURE_LIMIT, False),)


def _effect_record(item: Evidence, adjusted: float) -> dict[str, Any]:
    shown = item.effect
    names = ("per_100", "low", "high")
    record: dict[str, Any] = dict(zip(names, _three(shown.difference if shown else None), strict=True))
    record |= {
        "level": 0.95,
        "standard_error": shown.standard_error if shown else None,
        "df": shown.df if shown else None,
        "p": item.p,
        "p_adjusted": adjusted,
    }
    odds = _three(shown.odds_ratio if shown else None)
    return record | dict(zip(("odds_ratio", "odds_ratio_low", "odds_ratio_high"), odds, strict=True))


def _risks_record(item: Evidence) -> dict[str, Any]:
    shown = item.effect
    record = dict(
        zip(("from_per_100", "from_low", "from_high"), _three(shown and shown.risk_from), strict=True)
    )
    record |= dict(zip(("to_per_100", "to_low", "to_high"), _three(shown and shown.risk_to), strict=True))
    return record | dict(zip(("raw_per_100", "raw_low", "raw_high"), _three(item.raw), strict=True))


def _three(interval: Interval | None) -> tuple[float | None, float | None, float | None]:
    return (interval.value, interval.low, interval.high) if interval else (None, None, None)


def _counts_record(item: Evidence, onsets: pd.DataFrame, rows: ModelRows) -> dict[str, int]:
    counts = item.counts
    return {
        "athletes": counts.athletes,
        "contributing": counts.contributing,
        "sessions": counts.sessions,
        "reported": counts.reported,
        "exposed": counts.exposed,
        "events": counts.events,
        "onsets": int(onsets["athlete"].isin(rows.athletes).sum()) if len(onsets) else 0,
    }


def _model_record(item: Evidence, fits: FitSet | None) -> dict[str, Any]:
    models = fits.models(item.contrast.id) if fits else None
    fitted = (models.binary if item.family == "logistic" else models.primary) if models else None
    if fitted is None:
        return {"family": "cumulative", "formula": None, "converged": None, "convergence": {}}
    story = fitted.fit.convergence
    return {
        "family": item.family,
        "formula": fitted.design.formula,
        "converged": bool(story.converged),
        "convergence": {key: getattr(story, key) for key in (
            "gradient", "newton_decrement", "condition", "singular", "separated", "iterations", "message")},
    }  # fmt: skip


def _season(frame: pd.DataFrame, settings: Settings, context: Mapping[str, Any]) -> dict[str, Any]:
    record = {
        "name": settings.season.name,
        "from": frame["date"].min() if len(frame) else None,
        "to": frame["date"].max() if len(frame) else None,
        "athletes": int(frame["athlete"].nunique()),
        "weeks": int(frame["week"].max()) + 1 if len(frame) else 0,
    }
    return record | dict(context.get("season") or {})


def _definitions(settings: Settings, context: Mapping[str, Any]) -> dict[str, Any]:
    record = {
        "values": settings.definitions() | {"family": [contrast.id for contrast in FAMILY]},
        "hash": settings.definitions_hash(),
        "first_seen": None,
        "changed": [],
    }
    return record | dict(context.get("definitions") or {})


def _onsets(frame: pd.DataFrame, settings: Settings, context: Mapping[str, Any]) -> pd.DataFrame:
    """Flare-ups as the store has them (every reported day), else from the frame's sessions alone."""
    view = context.get("views", {}).get("flare_up")
    if view is None:
        return squad_flare_ups(frame, settings.flare_up)
    names = {"onset_date": "onset", "end_date": "end"}
    return view.rename(columns=names)
