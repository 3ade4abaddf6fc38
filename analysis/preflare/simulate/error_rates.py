"""From many seasons' outcomes to error rates, each with its Monte Carlo error. Rates are in per cent."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from preflare.findings.contrasts import FAMILY
from preflare.findings.grade import CLEAR
from preflare.simulate.outcomes import Answer, Outcome

IDS = tuple(contrast.id for contrast in FAMILY)
NOTHING_TRUE = 0.5
"""A contrast whose mean truth is below this, per 100, counts as no effect: to call it clear is a false clear."""


@dataclass(frozen=True)
class Figure:
    """A measured figure, its Monte Carlo standard error, and the number of seasons it rests on."""

    value: float
    error: float
    n: int

    def __str__(self) -> str:
        return f"{self.value:.1f} ({self.error:.1f})" if self.n else "-"


def share(hits: Sequence[bool]) -> Figure:
    """Per cent of True. Error: binomial, with one hit and one miss added, so that 0 is not taken for certain."""
    n = len(hits)
    if n == 0:
        return Figure(float("nan"), float("nan"), 0)
    near = (sum(hits) + 1) / (n + 2)
    return Figure(100 * sum(hits) / n, 100 * float(np.sqrt(near * (1 - near) / n)), n)


def mean(values: Sequence[float]) -> Figure:
    n = len(values)
    if n < 2:
        return Figure(values[0] if n else float("nan"), float("nan"), n)
    return Figure(float(np.mean(values)), float(np.std(values, ddof=1) / np.sqrt(n)), n)


def answers_to(outcomes: Sequence[Outcome], contrast: str) -> list[Answer]:
    return [answer for outcome in outcomes for answer in outcome.answers if answer.id == contrast]


def coverage(outcomes: Sequence[Outcome], contrast: str) -> Figure:
    """Share of the intervals that hold the truth."""
    return share([bool(a.covers) for a in answers_to(outcomes, contrast) if a.covers is not None])


def mean_truth(outcomes: Sequence[Outcome], contrast: str) -> float:
    return float(np.mean([answer.truth for answer in answers_to(outcomes, contrast)]))


def bias(outcomes: Sequence[Outcome], contrast: str) -> Figure:
    """Mean of estimate less truth, per 100 sessions."""
    return mean([a.per_100 - a.truth for a in answers_to(outcomes, contrast) if a.per_100 is not None])


def bias_share(outcomes: Sequence[Outcome], contrast: str) -> Figure:
    """The bias in per cent of the mean truth."""
    found, true = bias(outcomes, contrast), mean_truth(outcomes, contrast)
    return Figure(100 * found.value / abs(true), 100 * found.error / abs(true), found.n)


def mean_standard_error(outcomes: Sequence[Outcome], contrast: str) -> Figure:
    return mean([a.standard_error for a in answers_to(outcomes, contrast) if a.standard_error is not None])


def graded(outcomes: Sequence[Outcome], contrast: str, grade: str = CLEAR) -> Figure:
    """Share of seasons in which the contrast has this grade."""
    return share([answer.grade == grade for answer in answers_to(outcomes, contrast)])


def vetoed(outcomes: Sequence[Outcome], contrast: str, check: str) -> Figure:
    """Share of the seasons with an estimate in which this check failed, whatever the grade."""
    shown = [answer for answer in answers_to(outcomes, contrast) if answer.per_100 is not None]
    return share([check in answer.vetoed_by for answer in shown])


def false_clear(outcomes: Sequence[Outcome], with_lead: bool = True) -> Figure:
    """Share of reports in which at least one contrast without effect is clear."""
    nothing = [name for name in IDS if abs(mean_truth(outcomes, name)) < NOTHING_TRUE]
    return share([any(_is_clear(a, with_lead) for a in o.answers if a.id in nothing) for o in outcomes])


def wrong_sign_clear(outcomes: Sequence[Outcome]) -> Figure:
    """Share of reports in which at least one contrast with an effect is clear in the wrong direction."""
    sign = {name: np.sign(t) for name in IDS if abs(t := mean_truth(outcomes, name)) >= NOTHING_TRUE}
    return share(
        [
            any(_is_clear(a) and np.sign(a.per_100 or 0.0) != sign[a.id] for a in o.answers if a.id in sign)
            for o in outcomes
        ]
    )


def _is_clear(answer: Answer, with_lead: bool = True) -> bool:
    return (answer.grade if with_lead else answer.grade_without_lead) == CLEAR


def not_converged(outcomes: Sequence[Outcome]) -> Figure:
    return share([not outcome.converged for outcome in outcomes])
