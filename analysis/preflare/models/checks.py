"""Whether a fit can be believed: every check of the engine as a record, with its limit, its outcome and what to do.

The numbers are those of `Convergence` and of the rows; nothing is fitted here. A fit that was refused has no record:
its FitError says why, and `REFUSALS` what would help.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from preflare.models.optimise import DECREMENT_LIMIT, FLAT
from preflare.models.records import Convergence, MixedFit

Outcome = Literal["passed", "warning", "failed", "not checked"]

GRADIENT_LIMIT = 1e-3
"""In standardised units, beside standard errors of the order of 0.01 to 1: far below what anybody would print."""
CONDITION_LIMIT = 1e5
"""Common practice, no published source: the ratio at which four of eight digits of a standard error are left."""
FEWEST_GROUPS = 10
"""Below about ten athletes variances are poorly known; common practice, no published source."""
FEWEST_ROWS = 2.0
"""Rows an athlete, on average, below which levels and chance are hard to tell apart."""
FEWEST_REPORTS = 10
"""Reports of a category below which its thresholds rest on a handful of days; common practice, no published source."""

HELP = {
    "gradient": (
        "The slope of the log-likelihood that is left at the estimate; 0 at a maximum. If it is larger, the "
        "numbers are not the model's: report the rows to the maintainers, and do not use the fit."
    ),
    "Newton decrement": (
        "Twice the log-likelihood still to be had, by the curvature at the estimate. If it is above the limit, or "
        "cannot be had, estimates may be off by more than their rounding: simplify the model or look for a column "
        "that almost repeats others."
    ),
    "condition": (
        "How unequally the data speak about different combinations of the parameters. Beyond the limit some "
        "columns almost repeat each other, and their separate effects mean little: leave one out, or ask about "
        "their sum."
    ),
    "singularity": (
        "A difference between athletes was estimated as exactly 0, or two as moving together exactly. The data "
        "hold too little about it; the other estimates stand, but their errors take that difference as known to "
        "be 0."
    ),
    "separation": (
        "An exposure splits the ratings perfectly, for instance a bar that always hurt. Its effect has no finite "
        "estimate and no error; the raw counts tell the story. The other estimates are those of the limit."
    ),
    "mode searches": (
        "The search for each athlete's own effects must end before the likelihood means anything. If one did not, "
        "an athlete's rows hold extreme values: look for entry errors."
    ),
    "categories": (
        "Rows of the rarest category. With very few, the thresholds around it rest on a handful of days: join it "
        "with its neighbour and see whether the answer stays."
    ),
    "rows an athlete": (
        "One row cannot tell an athlete's usual level from chance. Where athletes have about one row each, the "
        "sizes of the differences between athletes are guesses; the effects lean on that guess: leave the random "
        "effects out and see whether they stay."
    ),
    "groups": (
        "Differences between athletes are learnt from the athletes, not from the days. With few of them their "
        "sizes are poorly known and intervals by z too short: use t with few degrees of freedom, or tell each "
        "athlete's own story."
    ),
}

REFUSALS = {
    "no rows": "Nothing is left after leaving rows out: look at the reasons counted beside the rows.",
    "missing values": "The engine guesses nothing: leave such rows out, counted, or fill them by a named method.",
    "wrong shape": "The arrays or names do not belong together, or the question cannot be asked of this kind of fit.",
    "one category": "Without a difference in the outcome there is nothing to go with anything.",
    "one cut": "An effect by cut needs at least three categories.",
    "empty category": "Join the category with a neighbour, or number the categories anew.",
    "too few groups": "Fit one athlete without random effects, or wait for more athletes.",
    "too few rows": "More rows than coefficients are needed: leave out columns.",
    "constant column": "A column without variation says nothing: leave it out.",
    "collinear columns": "A column that follows from others says nothing new: leave it out.",
    "empty random term": "A random effect of a column of zeros cannot be seen: leave it out.",
    "variances": "Random effect and residual look the same with one row an athlete: leave out a random term.",
    "not converged": "Look at the checks of the fit first.",
    "separation": "Leave the named column out, and tell its counts instead.",
}
"""What would help, by FitError.reason."""


@dataclass(frozen=True)
class Check:
    """One check. value, limit: NaN where the check is a yes or no. words: what was seen, in a sentence."""

    name: str
    value: float
    limit: float
    outcome: Outcome
    words: str

    @property
    def help(self) -> str:
        """What the check means, and what to do about it."""
        return HELP[self.name]


def fit_checks(fit: MixedFit, y: ArrayLike | None = None) -> tuple[Check, ...]:
    """Every check of a fit, in the order in which to read them. y: the outcome as fitted, for the rarest category."""
    story = fit.convergence
    return (
        _separation(story),
        _below("gradient", story.gradient, GRADIENT_LIMIT, "largest slope left {value:.1e}"),
        _below(
            "Newton decrement", story.newton_decrement, DECREMENT_LIMIT, "log-likelihood still to be had {value:.1e}"
        ),
        _mode_searches(story),
        _condition(story),
        _singularity(fit),
        _groups(fit),
        _rows_an_athlete(fit),
        _categories(fit, y),
    )


def _below(name: str, value: float, limit: float, words: str) -> Check:
    passed = bool(np.isfinite(value) and value <= limit)
    told = words.format(value=value) if np.isfinite(value) else "cannot be had: some direction is not bounded"
    return Check(name, value, limit, "passed" if passed else "failed", told)


def _separation(story: Convergence) -> Check:
    if not story.separated:
        return Check("separation", 0.0, 0.0, "passed", "every effect has a finite estimate")
    words = f"no finite estimate for {', '.join(story.separated)}: it splits the ratings perfectly"
    return Check("separation", float(len(story.separated)), 0.0, "failed", words)


def _mode_searches(story: Convergence) -> Check:
    ended = "own effects did not end" not in story.message
    words = "every athlete's own effects were found" if ended else "the search for an athlete's own effects did not end"
    return Check("mode searches", float("nan"), float("nan"), "passed" if ended else "failed", words)


def _condition(story: Convergence) -> Check:
    value = story.condition
    if value > 1.0 / FLAT or not np.isfinite(value):
        return Check("condition", value, CONDITION_LIMIT, "failed", "the data do not bound some combination of effects")
    outcome: Outcome = "passed" if value <= CONDITION_LIMIT else "warning"
    return Check(
        "condition", value, CONDITION_LIMIT, outcome, f"the information's extremes differ by a factor {value:.3g}"
    )


def _singularity(fit: MixedFit) -> Check:
    if len(fit.random_sd) == 0:
        return Check("singularity", float("nan"), float("nan"), "not checked", "the model has no random effect")
    if fit.convergence.singular:
        words = "a random effect's variance is 0 or a correlation is -1 or 1"
        return Check("singularity", float(fit.random_sd.min()), 0.0, "warning", words)
    words = f"smallest SD between athletes {fit.random_sd.min():.3g}"
    return Check("singularity", float(fit.random_sd.min()), 0.0, "passed", words)


def _groups(fit: MixedFit) -> Check:
    if len(fit.random_sd) == 0:
        return Check("groups", float(fit.n_groups), FEWEST_GROUPS, "not checked", "the model has no random effect")
    outcome: Outcome = "passed" if fit.n_groups >= FEWEST_GROUPS else "warning"
    return Check("groups", float(fit.n_groups), FEWEST_GROUPS, outcome, f"{fit.n_groups} athletes")


def _rows_an_athlete(fit: MixedFit) -> Check:
    mean = fit.n_rows / fit.n_groups
    if len(fit.random_sd) == 0:
        return Check("rows an athlete", mean, FEWEST_ROWS, "not checked", "the model has no random effect")
    outcome: Outcome = "passed" if mean >= FEWEST_ROWS else "warning"
    return Check("rows an athlete", mean, FEWEST_ROWS, outcome, f"{fit.n_rows} rows of {fit.n_groups} athletes")


def _categories(fit: MixedFit, y: ArrayLike | None) -> Check:
    if fit.family == "linear" or y is None:
        words = "a number has no categories" if fit.family == "linear" else "the outcome was not given"
        return Check("categories", float("nan"), FEWEST_REPORTS, "not checked", words)
    counts = np.bincount(np.asarray(y).astype(np.int64))
    rarest = int(np.argmin(counts))
    outcome: Outcome = "passed" if counts[rarest] >= FEWEST_REPORTS else "warning"
    words = f"category {rarest} is the rarest: {counts[rarest]} rows"
    return Check("categories", float(counts[rarest]), FEWEST_REPORTS, outcome, words)
