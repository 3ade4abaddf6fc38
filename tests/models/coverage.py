"""How often the engine's 95 % intervals hold the truth, on seasons drawn from the model itself.

    python tests/models/coverage.py [--seasons 1000] [--profiled 300] [--out coverage.txt]

Families linear (REML), logistic and cumulative logit (Laplace, ML); 8, 24 and 60 athletes, 40 sessions each; two
coefficients, one that varies within athlete and has a random slope, one that is an athlete's own; random intercept and
slope, independent. Of each line's seasons:

- coefficients: estimate -+ quantile x SE with the normal's quantile (z), with that of t on athletes - 1 df, as the
  findings use it, and for the linear family with Satterthwaite's df (S);
- SDs of the random intercept and slope: profile likelihood, on the first `--profiled` seasons (linear: the restricted
  likelihood, the SD in units of the residual SD);
- mean estimate less the truth, for coefficients and SDs.

Coverage is in %, its Monte Carlo error in brackets. With --out each line is written when it is done, and a second run
goes on after the lines that the file already holds. About ten minutes on one core.
"""

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")

import argparse
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.optimize import minimize_scalar
from scipy.stats import chi2, norm, t

from preflare.models.assemble import solve
from preflare.models.cumulative import cumulative_problem
from preflare.models.linear import LinearProblem, deviance, fit_linear, linear_problem
from preflare.models.logistic import logistic_problem
from preflare.models.profile import profile_random_sd
from preflare.models.records import FitError, MixedFit
from preflare.models.satterthwaite import satterthwaite_df

FAMILIES = ("linear", "logistic", "cumulative logit")
ATHLETES = (8, 24, 60)
EFFECTS = np.array([0.5, -0.4])
RANDOM_SD = np.array([1.0, 0.4])
THRESHOLDS = np.array([0.5, 1.2, 2.0, 3.0])
SESSIONS = 40
HEADER = (
    f"{'':26} {'within athlete':^35} {'own to the athlete':^35} {'SDs by profile':^23}\n"
    f"{'family':17} {'athletes':>8} {'z':>11} {'t':>11} {'S':>11} {'z':>11} {'t':>11} {'S':>11}"
    f" {'intercept':>11} {'slope':>11} {'failed':>6}  bias: within, own; SDs"
)


@dataclass(frozen=True)
class Coverage:
    """Shares of the converged seasons whose interval held the truth.

    z, t, satterthwaite: (2,) by coefficient (satterthwaite NaN outside the linear family). sd: (2,) by random effect,
    over `profiled` seasons. bias: (2,) of the coefficients. sd_bias: (2,) of the SDs.
    """

    seasons: int
    failed: int
    z: np.ndarray
    t: np.ndarray
    satterthwaite: np.ndarray
    sd: np.ndarray
    profiled: int
    bias: np.ndarray
    sd_bias: np.ndarray


@dataclass(frozen=True)
class Season:
    """One season's fit, Satterthwaite's df of the two coefficients, and whether the SDs' intervals held the truth."""

    fit: MixedFit
    df: np.ndarray
    sd_held: list[bool] | None


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


def fit_season(family: str, season: tuple[np.ndarray, ...], with_sd: bool) -> Season:
    """Fit, and profile both SDs where asked. Raises FitError."""
    y, X, Z, group = season
    with_intercept = np.column_stack([np.ones(len(y)), X])
    if family == "linear":
        linear = linear_problem(y, with_intercept, Z, group)
        held = [relative_sd_held(linear, term) for term in (0, 1)] if with_sd else None
        return Season(fit_linear(y, with_intercept, Z, group), satterthwaite_df(linear)[-2:], held)
    if family == "logistic":
        problem = logistic_problem(y, with_intercept, Z, group)
    else:
        problem = cumulative_problem(y, X, Z, group)
    held = None
    if with_sd:
        intervals = [profile_random_sd(problem, term) for term in (0, 1)]
        held = [bool(part.low <= sd <= part.high) for part, sd in zip(intervals, RANDOM_SD, strict=True)]
    return Season(solve(problem), np.full(2, np.nan), held)


def relative_sd_held(problem: LinearProblem, term: int) -> bool:
    """Whether the profile interval of an SD over the residual SD holds the truth: the residual SD drawn is 1.

    The restricted deviance at the true value, the other SD at its best, exceeds the lowest by less than the quantile.
    """
    units = np.diag(problem.Z.back)

    def at(value: float, other: float) -> float:
        entries = np.array([value, other] if term == 0 else [other, value])
        return deviance(problem.products, problem.layout, entries, problem.reml)[0]

    def best_other(value: float) -> float:
        return float(minimize_scalar(lambda other: at(value, other), bounds=(0, 10), method="bounded").fun)

    lowest = minimize_scalar(best_other, bounds=(0, 10), method="bounded").fun
    return best_other(RANDOM_SD[term] / units[term]) - lowest < chi2.ppf(0.95, 1)


def coverage(family: str, n_athletes: int, seasons: int, seed: int, profiled: int = 0) -> Coverage:
    """Draw and fit `seasons` seasons; profile the SDs of the first `profiled`."""
    rng = np.random.default_rng(seed)
    done: list[Season] = []
    for number in range(seasons):
        drawn = draw(family, n_athletes, rng)
        try:
            season = fit_season(family, drawn, with_sd=number < profiled)
        except FitError:
            continue
        if season.fit.convergence.converged and not season.fit.convergence.separated:
            done.append(season)
    return summarise(done, seasons, n_athletes)


def summarise(done: list[Season], drawn: int, n_athletes: int) -> Coverage:
    off = np.array([season.fit.coefficients[-2:] - EFFECTS for season in done])
    standard = np.abs(off) / np.array([season.fit.standard_errors[-2:] for season in done])
    df = np.array([season.df for season in done])
    with_df = (standard < t.ppf(0.975, df)).mean(axis=0) if np.isfinite(df).all() else np.full(2, np.nan)
    held = [season.sd_held for season in done if season.sd_held is not None]
    return Coverage(
        seasons=len(done),
        failed=drawn - len(done),
        z=(standard < norm.ppf(0.975)).mean(axis=0),
        t=(standard < t.ppf(0.975, n_athletes - 1)).mean(axis=0),
        satterthwaite=with_df,
        sd=np.mean(held, axis=0) if held else np.full(2, np.nan),
        profiled=len(held),
        bias=off.mean(axis=0),
        sd_bias=np.mean([season.fit.random_sd - RANDOM_SD for season in done], axis=0),
    )


def line(family: str, n_athletes: int, found: Coverage) -> str:
    """One printed line."""
    shares = [part[k] for k in (0, 1) for part in (found.z, found.t, found.satterthwaite)]
    cells = [_cell(share, found.seasons) for share in shares] + [_cell(share, found.profiled) for share in found.sd]
    bias = ", ".join(f"{value:+.3f}" for value in found.bias) + "; " + ", ".join(f"{v:+.3f}" for v in found.sd_bias)
    return f"{family:17} {n_athletes:8} {' '.join(cells)} {found.failed:6}  {bias}"


def _cell(share: float, n: int) -> str:
    if not n or np.isnan(share):
        return f"{'-':>11}"
    return f"{100 * share:5.1f} ({100 * np.sqrt(share * (1 - share) / n):3.1f})".rjust(11)


def write(out: Path | None, text: str) -> None:
    print(text, flush=True)
    if out is not None:
        with out.open("a", encoding="utf-8") as file:
            file.write(text + "\n")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seasons", type=int, default=1000)
    parser.add_argument("--profiled", type=int, default=300)
    parser.add_argument("--out", type=Path)
    asked = parser.parse_args()
    before = asked.out.read_text(encoding="utf-8").splitlines() if asked.out and asked.out.exists() else []
    first = f"{asked.seasons} seasons a line, SDs profiled on {asked.profiled}; coverage of 95 % intervals in %"
    if before and before[0] != first:
        parser.error(f"{asked.out} holds another run ({before[0]}); name a new file")
    if not before:
        write(asked.out, f"{first}\n{HEADER}")
    for number, family in enumerate(FAMILIES):
        for n_athletes in ATHLETES:
            if any(text.startswith(f"{family:17} {n_athletes:8} ") for text in before):
                continue
            found = coverage(family, n_athletes, asked.seasons, 100 * number + n_athletes, asked.profiled)
            write(asked.out, line(family, n_athletes, found))


if __name__ == "__main__":
    main()
