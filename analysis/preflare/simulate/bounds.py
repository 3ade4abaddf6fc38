"""What the calibration runs, and the bounds that the finished program must stay within (analysis plan, section 8).

The bounds are those of the plan: figures measured when it was made, with two Monte Carlo errors and a margin; the
false-clear bounds of `null` at 24 and 60 lifters are the later ones of its section 11. Worlds of another shape are
measured and shown; only curling as the single cause has a bound, that of `null`.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from preflare.simulate import error_rates
from preflare.simulate.error_rates import IDS, Figure
from preflare.simulate.outcomes import Outcome

Run = tuple[str, int]
"""World and number of lifters."""
RUNS: dict[Run, int] = {
    ("null", 24): 400,
    ("plant", 24): 400,
    ("null", 8): 200,
    ("plant", 8): 200,
    ("null", 60): 120,
    ("plant", 60): 120,
    ("nullhet", 24): 400,
    ("nullstrong", 24): 400,
    ("plantstrong", 24): 200,
    ("plantmcar", 24): 400,
    ("mhigh", 24): 200,
    ("me", 24): 200,
    ("noreact", 24): 200,
    ("curling", 24): 200,
    ("onemeet", 24): 200,
    ("nullonemeet", 24): 200,
    ("short", 24): 200,
    ("nullshort", 24): 200,
    ("estimated", 24): 200,
    ("nullestimated", 24): 200,
    ("skipped", 24): 200,
    ("nullskipped", 24): 200,
    ("mildonly", 24): 200,
    ("gripall", 24): 200,
}
"""Seasons of a full calibration."""
PLANTED = ("plant", "plantstrong", "plantmcar", "mhigh", "me", "noreact", "onemeet", "short", "estimated", "gripall")
Results = Mapping[Run, Sequence[Outcome]]


@dataclass(frozen=True)
class Bound:
    """A figure of one run, in per cent, and the limits that it must lie within."""

    name: str
    run: Run
    measure: Callable[[Sequence[Outcome]], Figure]
    low: float
    high: float


@dataclass(frozen=True)
class Verdict:
    """A bound beside the figure. outcome: within, broken, or not run. slack: what the limits were widened by."""

    bound: Bound
    figure: Figure
    slack: float
    outcome: str


def bounds() -> list[Bound]:
    """Every bound, in the order in which they are printed."""
    made = [_coverage(("null", 24), name, 93) for name in IDS]
    made += [_coverage(("plant", 24), name, 88 if name == "sets" else 91) for name in IDS]
    made += [_coverage((world, 8), name, 91) for world in ("null", "plant") for name in IDS]
    for run, high in ((("null", 8), 3), (("null", 24), 5), (("null", 60), 8), (("nullhet", 24), 5)):
        made.append(Bound("false clear per report", run, error_rates.false_clear, 0, high))
    made.append(Bound("false clear per report", ("nullstrong", 24), error_rates.false_clear, 0, 13))
    made.append(Bound("false clear, % of that without lead", ("nullstrong", 24), _left_by_lead_check, 0, 100 * 2 / 3))
    made.append(Bound("false clear per report", ("curling", 24), error_rates.false_clear, 0, 5))
    made += [
        Bound("wrong-sign clear per report", run, error_rates.wrong_sign_clear, 0, 1)
        for run in RUNS
        if run[0] in PLANTED
    ]
    for name, low in (("intensity", 80), ("sets", 73), ("safety", 31), ("narrow", 25)):
        made.append(Bound(f"clear: {name}", ("plant", 24), partial(error_rates.graded, contrast=name), low, 100))
    for name in ("intensity", "safety", "cambered", "narrow", "sets"):
        made.append(
            Bound(
                f"bias: {name}, % of truth", ("plantmcar", 24), partial(error_rates.bias_share, contrast=name), -20, 20
            )
        )
    for run in RUNS:
        if run[0] in ("null", "plant") and run[1] in (8, 24):
            made.append(Bound("not converged", run, error_rates.not_converged, 0, 1 if run[1] == 24 else 4))
    return made


def _coverage(run: Run, contrast: str, low: float) -> Bound:
    return Bound(f"coverage: {contrast}", run, partial(error_rates.coverage, contrast=contrast), low, 100)


def _left_by_lead_check(outcomes: Sequence[Outcome]) -> Figure:
    """False clears in per cent of those that there would be without the lead check."""
    with_check, without = error_rates.false_clear(outcomes), error_rates.false_clear(outcomes, with_lead=False)
    if not without.value > 0:
        return Figure(0.0, 0.0, with_check.n)
    left = with_check.value / without.value
    # Every false clear is one without the check too, so that the ratio is a share of those.
    n_without = without.value / 100 * without.n
    return Figure(100 * left, 100 * float((left * (1 - left) / n_without) ** 0.5), with_check.n)


def verdicts(results: Results, seasons_of_a_full_run: Mapping[Run, int] = RUNS) -> list[Verdict]:
    """Each bound beside its figure.

    With fewer seasons than a full run has, a figure breaks its bound only when it lies beyond by more than two Monte
    Carlo errors; a full run gets no such slack.
    """
    made = []
    for bound in bounds():
        outcomes = results.get(bound.run, ())
        if not outcomes:
            made.append(Verdict(bound, Figure(float("nan"), float("nan"), 0), 0.0, "not run"))
            continue
        figure = bound.measure(outcomes)
        slack = 0.0 if len(outcomes) >= seasons_of_a_full_run[bound.run] else 2 * figure.error
        within = bound.low - slack <= figure.value <= bound.high + slack
        made.append(Verdict(bound, figure, slack, "within" if within else "broken" if figure.n else "not run"))
    return made
