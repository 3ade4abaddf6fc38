"""Stabilised weights for the choice of the safety bar, a sensitivity line beside the adjusted estimate.

Numerator: the athlete's own share, the calendar and past use. Denominator: the same, and what may have led to
the choice: competition and recent pain. Only what was known before the session. Robins JM, Hernan MA,
Brumback B. Epidemiology 2000;11:550-560 (from memory).
"""

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, logit

from preflare.models.design import Design

Floats = NDArray[np.float64]
SHARE_AWAY_FROM_EDGES = 0.02
TRUNCATED_AT = (0.01, 0.99)
RIDGE = 1e-4
STEPS = 25


def safety_bar_weights(design: Design) -> Floats | None:
    """(n,) stabilised weights, mean 1, truncated at the 1st and 99th percentile; None where nobody chose."""
    chosen = np.nan_to_num(design.rows.values["safety"].to_numpy(float))
    group = design.rows.group
    n_athletes = len(design.rows.athletes)
    share = np.bincount(group, weights=chosen, minlength=n_athletes) / np.bincount(group, minlength=n_athletes)
    if chosen.min() == chosen.max():
        return None
    away = SHARE_AWAY_FROM_EDGES
    habit = np.log((share + away) / (1 - share + away))[group]
    before = np.column_stack([habit, _columns(design, ("week ", "season ", "past safety"))])
    numerator = _chance(before, chosen)
    denominator = _chance(np.column_stack([before, _columns(design, CHOSEN_ON)]), chosen)
    weights = np.where(chosen > 0, numerator / denominator, (1 - numerator) / (1 - denominator))
    weights = np.clip(weights, *np.quantile(weights, TRUNCATED_AT))
    weights[(share == 0)[group]] = 1.0
    return np.asarray(weights / weights.mean())


CHOSEN_ON = (
    "weeks to competition",
    "last rating",
    "age of last rating",
    "recent ratings",
    "second-last rating",
    "last two ratings",
    "any event",
)


def _columns(design: Design, starts: tuple[str, ...]) -> Floats:
    return design.X[:, [j for j, name in enumerate(design.names) if name.startswith(starts)]]


def _chance(X: Floats, y: Floats) -> Floats:
    """Fitted chances of a logistic regression by Newton's method, with a small ridge against separation."""
    spread = X.std(axis=0)
    X = np.column_stack([np.ones(len(y)), (X - X.mean(axis=0)) / np.where(spread > 0, spread, 1.0)])
    coefficients = np.zeros(X.shape[1])
    coefficients[0] = logit(y.mean())
    for _ in range(STEPS):
        chance = expit(X @ coefficients)
        information = (X * (chance * (1 - chance))[:, None]).T @ X + RIDGE * np.eye(X.shape[1])
        step = np.linalg.solve(information, X.T @ (y - chance) - RIDGE * coefficients)
        coefficients = coefficients + step
        if np.abs(step).max() < 1e-8:
            break
    return np.asarray(np.clip(expit(X @ coefficients), 1e-6, 1 - 1e-6))
