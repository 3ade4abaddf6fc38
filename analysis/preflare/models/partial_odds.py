"""Partial proportional odds: an effect at every threshold for named columns, with random slopes, in one likelihood.

    P(y <= k | b) = F(theta_k - x'beta - w'gamma_k - offset - z'b),   b ~ N(0, Sigma)

The proportional model is gamma_1 = ... = gamma_(K-1). That is tested twice, for all named columns together and for
each: by the likelihood ratio, and by Wald's statistic from the joint covariance of the effects; both chi-squared with
K - 2 degrees of freedom for each column. An athlete's own slope is one number for all cuts. `proportional` asks the
same cut by cut, without one model for all.

Effects that differ between cuts make some cuts cross far enough out in w, where the model gives no probabilities. The
likelihood keeps the cuts around each row's own rating in order; `crossed` lists rows whose other cuts cross.
Source: Peterson and Harrell (1990), Applied Statistics 39(2); the likelihood in `partial_likelihood`.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike
from scipy.stats import chi2

from preflare.models.assemble import Problem, solve
from preflare.models.columns import Standardised, standardise_for_thresholds, standardise_random
from preflare.models.compare import LikelihoodRatio, likelihood_ratio
from preflare.models.cumulative import build_likelihood, count_categories, fit_cumulative, refuse_quadrature
from preflare.models.inputs import Inputs, check_inputs, refuse_collinear
from preflare.models.partial_likelihood import PartialLayout, PartialLikelihood
from preflare.models.records import FitError, Floats, Ints, MixedFit, RandomStructure

NOT_TESTED = LikelihoodRatio(float("nan"), 0, float("nan"))


@dataclass(frozen=True)
class FreeTerm:
    """One column's effects. cuts: k of rating > k. effects, errors: (K - 1,) log-odds of a rating above k per unit.

    covariance: of the effects. pooled, pooled_error: its one effect in the proportional model.
    statistic, df, p: Wald's test that the effects are equal; NaN where one of them has no finite estimate.
    """

    name: str
    cuts: tuple[int, ...]
    effects: Floats
    errors: Floats
    covariance: Floats
    pooled: float
    pooled_error: float
    statistic: float
    df: int
    p: float


@dataclass(frozen=True)
class PartialFit:
    """fit: the model with free columns; its coefficients are the common columns', then "NAME (above k)" by cut.

    proportional: the same rows with one effect for every column. terms: one for each named column.
    likelihood_ratio: the two models compared; NaN where either did not end well or estimates run to infinity.
    crossed: rows, as given, whose fitted cuts do not all rise. message: in words what is amiss; empty when nothing is.
    """

    fit: MixedFit
    proportional: MixedFit
    terms: tuple[FreeTerm, ...]
    likelihood_ratio: LikelihoodRatio
    crossed: Ints
    message: str


def fit_partial(
    y: ArrayLike,
    X: ArrayLike,
    Z: ArrayLike,
    group: ArrayLike,
    free: Sequence[str],
    *,
    names: Sequence[str],
    random: RandomStructure = "independent",
    weights: ArrayLike | None = None,
    offset: ArrayLike | None = None,
    quadrature: int = 1,
) -> PartialFit:
    """Fit with the columns `free` of X (n, p) free by cut, and without. The rest as in `fit_cumulative`.

    Raises FitError where these rows allow no fit: besides the usual reasons, where a free column takes two values and
    one of them lacks a category between the lowest and the highest (its cuts cannot be told apart there).
    """
    problem = partial_problem(
        y, X, Z, group, free, names=names, random=random, weights=weights, offset=offset, quadrature=quadrature
    )
    fit = solve(problem)
    proportional = fit_cumulative(
        y, X, Z, group, names=names, random=random, weights=weights, offset=offset, quadrature=quadrature
    )
    terms = tuple(_free_term(fit, proportional, name) for name in free)
    ended = all(one.convergence.converged and not one.convergence.separated for one in (fit, proportional))
    ratio = likelihood_ratio(fit, proportional) if ended else NOT_TESTED
    crossed = _crossed_rows(fit, np.asarray(X, dtype=float)[:, [list(names).index(name) for name in free]], free)
    return PartialFit(fit, proportional, terms, ratio, crossed, _message(fit, free, crossed))


def partial_problem(
    y: ArrayLike,
    X: ArrayLike,
    Z: ArrayLike,
    group: ArrayLike,
    free: Sequence[str],
    *,
    names: Sequence[str],
    random: RandomStructure = "independent",
    weights: ArrayLike | None = None,
    offset: ArrayLike | None = None,
    quadrature: int = 1,
) -> Problem:
    """The model as `fit_partial` takes it, checked and standardised, not yet optimised. Raises FitError."""
    inputs = check_inputs(y, X, Z, group, names, weights, offset)
    n_categories = count_categories(inputs.y)
    refuse_quadrature(quadrature, inputs.Z.shape[1])
    refuse_collinear(inputs.X, standardise_for_thresholds(inputs.X).values, inputs.names, constant=True)
    inputs = _free_columns_last(inputs, free)
    _refuse_gaps(inputs, len(free), n_categories)
    once = standardise_for_thresholds(inputs.X)
    Z_standard = standardise_random(inputs.Z, correlated=random == "correlated")
    n, m = n_categories - 1, len(free)
    common = len(inputs.names) - m
    layout = PartialLayout(n, common + m * n, inputs.Z.shape[1], random, n_free=m)
    likelihood = build_likelihood(
        inputs, layout, once.values, Z_standard.values, n_categories, quadrature, PartialLikelihood
    )
    place = np.append(np.arange(common), np.repeat(np.arange(common, common + m), n))
    labels = inputs.names[:common] + tuple(cut_name(name, cut) for name in free for cut in range(n))
    expanded = replace(inputs, X=inputs.X[:, place], names=labels)
    return Problem("cumulative logit", expanded, likelihood, _once_a_cut(once, place, n, m), Z_standard, quadrature)


def cut_name(term: str, cut: int) -> str:
    """The name of a column's effect on a rating above category `cut`."""
    return f"{term} (above {cut})"


def _free_columns_last(inputs: Inputs, free: Sequence[str]) -> Inputs:
    unknown = [name for name in free if name not in inputs.names]
    if unknown or not free or len(set(free)) < len(free):
        wrong = f"'{unknown[0]}' is not among them" if unknown else "name at least one, each once"
        raise FitError("wrong shape", f"the free terms must be columns ({', '.join(inputs.names)}): {wrong}")
    common = [name for name in inputs.names if name not in free]
    order = [inputs.names.index(name) for name in (*common, *free)]
    return replace(inputs, X=inputs.X[:, order], names=(*common, *free))


def _refuse_gaps(inputs: Inputs, n_free: int, n_categories: int) -> None:
    """Raise FitError where one of a free column's two values has no row of a category between others."""
    if n_categories < 3:
        raise FitError("one cut", "two categories have one cut: there is nothing to compare an effect with")
    for name, column in zip(inputs.names[-n_free:], inputs.X[:, -n_free:].T, strict=True):
        values = np.unique(column)
        for value in values if len(values) == 2 else []:
            counts = np.bincount(inputs.y[column == value].astype(np.int64), minlength=n_categories)
            gaps = 1 + np.flatnonzero(counts[1:-1] == 0)
            if len(gaps):
                raise FitError(
                    "empty category",
                    f"no row with {name} = {value:g} has category {gaps[0]}: its effects at the cuts on both sides "
                    "cannot be told apart; join that category with a neighbour",
                )


def _once_a_cut(once: Standardised, place: Ints, n: int, n_free: int) -> Standardised:
    """Every free column once for each cut. centre: (n, p), since a free column's shift moves its own cut alone."""
    centre = np.tile(once.centre[place], (n, 1))
    common = len(place) - n * n_free
    for j in range(n_free):
        own = slice(common + j * n, common + (j + 1) * n)
        centre[:, own] *= np.eye(n)
    return Standardised(once.values[:, place], np.diag(np.diag(once.back)[place]), centre)


def _free_term(fit: MixedFit, proportional: MixedFit, name: str) -> FreeTerm:
    n = len(fit.thresholds)
    places = [fit.names.index(cut_name(name, cut)) for cut in range(n)]
    effects = fit.coefficients[places]
    covariance = fit.covariance[np.ix_([n + j for j in places], [n + j for j in places])]
    statistic, p = _equal(effects, covariance)
    pooled = proportional.names.index(name)
    return FreeTerm(
        name=name,
        cuts=tuple(range(n)),
        effects=effects,
        errors=fit.standard_errors[places],
        covariance=covariance,
        pooled=float(proportional.coefficients[pooled]),
        pooled_error=float(proportional.standard_errors[pooled]),
        statistic=statistic,
        df=n - 1,
        p=p,
    )


def _equal(effects: Floats, covariance: Floats) -> tuple[float, float]:
    """Wald's statistic that all effects are equal, and its p; NaN without a covariance."""
    difference = np.diff(np.eye(len(effects)), axis=0)
    spread = difference @ covariance @ difference.T
    if not np.isfinite(spread).all():
        return float("nan"), float("nan")
    statistic = float(difference @ effects @ np.linalg.solve(spread, difference @ effects))
    return statistic, float(chi2.sf(statistic, len(effects) - 1))


def _crossed_rows(fit: MixedFit, W: Floats, free: Sequence[str]) -> Ints:
    """Rows of W (n, m) at which some cut is not above the one before it."""
    cuts = range(len(fit.thresholds))
    gamma = np.array([[fit.coefficients[fit.names.index(cut_name(name, cut))] for cut in cuts] for name in free])
    tau = fit.thresholds - W @ gamma
    return np.flatnonzero((np.diff(tau, axis=1) <= 0).any(axis=1))


def _message(fit: MixedFit, free: Sequence[str], crossed: Ints) -> str:
    problems = [fit.convergence.message] if fit.convergence.message else []
    if len(crossed):
        problems.append(
            f"the cuts cross on {len(crossed)} rows, the first being row {crossed[0] + 1}: so far out the effects of "
            f"{', '.join(free)} by cut give no probabilities; read them within the usual range only"
        )
    return "; ".join(problems)
