"""Degrees of freedom of a coefficient of the linear mixed model, after Satterthwaite.

The variance of a coefficient, f = exp(s) [S_xx^-1]_jj with s = log sigma^2, is itself estimated: with A the covariance
of (entries of Lambda, s), twice the inverse Hessian of the deviance d(Lambda, s),

    df = 2 f^2 / (g' A g),   g the gradient of f.

At the optimum, nu = n - p for REML, d_ss = nu, d_Ls = -(rss)_L / sigma^2, and d_LL is the profiled Hessian plus
d_Ls d_sL / nu. Sources: Fai and Cornelius (1996); Kuznetsova, Brockhoff and Christensen (2017), Journal of Statistical
Software 82(13).
"""

import numpy as np

from preflare.models.linear import LinearProblem, deviance_hessian, maximise_linear, profile
from preflare.models.records import Floats

STEP = 1e-4
FLAT = 1e-8


def satterthwaite_df(problem: LinearProblem) -> Floats:
    """(p,) degrees of freedom of the coefficients, in the order of the columns of X.

    A variance at 0 has no say: the variance of a coefficient does not change with it to first order.
    """
    products, layout, nu = problem.products, problem.layout, problem.products.n - problem.reml * problem.products.p
    entries, _, _ = maximise_linear(products, layout, problem.reml)
    here = profile(products, layout.factor_of(entries))
    sigma2 = here.rss / nu
    f = sigma2 * _variances(problem, entries)
    by_entry, by_rss = _derivatives(problem, entries)
    across = -by_rss / sigma2
    hessian = np.full((len(entries) + 1, len(entries) + 1), float(nu))
    hessian[:-1, :-1] = deviance_hessian(products, layout, entries, problem.reml) + np.outer(across, across) / nu
    hessian[-1, :-1] = hessian[:-1, -1] = across
    gradient = np.vstack([sigma2 * by_entry, f])
    values, vectors = np.linalg.eigh(hessian)
    along = vectors.T @ gradient
    bounded = values > FLAT * values.max()
    spread = 2.0 * (along[bounded] ** 2 / values[bounded, None]).sum(axis=0)
    return np.asarray(2.0 * f**2 / spread)


def _variances(problem: LinearProblem, entries: Floats) -> Floats:
    """(p,) diagonal of S_xx^-1 in the units of the data."""
    here = profile(problem.products, problem.layout.factor_of(entries))
    return np.asarray(np.einsum("ij,jk,ik->i", problem.X.back, here.S_inverse, problem.X.back))


def _derivatives(problem: LinearProblem, entries: Floats) -> tuple[Floats, Floats]:
    """Central differences by the entries of Lambda: of the variances (entries, p), and of rss (entries,)."""
    by_entry, by_rss = np.zeros((len(entries), problem.products.p)), np.zeros(len(entries))
    for j in range(len(entries)):
        shift = np.zeros(len(entries))
        shift[j] = STEP
        by_entry[j] = (_variances(problem, entries + shift) - _variances(problem, entries - shift)) / (2.0 * STEP)
        ahead = profile(problem.products, problem.layout.factor_of(entries + shift)).rss
        behind = profile(problem.products, problem.layout.factor_of(entries - shift)).rss
        by_rss[j] = (ahead - behind) / (2.0 * STEP)
    return by_entry, by_rss
