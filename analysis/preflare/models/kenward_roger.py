"""Kenward and Roger's covariance, degrees of freedom and F test for the linear mixed model fitted by REML.

    y_i ~ N(X_i beta, V_i),   V_i = sum_r gamma_r G_ir:   gamma the entries of the random covariance, and sigma^2

With Phi = (X'V^-1 X)^-1 and, summed over athletes,

    P_r  = -X'V^-1 G_r V^-1 X,   Q_rs = X'V^-1 G_r V^-1 G_s V^-1 X,
    W^-1 = (tr(V^-1 G_r V^-1 G_s) - 2 tr(Phi Q_rs) + tr(Phi P_r Phi P_s)) / 2     (expected information on gamma),

the covariance that allows for the estimated variances is Phi_A = Phi + 2 Phi (sum_rs W_rs (Q_rs - P_r Phi P_s)) Phi.
V is linear in gamma, so that there are no second derivatives. A hypothesis L beta = 0 of q rows is judged by
lambda F against F(q, m); lambda and m match the first two moments of F (see `_scaling_and_df`).
Source: Kenward and Roger (1997), Biometrics 53; Halekoh and Hojsgaard (2014), Journal of Statistical Software 59(9),
whose form of the moments it is.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.stats import f as fisher

from preflare.models.inputs import Inputs
from preflare.models.linear import LinearProblem, solve_linear
from preflare.models.records import FitError, Floats

FLAT = 1e-10


@dataclass(frozen=True)
class FTest:
    """statistic: F unscaled. scaling: lambda. df: of numerator and denominator. p: of lambda F."""

    statistic: float
    scaling: float
    df: tuple[int, float]
    p: float


@dataclass(frozen=True)
class KenwardRoger:
    """coefficients (p,). covariance: Phi_A (p, p). df: (p,) of each coefficient.

    plain: Phi (p, p). W: (R, R). P: (R, p, p). All per unit of the data's columns.
    """

    coefficients: Floats
    covariance: Floats
    df: Floats
    plain: Floats
    W: Floats
    P: Floats

    @property
    def standard_errors(self) -> Floats:
        return np.asarray(np.sqrt(np.diag(self.covariance)))

    def test(self, L: ArrayLike) -> FTest:
        """Whether L beta = 0. L: (q, p), rows independent."""
        rows = np.atleast_2d(np.asarray(L, dtype=float))
        q = len(rows)
        if rows.shape[1] != len(self.coefficients) or np.linalg.matrix_rank(rows) < q:
            raise FitError("wrong shape", "a hypothesis needs independent rows, one value for each coefficient")
        at = rows @ self.coefficients
        statistic = float(at @ np.linalg.solve(rows @ self.covariance @ rows.T, at)) / q
        scaling, df = _scaling_and_df(rows, self.plain, self.W, self.P)
        return FTest(statistic, scaling, (q, df), float(fisher.sf(scaling * statistic, q, df)))


def kenward_roger(problem: LinearProblem) -> KenwardRoger:
    """The adjusted covariance at the REML estimates. Raises FitError for a model by ML, or variances that have no say.

    A variance at 0 keeps its place: V is linear in it, so that its information does not end there.
    """
    if not problem.reml:
        raise FitError("wrong shape", "Kenward and Roger's covariance is that of a fit by REML")
    fit = solve_linear(problem)
    bases = covariance_bases(problem.inputs.Z.shape[1], problem.layout.structure == "correlated")
    information, P, Q = _sums(problem, fit.random_covariance, fit.residual_sd**2, bases)
    phi = np.linalg.inv(information[0])
    expected = 0.5 * (
        information[1] - 2.0 * np.einsum("ij,rsji->rs", phi, Q) + np.einsum("ij,rjk,kl,sli->rs", phi, P, phi, P)
    )
    W = _inverse(expected)
    bias = np.einsum("rs,rsij->ij", W, Q) - np.einsum("rs,rij,jk,skl->il", W, P, phi, P)
    adjusted = phi + 2.0 * phi @ bias @ phi
    back = problem.X.back
    away = np.linalg.inv(back)
    plain, in_data_units = back @ phi @ back.T, back @ adjusted @ back.T
    P = away.T @ P @ away
    df = np.array([_scaling_and_df(row[None], plain, W, P)[1] for row in np.eye(len(back))])
    return KenwardRoger(fit.coefficients, 0.5 * (in_data_units + in_data_units.T), df, plain, W, P)


def covariance_bases(q: int, correlated: bool) -> Floats:
    """(R, q, q) symmetric matrices whose sum, each times its entry, is the random effects' covariance."""
    pairs = zip(*np.tril_indices(q), strict=True) if correlated else zip(range(q), range(q), strict=True)
    bases = []
    for j, k in pairs:
        basis = np.zeros((q, q))
        basis[j, k] = basis[k, j] = 1.0
        bases.append(basis)
    return np.reshape(bases, (-1, q, q))


def athletes_rows(inputs: Inputs) -> list[np.ndarray]:
    """Row numbers of each athlete who has rows, by code."""
    order = np.argsort(inputs.group, kind="stable")
    return np.split(order, np.unique(inputs.group[order], return_index=True)[1][1:])


def _sums(
    problem: LinearProblem, random_covariance: Floats, variance: float, bases: Floats
) -> tuple[tuple[Floats, Floats], Floats, Floats]:
    """(X'V^-1X, traces (R, R)), P (R, p, p) and Q (R, R, p, p), the residual variance last. Rows scaled by weights."""
    inputs, X = problem.inputs, problem.X.values
    p, R = X.shape[1], len(bases) + 1
    total, traces = np.zeros((p, p)), np.zeros((R, R))
    P, Q = np.zeros((R, p, p)), np.zeros((R, R, p, p))
    for own in athletes_rows(inputs):
        root = np.sqrt(inputs.weights[own])[:, None]
        x, z = root * X[own], root * inputs.Z[own]
        inverse = np.linalg.inv(variance * np.eye(len(own)) + z @ random_covariance @ z.T)
        by_entry = np.stack([*(inverse @ z @ basis @ z.T for basis in bases), inverse])  # V^-1 G_r
        right = inverse @ x
        left = x.T @ by_entry  # X'V^-1 G_r
        total += x.T @ right
        P -= left @ right
        Q += left[:, None] @ (by_entry @ right)[None]
        traces += np.einsum("rij,sji->rs", by_entry, by_entry)
    return (total, traces), P, Q


def _inverse(expected: Floats) -> Floats:
    """W, from the expected information scaled to unit diagonal."""
    scale = 1.0 / np.sqrt(np.maximum(np.diag(expected), 1e-300))
    scaled = expected * np.outer(scale, scale)
    if np.linalg.eigvalsh(scaled)[0] < FLAT:
        raise FitError("variances", "the variances cannot be told apart on these rows; leave out a random term")
    return np.asarray(np.linalg.inv(scaled) * np.outer(scale, scale))


def _scaling_and_df(L: Floats, phi: Floats, W: Floats, P: Floats) -> tuple[float, float]:
    """lambda and m of the hypothesis L (q, p): F's approximate mean E and variance V are those of F(q, m) / lambda."""
    q = len(L)
    theta = L.T @ np.linalg.solve(L @ phi @ L.T, L)
    moved = theta @ phi @ P @ phi
    traces = np.trace(moved, axis1=1, axis2=2)
    A1 = float(traces @ W @ traces)
    A2 = float(np.einsum("rs,rij,sji->", W, moved, moved))
    B = (A1 + 6.0 * A2) / (2.0 * q)
    g = ((q + 1.0) * A1 - (q + 4.0) * A2) / ((q + 2.0) * A2)
    c = np.array([g, q - g, q + 2.0 - g]) / (3.0 * q + 2.0 * (1.0 - g))
    E = 1.0 / (1.0 - A2 / q)
    V = 2.0 / q * (1.0 + c[0] * B) / ((1.0 - c[1] * B) ** 2 * (1.0 - c[2] * B))
    rho = V / (2.0 * E**2)
    m = 4.0 + (q + 2.0) / (q * rho - 1.0)
    return float(m / (E * (m - 2.0))), float(m)
