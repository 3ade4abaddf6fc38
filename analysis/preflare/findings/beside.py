"""The other model families beside a finding: logistic, linear, and linear risk. Shown, never graded on."""

import math
from typing import Any

from preflare.findings.contrasts import Contrast
from preflare.findings.e_value import e_value, e_value_limit
from preflare.findings.effects import effect, rating_difference, risk_ratio
from preflare.findings.evidence import Evidence
from preflare.findings.fitting import FitSet
from preflare.models.standardise import t_interval


def beside(item: Evidence, fits: FitSet | None) -> dict[str, dict[str, Any]]:
    """logistic: per 100 and odds ratio. linear: rating points. linear_risk: per 100, within athlete.

    e_value.
    """
    if fits is None:
        return {"logistic": {}, "linear": {}, "linear_risk": {}, "e_value": {}}
    contrast, contributing = item.contrast, item.counts.contributing
    return {
        "logistic": _logistic(contrast, fits, contributing),
        "linear": _linear(contrast, fits, contributing),
        "linear_risk": _linear_risk(contrast, fits),
        "e_value": _e_value(item, fits),
    }


def _e_value(item: Evidence, fits: FitSet) -> dict[str, Any]:
    """For those who ask: how strong something unmeasured would have to be, for the estimate and for its
    limit."""
    models = fits.models(item.contrast.id)
    fitted = models.binary if item.family == "logistic" else models.primary
    if item.effect is None or fitted is None:
        return {}
    ratio = risk_ratio(fitted, item.contrast, item.effect.df)
    return {"risk_ratio": ratio.value, "estimate": e_value(ratio.value), "limit": e_value_limit(ratio)}


def _logistic(contrast: Contrast, fits: FitSet, contributing: int) -> dict[str, Any]:
    fitted = fits.models(contrast.id).binary
    shown = effect(fitted, contrast, contributing) if fitted else None
    if fitted is None or shown is None:
        return {}
    odds = shown.odds_ratio
    return {
        "per_100": shown.difference.value,
        "low": shown.difference.low,
        "high": shown.difference.high,
        "odds_ratio": odds.value,
        "odds_ratio_low": odds.low,
        "odds_ratio_high": odds.high,
        "converged": bool(fitted.fit.convergence.converged),
    }


def _linear(contrast: Contrast, fits: FitSet, contributing: int) -> dict[str, Any]:
    fitted = fits.models(contrast.id).linear
    shown = rating_difference(fitted, contrast, contributing) if fitted else None
    if fitted is None or shown is None:
        return {}
    interval, _ = shown
    return {
        "rating_points": interval.value,
        "low": interval.low,
        "high": interval.high,
        "converged": bool(fitted.fit.convergence.converged),
    }


def _linear_risk(contrast: Contrast, fits: FitSet) -> dict[str, Any]:
    risk = fits.models(contrast.id).risk
    value = risk.estimate.get(contrast.id, math.nan) if risk else math.nan
    if risk is None or not math.isfinite(value):
        return {}
    interval = t_interval(value, risk.standard_error[contrast.id], risk.df[contrast.id])
    return {"per_100": value, "low": interval.low, "high": interval.high, "df": risk.df[contrast.id]}
