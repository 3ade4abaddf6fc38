"""One finding as findings.json has it."""

from collections.abc import Sequence
from typing import Any

from preflare.findings.beside import beside
from preflare.findings.checks import Check
from preflare.findings.evidence import Evidence, Graded, model_story
from preflare.findings.sentences import Told, finding_sentence
from preflare.models.standardise import Interval


def finding_record(
    item: Evidence, graded: Graded, notes: Sequence[Check], lines: list[dict[str, Any]], onsets: int
) -> dict[str, Any]:
    """The record of one contrast.

    notes: checks that may not veto. lines: sensitivity. onsets: flare-ups of the athletes in the models.
    """
    contrast = item.contrast
    checks = (*item.checks, *notes) if item.effect else ()
    told = Told(contrast, item.effect, item.grade, checks, item.reasons, item.more_athletes, graded.event)
    return {
        "id": contrast.id,
        "question": {
            "exposure": contrast.exposure,
            "from": contrast.from_,
            "to": contrast.to,
            "size": contrast.size,
            "unit": contrast.unit,
            "outcome": f"arm rating of {graded.event} or more after the session",
            "scope": "squad",
            "primary": True,
        },
        "effect": _effect(item),
        "risks": _risks(item),
        "counts": {
            "athletes": item.counts.athletes,
            "contributing": item.counts.contributing,
            "sessions": item.counts.sessions,
            "reported": item.counts.reported,
            "exposed": item.counts.exposed,
            "events": item.counts.events,
            "onsets": onsets,
        },
        "model": model_story(item, graded.fits),
        "checks": [check.record() for check in checks],
        "sensitivity": lines,
        "beside": beside(item, graded.fits),
        "grade": item.grade,
        "more_athletes": item.more_athletes,
        "sentence": finding_sentence(told),
    }


def _effect(item: Evidence) -> dict[str, Any]:
    shown = item.effect
    return {
        **_named("per_100", "low", "high", shown.difference if shown else None),
        "level": 0.95,
        "standard_error": shown.standard_error if shown else None,
        "df": shown.df if shown else None,
        "p": item.p,
        "p_adjusted": item.p_adjusted,
        **_named("odds_ratio", "odds_ratio_low", "odds_ratio_high", shown.odds_ratio if shown else None),
    }


def _risks(item: Evidence) -> dict[str, Any]:
    shown = item.effect
    return {
        **_named("from_per_100", "from_low", "from_high", shown.risk_from if shown else None),
        **_named("to_per_100", "to_low", "to_high", shown.risk_to if shown else None),
        **_named("raw_per_100", "raw_low", "raw_high", item.raw),
    }


def _named(value: str, low: str, high: str, interval: Interval | None) -> dict[str, float | None]:
    if interval is None:
        return {value: None, low: None, high: None}
    return {value: interval.value, low: interval.low, high: interval.high}
