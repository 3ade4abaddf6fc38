"""Risks per session at two levels of an exposure, averaged over the sessions there were, and their
difference.

Risk of an event at a level: mean over rows of F(eta - theta), each athlete at the own modes. Standard errors
by the delta method with the modes held; a risk's interval on the logit, a difference's on its own scale; t
quantiles.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, logit
from scipy.stats import t as student

Floats = NDArray[np.float64]
LEVEL = 0.95


@dataclass(frozen=True)
class Interval:
    """An estimate with its interval, all in the same unit; NaN where there is none."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class StandardisedRisks:
    """Risks at two levels (shares of sessions, 0 to 1), their difference, and standard errors.

    gradient_from, gradient_to: derivative of each risk by (thresholds, coefficients), for the delta method.
    """

    risk_from: float
    risk_to: float
    se_from: float
    se_to: float
    se_difference: float
    gradient_from: Floats
    gradient_to: Floats

    @property
    def difference(self) -> float:
        return self.risk_to - self.risk_from


def standardised_risk(
    parameters: Floats, n_thresholds: int, threshold: int | None, X: Floats, random_part: Floats
) -> tuple[float, Floats]:
    """Mean risk of an event over the rows of X, and its gradient by the parameters.

    parameters: (n_thresholds + p,), thresholds first. threshold: index of the one that opens the event; None
    for a binary model, whose intercept is a column of X. random_part: (n,) Z times each athlete's modes.
    """
    eta = X @ parameters[n_thresholds:] + random_part
    if threshold is not None:
        eta = eta - parameters[threshold]
    risk = expit(eta)
    slope = risk * (1.0 - risk)
    gradient = np.zeros(len(parameters))
    gradient[n_thresholds:] = slope @ X / len(X)
    if threshold is not None:
        gradient[threshold] = -slope.mean()
    return float(risk.mean()), gradient


def compare_risks(
    parameters: Floats,
    covariance: Floats,
    n_thresholds: int,
    threshold: int | None,
    at_from: tuple[Floats, Floats],
    at_to: tuple[Floats, Floats],
) -> StandardisedRisks:
    """Standardised risks at two levels. at_from, at_to: (X, random part) at each level, same rows."""
    return with_errors(
        standardised_risk(parameters, n_thresholds, threshold, *at_from),
        standardised_risk(parameters, n_thresholds, threshold, *at_to),
        covariance,
    )


def with_errors(at_from: tuple[float, Floats], at_to: tuple[float, Floats], covariance: Floats) -> StandardisedRisks:
    """Two risks, each with its gradient by the parameters, and their errors by the delta method."""
    (risk_from, gradient_from), (risk_to, gradient_to) = at_from, at_to
    return StandardisedRisks(
        risk_from,
        risk_to,
        delta_se(gradient_from, covariance),
        delta_se(gradient_to, covariance),
        delta_se(gradient_to - gradient_from, covariance),
        gradient_from,
        gradient_to,
    )


def delta_se(gradient: Floats, covariance: Floats) -> float:
    """Standard error of a smooth function of the parameters: sqrt(g' V g)."""
    variance = float(gradient @ covariance @ gradient)
    return float(np.sqrt(variance)) if variance >= 0 else float("nan")


def t_quantile(df: float, level: float = LEVEL) -> float:
    return float(student.ppf(0.5 + level / 2, max(df, 1.0)))


def t_interval(estimate: float, se: float, df: float, level: float = LEVEL) -> Interval:
    """estimate -+ t(df) x se."""
    half = t_quantile(df, level) * se
    return Interval(estimate, estimate - half, estimate + half)


def risk_interval(risk: float, se: float, df: float, level: float = LEVEL) -> Interval:
    """A risk's interval by the delta method on the logit, so that it stays between 0 and 1."""
    if not 0.0 < risk < 1.0:
        return Interval(risk, float("nan"), float("nan"))
    half = t_quantile(df, level) * se / (risk * (1.0 - risk))
    return Interval(risk, float(expit(logit(risk) - half)), float(expit(logit(risk) + half)))


def t_p_value(estimate: float, se: float, df: float) -> float:
    """Two-sided p of estimate / se against t(df); NaN when there is no standard error."""
    if not (np.isfinite(se) and se > 0):
        return float("nan")
    return float(2 * student.sf(abs(estimate / se), max(df, 1.0)))
