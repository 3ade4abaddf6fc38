"""Cluster-robust covariance with few athletes: CR2 and Satterthwaite's degrees of freedom, for the mixed families.

Linear (`linear_cr2`). With V_i an athlete's fitted covariance, M = (X'V^-1 X)^-1, e the residuals and V_i = D_i'D_i,

    sum_i M X_i'V_i^-1 A_i e_i e_i'A_i'V_i^-1 X_i M,   A_i = D_i'(D_i (V_i - X_i M X_i') D_i')^(-1/2) D_i,

which is unbiased when the model holds. Logistic and cumulative (`score_cr2`): the same idea on the athletes' scores
s_i (gradients of the approximated marginal likelihood, variances included) and informations I_i, V = (sum_i I_i)^-1:

    sum_i V B_i s_i s_i'B_i'V,   B_i = (I - I_i V)^(-1/2),

since at the estimate a score has covariance I_i - I_i V I_i and B_i restores I_i. In a linear model of independent
rows the two are one; in a mixed linear one both are unbiased under the model, but A_i and B_i are different roots.
An estimate c'phi has variance sum_i (a_i's_i)^2, a_i = B_i'V c, and df = tr(G)^2 / tr(G^2) with
G_ij = a_i'(d_ij I_i - I_i V I_j) a_j, G the covariance of the terms under the model.

Sources: Bell and McCaffrey (2002), Survey Methodology 28(2); Pustejovsky and Tipton (2018), Journal of Business and
Economic Statistics 36(4) for A_i; Kauermann and Carroll (2001), JASA 96 for the root of the leverage on scores.
"""

from dataclasses import dataclass

import numpy as np
from scipy.stats import t as student

from preflare.models.assemble import Problem, to_data
from preflare.models.kenward_roger import athletes_rows
from preflare.models.linear import LinearProblem, solve_linear
from preflare.models.optimise import STEP_SCALE
from preflare.models.records import FitError, Floats, MixedFit

EXHAUSTED = 1e-6
"""Share of a direction's information left by the other athletes below which one athlete alone decides it."""
UNJUDGED = 0.5
"""An estimate that draws more than this share from such directions has no error that data can show."""
STEP = 0.002
"""Difference step for the informations, in standard errors."""


@dataclass(frozen=True)
class ClusterRobust:
    """covariance (m, m) and df (m,), of the coefficients (linear), else of (thresholds, coefficients).

    NaN for separated columns, and where one athlete alone decides an estimate. method: the definition used, in words.
    """

    estimates: Floats
    covariance: Floats
    df: Floats
    method: str

    @property
    def standard_errors(self) -> Floats:
        return np.asarray(np.sqrt(np.diag(self.covariance)))

    def interval(self, level: float = 0.95) -> tuple[Floats, Floats]:
        """Limits of every estimate, by t with its own df."""
        half = student.ppf(0.5 + level / 2.0, self.df) * self.standard_errors
        return self.estimates - half, self.estimates + half


def linear_cr2(problem: LinearProblem) -> ClusterRobust:
    """CR2 of the coefficients (p,), working covariance: the fitted one. Raises FitError for fewer than two athletes."""
    fit = solve_linear(problem)
    inputs, X = problem.inputs, problem.X.values
    athletes = athletes_rows(inputs)
    _refuse_few(len(athletes))
    beta = np.linalg.solve(problem.X.back, fit.coefficients)
    parts = []
    for own in athletes:
        root = np.sqrt(inputs.weights[own])[:, None]
        x, z = root * X[own], root * inputs.Z[own]
        residual = root[:, 0] * (inputs.y[own] - inputs.offset[own]) - x @ beta
        V = fit.residual_sd**2 * np.eye(len(own)) + z @ fit.random_covariance @ z.T
        parts.append((x, V, residual, np.linalg.solve(V, x)))
    M = np.linalg.inv(sum((x.T @ weighted for x, _, _, weighted in parts), np.zeros((X.shape[1],) * 2)))
    to_coefficients = M @ problem.X.back.T  # (p, p): column j makes coefficient j in the data's units
    terms, sizes, pulls = [], [], []
    for x, V, residual, weighted in parts:
        a = _linear_adjustment(x, V, M).T @ weighted @ to_coefficients
        terms.append(residual @ a)
        sizes.append(np.einsum("ij,ik,kj->j", a, V, a))
        pulls.append(x.T @ a)
    terms_by_athlete = np.array(terms)
    df = _satterthwaite(np.array(sizes), np.array(pulls), M)
    return ClusterRobust(
        fit.coefficients, terms_by_athlete.T @ terms_by_athlete, df, "CR2, working covariance: the fitted linear model"
    )


def score_cr2(problem: Problem, fit: MixedFit) -> ClusterRobust:
    """CR2 on scores, of (thresholds, coefficients) of a logistic or cumulative fit. fit: of this problem."""
    n_fixed = problem.likelihood.layout.n_fixed
    variances = np.diag(fit.parameter_covariance)
    free = np.isfinite(variances) & (variances > 0)
    if not fit.convergence.converged or not free.any():
        raise FitError("not converged", "a robust covariance needs a fit that ended well")
    J = to_data(problem.likelihood, problem.X)
    vector: Floats = np.asarray(np.linalg.solve(J, fit.parameters), dtype=np.float64)
    scores, informations, present = scores_and_informations(problem, vector, J, free)
    _refuse_few(int(present.sum()))
    inside = score_sandwich(scores[present], informations[present])
    covariance, df = np.full((n_fixed, n_fixed), np.nan), np.full(n_fixed, np.nan)
    kept = np.flatnonzero(free[:n_fixed])
    covariance[np.ix_(kept, kept)] = inside[0][: len(kept), : len(kept)]
    df[kept] = inside[1][: len(kept)]
    return ClusterRobust(fit.parameters[:n_fixed], covariance, df, "CR2 on the athletes' scores, random part included")


def score_sandwich(scores: Floats, informations: Floats) -> tuple[Floats, Floats]:
    """Covariance (m, m) and df (m,) of the module's docstring. scores: (A, m). informations: (A, m, m)."""
    V = np.linalg.inv(informations.sum(axis=0))
    values, vectors = np.linalg.eigh(0.5 * (V + V.T))
    root = (vectors * np.sqrt(values)) @ vectors.T
    unroot = (vectors / np.sqrt(values)) @ vectors.T
    terms, sizes, pulls, lost = [], [], [], np.zeros(len(V))
    for score, own in zip(scores, informations, strict=True):
        share, directions = np.linalg.eigh(root @ own @ root)
        left = 1.0 - share
        factor = np.where(left > EXHAUSTED, 1.0 / np.sqrt(np.maximum(left, EXHAUSTED)), 0.0)
        B = unroot @ (directions * factor) @ directions.T @ root
        a = B.T @ V
        terms.append(score @ a)
        sizes.append(np.einsum("ij,ik,kj->j", a, own, a))
        pulls.append(own @ a)
        lost += ((directions.T @ root)[left <= EXHAUSTED] ** 2).sum(axis=0)
    by_athlete = np.array(terms)
    covariance, df = by_athlete.T @ by_athlete, _satterthwaite(np.array(sizes), np.array(pulls), V)
    unjudged = lost / (root**2).sum(axis=0) > UNJUDGED
    covariance[unjudged], covariance[:, unjudged], df[unjudged] = np.nan, np.nan, np.nan
    return covariance, df


def _satterthwaite(sizes: Floats, pulls: Floats, V: Floats) -> Floats:
    """(m,) df from sizes (A, m) a_i'I_i a_i and pulls (A, p, m) I_i a_i, column by column."""
    df = np.zeros(sizes.shape[1])
    for j in range(len(df)):
        G = np.diag(sizes[:, j]) - pulls[:, :, j] @ V @ pulls[:, :, j].T
        df[j] = np.trace(G) ** 2 / (G * G).sum()
    return df


def _linear_adjustment(x: Floats, V: Floats, M: Floats) -> Floats:
    """A_i (n_i, n_i); directions that the athlete alone decides get 0."""
    D = np.linalg.cholesky(V).T
    values, vectors = np.linalg.eigh(D @ (V - x @ M @ x.T) @ D.T)
    kept = values > EXHAUSTED * values.max()
    half = (vectors[:, kept] / np.sqrt(values[kept])) @ vectors[:, kept].T
    return np.asarray(D.T @ half @ D)


def scores_and_informations(
    problem: Problem, vector: Floats, J: Floats, free: np.ndarray
) -> tuple[Floats, Floats, np.ndarray]:
    """(A, m), (A, m, m) over the free parameters in the data's units, and which athletes have rows.

    An athlete's information is minus the central difference of the exact score.
    """
    likelihood = problem.likelihood
    likelihood.cost(vector)
    scores = likelihood.scores(vector)
    errors = np.sqrt(np.maximum(np.diag(np.linalg.pinv(likelihood.fixed_information(vector), hermitian=True)), 1e-12))
    scale = np.clip(np.append(errors, np.full(len(vector) - len(errors), 0.1)), *STEP_SCALE)
    informations = np.zeros((len(scores), len(vector), len(vector)))
    for j in range(len(vector)):
        shift = np.eye(len(vector))[j] * STEP * scale[j]
        difference = likelihood.scores(vector - shift) - likelihood.scores(vector + shift)
        informations[:, j] = difference / (2.0 * shift[j])
    informations = 0.5 * (informations + informations.transpose(0, 2, 1))
    away = np.linalg.inv(J)
    inside = np.ix_(np.arange(len(scores)), np.flatnonzero(free), np.flatnonzero(free))
    present = np.zeros(len(scores), dtype=bool)
    present[np.unique(problem.inputs.group)] = True
    return (scores @ away)[:, free], (away.T @ informations @ away)[inside], present


def _refuse_few(n_athletes: int) -> None:
    if n_athletes < 2:
        raise FitError("too few groups", "a standard error between athletes needs at least two athletes")
