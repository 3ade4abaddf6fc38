"""One simulated season through the statistics that `review` uses: what they said beside what is true."""

import math
from dataclasses import asdict, dataclass
from typing import Any

from preflare.findings.evidence import Evidence, Graded, grade_season
from preflare.findings.grade import grade
from preflare.simulate.constants import constants
from preflare.simulate.draws import Seed
from preflare.simulate.frames import world_frame
from preflare.simulate.truth import Truth, truth
from preflare.simulate.worlds import simulate_season


@dataclass(frozen=True)
class Answer:
    """One contrast in one season. per_100, low, high: None when there was no interval. truth: per 100.

    grade_without_lead: what the grade would be without the lead check. vetoed_by: checks that failed and may veto,
    whether or not there was anything to veto. contributing: athletes. p: plain. raw: the unadjusted difference.
    """

    id: str
    truth: float
    per_100: float | None
    low: float | None
    high: float | None
    standard_error: float | None
    p: float | None
    grade: str
    grade_without_lead: str
    contributing: int
    vetoed_by: tuple[str, ...] = ()
    raw: float | None = None

    @property
    def covers(self) -> bool | None:
        """Whether the interval holds the truth; None when there is none."""
        if self.low is None or self.high is None:
            return None
        return self.low <= self.truth <= self.high


@dataclass(frozen=True)
class Outcome:
    """One season: world, number of lifters, its place in the run, and the answers. converged: both graded models."""

    world: str
    n_athletes: int
    index: int
    converged: bool
    answers: tuple[Answer, ...]

    def record(self) -> dict[str, Any]:
        return asdict(self)


def outcome_from(record: dict[str, Any]) -> Outcome:
    """The outcome that `record()` wrote."""
    answers = tuple(Answer(**{**answer, "vetoed_by": tuple(answer["vetoed_by"])}) for answer in record["answers"])
    return Outcome(record["world"], record["n_athletes"], record["index"], record["converged"], answers)


def season_outcome(world: str, n_athletes: int, index: int, seed: Seed, weeks: int | None = None) -> Outcome:
    """Simulate one season (of the world's own length without `weeks`), grade it, set the answers beside the truth."""
    season = simulate_season(world, n_athletes, seed, weeks)
    graded = grade_season(world_frame(season), constants()["ratings"]["event"])
    return judged(world, n_athletes, index, graded, truth(season))


def judged(world: str, n_athletes: int, index: int, graded: Graded, true: dict[str, Truth]) -> Outcome:
    """A graded season beside its truth."""
    answers = tuple(_answer(item, true[item.contrast.id].per_100) for item in graded.evidence)
    return Outcome(world, n_athletes, index, _converged(graded), answers)


def _answer(item: Evidence, true: float) -> Answer:
    shown = item.effect
    interval = shown.difference if shown else None
    if interval and not math.isfinite(interval.high - interval.low):
        interval = None
    without_lead = tuple(check for check in item.checks if check.name != "lead")
    return Answer(
        id=item.contrast.id,
        truth=true,
        per_100=float(interval.value) if interval else None,
        low=float(interval.low) if interval else None,
        high=float(interval.high) if interval else None,
        standard_error=float(shown.standard_error) if shown and interval else None,
        p=float(item.p) if math.isfinite(item.p) else None,
        grade=item.grade,
        grade_without_lead=grade(not item.reasons, item.p, item.p_adjusted, item.same_sign, without_lead),
        contributing=item.counts.contributing,
        raw=float(item.raw.value) if math.isfinite(item.raw.value) else None,
        vetoed_by=tuple(check.name for check in item.checks if check.vetoes and check.outcome == "failed"),
    )


def _converged(graded: Graded) -> bool:
    if graded.fits is None:
        return False
    fits = (graded.fits.main.primary, graded.fits.sets.primary)
    return all(fitted is not None and bool(fitted.fit.convergence.converged) for fitted in fits)
