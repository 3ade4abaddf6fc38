"""Each athlete: counts, flare-ups, the squad's and the own estimates, warnings. Alphabetical; no grade, no rank."""

import re
import unicodedata
from collections.abc import Mapping
from typing import Any

import pandas as pd

from preflare.findings.contrasts import FAMILY
from preflare.findings.evidence import Graded
from preflare.findings.grade import TOO_LITTLE
from preflare.findings.own import own_alone, own_pulled, rows_of_athletes
from preflare.findings.words import sentence
from preflare.models.standardise import Interval

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
    own_frames = {str(name): own for name, own in frame.groupby("athlete")}
    own_onsets = {str(name): own for name, own in onsets.groupby("athlete")}
    names = sorted(own_frames, key=str.casefold)
    slugs, estimates = _slugs(names), _estimates(graded, findings)
    none = onsets.iloc[:0]
    return [
        {
            "name": name,
            "slug": slugs[name],
            "sessions": len(own),
            "reported": int(own["rating"].notna().sum()),
            "events": int((own["rating"] >= graded.event).sum()),
            "onsets": len(own_onsets.get(name, none)),
            "flare_ups": _flare_ups(own_onsets.get(name, none)),
            "estimates": estimates.get(name, []),
            "warnings": _warnings(own, name, views),
        }
        for name in names
        for own in [own_frames[name]]
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


def _estimates(graded: Graded, findings: list[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    """By athlete in the models: the squad's estimate, the own one pulled towards it, the own one alone."""
    fits = graded.fits
    if fits is None:
        return {}
    names = fits.rows.athletes
    alone = [own_alone(fits.rows, places, graded.event) for places in rows_of_athletes(fits.rows)]
    made: dict[str, list[dict[str, Any]]] = {name: [] for name in names}
    for contrast, finding in zip(FAMILY, findings, strict=True):
        fitted = fits.models(contrast.id).primary
        if finding["grade"] == TOO_LITTLE or fitted is None:
            continue
        squad = {key: finding["effect"][key] for key in ("per_100", "low", "high")}
        pulled = own_pulled(fitted, contrast, float(finding["effect"]["df"]))
        for code, name in enumerate(names):
            own = {"own_pulled": _interval(pulled[code]), "own_alone": _interval(alone[code].get(contrast.id))}
            made[name].append({"id": contrast.id, "squad": squad, **own})
    return made


def _interval(interval: Interval | None) -> dict[str, float] | None:
    return {"per_100": interval.value, "low": interval.low, "high": interval.high} if interval else None
