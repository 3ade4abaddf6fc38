"""Each athlete: counts, flare-ups, the squad's estimate, the own one pulled towards it, the own one alone. No
grades."""

import re
import unicodedata
from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from preflare.findings.contrasts import FAMILY, Contrast, at_level, levels
from preflare.findings.effects import risks_at, with_intercept
from preflare.findings.evidence import Graded
from preflare.findings.fitting import FitSet, Fitted
from preflare.findings.grade import TOO_LITTLE
from preflare.findings.words import sentence
from preflare.models.design import set_exposures
from preflare.models.rows import AMOUNTS, EXPOSURES, ModelRows
from preflare.models.standardise import Interval, delta_se, t_interval

Floats = NDArray[np.float64]
FEWEST_REPORTED_ALONE = 30
FEWEST_AT_LEVEL_ALONE = 10
HIGH_RATING = 7
NOT_DECOMPOSED = str.maketrans({"ł": "l", "ø": "o", "đ": "d", "ı": "i", "æ": "ae", "œ": "oe", "þ": "th"})
"""Letters that Unicode does not take apart into a plain letter and a mark."""


def athletes(
    frame: pd.DataFrame,
    graded: Graded,
    findings: list[dict[str, Any]],
    onsets: pd.DataFrame,
    views: Mapping[str, pd.DataFrame],
) -> list[dict[str, Any]]:
    """One record for each athlete, alphabetically."""
    fits, event = graded.fits, graded.event
    names = sorted({str(name) for name in frame["athlete"]}, key=str.casefold)
    slugs = _slugs(names)
    return [
        {
            "name": name,
            "slug": slugs[name],
            "sessions": len(own),
            "reported": int(own["rating"].notna().sum()),
            "events": int((own["rating"] >= event).sum()),
            "onsets": int(onsets["athlete"].eq(name).sum()),
            "flare_ups": _flare_ups(onsets[onsets["athlete"].eq(name)]),
            "estimates": _estimates(name, fits, findings, event),
            "warnings": _warnings(own, name, views),
        }
        for name in names
        for own in [frame[frame["athlete"].eq(name)]]
    ]


def _slugs(names: list[str]) -> dict[str, str]:
    """File-name safe and distinct, whatever the names hold."""
    slugs: dict[str, str] = {}
    for name in names:
        folded = name.casefold().translate(NOT_DECOMPOSED)
        letters = unicodedata.normalize("NFKD", folded).encode("ascii", "ignore").decode()
        stem = re.sub(r"[^a-z0-9]+", "-", letters).strip("-") or "lifter"
        slug, n = stem, 1
        while slug in slugs.values():
            n += 1
            slug = f"{stem}-{n}"
        slugs[name] = slug
    return slugs


def _flare_ups(onsets: pd.DataFrame) -> list[dict[str, Any]]:
    return [
        {
            "number": int(row["number"]),
            "onset": row["onset"],
            "end": row["end"],
            "peak": row["peak"],
            "over": bool(row["is_over"]),
        }
        for row in onsets.to_dict("records")
    ]


def _warnings(own: pd.DataFrame, name: str, views: Mapping[str, pd.DataFrame]) -> list[dict[str, Any]]:
    """Days with a rating of 7 or more, and the warning words that the store found in this athlete's log."""
    made = [
        {
            "date": row["date"],
            "words": sentence("finding", "high_rating", rating=int(row["rating"])),
            "kind": "rating",
        }
        for row in own[own["rating"] >= HIGH_RATING].to_dict("records")
    ]
    view = views.get("warning")
    if view is not None:
        said = view[view["athlete"].eq(name)].to_dict("records")
        made += [{"date": row["date"], "words": row["words"], "kind": row["kind"]} for row in said]
    return sorted(made, key=lambda warning: pd.Timestamp(warning["date"]))


def _estimates(name: str, fits: FitSet | None, findings: list[dict[str, Any]], event: int) -> list[dict[str, Any]]:
    if fits is None or name not in fits.rows.athletes:
        return []
    code = fits.rows.athletes.index(name)
    alone = own_alone(fits.rows, code, event)
    made = []
    for contrast, finding in zip(FAMILY, findings, strict=True):
        fitted = fits.models(contrast.id).primary
        if finding["grade"] == TOO_LITTLE or fitted is None:
            continue
        effect = finding["effect"]
        pulled = own_pulled(fitted, contrast, code, float(effect["df"]))
        made.append({
            "id": contrast.id,
            "squad": {key: effect[key] for key in ("per_100", "low", "high")},
            "own_pulled": _interval(pulled),
            "own_alone": _interval(alone.get(contrast.id)),
        })  # fmt: skip
    return made


def _interval(interval: Interval | None) -> dict[str, float] | None:
    return {"per_100": interval.value, "low": interval.low, "high": interval.high} if interval else None


def own_pulled(fitted: Fitted, contrast: Contrast, athlete: int, df: float) -> Interval | None:
    """The contrast over one athlete's own sessions at the own modes: the own difference, pulled towards the
    squad's.

    The modes' own uncertainty is added to the delta-method variance, as if independent of the coefficients'.
    """
    compared = levels(contrast, fitted.design.rows)
    own = fitted.design.rows.group == athlete
    if not (own & compared.where).any():
        return None
    risks = risks_at(fitted, compared, own)
    mode_gradient = _mode_gradient(fitted, contrast, athlete)
    mode_se = np.nan_to_num(np.asarray(fitted.fit.mode_se)[athlete])
    variance = delta_se(risks.gradient_to - risks.gradient_from, fitted.fit.covariance) ** 2
    variance += float(((mode_gradient * mode_se) ** 2).sum())
    interval = t_interval(100 * risks.difference, 100 * float(np.sqrt(variance)), df)
    return interval


def _mode_gradient(fitted: Fitted, contrast: Contrast, athlete: int) -> Floats:
    """Derivative of one athlete's risk difference by the own modes (q,)."""
    design = fitted.design
    compared = levels(contrast, design.rows)
    own = (design.rows.group == athlete) & compared.where
    modes = np.asarray(fitted.fit.modes)[athlete]
    sides = []
    for values in (compared.at_from, compared.at_to):
        X, Z = set_exposures(design, values)
        X, Z = with_intercept(fitted, X[own]), Z[own]
        eta = X @ fitted.parameters[fitted.n_thresholds :] + Z @ modes
        if fitted.threshold is not None:
            eta = eta - fitted.parameters[fitted.threshold]
        risk = 1.0 / (1.0 + np.exp(-eta))
        sides.append((risk * (1 - risk)) @ Z / len(Z))
    gradient: Floats = sides[1] - sides[0]
    return gradient


def own_alone(rows: ModelRows, athlete: int, event: int) -> dict[str, Interval]:
    """Linear risk on one athlete's own reported sessions: exposures and a straight calendar trend, HC3
    errors.

    By exposure, per 100 sessions; only with 30 reported sessions and, for words, 10 at each level.
    """
    own = rows.reported & (rows.group == athlete)
    if own.sum() < FEWEST_REPORTED_ALONE:
        return {}
    y = 100.0 * (rows.frame["rating"].to_numpy(float)[own] >= event)
    names = [name for name in EXPOSURES if name not in rows.left_out]
    X = np.column_stack(
        [
            *(np.where(rows.applies[n], rows.values[n], 0.0)[own] for n in names),
            rows.frame["day"].to_numpy(float)[own],
        ]
    )
    keep = [j for j in range(X.shape[1]) if X[:, j].std() > 1e-8]
    fitted = _hc3(np.column_stack([np.ones(len(y)), X[:, keep]]), y)
    if fitted is None:
        return {}
    estimate, se, df = fitted
    shown = {}
    for place, j in enumerate(keep[: len(keep)], start=1):
        if j < len(names) and _both_levels(rows, own, names[j]):
            shown[names[j]] = t_interval(float(estimate[place]), float(se[place]), df)
    return shown


def _both_levels(rows: ModelRows, own: NDArray[np.bool_], exposure: str) -> bool:
    if exposure in AMOUNTS:
        return True
    contrast = next(item for item in FAMILY if item.id == exposure)
    counts = [int((at_level(contrast, rows, level) & own).sum()) for level in (contrast.reference, contrast.level)]
    return min(counts) >= FEWEST_AT_LEVEL_ALONE


def _hc3(X: Floats, y: Floats) -> tuple[Floats, Floats, int] | None:
    """Least squares with HC3 standard errors (MacKinnon JG, White H.

    J Econometrics 1985;29:305-325); None if singular.
    """
    if np.linalg.matrix_rank(X) < X.shape[1]:
        return None
    inverse = np.linalg.inv(X.T @ X)
    estimate = inverse @ (X.T @ y)
    leverage = np.einsum("ij,jk,ik->i", X, inverse, X)
    weight = ((y - X @ estimate) / np.maximum(1 - leverage, 1e-6)) ** 2
    covariance = inverse @ (X.T * weight) @ X @ inverse
    return estimate, np.sqrt(np.diag(covariance)), len(y) - X.shape[1]
