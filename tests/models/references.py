"""What a reference is, and how a fit is compared with it: read by the tests and by the agreement table.

Deviations: of estimates in their standard errors, of standard errors and standard deviations as a share, of a
log-likelihood as it is (ours less theirs: a better optimum is positive), of other quantities as they are.
"""

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from preflare.models.records import MixedFit

FOLDER = Path(__file__).parents[1] / "reference" / "mixed_models"
VALUES = json.loads((FOLDER / "values.json").read_text())
EXACT: dict[str, dict] = {}
for _name in ("simulated_S", "simulated_M", "published"):
    EXACT |= json.loads((FOLDER / f"{_name}.json").read_text())
"""Fits polished to the optimum (README of the folder), by name."""

ESTIMATE_LIMIT, ERROR_LIMIT, LIKELIHOOD_LIMIT = 1e-4, 1e-3, 1e-4


@dataclass(frozen=True)
class Reference:
    """Values of another program or a publication, in the order of (thresholds, coefficients); None: not given.

    Limits are the largest allowed deviations. note says why one is wider than usual, or what is left out.
    """

    source: str
    estimates: list[float | None]
    errors: list[float | None] | None = None
    random_sd: list[float] | None = None
    residual_sd: float | None = None
    log_likelihood: float | None = None
    constant: float = 0.0
    estimate_limit: float = ESTIMATE_LIMIT
    error_limit: float = ERROR_LIMIT
    sd_limit: float = ERROR_LIMIT
    likelihood_limit: float = LIKELIHOOD_LIMIT
    note: str = ""


@dataclass(frozen=True)
class Case:
    """A fit beside its reference."""

    name: str
    fit: Callable[[], MixedFit]
    reference: Reference


@dataclass(frozen=True)
class Quantity:
    """Something other than a mixed fit: its values and those expected, the largest absolute deviation allowed."""

    name: str
    what: str
    ours: Callable[[], np.ndarray]
    expected: list[float]
    limit: float
    source: str
    note: str = ""


@dataclass(frozen=True)
class Deviation:
    """One compared quantity: ours less theirs in the unit of the quantity, and the largest allowed."""

    case: str
    quantity: str
    deviation: float
    limit: float
    source: str
    note: str

    @property
    def agrees(self) -> bool:
        """A log-likelihood may be better than the reference by any amount: that optimum is ours. NaN never agrees."""
        if self.quantity == "log-likelihood":
            return self.deviation >= -self.limit
        return abs(self.deviation) <= self.limit


def deviations(case: Case | Quantity) -> list[Deviation]:
    """Everything that the reference gives, compared."""
    if isinstance(case, Quantity):
        off = largest(np.asarray(case.ours(), float) - case.expected)
        return [Deviation(case.name, case.what, off, case.limit, case.source, case.note)]
    fit, reference = case.fit(), case.reference
    estimates = np.append(fit.thresholds, fit.coefficients)
    errors = np.sqrt(np.diag(fit.covariance))
    found = [("estimates / SE", (estimates - given(reference.estimates)) / errors, reference.estimate_limit)]
    if reference.errors is not None:
        found.append(("SE ratio - 1", errors / given(reference.errors) - 1, reference.error_limit))
    if reference.random_sd is not None:
        found.append(("random SD ratio - 1", fit.random_sd / reference.random_sd - 1, reference.sd_limit))
    if reference.residual_sd is not None:
        found.append(("residual SD ratio - 1", [fit.residual_sd / reference.residual_sd - 1], reference.sd_limit))
    if reference.log_likelihood is not None:
        gain = fit.log_likelihood + reference.constant - reference.log_likelihood
        found.append(("log-likelihood", [gain], reference.likelihood_limit))
    return [
        Deviation(case.name, name, largest(np.asarray(values)), limit, reference.source, reference.note)
        for name, values, limit in found
    ]


def given(values: list[float | None]) -> np.ndarray:
    """(m,) with NaN where the source prints no value."""
    return np.array([np.nan if value is None else value for value in values], dtype=float)


def largest(values: np.ndarray) -> float:
    """The value farthest from 0 among those that the source gives. Raises ValueError where it gives none."""
    return float(values[np.nanargmax(np.abs(values))])


def exact(key: str, **changes: object) -> Reference:
    """A polished fit of R, exact enough for limits a hundred times narrower than usual."""
    values = EXACT[key]
    kind = {"TMB": "TMB (automatic differentiation)"}.get(values["engine"], values["engine"])
    made = {
        "source": f"R {kind}, polished",
        "estimates": list(values["beta"].values()),
        "errors": list(values["se"].values()),
        "random_sd": values["sd"],
        "residual_sd": values.get("sigma"),
        "log_likelihood": values["loglik"],
        "estimate_limit": 1e-6,
        "error_limit": 2e-4,
        "sd_limit": 1e-5,
        "likelihood_limit": 1e-6,
    }
    return Reference(**(made | changes))  # type: ignore[arg-type]


def as_stopped(key: str, **limits: object) -> Reference:
    """A fit of `values.json`: what the package gave with its own settings."""
    values = VALUES["fits"][key]
    sds = [values[name] for name in ("sd0", "sd1") if name in values] or None
    residual = values.get("sigma") if "lmm" in key and "glmm" not in key else None
    return Reference(
        f"R {values['engine']}", list(values["beta"].values()), list(values["se"].values()), sds, residual,
        values["loglik"], **limits,
    )  # type: ignore[arg-type]  # fmt: skip


def classic(key: str, source: str, **limits: object) -> Reference:
    """A fit of sleepstudy, cbpp or wine in `values.json`."""
    values = VALUES["classics"][key]
    sds = [part["sdcor"] for part in values.get("vc", []) if "var1" in part and "var2" not in part]
    if "sd" in values:
        sds = [values["sd"]]
    residual = values.get("sigma") if key.startswith("sleep") else None
    return Reference(
        source, list(values["beta"].values()), list(values["se"].values()), sds or None, residual, values["loglik"],
        **limits,
    )  # type: ignore[arg-type]  # fmt: skip
