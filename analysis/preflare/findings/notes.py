"""The notes of a report: what the figures rest on, what was left out, and what no log can show."""

from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd

from preflare.findings.contrasts import Contrast
from preflare.findings.evidence import Graded
from preflare.findings.fitting import FitSet
from preflare.findings.words import named, sentence, template
from preflare.models.design import FEWEST_ATHLETES_FOR_BETWEEN, OTHER_LIFTS
from preflare.models.rows import QUESTIONS, ModelRows

BORROWED = ("squad ratio", "published ratio")
"""Where a bar's 1RM comes from when the lifter has none on it."""

LIMITS = (
    "blind_spot",
    "unmeasured",
    "error_rates",
    "one_rm",
    "average_slope",
    "odds_ratio",
    "exploratory",
    "not_a_reason",
)
"""Printed in every report, whatever was found."""


def notes(frame: pd.DataFrame, graded: Graded, views: Mapping[str, pd.DataFrame]) -> list[dict[str, str]]:
    """Notes as {kind, name, words}.

    kind: data (what was left out), model, limit (what the logs cannot show). views: of these, set_share is read.
    """
    made = [_note("limit", "event", event=graded.event)]
    if graded.refusal:
        made.append({"kind": "data", "name": "refusal", "words": graded.refusal})
    made += _data_notes(frame, graded.rows) + _set_notes(frame, views.get("set_share"))
    if graded.fits:
        flagged = [item.contrast for item in graded.evidence if item.flagged]
        made += _model_notes(graded.rows, graded.fits, flagged)
    return made + [_note("limit", name) for name in LIMITS]


def _note(kind: str, name: str, **values: Any) -> dict[str, str]:
    return {"kind": kind, "name": name, "words": sentence("note", name, **values)}


def _data_notes(frame: pd.DataFrame, rows: ModelRows) -> list[dict[str, str]]:
    made = []
    if len(rows.group):
        made.append(_note("data", "reported", reported=int(rows.reported.sum()), sessions=len(rows.group)))
    for reason, n in rows.dropped.items():
        if n:
            made.append(
                _note("data", "dropped_one" if n == 1 else "dropped", n=n, reason=named("note.dropped_reason", reason))
            )
    for question, exposures in QUESTIONS.items():
        if exposures[0] in rows.left_out and len(frame):
            made.append(_note("data", "left_out", exposure=named("finding.exposure_name", question)))
    for column, name in (("is_mixed_bar", "mixed_bar"), ("is_mixed_grip", "mixed_grip")):
        n = int(frame[column].fillna(False).astype(bool).sum()) if len(frame) else 0
        if n:
            made.append(_note("data", name, n=n, percent=100.0 * n / len(frame)))
    return made


def _set_notes(frame: pd.DataFrame, view: pd.DataFrame | None) -> list[dict[str, str]]:
    """What the 1RM and the count of working sets rest on."""
    made: list[dict[str, str]] = []
    if len(frame) == 0:
        return made
    borrowed = frame["intensity_source"].isin(BORROWED) if "intensity_source" in frame else pd.Series(dtype=bool)
    if borrowed.any():
        made.append(_note("data", "borrowed_one_rm", n=int(borrowed.sum()), percent=100.0 * borrowed.mean()))
    unmarked = float(frame["effort_unmarked_share"].mean())
    if unmarked > 0:
        made.append(_note("data", "effort_unmarked", percent=100.0 * unmarked))
    if view is not None and len(view):
        light, working = float(view["light_sets"].sum()), float(view["squat_sets"].sum())
        if light > 0:
            made.append(_note("data", "light_sets", n=int(light), percent=100.0 * light / (light + working)))
    return made


def _model_notes(rows: ModelRows, fits: FitSet, flagged: Sequence[Contrast]) -> list[dict[str, str]]:
    made = []
    if flagged:
        made.append(
            _note("model", "reacted", exposures=", ".join(dict.fromkeys(_exposure_name(item) for item in flagged)))
        )
    if len(rows.athletes) < FEWEST_ATHLETES_FOR_BETWEEN:
        made.append(_note("model", "no_between"))
    if not rows.frame["competition_entered"].astype(bool).any():
        made.append(_note("model", "no_competition"))
    design = fits.main.primary.design if fits.main.primary else None
    if design is not None:
        if design.collinear:
            terms = ", ".join(dict.fromkeys(map(_term, design.collinear)))
            made.append(_note("model", "collinear", terms=terms))
        if not any(name.startswith("pressing") for name in design.names):
            made.append(_note("model", "no_other_lifts"))
    for question, models in (("main", fits.main), ("sets", fits.sets)):
        if models.primary is not None and not models.primary.fit.convergence.converged:
            made.append(_note("model", "not_converged", model=named("note.model_name", question)))
    fitted = [models.primary for models in (fits.main, fits.sets) if models.primary is not None]
    if any(model.fit.convergence.singular for model in fitted):
        made.append(_note("model", "singular"))
    return made


_TERMS = {"older sets": "older_sets"} | {f"{lift} in 7 days": "other_lifts" for lift in OTHER_LIFTS}
"""Columns of the design -> the key of their words under [note.term]; all others but exposures and time are ratings."""


def _term(column: str) -> str:
    """A column of the design in words: an exposure with its part, else the group that the column belongs to."""
    part, _, exposure = column.partition(" ")
    if part in ("within", "between", "past"):
        return sentence("note", f"term.{part}", exposure=named("note.term_exposure", exposure))
    if column.startswith("weeks to competition"):
        return template("note", "term.competition")
    if part in ("week", "season"):
        return template("note", "term.calendar")
    return template("note", f"term.{_TERMS.get(column, 'ratings')}")


def _exposure_name(contrast: Contrast) -> str:
    return named("finding.exposure_name", contrast.exposure)
