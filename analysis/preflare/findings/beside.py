"""The other model families beside a finding: logistic, linear, and linear risk. Shown, never graded on."""

import math
from typing import Any

from preflare.findings.contrasts import Contrast
from preflare.findings.effects import effect, rating_difference
from preflare.findings.fitting import FitSet
from preflare.models.standardise import t_interval


def beside(contrast: Contrast, fits: FitSet | None, contributing: int) -> dict[str, dict[str, Any]]:
    """logistic: per 100 and odds ratio. linear: rating points. linear_risk: per 100, within athlete."""
    if fits is None:
        return {"logistic": {}, "linear": {}, "linear_risk": {}}
    return {
        "logistic": _logistic(contrast, fits, contributing),
        "linear": _linear(contrast, fits, contributing),
        "linear_risk": _linear_risk(contrast, fits),
    }


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
