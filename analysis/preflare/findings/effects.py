"""From a fit to an effect: risks at both levels per 100 sessions, their difference, the odds ratio,
intervals, p."""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from preflare.findings.contrasts import Contrast, Levels, levels
from preflare.findings.fitting import Fitted
from preflare.models.design import set_exposures
from preflare.models.standardise import (
    Interval,
    StandardisedRisks,
    compare_risks,
    delta_se,
    risk_interval,
    t_interval,
    t_p_value,
)

Floats = NDArray[np.float64]
PER = 100.0


@dataclass(frozen=True)
class Effect:
    """One contrast's effect. difference, risk_from, risk_to: per 100 sessions, with intervals.

    log_odds and its standard error are per the contrast's size; df = contributing - 1; p from the log-odds.
    """

    difference: Interval
    standard_error: float
    risk_from: Interval
    risk_to: Interval
    log_odds: float
    log_odds_se: float
    odds_ratio: Interval
    df: float
    p: float


def effect(fitted: Fitted | None, contrast: Contrast, contributing: int) -> Effect | None:
    """The effect of a contrast in a fit, with t(contributing - 1) intervals; None when the fit does not hold
    it."""
    log_odds, log_odds_se = fitted.log_odds(contrast.id) if fitted else (math.nan, math.nan)
    if fitted is None or not math.isfinite(log_odds):
        return None
    df = max(contributing - 1, 1)
    risks = contrast_risks(fitted, contrast)
    return Effect(
        difference=_per_100(t_interval(risks.difference, risks.se_difference, df)),
        standard_error=PER * risks.se_difference,
        risk_from=_per_100(risk_interval(risks.risk_from, risks.se_from, df)),
        risk_to=_per_100(risk_interval(risks.risk_to, risks.se_to, df)),
        log_odds=log_odds,
        log_odds_se=log_odds_se,
        odds_ratio=_exponential(t_interval(log_odds, log_odds_se, df)),
        df=df,
        p=t_p_value(log_odds, log_odds_se, df),
    )


def contrast_risks(fitted: Fitted, contrast: Contrast) -> StandardisedRisks:
    """Standardised risks at the contrast's two levels, each athlete at the own modes."""
    return risks_at(fitted, levels(contrast, fitted.design.rows))


def risks_at(fitted: Fitted, compared: Levels) -> StandardisedRisks:
    """Standardised risks at two levels of exposures, each athlete at the own modes."""
    where = compared.where
    modes = np.asarray(fitted.fit.modes)
    group = fitted.design.rows.group[where]
    sides = []
    for values in (compared.at_from, compared.at_to):
        X, Z = set_exposures(fitted.design, values)
        X, Z = with_intercept(fitted, X[where]), Z[where]
        sides.append((X, np.einsum("nq,nq->n", Z, modes[group])))
    return compare_risks(
        fitted.parameters, fitted.fit.covariance, fitted.n_thresholds, fitted.threshold, sides[0], sides[1]
    )


def with_intercept(fitted: Fitted, X: Floats) -> Floats:
    """X as the fit saw it: a binary or linear model carries its intercept as the first column."""
    return X if fitted.n_thresholds else np.column_stack([np.ones(len(X)), X])


def risk_ratio(fitted: Fitted, contrast: Contrast, df: float) -> Interval:
    """Ratio of the two standardised risks, its interval by the delta method on the logarithm."""
    risks = contrast_risks(fitted, contrast)
    if risks.risk_from <= 0 or risks.risk_to <= 0:
        return Interval(float("nan"), float("nan"), float("nan"))
    gradient = risks.gradient_to / risks.risk_to - risks.gradient_from / risks.risk_from
    se = delta_se(gradient, fitted.fit.covariance)
    return _exponential(t_interval(math.log(risks.risk_to / risks.risk_from), se, df))


def rating_difference(fitted: Fitted, contrast: Contrast, contributing: int) -> tuple[Interval, float] | None:
    """The contrast's coefficient in the linear model, in rating points for the contrast's size, and its
    error."""
    points, se = fitted.log_odds(contrast.id)
    if not math.isfinite(points):
        return None
    return t_interval(points, se, max(contributing - 1, 1)), se


def spanning(told: Effect, other: Effect) -> Effect:
    """`told`, its intervals widened until they hold those of `other`: for two readings that contradict each other.

    A reading that is told only because it differs from the other is an extreme one, and its own interval is too short
    for that: of seasons whose cut check failed by chance it held the truth in 56 to 88 %
    (tests/reference/calibration/README.md).
    """
    return replace(
        told,
        difference=_hull(told.difference, other.difference),
        odds_ratio=_hull(told.odds_ratio, other.odds_ratio),
    )


def _hull(told: Interval, other: Interval) -> Interval:
    return Interval(told.value, min(told.low, other.low), max(told.high, other.high))


def _per_100(interval: Interval) -> Interval:
    return Interval(PER * interval.value, PER * interval.low, PER * interval.high)


def _exponential(interval: Interval) -> Interval:
    with np.errstate(over="ignore"):
        return Interval(*(float(np.exp(value)) for value in (interval.value, interval.low, interval.high)))
