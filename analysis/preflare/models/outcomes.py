"""Outcomes drawn from a fitted model, and the intervals and residuals that come from such draws.

New athletes: random effects drawn from N(0, Sigma). The same athletes: their modes held.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.special import expit
from scipy.stats import kstest, norm

from preflare.models.records import FitError, Floats, Ints, MixedFit


@dataclass(frozen=True)
class Rows:
    """The columns that a fit was made on (or others like them): X (n, p), Z (n, q), group (n,) codes, offset (n,)."""

    X: Floats
    Z: Floats
    group: Ints
    offset: Floats

    @classmethod
    def of(cls, X: Floats, Z: Floats, group: Ints) -> "Rows":
        return cls(X, Z, group, np.zeros(len(X)))


@dataclass(frozen=True)
class Bootstrap:
    """coefficients (B, p) and random_sd (B, q) of the refits that ended well; failed: refits that did not."""

    coefficients: Floats
    random_sd: Floats
    failed: int

    def interval(self, values: Floats, level: float = 0.95) -> tuple[Floats, Floats]:
        """Percentile limits of one of the arrays, column by column."""
        tail = 50.0 * (1.0 - level)
        low, high = np.percentile(values, [tail, 100.0 - tail], axis=0)
        return low, high


@dataclass(frozen=True)
class ResidualTests:
    """Checks of residuals that are uniform when the model is right. p values are those of the named statistics.

    uniformity: Kolmogorov-Smirnov distance. dispersion: variance over that of a uniform (1/12). autocorrelation:
    mean product of successive normal scores within athletes. Passing is no evidence against confounding, and with
    many rows a trivial misfit is "significant".
    """

    uniformity: float
    uniformity_p: float
    dispersion: float
    dispersion_p: float
    autocorrelation: float
    autocorrelation_p: float


def linear_predictor(fit: MixedFit, rows: Rows, b: Floats) -> Floats:
    """(n,) offset + x'beta + z'b. b: (A, q) random effects by group code."""
    return np.asarray(rows.offset + rows.X @ fit.coefficients + (rows.Z * b[rows.group]).sum(axis=1))


def draw_random_effects(fit: MixedFit, n_groups: int, rng: np.random.Generator) -> Floats:
    """(n_groups, q) from N(0, Sigma); a singular Sigma is no obstacle."""
    values, vectors = np.linalg.eigh(fit.random_covariance)
    root = vectors * np.sqrt(np.clip(values, 0.0, None))
    return np.asarray(rng.standard_normal((n_groups, len(values))) @ root.T)


def draw_outcomes(fit: MixedFit, rows: Rows, b: Floats, rng: np.random.Generator) -> Floats:
    """(n,) one outcome a row: categories from 0, 0 or 1, or a number, by the family."""
    eta = linear_predictor(fit, rows, b)
    if fit.family == "linear":
        return np.asarray(eta + fit.residual_sd * rng.standard_normal(len(eta)))
    latent = eta + rng.logistic(size=len(eta))
    return np.searchsorted(_cuts(fit), latent).astype(float)


def _cuts(fit: MixedFit) -> Floats:
    return fit.thresholds if len(fit.thresholds) else np.zeros(1)


def parametric_bootstrap(
    fit: MixedFit, rows: Rows, refit: Callable[[Floats], MixedFit], times: int, rng: np.random.Generator
) -> Bootstrap:
    """Draw seasons from the fit with new athletes and fit each again. refit: the call that made `fit`, of an outcome.

    A drawn season that lacks a category, or whose refit does not converge, is counted as failed, not replaced.
    """
    coefficients, sds, failed = [], [], 0
    n_groups = int(rows.group.max()) + 1
    for _ in range(times):
        y = draw_outcomes(fit, rows, draw_random_effects(fit, n_groups, rng), rng)
        try:
            again = refit(y)
        except FitError:
            failed += 1
            continue
        if again.convergence.converged and not again.convergence.separated:
            coefficients.append(again.coefficients)
            sds.append(again.random_sd)
        else:
            failed += 1
    p, q = len(fit.coefficients), len(fit.random_sd)
    return Bootstrap(np.reshape(coefficients, (-1, p)), np.reshape(sds, (-1, q)), failed)


def quantile_residuals(fit: MixedFit, rows: Rows, y: Floats, rng: np.random.Generator) -> Floats:
    """(n,) residuals that are uniform on (0, 1) when the model is right, each athlete at the own modes.

    P(Y < y) plus a random share of P(Y = y), from the model's own distribution (Dunn and Smyth 1996).
    """
    eta = linear_predictor(fit, rows, fit.modes)
    if fit.family == "linear":
        return np.asarray(norm.cdf(y, eta, fit.residual_sd))
    edges = np.concatenate([[-np.inf], _cuts(fit), [np.inf]])
    category = y.astype(int)
    below, up_to = expit(edges[category] - eta), expit(edges[category + 1] - eta)
    return np.asarray(below + rng.random(len(y)) * (up_to - below))


def simulated_residuals(simulated: Floats, y: Floats, rng: np.random.Generator) -> Floats:
    """(n,) the place of each y among draws (n, B): uniform between the share below it and the share up to it."""
    below = (simulated < y[:, None]).mean(axis=1)
    up_to = (simulated <= y[:, None]).mean(axis=1)
    return np.asarray(below + rng.random(len(y)) * (up_to - below))


def check_residuals(residuals: Floats, group: Ints) -> ResidualTests:
    """Uniformity, dispersion, and autocorrelation within athlete. residuals: (n,), each athlete's in order of time."""
    n = len(residuals)
    uniform = kstest(residuals, "uniform")
    spread = float(residuals.var() * 12.0)
    # The variance of (U - 1/2)^2 is 1/180: of 12 times the sample variance, 144 / 180 / n.
    spread_z = (spread - 1.0) / np.sqrt(0.8 / n)
    score = norm.ppf(np.clip(residuals, 1e-12, 1.0 - 1e-12))
    by_athlete = np.argsort(group, kind="stable")
    same = np.diff(group[by_athlete]) == 0
    products = (score[by_athlete][1:] * score[by_athlete][:-1])[same]
    together = float(products.mean()) if len(products) else 0.0
    return ResidualTests(
        float(uniform.statistic),
        float(uniform.pvalue),
        spread,
        float(2.0 * norm.sf(abs(spread_z))),
        together,
        float(2.0 * norm.sf(abs(together) * np.sqrt(max(len(products), 1)))),
    )
