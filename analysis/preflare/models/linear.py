"""The linear mixed model with one grouping factor, by REML or ML, from each athlete's cross-products alone.

    y = offset + X beta + Z b + e,   b = sigma Lambda u,   u ~ N(0, I),   e_t ~ N(0, sigma^2 / m_t)

so that b has covariance sigma^2 Lambda Lambda'. For athlete i let A_i = Z_i'Z_i, B_i = Z_i'[X_i y_i] (rows scaled by
sqrt(m_t)) and H_i = I + Lambda'A_i Lambda. Then X'V^-1 X and its like, V = I + Z Lambda Lambda'Z', are

    S = [X y]'[X y] - sum_i B_i'Lambda H_i^-1 Lambda'B_i,

and with beta = S_xx^-1 S_xy and rss = S_yy - S_yx beta the deviance, beta and sigma profiled out, is

    sum_i log|H_i| + nu (1 + log(2 pi rss / nu)) [+ log|S_xx|],   sigma^2 = rss / nu,

nu = n for ML; nu = n - p and the bracket for REML. Its cost does not grow with the rows. With M_i = H_i^-1 its
derivative by Lambda is 2 sum_i A_i Lambda M_i for the first term and -2 sum_i (C_i - A_i Lambda U_i) W U_i' with
U_i = M_i Lambda'C_i for the others: C_i = Z_i'(y_i - X_i beta), W = nu / rss, and C_i = Z_i'X_i, W = S_xx^-1.
Source: Bates, Maechler, Bolker and Walker (2015), Journal of Statistical Software 67(1), whose profiled deviance it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.optimize import minimize

from preflare.models.columns import Standardised, standardise_random, standardise_with_intercept
from preflare.models.inputs import Inputs, check_inputs, refuse_collinear
from preflare.models.parameters import Layout
from preflare.models.records import Convergence, FitError, Floats, MixedFit, RandomStructure

DECREMENT_LIMIT = 1e-6
SINGULAR = 1e-3


@dataclass(frozen=True)
class CrossProducts:
    """Everything the likelihood needs. A: (G, q, q). B: (G, q, p + 1), the outcome last. total: (p + 1, p + 1).

    n: rows. p: columns of X. log_weights: sum of log m_t. athletes: (G,) codes.
    """

    A: Floats
    B: Floats
    total: Floats
    n: int
    p: int
    log_weights: float
    by_athlete: Floats


@dataclass(frozen=True)
class Profile:
    """The model at one Lambda. S: (p + 1, p + 1). M: (G, q, q). U: (G, q, p + 1) = M Lambda'B. log_det: sum log|H|."""

    factor: Floats
    S: Floats
    M: Floats
    U: Floats
    log_det: float
    coefficients: Floats
    rss: float
    S_inverse: Floats


@dataclass(frozen=True)
class LinearProblem:
    """A linear model ready to optimise, and the way back to the units of the data."""

    inputs: Inputs
    layout: Layout
    products: CrossProducts
    X: Standardised
    Z: Standardised
    reml: bool


def fit_linear(
    y: ArrayLike,
    X: ArrayLike,
    Z: ArrayLike,
    group: ArrayLike,
    *,
    reml: bool = True,
    names: Sequence[str] | None = None,
    random: RandomStructure = "independent",
    weights: ArrayLike | None = None,
    offset: ArrayLike | None = None,
) -> MixedFit:
    """Fit by REML or ML. y: (n,). X: (n, p) with its intercept column. Z: (n, q), group, weights, offset as elsewhere.

    covariance is that of the coefficients at the estimated variances. `parameters` holds the coefficients
    alone, and `scores` each group's gradient by them. Raises FitError where these rows allow no fit.
    """
    return solve_linear(
        linear_problem(y, X, Z, group, reml=reml, names=names, random=random, weights=weights, offset=offset)
    )


def linear_problem(
    y: ArrayLike,
    X: ArrayLike,
    Z: ArrayLike,
    group: ArrayLike,
    *,
    reml: bool = True,
    names: Sequence[str] | None = None,
    random: RandomStructure = "independent",
    weights: ArrayLike | None = None,
    offset: ArrayLike | None = None,
) -> LinearProblem:
    """The model as `fit_linear` takes it, checked and summed up, not yet optimised. Raises FitError."""
    inputs = check_inputs(y, X, Z, group, names, weights, offset)
    _refuse_no_spread(inputs)
    X_standard = standardise_with_intercept(inputs.X)
    refuse_collinear(inputs.X, X_standard.values, inputs.names, constant=False)
    if len(inputs.y) <= inputs.X.shape[1]:
        raise FitError(
            "too few rows",
            f"{len(inputs.y)} rows leave nothing over to judge {inputs.X.shape[1]} coefficients by",
        )
    Z_standard = standardise_random(inputs.Z, correlated=random == "correlated")
    layout = Layout(0, inputs.X.shape[1], inputs.Z.shape[1], random)
    products = cross_products(inputs, X_standard.values, Z_standard.values)
    return LinearProblem(inputs, layout, products, X_standard, Z_standard, reml)


def _refuse_no_spread(inputs: Inputs) -> None:
    if np.ptp(inputs.y - inputs.offset) == 0:
        raise FitError("one category", "every outcome is the same: there is nothing to explain")


def cross_products(inputs: Inputs, X: Floats, Z: Floats) -> CrossProducts:
    """Each athlete's cross-products of standardised columns, rows scaled by the square root of their weight."""
    root = np.sqrt(inputs.weights)[:, None]
    columns = root * np.column_stack([X, inputs.y - inputs.offset])
    random = root * Z
    q = Z.shape[1]
    everything = np.column_stack([random, columns])
    sums = np.zeros((inputs.n_groups, q, everything.shape[1]))
    order = np.argsort(inputs.group, kind="stable")
    present, first = np.unique(inputs.group[order], return_index=True)
    for k in range(q):
        sums[present, k] = np.add.reduceat(random[order, k, None] * everything[order], first, axis=0)
    by_athlete = np.zeros((inputs.n_groups, columns.shape[1], columns.shape[1]))
    for code, rows in zip(present, np.split(order, first[1:]), strict=True):
        by_athlete[code] = columns[rows].T @ columns[rows]
    return CrossProducts(
        A=sums[:, :, :q],
        B=sums[:, :, q:],
        total=by_athlete.sum(axis=0),
        n=len(columns),
        p=X.shape[1],
        log_weights=float(np.log(inputs.weights).sum()),
        by_athlete=by_athlete,
    )


def profile(products: CrossProducts, factor: Floats) -> Profile:
    """Coefficients and sums of squares at a given Lambda (q, q)."""
    p = products.p
    H = np.eye(len(factor)) + factor.T @ products.A @ factor
    M = np.linalg.inv(H)
    right = factor.T @ products.B
    U = M @ right
    S = products.total - (right.transpose(0, 2, 1) @ U).sum(axis=0)
    S_inverse = np.linalg.inv(S[:p, :p])
    coefficients = S_inverse @ S[:p, p]
    rss = float(S[p, p] - S[p, :p] @ coefficients)
    return Profile(factor, S, np.asarray(M), U, float(np.linalg.slogdet(H)[1].sum()), coefficients, rss, S_inverse)


def deviance(products: CrossProducts, layout: Layout, entries: Floats, reml: bool) -> tuple[float, Floats]:
    """The profiled deviance at the entries of Lambda, and its gradient. log|S_xx| is that of standardised columns."""
    here = profile(products, layout.factor_of(entries))
    p, nu = products.p, products.n - reml * products.p
    value = here.log_det + nu * (1.0 + np.log(2.0 * np.pi * here.rss / nu)) - products.log_weights
    AL = products.A @ here.factor
    by_factor = 2.0 * (AL @ here.M).sum(axis=0)
    residual = products.B[:, :, p] - products.B[:, :, :p] @ here.coefficients
    u = here.U[:, :, p] - here.U[:, :, :p] @ here.coefficients
    left = residual - (AL @ u[..., None])[..., 0]
    by_factor -= 2.0 * nu / here.rss * left.T @ u
    if reml:
        value += float(np.linalg.slogdet(here.S[:p, :p])[1])
        U_x = here.U[:, :, :p]
        left_x = products.B[:, :, :p] - AL @ U_x
        by_factor -= 2.0 * (left_x @ here.S_inverse @ U_x.transpose(0, 2, 1)).sum(axis=0)
    return float(value), by_factor[layout.random_entries]


def maximise_linear(products: CrossProducts, layout: Layout, reml: bool) -> tuple[Floats, Floats, int]:
    """Entries of Lambda at the lowest deviance, the Hessian of the deviance there, and the number of steps."""
    entries = np.full(layout.n_random, 0.7)
    entries = np.diag(entries)[layout.random_entries]
    if len(entries) == 0:
        return entries, np.zeros((0, 0)), 0
    answer = minimize(
        lambda vector: deviance(products, layout, vector, reml), entries, jac=True, method="BFGS",
        options={"gtol": 1e-6, "maxiter": 500},
    )  # fmt: skip
    entries = answer.x
    for _ in range(4):
        H = deviance_hessian(products, layout, entries, reml)
        gradient = deviance(products, layout, entries, reml)[1]
        values, vectors = np.linalg.eigh(H)
        step = vectors @ ((vectors.T @ gradient) / np.maximum(values, 1e-6 * max(1.0, values.max())))
        if gradient @ step < 1e-16 or values.min() <= 0:
            break
        if deviance(products, layout, entries - step, reml)[0] > deviance(products, layout, entries, reml)[0] + 1e-9:
            break
        entries = entries - step
    return entries, deviance_hessian(products, layout, entries, reml), int(answer.nit)


def linear_maximum(problem: LinearProblem, reml: bool) -> tuple[Floats, Floats]:
    """Entries of Lambda at the lowest deviance, by REML or ML whatever the problem asks for, and the Hessian there."""
    entries, hessian, _ = maximise_linear(problem.products, problem.layout, reml)
    return entries, hessian


def deviance_hessian(
    products: CrossProducts, layout: Layout, entries: Floats, reml: bool, step: float = 1e-4
) -> Floats:
    """Central differences of the exact gradient."""
    H = np.zeros((len(entries), len(entries)))
    for j in range(len(entries)):
        shift = np.zeros(len(entries))
        shift[j] = step * max(1.0, abs(entries[j]))
        ahead = deviance(products, layout, entries + shift, reml)[1]
        behind = deviance(products, layout, entries - shift, reml)[1]
        H[j] = (ahead - behind) / (2.0 * shift[j])
    return 0.5 * (H + H.T)


def solve_linear(problem: LinearProblem) -> MixedFit:
    """Optimise, then transform back to the units of the data."""
    inputs, layout, products, reml = problem.inputs, problem.layout, problem.products, problem.reml
    X, Z = problem.X, problem.Z
    entries, H, iterations = maximise_linear(products, layout, reml)
    value, gradient = deviance(products, layout, entries, reml)
    here = profile(products, layout.factor_of(entries))
    variance = here.rss / (products.n - reml * products.p)
    factor = np.sqrt(variance) * Z.back @ here.factor
    covariance = X.back @ (variance * here.S_inverse) @ X.back.T
    coefficients = X.back @ here.coefficients
    if reml:
        # log|S_xx| in the data's units: S_xx = T^-T S_xx,s T^-1.
        value -= 2.0 * float(np.linalg.slogdet(X.back)[1])
    modes, mode_se = _modes(products, here, factor, variance)
    random_covariance = factor @ factor.T
    return MixedFit(
        family="linear",
        names=inputs.names,
        coefficients=coefficients,
        thresholds=np.zeros(0),
        covariance=covariance,
        random_covariance=random_covariance,
        random_sd=np.sqrt(np.diag(random_covariance)),
        modes=modes,
        mode_se=mode_se,
        residual_sd=float(np.sqrt(variance)),
        log_likelihood=-0.5 * value,
        log_likelihood_note="restricted (REML), all constants included" if reml else "exact, all constants included",
        parameters=coefficients,
        parameter_covariance=covariance,
        scores=np.asarray(np.linalg.solve(X.back.T, _scores(products, here, variance).T).T),
        random_structure=layout.structure,
        quadrature=1,
        n_rows=products.n,
        n_groups=len(np.unique(inputs.group)),
        convergence=_convergence(entries, gradient, H, layout, iterations),
    )


def _scores(products: CrossProducts, here: Profile, variance: float) -> Floats:
    """(A, p) each athlete's X_i'V_i^-1 (y_i - X_i beta), beta in standard units."""
    p = products.p
    B_x = products.B[:, :, :p]
    explained = (here.factor.T @ B_x).transpose(0, 2, 1) @ here.U
    S = products.by_athlete[:, :p, :] - explained
    return np.asarray((S[:, :, p] - S[:, :, :p] @ here.coefficients) / variance)


def _modes(products: CrossProducts, here: Profile, factor: Floats, variance: float) -> tuple[Floats, Floats]:
    """Modes of b (A, q) in the data's units and their conditional standard errors. factor: sigma T Lambda."""
    p = products.p
    u = (here.U[:, :, p] - here.U[:, :, :p] @ here.coefficients) / np.sqrt(variance)
    errors = np.einsum("ij,gjk,ik->gi", factor, here.M, factor)
    return u @ factor.T, np.sqrt(errors)


def _convergence(entries: Floats, gradient: Floats, H: Floats, layout: Layout, iterations: int) -> Convergence:
    """The deviance is minus twice the log-likelihood: gradient and Hessian are halved here."""
    diagonal = entries[layout.diagonal - layout.n_fixed]
    singular = bool((np.abs(diagonal) < SINGULAR).any())
    values, vectors = np.linalg.eigh(H / 2.0) if len(H) else (np.ones(1), np.zeros((0, 1)))
    along = vectors.T @ (gradient / 2.0) if len(H) else np.zeros(1)
    bounded = values > 1e-8
    decrement = float((along[bounded] ** 2 / values[bounded]).sum())
    converged = decrement <= DECREMENT_LIMIT and bool(values.min() > -1e-4)
    problems = [] if converged else [f"stopped short of the optimum (Newton decrement {decrement:.1e})"]
    if singular:
        problems.append("a random effect's variance is 0 or a correlation is -1 or 1")
    return Convergence(
        converged=converged,
        gradient=float(np.abs(gradient / 2.0).max(initial=0.0)),
        newton_decrement=decrement,
        condition=float(values.max() / values.min()) if values.min() > 0 else float("inf"),
        singular=singular,
        separated=(),
        iterations=iterations,
        message="; ".join(problems),
    )
