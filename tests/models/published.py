"""Worked examples of books, articles and vignettes, beside what was printed and R's exact fit of the same data."""

from collections.abc import Callable

import numpy as np

from models.cases import LME4_AGHQ, Fit
from models.open_data import (
    Columns,
    arthritis,
    beat_the_blues,
    contraception,
    dyestuff,
    exam,
    insomnia,
    ohio,
    orthodont,
    oxboys,
    rail,
    respiratory,
    toenail,
    wine,
)
from models.references import Case, Reference, exact
from preflare.models.cumulative import fit_cumulative
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic

PINHEIRO = "Pinheiro and Bates (2000), Mixed-Effects Models in S and S-PLUS"
MLMREV = "Bates (2020), Examples from Multilevel Software Comparative Reviews (vignette of R's mlmRev)"
ORDINAL = "Christensen (2022), A Tutorial on fitting Cumulative Link Mixed Models (vignette of R's ordinal)"
HSAUR = "Hothorn and Everitt (2014), A Handbook of Statistical Analyses using R"
SHORT = "limits are half a unit of the last printed digit"


def linear(data: Callable[[], Columns], y: str, slopes: tuple[int, ...] = (), **options: object) -> Fit:
    """Random intercept, with correlated slopes on the columns `slopes` of X."""

    def run():
        made = data()
        Z = np.column_stack([made.ones, made.X[:, list(slopes)]])
        return fit_linear(made.frame[y], made.with_intercept, Z, made.group, random="correlated", **options)

    return run


def logistic(data: Callable[[], Columns], y: str, slopes: tuple[int, ...] = (), **options: object) -> Fit:
    def run():
        made = data()
        Z = np.column_stack([made.ones, made.X[:, list(slopes)]])
        return fit_logistic(made.frame[y], made.with_intercept, Z, made.group, random="correlated", **options)

    return run


def cumulative(data: Callable[[], Columns], y: str = "rating", first: int = 0, **options: object) -> Fit:
    """first: the lowest category's number in the data."""

    def run():
        made = data()
        return fit_cumulative(made.frame[y].astype(int) - first, made.X, made.ones, made.group, **options)

    return run


def girls() -> Columns:
    return orthodont(girls_only=True)


def linear_cases() -> list[Case]:
    school, slopes = linear(lambda: exam(True), "normexam"), linear(lambda: exam(False), "normexam", (0,))
    rails, growth = linear(rail, "travel"), linear(girls, "distance")
    dye, boys = linear(dyestuff, "Yield"), linear(oxboys, "height", (0, 1))
    blues = linear(beat_the_blues, "bdi", reml=False)
    return [
        Case("Exam, intercept, REML", school, Reference(
            MLMREV + ", fit Em1", [-0.001049, 0.559754, -0.167392, 0.177691, 0.158997], None, [0.293], 0.750,
            -9347.674 / 2, sd_limit=1.8e-3, likelihood_limit=3e-4, note=SHORT)),
        Case("Exam, intercept, REML, exact", school, exact("exam_ri")),
        Case("Exam, slopes, REML", slopes, Reference(
            MLMREV + ", fit Em4", [-0.1887, 0.5541, 0.1680, 0.1764], None, [0.2872, 0.1228], 0.7418,
            -9300.573 / 2, estimate_limit=2.6e-3, likelihood_limit=2.6e-4, note=SHORT)),
        Case("Exam, slopes, REML, exact", slopes, exact("exam_rs")),
        Case("Oxboys, three random terms, REML", boys, Reference(
            MLMREV + ", fit mX1", [149.0189, 6.1742, 1.1282, 0.4539, -0.3769],
            [1.5711, 0.3566, 0.3514, 0.1624, 0.3002], [8.0059, 1.6930, 0.8212], 0.4662, -627.9 / 2,
            estimate_limit=3.1e-4, likelihood_limit=2.6e-2, note=SHORT + "; lme4 had stopped short, and said so")),
        Case("Oxboys, three random terms, exact", boys, exact("oxboys")),
        Case("Rail, REML", rails, Reference(
            PINHEIRO + ", section 1.1 (from memory)", [66.5], [10.17104], [24.80547], 4.020779, -61.0885,
            sd_limit=1e-6)),
        Case("Rail, REML, exact", rails, exact("rail")),
        Case("Orthodont, girls, REML", growth, Reference(
            PINHEIRO + ", section 1.4", [17.372727, 0.479545], [0.8587419, 0.0525898], [2.06847], 0.7800331,
            -70.60916, sd_limit=1e-5)),
        Case("Orthodont, girls, REML, exact", growth, exact("orthodont_girls")),
        Case("Orthodont, slopes, REML, exact", linear(orthodont, "distance", (0,)), exact("orthodont_slopes")),
        Case("Dyestuff, REML", dye, Reference(
            "Bates (2010), lme4: Mixed-effects modeling with R, chapter 1 (from memory)", [1527.5], [19.38], [42.00],
            49.51, -319.6543 / 2)),
        Case("Dyestuff, REML, exact", dye, exact("dyestuff")),
        Case("Beat the Blues, ML", blues, Reference(
            HSAUR + ", figures 13.2 and 13.3", [5.59239, 0.63968, -0.70476, -2.32908, -2.82495, 0.19708],
            [2.24244, 0.07789, 0.14639, 1.67036, 1.72684, 1.63832], [6.984], 5.014, -935.75, likelihood_limit=5.1e-3,
            note=SHORT)),
        Case("Beat the Blues, ML, exact", blues, exact("btheb_ml")),
    ]  # fmt: skip


def logistic_cases() -> list[Case]:
    town = (0,)
    status = logistic(respiratory, "good")
    return [
        Case("respiratory, Laplace", status, Reference(
            HSAUR + ", figure 14.12", [-1.6546, 3.0890, None, None, None, 2.1662, None, None, 1.0385],
            estimate_limit=5e-2, note="lme4 had stopped 5e-4 of log-likelihood short; exact in the next rows")),
        Case("respiratory, Laplace, exact", status, exact("respiratory_laplace")),
        Case("Contraception, intercept, exact", logistic(contraception, "uses"), exact("contraception_ri")),
        Case("Contraception, slopes, exact", logistic(contraception, "uses", town), exact("contraception_rs")),
        Case("Contraception, AGHQ 7, exact", logistic(contraception, "uses", quadrature=7),
             exact("contraception_ri_agq7")),
        Case("Ohio wheeze, AGHQ 25, exact", logistic(ohio, "resp", quadrature=25), exact("ohio_agq25")),
    ]  # fmt: skip


def cumulative_cases() -> list[Case]:
    bitter, bitter_10 = cumulative(wine, first=1), cumulative(wine, first=1, quadrature=10)
    sleepless, joints = cumulative(insomnia, quadrature=20), cumulative(arthritis, quadrature=20)
    return [
        Case("wine, Laplace, as printed", bitter, Reference(
            ORDINAL, [-1.623664, 1.513364, 4.228525, 6.088770, 3.062993, 1.834883], None, [1.13113], None, -81.56541)),
        Case("wine, AGHQ 10, as printed", bitter_10, Reference(
            ORDINAL, [-1.6235, 1.5128, 4.2271, 6.0862, 3.0619, 1.8334],
            [0.6834, 0.6044, 0.8090, 0.9719, 0.5951, 0.5122], [1.134787], None, -81.53246, sd_limit=1e-6)),
        Case("insomnia, AGHQ 20", sleepless, Reference(
            "Agresti (2002), Categorical Data Analysis, section 12.4 (from memory; signs of P(Y <= j) there)",
            [None, None, None, -0.058, -1.602, -1.081], [None, None, None, 0.366, 0.283, 0.380], [1.90],
            estimate_limit=1.8e-3, error_limit=1.8e-3, sd_limit=2.7e-3, note=SHORT)),
        Case("insomnia, AGHQ 20, exact", sleepless, exact("insomnia_agq20")),
        Case("arthritis, AGHQ 20", joints, Reference(
            "R ordinal, as printed, on the data of Touloumis (2015), Journal of Statistical Software 64(8)",
            [None] * 5 + [0.49033, 0.85096, None, None, None, 5.58385], None, [np.sqrt(3.125)], None, -1043.41,
            likelihood_limit=5.1e-3, note=SHORT)),
        Case("arthritis, AGHQ 20, exact", joints, exact("arthritis_agq20")),
    ]  # fmt: skip


def toenail_cases() -> list[Case]:
    """Empty where R's HSAUR3, which carries the data, is not on the machine."""
    data = toenail()
    if data is None:
        return []
    severe = logistic(lambda: data, "severe", quadrature=25)
    return [
        Case("toenail, AGHQ 25", severe, Reference(
            "R lme4, as printed, on the data of De Backer et al. (1998)", [-1.61464, -0.16003, -0.39083, -0.13675],
            None, [4.0005], None, -625.4158, estimate_limit=1e-3, note=LME4_AGHQ)),
        Case("toenail, AGHQ 25, exact", severe, exact("toenail_agq25")),
    ]  # fmt: skip


def published_cases() -> list[Case]:
    return [*linear_cases(), *logistic_cases(), *cumulative_cases()]
