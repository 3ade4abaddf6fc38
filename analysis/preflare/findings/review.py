"""From the model frame to the whole of findings.json."""

from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd

from preflare.findings import athletes as athlete_pages
from preflare.findings import bar_choice, before_onset, case_crossover, curves, lags, notes, own_exposures, surveillance
from preflare.findings.checks import Check
from preflare.findings.contrasts import Contrast
from preflare.findings.elsewhere import elsewhere_check, fit_elsewhere
from preflare.findings.evidence import Graded, grade_season
from preflare.findings.flare_ups import flare_up_sessions, squad_flare_ups
from preflare.findings.plain import plain
from preflare.findings.record import finding_record
from preflare.findings.residuals import residual_checks
from preflare.findings.schema import SCHEMA_VERSION
from preflare.findings.sensitivity import (
    OtherChoices,
    fit_other_choices,
    missing_report_checks,
    sensitivity_lines,
)
from preflare.findings.words import worded_in
from preflare.settings import Settings

RISES = (1, 2, 3)
"""Rises over the own baseline for which flare-up days are shown beside the findings."""


def review(
    frame: pd.DataFrame,
    settings: Settings,
    context: Mapping[str, Any] | None = None,
    language: str | None = None,
) -> dict[str, Any]:
    """The whole of findings.json, JSON-ready, from the model frame (one row per squat session).

    context, each part optional: "season", "made", "definitions", "logs", "changes" (parts of findings.json, taken over
    as they stand), "exploratory" (the squad's own columns: name, label, unit, size, meaning, known) and "views" (name
    -> DataFrame from the store, used where a frame alone cannot know: flare_up, weekly_pain, surveillance_count,
    set_share, site, warning). Data that allow no model give findings graded "too
    little data" that say why, never an exception. language: of every sentence (ISO 639-1), season.toml's where not
    given. Raises PreflareError where reports/words has no such language.
    """
    with worded_in(language or settings.season.language):
        return _review(frame, settings, dict(context or {}))


def _review(frame: pd.DataFrame, settings: Settings, context: Mapping[str, Any]) -> dict[str, Any]:
    views: Mapping[str, pd.DataFrame] = context.get("views") or {}
    graded = grade_season(frame, settings.event.rating)
    onsets = flare_ups(frame, settings, views)
    bent = _curves(graded)
    findings = _findings(graded, settings, onsets, bent)
    found = {
        "schema_version": SCHEMA_VERSION,
        "made": context.get("made"),
        "season": _season(frame, settings) | dict(context.get("season") or {}),
        "definitions": _definitions(settings) | dict(context.get("definitions") or {}),
        "logs": context.get("logs"),
        "findings": findings,
        "curves": [curves.curve_record(curve, graded.event) for curve in bent.values()],
        "lags": lags.lag_record(lags.fit_lags(frame, graded.rows, graded.event)) if graded.fits else None,
        "exploratory": own_exposures.own_exposures(
            frame, graded.rows, context.get("exploratory") or (), graded.event, graded.fits is not None
        ),
        "surveillance": surveillance.surveillance(frame, onsets, views, graded.event),
        "bar_choice": bar_choice.bar_choice(frame, graded.rows, findings, graded.event),
        "case_crossover": case_crossover.case_crossover(frame, settings.flare_up),
        "before_onset": before_onset.before_onset(frame, onsets),
        "athletes": athlete_pages.athletes(frame, graded, findings, onsets, views),
        "changes": context.get("changes") or [],
        "notes": notes.notes(frame, graded, views),
    }
    plain_found: dict[str, Any] = plain(found)
    return plain_found


def flare_ups(frame: pd.DataFrame, settings: Settings, views: Mapping[str, pd.DataFrame]) -> pd.DataFrame:
    """Flare-ups as the store has them (every reported day), else from the frame's sessions alone.

    Columns athlete, number, onset, end (NaT while it is not over), peak, is_over.
    """
    view = views.get("flare_up")
    if view is None:
        return squad_flare_ups(frame, settings.flare_up)
    made = view.rename(columns={"onset_date": "onset", "end_date": "end"})
    return made.assign(onset=pd.to_datetime(made["onset"]), end=pd.to_datetime(made["end"]))


def _curves(graded: Graded) -> dict[str, curves.CurveFit]:
    if graded.fits is None:
        return {}
    fitted = {name: curves.fit_curve(graded.rows, name, graded.event) for name in curves.CURVES}
    return {name: curve for name, curve in fitted.items() if curve is not None}


def _findings(
    graded: Graded, settings: Settings, onsets: pd.DataFrame, bent: Mapping[str, curves.CurveFit]
) -> list[dict[str, Any]]:
    other = _other_choices(graded, settings)
    residual = _residual_checks(graded, settings)
    elsewhere = fit_elsewhere(graded.fits) if graded.fits else None
    n_onsets = int(onsets["athlete"].isin(graded.rows.athletes).sum()) if len(onsets) else 0
    made = []
    for item in graded.evidence:
        question = _question(item.contrast)
        notes_beside = (
            *_curvature(item.contrast, bent),
            *missing_report_checks(item.contrast, other.get(question)),
            *residual.get(question, ()),
            elsewhere_check(item.contrast, elsewhere),
        )
        lines = sensitivity_lines(item.contrast, other.get(question), item.counts.contributing)
        made.append(finding_record(item, graded, notes_beside, lines, n_onsets))
    return made


def _question(contrast: Contrast) -> str:
    return "sets" if contrast.id == "sets" else "main"


def _other_choices(graded: Graded, settings: Settings) -> dict[str, OtherChoices | None]:
    if graded.fits is None:
        return {}
    rows = graded.rows
    flares = {rise: flare_up_sessions(rows.frame, settings.flare_up, rise).to_numpy(float) for rise in RISES}
    main, sets = graded.fits.main, graded.fits.sets
    return {
        "main": fit_other_choices(main, graded.event, flares, weigh=True),
        "sets": fit_other_choices(sets, graded.event, flares, weigh=False),
    }


def _residual_checks(graded: Graded, settings: Settings) -> dict[str, tuple[Check, ...]]:
    if graded.fits is None:
        return {}
    rng = np.random.default_rng(settings.season.seed)
    made: dict[str, tuple[Check, ...]] = {}
    for question, models in (("main", graded.fits.main), ("sets", graded.fits.sets)):
        if models.primary is not None:
            made[question] = residual_checks(models.primary, rng)
    return made


def _curvature(contrast: Contrast, bent: Mapping[str, curves.CurveFit]) -> tuple[Check, ...]:
    """For an amount: whether pain rises evenly over it."""
    return (curves.curvature_check(bent.get(contrast.id)),) if contrast.id in curves.CURVES else ()


def _season(frame: pd.DataFrame, settings: Settings) -> dict[str, Any]:
    return {
        "name": settings.season.name,
        "from": frame["date"].min() if len(frame) else None,
        "to": frame["date"].max() if len(frame) else None,
        "athletes": int(frame["athlete"].nunique()),
        "weeks": int(frame["week"].max()) + 1 if len(frame) else 0,
    }


def _definitions(settings: Settings) -> dict[str, Any]:
    return {
        "values": settings.definitions(),
        "hash": settings.definitions_hash(),
        "first_seen": None,
        "changed": [],
    }
