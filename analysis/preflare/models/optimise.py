"""From a start to the maximum of the likelihood, and the information there.

Three stages: Newton for the thresholds and coefficients without random effects; quasi-Newton (BFGS) for everything,
its first inverse Hessian the inverse information of the fixed part; Newton with the true Hessian, taken by central
differences of the exact gradient, which also checks that the point is a maximum and gives the covariance.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from preflare.models.likelihood import Likelihood
from preflare.models.records import Bools, Floats

Cost = Callable[[Floats], tuple[float, Floats]]

DECREMENT_LIMIT = 1e-6
"""Newton decrement (twice the log-likelihood still to be had) above which a fit is not called converged."""
FIRST_SD, FIRST_SLOPE_SD = 0.7, 0.3
LONGEST_START = 25.0
START_DECREMENT = 1.0
FLAT = 1e-7
"""An eigenvalue of the information scaled to unit diagonal below this is a direction that the data do not bound."""
STEP_SCALE = (1e-4, 1.0)
"""Bounds of the yardstick of a difference step, in standardised units."""
INDIFFERENT = 1e-4
"""A variance that changes the log-likelihood by less than this between 0 and an ordinary size has no say."""
ZERO = 0.02
"""A diagonal entry of Lambda below this is tried at exactly 0."""


@dataclass(frozen=True)
class Optimum:
    """vector (m,), cost there, and the story. covariance (m, m): inverse information over `free`, 0
    elsewhere; NaN when the information is not positive definite. free: (m,) False for variances held at 0.
    """

    vector: Floats
    cost: float
    gradient: Floats
    covariance: Floats
    decrement: float
    condition: float
    free: Bools
    iterations: int


def maximise(likelihood: Likelihood) -> Optimum:
    """The maximum of a likelihood, from its own start."""
    vector = start_vector(likelihood)
    first = first_inverse_hessian(likelihood, vector)
    vector, inverse, iterations = quasi_newton(likelihood.cost, vector, first)
    free = hold_zero_variances(likelihood, vector)
    return polish(likelihood, np.where(free, vector, 0.0), free, iterations, np.sqrt(np.diag(inverse)))


def start_vector(likelihood: Likelihood) -> Floats:
    """Thresholds and coefficients of the model without random effects; moderate random effects to begin with."""
    layout = likelihood.layout
    vector = np.zeros(layout.size)
    if layout.n_thresholds:
        below = np.cumsum(likelihood.counts)[:-1] / likelihood.counts.sum()
        vector[: layout.n_thresholds] = np.log(below / (1.0 - below))
    cost, gradient = likelihood.cost(vector)
    for _ in range(25):
        step = -np.linalg.lstsq(likelihood.fixed_information(vector), gradient[: layout.n_fixed], rcond=1e-12)[0]
        whole = np.append(step, np.zeros(layout.size - layout.n_fixed))
        decrement = abs(gradient[: layout.n_fixed] @ step)
        length = min(1.0, 4.0 / np.abs(step).max(initial=1e-300))
        length, cost, gradient = _shorten(likelihood, vector, whole, cost, length)
        vector = vector + length * whole
        if decrement < START_DECREMENT or np.abs(vector).max(initial=0.0) > LONGEST_START:
            break
    vector[layout.diagonal] = FIRST_SLOPE_SD
    vector[layout.diagonal[:1]] = FIRST_SD
    return vector


def _shorten(
    likelihood: Likelihood, vector: Floats, step: Floats, cost: float, length: float
) -> tuple[float, float, Floats]:
    """Halve a step until it does not make things worse: its length, the cost and gradient there."""
    for _ in range(30):
        new_cost, gradient = likelihood.cost(vector + length * step)
        if new_cost <= cost + 1e-9 * abs(cost):
            return length, new_cost, gradient
        length /= 2.0
    return 0.0, *likelihood.cost(vector)


def first_inverse_hessian(likelihood: Likelihood, vector: Floats) -> Floats:
    """Inverse information of the fixed part, and a rough guess for the random part: 1 / (2 A)."""
    layout = likelihood.layout
    likelihood.cost(vector)
    inverse = np.eye(layout.size) * 0.5 / sum(len(block.athletes) for block in likelihood.blocks)
    information = likelihood.fixed_information(vector)
    inverse[: layout.n_fixed, : layout.n_fixed] = np.linalg.pinv(information, hermitian=True)
    return inverse


def quasi_newton(
    cost_at: Cost, vector: Floats, inverse: Floats, tolerance: float = 1e-9, most: int = 300
) -> tuple[Floats, Floats, int]:
    """BFGS with a backtracking line search. Returns the vector, the inverse Hessian and the number of steps."""
    cost, gradient = cost_at(vector)
    iterations = 0
    while iterations < most:
        iterations += 1
        direction = -inverse @ gradient
        slope = float(gradient @ direction)
        if -slope < tolerance:
            break
        length, new_cost, new_gradient = _line_search(cost_at, vector, direction, cost, slope)
        if length == 0.0:
            break
        step, change = length * direction, new_gradient - gradient
        vector, cost, gradient = vector + step, new_cost, new_gradient
        inverse = _update_inverse(inverse, step, change)
    return vector, inverse, iterations


def _line_search(
    cost_at: Cost, vector: Floats, direction: Floats, cost: float, slope: float
) -> tuple[float, float, Floats]:
    """Armijo's rule with quadratic interpolation. Length 0 when no step helps."""
    length = min(1.0, 3.0 * np.sqrt(len(vector) / -slope))
    for _ in range(40):
        new_cost, new_gradient = cost_at(vector + length * direction)
        if np.isfinite(new_cost) and new_cost <= cost + 1e-4 * length * slope + 1e-12 * abs(cost):
            return length, new_cost, new_gradient
        if np.isfinite(new_cost):
            best = -length * slope / (2.0 * (new_cost - cost - length * slope))
            length *= max(0.1, min(0.5, best))
        else:
            length *= 0.5
    return 0.0, cost, np.zeros_like(vector)


def _update_inverse(inverse: Floats, step: Floats, change: Floats) -> Floats:
    """The BFGS update of the inverse Hessian; left alone where the curvature along the step is not positive."""
    curvature = float(step @ change)
    if curvature <= 1e-10 * float(np.linalg.norm(step) * np.linalg.norm(change)):
        return inverse
    along = np.eye(len(step)) - np.outer(step, change) / curvature
    return along @ inverse @ along.T + np.outer(step, step) / curvature


def hold_zero_variances(likelihood: Likelihood, vector: Floats) -> Bools:
    """Which parameters stay free: a small diagonal entry of Lambda goes to 0 where that costs nothing.

    At 0 the likelihood is flat by symmetry (column and minus column are the same model), so that the rest of
    the information does not depend on it.
    """
    free = np.ones(len(vector), dtype=bool)
    cost = likelihood.cost(vector)[0]
    for place in likelihood.layout.diagonal:
        if abs(vector[place]) < ZERO and _column_is_its_diagonal(likelihood, vector, int(place)):
            trial = np.where(free, vector, 0.0)
            trial[place] = 0.0
            free[place] = likelihood.cost(trial)[0] > cost + 1e-6
    return free


def without_separated(likelihood: Likelihood, optimum: Optimum, places: list[int]) -> Optimum:
    """The optimum again with the coefficients at `places` held where they ran to: the others' limits are finite.

    A random effect that touches the same rows alone then has no say either: its variance is held at 0.
    """
    free = optimum.free.copy()
    free[places] = False
    vector = optimum.vector.copy()
    for place in likelihood.layout.diagonal:
        without, usual = vector.copy(), vector.copy()
        without[place], usual[place] = 0.0, FIRST_SLOPE_SD
        costs = np.array([likelihood.cost(trial)[0] for trial in (vector, without, usual)])
        if np.ptp(costs) < INDIFFERENT:
            vector[place], free[place] = 0.0, False
    scale = np.sqrt(np.diag(first_inverse_hessian(likelihood, vector)))
    return polish(likelihood, vector, free, optimum.iterations, scale)


def _column_is_its_diagonal(likelihood: Likelihood, vector: Floats, place: int) -> bool:
    rows, columns = likelihood.layout.random_entries
    own = place - likelihood.layout.n_fixed
    below = (columns == columns[own]) & (rows != rows[own])
    return bool((np.abs(vector[likelihood.layout.n_fixed :][below]) < ZERO).all())


def polish(
    likelihood: Likelihood,
    vector: Floats,
    free: Bools,
    iterations: int,
    errors: Floats,
) -> Optimum:
    """Newton with the true Hessian over the free parameters; a second Hessian if the first moved the point far.

    errors: (m,) rough standard errors, the yardstick of the difference steps.
    """
    cost, gradient = likelihood.cost(vector)
    scale = np.clip(errors, *STEP_SCALE)
    for _ in range(3):
        covariance, condition = _invert(hessian(likelihood, vector, scale, free), free)
        decrement = float(gradient @ covariance @ gradient)
        if not np.isfinite(decrement):
            break
        first = decrement
        for _ in range(6):
            if decrement < 1e-12:
                break
            new_cost, new_gradient = likelihood.cost(vector - covariance @ gradient)
            if not new_cost <= cost + 1e-9 * abs(cost):
                break
            vector, cost, gradient = vector - covariance @ gradient, new_cost, new_gradient
            decrement = float(gradient @ covariance @ gradient)
        if first < 1e-3:
            break
    return Optimum(vector, cost, gradient, covariance, decrement, condition, free, iterations)


def hessian(
    likelihood: Likelihood,
    vector: Floats,
    scale: Floats,
    free: Bools,
    step: float = 0.002,
) -> Floats:
    """Central differences of the exact gradient, `step` rough standard errors to each side."""
    modes = likelihood.modes
    H = np.zeros((len(vector), len(vector)))
    for j in np.flatnonzero(free):
        shift = np.zeros(len(vector))
        shift[j] = step * scale[j]
        likelihood.modes = modes
        _, ahead = likelihood.cost(vector + shift)
        # What the modes did on one side they undo on the other: the mirror image starts the second search.
        likelihood.modes = [2.0 * here - there for here, there in zip(modes, likelihood.modes, strict=True)]
        _, behind = likelihood.cost(vector - shift)
        H[j] = (ahead - behind) / (2.0 * shift[j])
    likelihood.modes = modes
    return 0.5 * (H + H.T)


def _invert(H: Floats, free: Bools) -> tuple[Floats, float]:
    """Inverse over the free parameters (0 elsewhere) and the condition number; NaN when not positive definite."""
    inside = np.ix_(free, free)
    covariance = np.zeros_like(H)
    diagonal = np.diag(H)[free]
    if not (diagonal > 0).all():
        return np.full_like(H, np.nan), np.inf
    scale = 1.0 / np.sqrt(diagonal)
    values, vectors = np.linalg.eigh(H[inside] * np.outer(scale, scale))
    condition = float(values[-1] / values[0]) if values[0] > 0 else np.inf
    if values[0] < FLAT:
        return np.full_like(H, np.nan), condition
    covariance[inside] = (vectors / values) @ vectors.T * np.outer(scale, scale)
    return covariance, condition
