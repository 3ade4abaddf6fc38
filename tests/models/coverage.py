"""How often the engine's 95 % intervals hold the truth, on seasons drawn from the model itself.

    python tests/models/coverage.py 1000 > tests/reference/mixed_models/coverage.txt

Families linear, logistic and cumulative logit, 8, 24 and 60 athletes, 40 sessions each: two coefficients (one varies
within athlete and has a random slope, one is an athlete's own), random intercept and slope, independent. Intervals of
coefficients: estimate -+ quantile x SE, z, and t with athletes - 1 df as the findings use it. Intervals of the
intercept's SD: profile likelihood (logistic and cumulative), on a third of the seasons. Prints coverage with its Monte
Carlo error, refits that did not converge, and the mean estimate less the truth.
"""

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")

import sys
from dataclasses import dataclass

import numpy as np
from scipy.stats import norm, t

from preflare.models.assemble import solve
from preflare.models.cumulative import cumulative_problem
from preflare.models.linear import fit_linear
from preflare.models.logistic import logistic_problem
from preflare.models.profile import profile_random_sd
from preflare.models.records import FitError, MixedFit

EFFECTS = np.array([0.5, -0.4])
RANDOM_SD = np.array([1.0, 0.4])
THRESHOLDS = np.array([0.5, 1.2, 2.0, 3.0])
SESSIONS = 40


@dataclass(frozen=True)
class Coverage:
    """Shares of seasons (converged ones) whose interval held the truth: z and t by coefficient, SD by profile."""

    seasons: int
    failed: int
    z: np.ndarray
    t: np.ndarray
    sd: float
    sd_seasons: int
    bias: np.ndarray


def draw(family: str, n_athletes: int, rng: np.random.Generator) -> tuple[np.ndarray, ...]:
    """(y, X, Z, group) of one season."""
    group = np.repeat(np.arange(n_athletes), SESSIONS)
    n = len(group)
    X = np.column_stack([rng.normal(size=n), rng.normal(size=n_athletes)[group]])
    Z = np.column_stack([np.ones(n), X[:, 0]])
    b = rng.normal(size=(n_athletes, 2)) * RANDOM_SD
    eta = X @ EFFECTS + (Z * b[group]).sum(axis=1)
    if family == "linear":
        return eta + rng.normal(size=n), X, Z, group
    cuts = THRESHOLDS if family == "cumulative logit" else THRESHOLDS[1:2]
    return np.digitize(eta + rng.logistic(size=n), cuts), X, Z, group


def fit(family: str, season: tuple[np.ndarray, ...], with_sd: bool) -> tuple[MixedFit, bool | None]:
    """The fit, and whether the profile interval of the intercept's SD holds the truth (None: not asked)."""
    y, X, Z, group = season
    with_intercept = np.column_stack([np.ones(len(y)), X])
    if family == "linear":
        return fit_linear(y, with_intercept, Z, group), None
    if family == "logistic":
        problem = logistic_problem(y, with_intercept, Z, group)
    else:
        problem = cumulative_problem(y, X, Z, group)
    held = None
    if with_sd:
        interval = profile_random_sd(problem, 0)
        held = interval.low <= RANDOM_SD[0] <= interval.high
    return solve(problem), held


def coverage(family: str, n_athletes: int, seasons: int, seed: int, with_sd: bool = True) -> Coverage:
    """Draw and fit `seasons` seasons; with_sd: profile the intercept's SD on every third."""
    rng = np.random.default_rng(seed)
    errors, sd_held, failed = [], [], 0
    for number in range(seasons):
        try:
            fitted, held = fit(family, draw(family, n_athletes, rng), with_sd=with_sd and number % 3 == 0)
        except FitError:
            failed += 1
            continue
        if not fitted.convergence.converged or fitted.convergence.separated:
            failed += 1
            continue
        off = fitted.coefficients[-2:] - EFFECTS
        errors.append(np.stack([off, off / fitted.standard_errors[-2:]]))
        sd_held += [] if held is None else [held]
    table = np.array(errors)
    standard = np.abs(table[:, 1])
    return Coverage(
        len(table),
        failed,
        (standard < norm.ppf(0.975)).mean(axis=0),
        (standard < t.ppf(0.975, n_athletes - 1)).mean(axis=0),
        float(np.mean(sd_held)) if sd_held else float("nan"),
        len(sd_held),
        table[:, 0].mean(axis=0),
    )


def main(seasons: int) -> None:
    print(f"{seasons} seasons a line; coverage of 95 % intervals in %, Monte Carlo error in brackets")
    print(f"{'family':17} {'athletes':>8}  {'within z':>11} {'within t':>11} {'own z':>11} {'own t':>11}", end="")
    print(f" {'SD profile':>11} {'failed':>6}  bias within, own")
    for number, family in enumerate(("linear", "logistic", "cumulative logit")):
        for n_athletes in (8, 24, 60):
            found = coverage(family, n_athletes, seasons, seed=100 * number + n_athletes)
            shares = [found.z[0], found.t[0], found.z[1], found.t[1]]
            cells = [_cell(share, found.seasons) for share in shares] + [_cell(found.sd, found.sd_seasons)]
            bias = ", ".join(f"{value:+.3f}" for value in found.bias)
            print(f"{family:17} {n_athletes:8}  {' '.join(cells)} {found.failed:6}  {bias}", flush=True)


def _cell(share: float, n: int) -> str:
    if not n:
        return f"{'-':>11}"
    return f"{100 * share:5.1f} ({100 * np.sqrt(share * (1 - share) / n):3.1f})"


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
