"""Intervals and tests beyond Wald: profile likelihood, likelihood ratio, Satterthwaite, bootstrap, effects by cut."""

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.optimize import minimize
from scipy.stats import chi2

from models.open_data import sleepstudy, wine
from models.references import VALUES
from models.small import small
from preflare.models.compare import likelihood_ratio
from preflare.models.cumulative import cumulative_problem, fit_cumulative
from preflare.models.linear import fit_linear, linear_problem
from preflare.models.logistic import fit_logistic, logistic_problem
from preflare.models.outcomes import Rows, parametric_bootstrap
from preflare.models.profile import profile_coefficient, profile_random_sd
from preflare.models.proportional import effect_by_cut
from preflare.models.records import FitError
from preflare.models.satterthwaite import satterthwaite_df

DATA = small(n_athletes=14, rows=25, seed=5)
ONES = DATA.Z[:, :1]
NAMES = ["intensity", "safety"]


def test_satterthwaite_df_of_sleepstudy():
    """R lmerTest: 16.9997 and 17.0 with slopes (balanced: 17 exactly), 22.81019896 and 161 with an intercept alone."""
    study = sleepstudy()
    y, X = study.frame["Reaction"], study.with_intercept

    slopes = satterthwaite_df(linear_problem(y, X, study.slopes, study.group, random="correlated"))
    intercept = satterthwaite_df(linear_problem(y, X, study.ones, study.group))

    assert_allclose(slopes, [17.0, 17.0], atol=5e-4)
    assert_allclose(intercept, [22.81019896, 161.0], atol=1e-4)


def test_likelihood_ratios_of_sleepstudy():
    """Bates et al. (2015): the correlation adds 0.0639 on 1 df (p 0.8004); slope and correlation 42.139 on 2 df."""
    study = sleepstudy()

    def fit(Z, random):
        return fit_linear(study.frame["Reaction"], study.with_intercept, Z, study.group, random=random, reml=False)

    full = fit(study.slopes, "correlated")
    no_correlation = likelihood_ratio(full, fit(study.slopes, "independent"))
    no_slope = likelihood_ratio(full, fit(study.ones, "correlated"))

    assert (no_correlation.df, no_slope.df) == (1, 2)
    assert_allclose([no_correlation.statistic, no_correlation.p], [0.0639, 0.8004], atol=5e-5)
    assert_allclose(no_slope.statistic, 42.139, atol=5e-4)


def test_one_further_variance_stands_at_the_edge_of_its_range():
    """wine: R ordinal gives twice the gain as 9.853; the mixture halves the p value of one df."""
    judges = wine()
    rating = judges.frame["rating"].astype(int) - 1

    test = likelihood_ratio(
        fit_cumulative(rating, judges.X, judges.ones, judges.group),
        fit_cumulative(rating, judges.X, np.zeros((72, 0)), judges.group),
    )

    gain = 2 * (VALUES["classics"]["wine_lap"]["loglik"] - VALUES["classics"]["wine_clm"]["loglik"])
    assert_allclose(test.statistic, gain, atol=2e-4)
    assert_allclose(test.p, chi2.sf(gain, 1) / 2, rtol=1e-3)


def test_fits_that_cannot_be_compared_are_refused():
    study = sleepstudy()
    y, ones = study.frame["Reaction"], study.ones

    with pytest.raises(FitError, match="fit both by ML"):
        likelihood_ratio(
            fit_linear(y, study.with_intercept, ones, study.group, names=["intercept", "days"]),
            fit_linear(y, ones, ones, study.group, names=["intercept"]),
        )
    with pytest.raises(FitError, match="different numbers of nodes"):
        likelihood_ratio(
            fit_cumulative(DATA.y, DATA.X, ONES, DATA.group, quadrature=5),
            fit_cumulative(DATA.y, DATA.X[:, :1], ONES, DATA.group),
        )


@pytest.mark.parametrize("family", ["cumulative logit", "logistic"])
def test_at_a_profile_limit_the_likelihood_has_fallen_by_half_the_quantile(family):
    """Checked another way: the term held at the limit as an offset, the model fitted without it."""
    ordinal = family == "cumulative logit"
    y, fit = (DATA.y, fit_cumulative) if ordinal else (DATA.flare, fit_logistic)
    X = DATA.X if ordinal else DATA.with_intercept
    names = NAMES if ordinal else ["intercept", *NAMES]
    problem = (cumulative_problem if ordinal else logistic_problem)(y, X, DATA.Z, DATA.group, names=names)

    interval = profile_coefficient(problem, "intensity")

    best = fit(y, X, DATA.Z, DATA.group, names=names)
    column = names.index("intensity")
    rest = np.delete(X, column, axis=1)
    assert_allclose(interval.estimate, best.coefficients[column], atol=1e-5)
    for limit in (interval.low, interval.high):
        held = fit(y, rest, DATA.Z, DATA.group, offset=limit * X[:, column])
        assert_allclose(2 * (best.log_likelihood - held.log_likelihood), chi2.ppf(0.95, 1), atol=2e-3)


def test_profile_limits_of_a_random_sd_are_where_a_fixed_sd_costs_half_the_quantile():
    problem = cumulative_problem(DATA.y, DATA.X, ONES, DATA.group, names=NAMES)
    best = fit_cumulative(DATA.y, DATA.X, ONES, DATA.group)

    interval = profile_random_sd(problem, 0)

    def cost(sd):
        def at(vector):
            return problem.likelihood.cost(np.append(vector, sd))[0]

        start = [-0.5, 0.9, 0.5, -0.2]
        tight = {"maxfev": 4000, "xatol": 1e-5, "fatol": 1e-7}
        return minimize(at, start, method="Nelder-Mead", options=tight).fun

    assert interval.low < best.random_sd[0] < interval.high
    for limit in (interval.low, interval.high):
        assert_allclose(2 * (cost(limit) + best.log_likelihood), chi2.ppf(0.95, 1), atol=5e-3)


def test_profile_of_an_sd_that_may_be_zero_begins_there():
    one = small(n_athletes=1, rows=40, seed=2)
    y, X, group = np.tile(one.y, 6), np.tile(one.X, (6, 1)), np.repeat(np.arange(6), len(one.y))

    interval = profile_random_sd(cumulative_problem(y, X, np.ones((len(y), 1)), group), 0)

    assert interval.low == 0.0
    assert 0.0 < interval.high < 2.0


def test_profile_reaches_to_infinity_on_the_side_of_a_separated_bar():
    bar = (np.arange(len(DATA.flare)) % 9 == 0).astype(float)
    X = np.column_stack([DATA.X[:, 0], bar])

    problem = cumulative_problem(np.where(bar == 1, 2, DATA.y), X, ONES, DATA.group, names=["intensity", "cambered"])
    interval = profile_coefficient(problem, "cambered")

    assert interval.high == np.inf
    # The lower limit stands, checked by a fit with the term held there as an offset.
    held = fit_cumulative(np.where(bar == 1, 2, DATA.y), X[:, :1], ONES, DATA.group, offset=interval.low * bar)
    best = fit_cumulative(np.where(bar == 1, 2, DATA.y), X, ONES, DATA.group)
    assert_allclose(2 * (best.log_likelihood - held.log_likelihood), chi2.ppf(0.95, 1), atol=5e-3)


def test_bootstrap_of_the_model_itself_agrees_with_its_standard_errors():
    """The spread of refits is the standard error, to Monte Carlo error (100 refits: 7 %)."""
    data = small(n_athletes=30, rows=25, seed=11)
    ones = data.Z[:, :1]
    fit = fit_cumulative(data.y, data.X, ones, data.group)

    draws = parametric_bootstrap(
        fit,
        Rows.of(data.X, ones, data.group),
        lambda y: fit_cumulative(y, data.X, ones, data.group),
        times=100,
        rng=np.random.default_rng(1),
    )

    assert draws.failed == 0
    assert_allclose(draws.coefficients.std(axis=0), fit.standard_errors, rtol=0.22)
    assert_allclose(draws.coefficients.mean(axis=0), fit.coefficients, atol=0.05)
    low, high = draws.interval(draws.random_sd)
    assert low[0] < fit.random_sd[0] < high[0]


def season(rng, at_high_cuts):
    """24 athletes, 60 sessions; a bar whose effect is 1 at cuts below 2 and `at_high_cuts` above."""
    group = np.repeat(np.arange(24), 60)
    n = len(group)
    bar = (rng.random(n) < 0.3).astype(float)
    x = rng.normal(size=n)
    base = 0.4 * x + rng.normal(size=24)[group] + rng.logistic(size=n)
    low, high = base + 1.0 * bar, base + at_high_cuts * bar
    y = (low > 0.3).astype(int) + (low > 1.0) + (high > 1.9) * (low > 1.0) + (high > 2.6) * (low > 1.0)
    return y, np.column_stack([x, bar]), np.ones((n, 1)), group


def test_effect_that_fades_at_the_higher_cuts_is_seen():
    y, X, Z, group = season(np.random.default_rng(3), at_high_cuts=0.0)

    by_cut = effect_by_cut(y, X, Z, group, ["intensity", "cambered"], "cambered")

    assert by_cut.cuts == (0, 1, 2, 3)
    assert by_cut.p < 0.01
    assert (by_cut.estimates[:2] > by_cut.estimates[2:]).all()


def test_proportional_effects_are_called_unequal_about_as_often_as_announced():
    """30 seasons that hold proportional odds; 5 % announced, 1.5 expected, 6 or more has a chance of 0.3 %."""
    rng = np.random.default_rng(4)
    p = [effect_by_cut(*season(rng, 1.0), ["intensity", "cambered"], "cambered").p for _ in range(30)]

    assert (np.array(p) < 0.05).sum() < 6


def test_cuts_with_too_few_reports_are_listed():
    y, X, Z, group = season(np.random.default_rng(3), at_high_cuts=1.0)
    y = np.where((y == 4) & (np.cumsum(y == 4) > 5), 3, y)

    by_cut = effect_by_cut(y, X, Z, group, ["intensity", "cambered"], "cambered")

    assert by_cut.left_out == (3,)


def test_four_athletes_cannot_compare_four_cuts():
    y, X, Z, group = season(np.random.default_rng(3), at_high_cuts=1.0)
    few = group < 4

    by_cut = effect_by_cut(y[few], X[few], Z[few], group[few], ["intensity", "cambered"], "cambered")

    assert np.isnan(by_cut.p)
    assert by_cut.reason == f"4 athletes are too few to compare {len(by_cut.cuts)} cuts"
