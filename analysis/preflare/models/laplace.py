"""The marginal likelihood of each athlete's rows, and its exact gradient, for a whole block of athletes at once.

For one athlete with rows t, random effects b = Lambda u, u ~ N(0, I_q), v_t = Lambda' z_t and weights m_t,

    eta_t = offset_t + x_t' beta + v_t' u
    h(u)  = sum_t m_t log P(y_t | eta_t) - u'u / 2
    L     = log integral (2 pi)^(-q/2) exp h(u) du.

h is concave. Its mode u^ is found by Newton's method; H = I + sum_t W_t v_t v_t' is minus its second derivative there
(W_t: curvature of a row). Laplace: L = h(u^) - log|H| / 2. Adaptive Gauss-Hermite with nodes x_k and log weights a_k,
C C' = H^-1:

    L = -log|H| / 2 + log sum_k exp(a_k + h(u^ + sqrt(2) C x_k)),

of which Laplace is the case of one node. The gradient is that of this approximation, exactly: besides its direct part,
L depends on the parameters through u^ and H. With pi_k the nodes' shares of the sum, g_k the slope of h at node k,
p = sum_k pi_k g_k, and B the derivative of L by H,

    B   = -H^-1 / 2 - C S C',   S the symmetric part of the lower triangle, half its diagonal,
          of sqrt(2) sum_k pi_k x_k (C' g_k)'
    s_t = v_t' B v_t,   W'_t = dW_t / d eta_t
    w   = H^-1 (p + sum_t s_t W'_t v_t),   r_t = v_t' w          (the implicit derivative of u^)

so that a change of eta_t alone changes L by sum_k pi_k d_tk + s_t W'_t - r_t W_t, with d_tk the row's slope.
Sources: Pinheiro and Bates (1995) for the approximation; the gradient is the chain rule written out.
"""

from dataclasses import dataclass

import numpy as np

from preflare.models.ordered_logit import Edges, RowTerms, category_constants, row_edges, row_terms
from preflare.models.padding import Block
from preflare.models.parameters import Layout
from preflare.models.records import Floats

MODE_TOLERANCE = 1e-18
"""Newton decrement at which a mode search stops: looser, and standard errors move (1e-12: by 8e-4 of themselves)."""
MODE_STEPS = 60
FAR = 1.5
"""A mode step that moves some row's linear predictor by more than this is shortened (see `find_mode`)."""


@dataclass(frozen=True)
class Nodes:
    """Gauss-Hermite nodes x (N, q) and log weights (N,), so that N = 1 is Laplace."""

    x: Floats
    log_weight: Floats


@dataclass(frozen=True)
class Mode:
    """Where h peaks, for G athletes. u (G, q), eta (G, T), terms at eta, H and its inverse (G, q, q), h (G,)."""

    u: Floats
    eta: Floats
    terms: RowTerms
    H: Floats
    H_inverse: Floats
    h: Floats
    found: bool


@dataclass(frozen=True)
class Integral:
    """log_likelihood (G,) without the category constants, and what its gradient needs (see the module's docstring).

    slope_upper, slope_lower: (G, T) sum_k pi_k of the two parts of the rows' weighted slopes. p: (G, q). B:
    (G, q, q). by_factor: (G, q, q) direct part of the derivative by Lambda, sum_k pi_k sum_t z_t d_tk u_k'.
    """

    log_likelihood: Floats
    slope_upper: Floats
    slope_lower: Floats
    p: Floats
    B: Floats
    by_factor: Floats


@dataclass(frozen=True)
class EdgeSlopes:
    """Derivatives of the log-likelihood by what enters a row. upper, lower: (G, T), by eta through the term of the
    row's upper and of its lower edge (by the edges themselves: the same with the other sign). factor: (G, q, q), by
    Lambda.
    """

    upper: Floats
    lower: Floats
    factor: Floats


@dataclass(frozen=True)
class Evaluation:
    """log_likelihood (G,), gradient (G, n_parameters), the mode, and whether every mode search ended well."""

    log_likelihood: Floats
    gradient: Floats
    mode: Mode


def gauss_hermite(n_nodes: int, n_random: int) -> Nodes:
    """Product rule of n_nodes a dimension for integral pi^(-q/2) exp(h) with the weight exp(-x'x) divided out."""
    if n_nodes == 1 or n_random == 0:
        return Nodes(np.zeros((1, n_random)), np.zeros(1))
    x, weight = np.polynomial.hermite.hermgauss(n_nodes)
    grid = np.stack([axis.ravel() for axis in np.meshgrid(*[np.arange(n_nodes)] * n_random, indexing="ij")], axis=1)
    log_weight = (np.log(weight) + x**2)[grid].sum(axis=1) - n_random / 2.0 * np.log(np.pi)
    return Nodes(x[grid], log_weight)


def evaluate(block: Block, layout: Layout, vector: Floats, start: Floats, nodes: Nodes) -> Evaluation:
    """Log-likelihood of every athlete in the block, and its gradient. start: (G, q) modes to try first."""
    thresholds = layout.thresholds(vector)
    flat = block.X.reshape(block.y.size, layout.n_coefficients)
    eta_fixed = block.offset + (flat @ layout.coefficients(vector)).reshape(block.y.shape)
    V = block.Z @ layout.random_factor(vector)
    mode, log_likelihood, slopes = integrate(block, row_edges(thresholds, block.y), eta_fixed, V, start, nodes)
    constants, by_threshold = category_constants(thresholds)
    counts = athlete_by_category(block, block.weight, len(constants))
    gradient = _gradient(block, layout, slopes)
    gradient[:, : layout.n_thresholds] += counts @ by_threshold[:, : layout.n_thresholds]
    return Evaluation(log_likelihood + counts @ constants, gradient, mode)


def integrate(
    block: Block, edges: Edges, eta_fixed: Floats, V: Floats, start: Floats, nodes: Nodes
) -> tuple[Mode, Floats, EdgeSlopes]:
    """The mode, the log-likelihood (G,) without the category constants, and its derivatives by what enters a row.

    edges: of each row, (G, T), so that rows of one category may have different ones. eta_fixed: (G, T).
    """
    mode = find_mode(block, edges, eta_fixed, V, start)
    integral = _laplace(block, mode) if len(nodes.x) == 1 else _quadrature(block, edges, eta_fixed, V, mode, nodes)
    return mode, integral.log_likelihood, _edge_slopes(block, V, mode, integral)


def find_mode(block: Block, edges: Edges, eta_fixed: Floats, V: Floats, start: Floats) -> Mode:
    """Newton's method for the mode of every athlete at once. V: (G, T, q).

    A row's third derivative is at most its second, so that a step which moves the linear predictors by up to delta
    raises h for certain when delta is below 1.79, and a longer one when it is shortened by log(1 + delta) / delta
    (Bach 2010, Electronic Journal of Statistics 4): the search cannot go round in circles.
    """
    u, transposed, identity = start, V.transpose(0, 2, 1), np.eye(V.shape[2])
    eta = eta_fixed + _times(V, u)
    found = False
    for _ in range(MODE_STEPS):
        terms = row_terms(eta, edges)
        curvature_upper, curvature_lower = terms.curvatures()
        weighted = block.weight * (curvature_upper + curvature_lower)
        slope = _times(transposed, block.weight * terms.slope()) - u
        H: Floats = identity + transposed @ (weighted[..., None] * V)
        H_inverse: Floats = np.asarray(np.linalg.inv(H), dtype=np.float64)
        step = _times(H_inverse, slope)
        decrement = (slope * step).sum(axis=1)
        if decrement.max(initial=0.0) < MODE_TOLERANCE:
            found = True
            break
        move = _times(V, step)
        longest = np.abs(move).max(axis=1)
        length = np.where(longest > FAR, np.log1p(longest) / np.maximum(longest, FAR), 1.0)[:, None]
        u, eta = u + length * step, eta + length * move
    h = (block.weight * terms.log_density()).sum(axis=1) - 0.5 * (u * u).sum(axis=1)
    return Mode(u, eta, terms, H, H_inverse, h, found)


def _times(matrices: Floats, vectors: Floats) -> Floats:
    """Matrix times vector for every athlete: (G, m, k) and (G, k) give (G, m)."""
    return (matrices @ vectors[..., None])[..., 0]


def _laplace(block: Block, mode: Mode) -> Integral:
    slope_upper = block.weight * (mode.terms.upper - 1.0)
    slope_lower = block.weight * mode.terms.lower
    by_row = _times(block.Z.transpose(0, 2, 1), slope_upper + slope_lower)
    return Integral(
        log_likelihood=mode.h - 0.5 * np.linalg.slogdet(mode.H)[1],
        slope_upper=slope_upper,
        slope_lower=slope_lower,
        p=np.zeros_like(mode.u),
        B=-0.5 * mode.H_inverse,
        by_factor=by_row[:, :, None] * mode.u[:, None, :],
    )


def _quadrature(block: Block, edges: Edges, eta_fixed: Floats, V: Floats, mode: Mode, nodes: Nodes) -> Integral:
    """Sum over the nodes. Each term is at most its weight, since h is highest at the mode: nothing overflows."""
    C = np.linalg.inv(np.linalg.cholesky(mode.H)).transpose(0, 2, 1)
    Z_rows, V_rows = block.Z.transpose(0, 2, 1), V.transpose(0, 2, 1)
    total = np.zeros(len(mode.u))
    upper, lower = np.zeros_like(eta_fixed), np.zeros_like(eta_fixed)
    p, moved, by_factor = np.zeros_like(mode.u), np.zeros_like(mode.H), np.zeros_like(mode.H)
    for x, log_weight in zip(nodes.x, nodes.log_weight, strict=True):
        u = mode.u + np.sqrt(2.0) * (C @ x)
        terms = row_terms(eta_fixed + _times(V, u), edges)
        h = (block.weight * terms.log_density()).sum(axis=1) - 0.5 * (u * u).sum(axis=1)
        share = np.exp(log_weight + h - mode.h)
        slope = block.weight * terms.slope()
        g = share[:, None] * (_times(V_rows, slope) - u)
        total += share
        upper += share[:, None] * block.weight * (terms.upper - 1.0)
        lower += share[:, None] * block.weight * terms.lower
        p += g
        moved += np.sqrt(2.0) * x[:, None] * g[:, None, :]
        by_factor += share[:, None, None] * _times(Z_rows, slope)[:, :, None] * u[:, None, :]
    log_likelihood = mode.h + np.log(total) - 0.5 * np.linalg.slogdet(mode.H)[1]
    each, every = total[:, None], total[:, None, None]
    B = -0.5 * mode.H_inverse - _node_movement(C, moved / every)
    return Integral(log_likelihood, upper / each, lower / each, p / each, B, by_factor / every)


def _node_movement(C: Floats, moved: Floats) -> Floats:
    """C S C' of the module's docstring: the part of B that moves the nodes. moved: sqrt(2) sum pi x g'."""
    lower = np.tril(moved @ C)
    diagonal = np.arange(C.shape[1])
    lower[:, diagonal, diagonal] *= 0.5
    symmetric = 0.5 * (lower + lower.transpose(0, 2, 1))
    return C @ symmetric @ C.transpose(0, 2, 1)


def _edge_slopes(block: Block, V: Floats, mode: Mode, integral: Integral) -> EdgeSlopes:
    """The chain rule of the module's docstring, down to the rows' edges and Lambda."""
    curvature_upper, curvature_lower = mode.terms.curvatures()
    curvature_upper, curvature_lower = block.weight * curvature_upper, block.weight * curvature_lower
    bend_upper = curvature_upper * (2.0 * mode.terms.upper - 1.0)
    bend_lower = curvature_lower * (mode.terms.lower - mode.terms.not_lower)
    VB = V @ integral.B
    s = (VB * V).sum(axis=2)
    pull = s * (bend_upper + bend_lower)
    w = _times(mode.H_inverse, integral.p + _times(V.transpose(0, 2, 1), pull))
    r = _times(V, w)
    by_upper = integral.slope_upper + s * bend_upper - r * curvature_upper
    by_lower = integral.slope_lower + s * bend_lower - r * curvature_lower

    weight_change = curvature_upper + curvature_lower
    slope = block.weight * mode.terms.slope()
    Z_rows = block.Z.transpose(0, 2, 1)
    by_factor = (
        integral.by_factor
        + _times(Z_rows, pull - r * weight_change)[:, :, None] * mode.u[:, None, :]
        + _times(Z_rows, slope)[:, :, None] * w[:, None, :]
        + 2.0 * Z_rows @ (weight_change[..., None] * VB)
    )
    return EdgeSlopes(by_upper, by_lower, by_factor)


def _gradient(block: Block, layout: Layout, slopes: EdgeSlopes) -> Floats:
    """(G, n_parameters) derivative of the integral by every parameter, the category constants left out."""
    rows, columns = layout.random_entries
    by_coefficient = ((slopes.upper + slopes.lower)[:, None, :] @ block.X)[:, 0, :]
    by_threshold = _by_threshold(block, slopes.upper, slopes.lower, layout.n_thresholds)
    return np.concatenate([by_threshold, by_coefficient, slopes.factor[:, rows, columns]], axis=1)


def _by_threshold(block: Block, by_upper: Floats, by_lower: Floats, n_thresholds: int) -> Floats:
    """(G, n_thresholds): a threshold is the upper edge of one category and the lower edge of the next."""
    if n_thresholds == 0:
        return np.zeros((len(block.athletes), 0))
    as_upper = athlete_by_category(block, by_upper, n_thresholds + 1)[:, :-1]
    as_lower = athlete_by_category(block, by_lower, n_thresholds + 1)[:, 1:]
    return -(as_upper + as_lower)


def athlete_by_category(block: Block, values: Floats, n_categories: int) -> Floats:
    """(G, K) sums of values (G, T) over each athlete's rows of each category."""
    n = len(block.athletes)
    sums = np.bincount(block.cell.ravel(), weights=values.ravel(), minlength=n * n_categories)
    return sums.reshape(n, n_categories).astype(np.float64)


def information(block: Block, layout: Layout, vector: Floats, u: Floats) -> Floats:
    """Information on (thresholds, coefficients) with Lambda held: the rows' curvature less what the modes absorb.

    Fisher scoring's matrix, not that of the marginal likelihood; it guides the first steps. The category
    constants are left out. u: (G, q) the modes.
    """
    edges = row_edges(layout.thresholds(vector), block.y)
    V = block.Z @ layout.random_factor(vector)
    eta = block.offset + block.X @ layout.coefficients(vector) + _times(V, u)
    J_upper, J_lower = _edge_designs(block, layout.n_thresholds)
    return edge_information(block, row_terms(eta, edges), V, J_upper, J_lower)


def edge_information(block: Block, terms: RowTerms, V: Floats, J_upper: Floats, J_lower: Floats) -> Floats:
    """(n_fixed, n_fixed) as `information` says. J_upper, J_lower: (G, T, n_fixed) derivatives of a row's edges."""
    upper, lower = terms.curvatures()
    upper, lower = block.weight * upper, block.weight * lower
    weighted = upper[..., None] * J_upper + lower[..., None] * J_lower
    flat = (block.y.size, J_upper.shape[2])
    direct = J_upper.reshape(flat).T @ (upper[..., None] * J_upper).reshape(flat)
    direct += J_lower.reshape(flat).T @ (lower[..., None] * J_lower).reshape(flat)
    across = V.transpose(0, 2, 1) @ weighted
    H = np.eye(V.shape[2]) + V.transpose(0, 2, 1) @ ((upper + lower)[..., None] * V)
    absorbed = across.transpose(0, 2, 1) @ np.linalg.solve(H, across)
    return np.asarray(direct - absorbed.sum(axis=0))


def _edge_designs(block: Block, n_thresholds: int) -> tuple[Floats, Floats]:
    """(G, T, n_fixed) derivatives of a row's upper and lower edge less eta by (thresholds, coefficients)."""
    if n_thresholds == 0:
        return -block.X, -block.X
    table = np.eye(n_thresholds + 2)[:, 1:-1]
    upper, lower = table[block.y + 1], table[block.y]
    return np.concatenate([upper, -block.X], axis=2), np.concatenate([lower, -block.X], axis=2)
