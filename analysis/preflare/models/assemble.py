"""From an optimum in standard units to a MixedFit in the units of the data.

phi_s = (theta_s, beta_s, entries of Lambda) is what the optimiser found, V_s its covariance, s_s an athlete's score.
With J of `columns` over the thresholds and coefficients, and 1 over the random part, which stays in standard units,

    phi = J phi_s,   V = J V_s J',   s = J^-T s_s,   b = T_z Lambda u,

T_z the scaling of the random columns. Separated columns get NaN in V, not in phi.
"""

from dataclasses import dataclass

import numpy as np

from preflare.models.columns import Standardised, column_scale, to_data_units
from preflare.models.inputs import Inputs
from preflare.models.likelihood import Likelihood
from preflare.models.optimise import DECREMENT_LIMIT, Optimum, maximise, without_separated
from preflare.models.records import Convergence, Family, Floats, MixedFit
from preflare.models.separation import NEGLIGIBLE

SINGULAR = 1e-3
"""A diagonal entry of the random factor, in standardised units, below which a variance counts as 0."""
RUNAWAY = 8.0
"""A coefficient times its column's range beyond this many log-odds, or a standard error beyond half of it,
calls for a test of separation. An honest effect of this size is no fault: the test decides.
"""


@dataclass(frozen=True)
class Problem:
    """A model ready to optimise: the checked rows, their likelihood, and the way back to the units of the data."""

    family: Family
    inputs: Inputs
    likelihood: Likelihood
    X: Standardised
    Z: Standardised
    quadrature: int


def solve(problem: Problem) -> MixedFit:
    """Optimise and assemble; where columns separate the outcome, the others are optimised in the limit."""
    optimum = maximise(problem.likelihood)
    separated = _separated(problem.inputs, problem.likelihood, optimum, problem.X)
    if separated:
        places = [problem.likelihood.layout.n_thresholds + j for j in separated]
        optimum = without_separated(problem.likelihood, optimum, places)
    return assemble(problem, optimum, separated)


def assemble(problem: Problem, optimum: Optimum, separated: list[int]) -> MixedFit:
    """Transform back, add modes and scores, and tell the story of the fit."""
    inputs, likelihood, X, Z = problem.inputs, problem.likelihood, problem.X, problem.Z
    layout = likelihood.layout
    n = layout.n_thresholds
    J = to_data(likelihood, X)
    parameters = J @ optimum.vector
    parameter_covariance = _withhold(J @ optimum.covariance @ J.T, [n + j for j in separated])
    factor = Z.back @ layout.random_factor(optimum.vector)
    random_covariance = factor @ factor.T
    scores = likelihood.scores(optimum.vector)
    modes, mode_se = _modes(likelihood, optimum.vector, factor)
    groups = len(np.unique(inputs.group))
    return MixedFit(
        family=problem.family,
        names=inputs.names,
        coefficients=parameters[n : layout.n_fixed],
        thresholds=parameters[:n],
        covariance=parameter_covariance[: layout.n_fixed, : layout.n_fixed],
        random_covariance=random_covariance,
        random_sd=np.sqrt(np.diag(random_covariance)),
        modes=modes,
        mode_se=mode_se,
        residual_sd=float("nan"),
        log_likelihood=-optimum.cost,
        log_likelihood_note=_note(problem.quadrature, layout.n_random),
        parameters=parameters,
        parameter_covariance=parameter_covariance,
        scores=np.asarray(np.linalg.solve(J.T, scores.T).T),
        random_structure=layout.structure,
        quadrature=problem.quadrature,
        n_rows=len(inputs.y),
        n_groups=groups,
        convergence=_convergence(likelihood, optimum, tuple(inputs.names[j] for j in separated)),
    )


def to_data(likelihood: Likelihood, X: Standardised) -> Floats:
    """(m, m) from the optimiser's vector to the data's units; the random part stays in standard units."""
    layout = likelihood.layout
    J = np.eye(layout.size)
    J[: layout.n_fixed, : layout.n_fixed] = to_data_units(layout.n_thresholds, X)
    return J


def _withhold(covariance: Floats, places: list[int]) -> Floats:
    """The covariance with NaN in the rows and columns of parameters that have no finite estimate."""
    withheld = covariance.copy()
    withheld[places, :] = np.nan
    withheld[:, places] = np.nan
    return withheld


def _modes(likelihood: Likelihood, vector: Floats, factor: Floats) -> tuple[Floats, Floats]:
    """(A, q) modes of b and their conditional standard errors. A code without rows has mode 0 and the prior's SD."""
    prior_sd = np.sqrt((factor**2).sum(axis=1))
    modes = np.zeros((likelihood.n_groups, len(factor)))
    errors = np.tile(prior_sd, (likelihood.n_groups, 1))
    for block, result in zip(likelihood.blocks, likelihood.evaluations(vector), strict=True):
        modes[block.athletes] = result.mode.u @ factor.T
        variance = np.einsum("ij,gjk,ik->gi", factor, result.mode.H_inverse, factor)
        errors[block.athletes] = np.sqrt(variance)
    return modes, errors


def _separated(inputs: Inputs, likelihood: Likelihood, optimum: Optimum, X: Standardised) -> list[int]:
    """Columns that split the outcome perfectly; looked for only where an estimate or its error runs away."""
    layout = likelihood.layout
    coefficients = np.abs(layout.coefficients(optimum.vector))
    errors = np.sqrt(np.diag(optimum.covariance)[layout.n_thresholds : layout.n_fixed])
    width = np.ptp(X.values, axis=0)
    calm = (coefficients * width < RUNAWAY) & (errors * width < RUNAWAY / 2.0)
    if calm.all() and np.abs(layout.thresholds(optimum.vector)).max(initial=0.0) < 2.0 * RUNAWAY:
        return []
    direction = likelihood.separating_direction(inputs.y.astype(np.int64), X.values)
    in_data_units = (X.back @ direction) * column_scale(inputs.X)
    return [int(j) for j in np.flatnonzero(np.abs(in_data_units) > NEGLIGIBLE)]


def _convergence(likelihood: Likelihood, optimum: Optimum, separated: tuple[str, ...]) -> Convergence:
    """The story in numbers and words."""
    layout = likelihood.layout
    singular = bool((np.abs(optimum.vector[layout.diagonal]) < SINGULAR).any())
    problems = []
    if separated:
        problems.append(f"no finite estimate for {', '.join(separated)}: it splits the ratings perfectly")
    if not np.isfinite(optimum.decrement):
        problems.append("the information is not positive definite: some direction is not bounded by these data")
    elif optimum.decrement > DECREMENT_LIMIT:
        problems.append(f"stopped short of the optimum (Newton decrement {optimum.decrement:.1e})")
    if not likelihood.modes_found:
        problems.append("the search for an athlete's own effects did not end")
    converged = bool(optimum.decrement <= DECREMENT_LIMIT) and likelihood.modes_found
    if singular:
        problems.append("a random effect's variance is 0 or a correlation is -1 or 1")
    return Convergence(
        converged=converged,
        gradient=float(np.abs(optimum.gradient[optimum.free]).max(initial=0.0)),
        newton_decrement=optimum.decrement,
        condition=optimum.condition,
        singular=singular,
        separated=separated,
        iterations=optimum.iterations,
        message="; ".join(problems),
    )


def _note(quadrature: int, n_random: int) -> str:
    if n_random == 0:
        return "exact, all constants included"
    how = "Laplace approximation" if quadrature == 1 else f"adaptive Gauss-Hermite, {quadrature} nodes a dimension"
    return f"{how}, all constants included (one row an observation)"
