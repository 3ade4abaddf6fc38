"""The fits that R's packages are known for: simulated data (S, M), sleepstudy, cbpp and wine."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np

from models.open_data import Columns, binomial_constant, cbpp, simulated, sleepstudy, wine
from models.references import Case, as_stopped, classic, exact
from preflare.models.cumulative import fit_cumulative
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic
from preflare.models.records import MixedFit

Fit = Callable[[], MixedFit]
NUMERICAL = "ordinal differentiates numerically and stops its inner search at 1e-4; the polished row is exact"
LME4_LAPLACE = "lme4 stops up to 7e-4 of log-likelihood short, its SE then differ by 1 %; glmmTMB has the optimum"
LME4_AGHQ = "lme4's optimiser needs no derivatives and stops 1e-4 to 4e-4 of an SE away; the polished row is exact"


def fit_of(outcome: str, Z: str, size: str = "S", **options: Any) -> Fit:
    """A fit of the simulated data. outcome: "pain", "flare" or "y". Z: "none", "ones" or "slopes"."""

    def run() -> MixedFit:
        data = simulated(size)
        y, random = data.frame[outcome], random_columns(data, Z)
        structure = {"random": "correlated"} if Z == "slopes" else {}
        if outcome == "pain":
            return fit_cumulative(y, data.X, random, data.group, **structure, **options)
        if outcome == "flare":
            return fit_logistic(y, data.with_intercept, random, data.group, **structure, **options)
        return fit_linear(y, data.with_intercept, random, data.group, **structure, **options)

    return run


def random_columns(data: Columns, which: str) -> np.ndarray:
    return {"none": data.ones[:, :0], "ones": data.ones, "slopes": data.slopes}[which]


def simulated_cases() -> list[Case]:
    """S beside polished references, and beside what the packages gave by themselves."""
    pain, flare, pain_7 = fit_of("pain", "ones"), fit_of("flare", "ones"), fit_of("pain", "ones", quadrature=7)
    pain_slopes, flare_slopes = fit_of("pain", "slopes"), fit_of("flare", "slopes")
    flare_7, flare_25 = fit_of("flare", "ones", quadrature=7), fit_of("flare", "ones", quadrature=25)
    y_slopes, y_slopes_ml = fit_of("y", "slopes"), fit_of("y", "slopes", reml=False)
    return [
        Case("S cumulative, fixed", fit_of("pain", "none"), as_stopped("S_clm_none")),
        Case("S cumulative, intercept, Laplace", pain, exact("S_cumulative_ri")),
        Case("S cumulative, intercept, AGHQ 7", pain_7, exact("S_cumulative_ri_agq7")),
        Case("S cumulative, slopes, Laplace", pain_slopes, exact("S_cumulative_rs")),
        Case("S logistic, intercept, Laplace", flare, exact("S_logistic_ri")),
        Case("S logistic, intercept, AGHQ 7", flare_7, exact("S_logistic_ri_agq7")),
        Case("S logistic, intercept, AGHQ 25", flare_25, exact("S_logistic_ri_agq25")),
        Case("S logistic, slopes, Laplace", flare_slopes, exact("S_logistic_rs")),
        Case("S linear, intercept, REML", fit_of("y", "ones"), as_stopped("S_lmm_ri_reml")),
        Case("S linear, slopes, REML", y_slopes, exact("S_linear_rs_reml")),
        Case("S linear, slopes, ML", y_slopes_ml, exact("S_linear_rs_ml")),
        Case("S cumulative, intercept, as stopped", pain, as_stopped("S_clmm_ri_lap")),
        Case(
            "S cumulative, AGHQ 7, as stopped", pain_7,
            as_stopped("S_clmm_ri_agq7", estimate_limit=5e-4, note=NUMERICAL),
        ),
        Case("S cumulative, slopes, as stopped", pain_slopes, as_stopped("S_clmm_rs_lap")),
        Case("S logistic, intercept, as stopped", flare, as_stopped("S_tmb_glmm_ri")),
        Case("S logistic, slopes, as stopped", flare_slopes, as_stopped("S_tmb_glmm_rs", estimate_limit=2e-4,
             note="glmmTMB's optimiser stops 1.1e-4 of an SE away; the polished row is exact")),
        Case(
            "S logistic, lme4, as stopped", flare,
            as_stopped("S_glmm_ri_lap", estimate_limit=5e-2, error_limit=2e-2, sd_limit=2e-2, note=LME4_LAPLACE),
        ),
        Case(
            "S logistic, slopes, lme4, as stopped", flare_slopes,
            as_stopped("S_glmm_rs_lap", estimate_limit=5e-2, error_limit=2e-2, sd_limit=2e-2, note=LME4_LAPLACE),
        ),
        Case("S logistic, AGHQ 7, as stopped", flare_7,
             as_stopped("S_glmm_ri_agq7", estimate_limit=5e-4, note=LME4_AGHQ)),
        Case("S logistic, AGHQ 25, as stopped", flare_25, as_stopped("S_glmm_ri_agq25")),
        Case("S linear, slopes, REML, as stopped", y_slopes, as_stopped("S_lmm_rs_reml")),
        Case(
            "S linear, slopes, REML, glmmTMB", y_slopes,
            as_stopped("S_tmb_lmm_rs_reml", error_limit=2e-3, note=
                "glmmTMB's SE of a REML fit hold the uncertainty of the variances, lme4's and ours take them as known"),
        ),
        Case("S linear, slopes, ML, as stopped", y_slopes_ml, as_stopped("S_lmm_rs_ml")),
    ]  # fmt: skip


def large_cases() -> list[Case]:
    """M, 150,000 rows: a second or two each, by the long command only."""
    linear, flare = fit_of("y", "slopes", "M"), fit_of("flare", "slopes", "M")
    pain = fit_of("pain", "ones", "M")
    return [
        Case("M linear, slopes, REML", linear, exact("M_linear_rs_reml")),
        Case("M logistic, slopes, Laplace", flare, exact("M_logistic_rs", error_limit=1e-3, note=
             "the reference's Hessian is taken where lme4 stopped, 8e-3 of an SE from the optimum (polish_once)")),
        Case("M cumulative, intercept, Laplace", pain, exact("M_cumulative_ri")),
        Case("M linear, as stopped", linear, as_stopped("M_lmm_rs_reml")),
        Case(
            "M logistic, lme4, as stopped", flare,
            as_stopped("M_glmm_rs_lap", estimate_limit=2e-2, error_limit=2e-2,
                       note="lme4 stopped with a gradient of 2.6e-3, 5e-3 of log-likelihood short, and said so"),
        ),
        Case(
            "M cumulative, as stopped", pain,
            as_stopped("M_clmm_ri_lap", estimate_limit=2e-3, error_limit=5e-3,
                       note="ordinal had not converged after 45 minutes, and said so: 4e-4 short, SE 0.3 % off"),
        ),
    ]  # fmt: skip


def sleep(intercept_only: bool = False, **options: Any) -> Fit:
    data = sleepstudy()
    Z = data.ones if intercept_only else data.slopes
    return lambda: fit_linear(data.frame["Reaction"], data.with_intercept, Z, data.group, **options)


def herds(**options: Any) -> Fit:
    data, y, weights = cbpp()
    return lambda: fit_logistic(y, data.with_intercept, data.ones, data.group, weights=weights, **options)


def taste(n_random: int = 1, **options: Any) -> Fit:
    data = wine()
    rating = data.frame["rating"].astype(int) - 1
    return lambda: fit_cumulative(rating, data.X, data.ones[:, :n_random], data.group, **options)


def classic_cases() -> list[Case]:
    lme4, tmb, ordinal = "R lme4 (sleepstudy)", "R glmmTMB (cbpp)", "R ordinal (wine)"
    grouped = "one row a herd and period there: the binomial coefficients, 185.4757, are added to ours"
    aghq = replace(
        classic("cbpp_agq25", "R lme4 (cbpp)"), log_likelihood=None,
        note="the log-likelihood is not compared: lme4 leaves constants out of an AGHQ one",
    )  # fmt: skip
    return [
        Case("sleepstudy, slopes, REML", sleep(random="correlated"), classic("sleep_reml_tight", lme4)),
        Case("sleepstudy, slopes, ML", sleep(random="correlated", reml=False), classic("sleep_ml_tight", lme4)),
        Case("sleepstudy, independent slopes, REML", sleep(), classic("sleep_uncorr_reml", lme4)),
        Case("sleepstudy, intercept, REML", sleep(intercept_only=True), classic("sleep_ri_reml", lme4)),
        Case("cbpp, Laplace", herds(), classic("cbpp_tmb", tmb, constant=binomial_constant(), note=grouped)),
        Case("cbpp, AGHQ 25", herds(quadrature=25), aghq),
        Case("wine, fixed", taste(0), classic("wine_clm", ordinal)),
        Case("wine, Laplace", taste(), exact("wine_laplace")),
        Case("wine, AGHQ 10", taste(quadrature=10), exact("wine_agq10")),
        Case("wine, Laplace, as stopped", taste(), classic("wine_lap", ordinal)),
        Case("wine, AGHQ 10, as stopped", taste(quadrature=10), classic("wine_agq10", ordinal)),
    ]
