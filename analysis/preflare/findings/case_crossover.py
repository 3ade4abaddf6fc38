"""Onset sessions against other sessions of the same athlete in the same four weeks. Description, never graded.

Time-stratified: the season is cut into fixed blocks of 28 days, and an onset is compared with the athlete's other
reported sessions of its block in which an onset could have been. What does not change within the block drops out.
Source: Janes H, Sheppard L, Lumley T. Epidemiology 2005;16:717-726 (from memory). Training changes after a flare-up, so
the sessions after an onset are no clean comparison: the figures describe.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from preflare.findings.flare_ups import rated_days
from preflare.models.conditional import fit_conditional
from preflare.models.rows import EXPOSURES, UNIT, exposure_values
from preflare.models.standardise import t_interval
from preflare.settings import FlareUp

Floats = NDArray[np.float64]
BLOCK_DAYS = 28
FEWEST_STRATA = 10
FEWEST_CHANGES = 5  # onsets in whose four weeks an exposure changes; below it one day decides (no published source)


@dataclass(frozen=True)
class Strata:
    """Rows (index of the frame) of every stratum, which of them is the onset, the stratum's code and its athlete."""

    rows: NDArray[np.int64]
    is_case: NDArray[np.bool_]
    stratum: NDArray[np.int64]
    athlete: tuple[str, ...]


def onset_strata(frame: pd.DataFrame, rule: FlareUp) -> Strata:
    """Each onset session with the athlete's other sessions at risk in the same 28-day block of the season.

    At risk: reported, with a known baseline, in no flare-up. Onsets without another such session leave.
    """
    rows: list[int] = []
    is_case: list[bool] = []
    stratum: list[int] = []
    athletes: list[str] = []
    for athlete, own in frame[frame["rating"].notna()].groupby("athlete", sort=True):
        daily = own.groupby("date")["rating"].max()
        days = dict(zip(daily.index, rated_days(daily.tolist(), rule), strict=True))
        first_of = {number: day for day, rated in reversed(list(days.items())) if (number := rated.number)}
        last_of_day = own.groupby("date").tail(1)
        block = list(zip(last_of_day["season"], last_of_day["day"] // BLOCK_DAYS, strict=True))
        at_risk = [days[date].is_high is not None and days[date].number is None for date in last_of_day["date"]]
        places = list(last_of_day.index)
        for onset in sorted(first_of.values()):
            i = list(last_of_day["date"]).index(onset)
            others = [j for j in range(len(places)) if at_risk[j] and block[j] == block[i]]
            if others:
                rows += [places[i], *(places[j] for j in others)]
                is_case += [True, *[False] * len(others)]
                stratum += [len(athletes)] * (1 + len(others))
                athletes.append(str(athlete))
    return Strata(np.array(rows, dtype=np.int64), np.array(is_case, dtype=bool), np.array(stratum, dtype=np.int64),
                  tuple(athletes))  # fmt: skip


def case_crossover(frame: pd.DataFrame, rule: FlareUp) -> dict[str, Any] | None:
    """Odds ratios of an onset by exposure, each per its UNIT, t intervals robust to several onsets of one athlete.

    An exposure that changes around fewer than five onsets leaves. None with fewer than ten onsets that have a
    comparison, or where the figures run to infinity all the same.
    """
    strata = onset_strata(frame, rule)
    values, applies = exposure_values(frame)
    usable = [name for name in EXPOSURES if values[name].where(applies[name], 0.0).notna().mean() > 0.5]
    X = values.where(applies, 0.0)[usable].loc[strata.rows].to_numpy(float) if len(strata.rows) else np.zeros((0, 0))
    complete = _complete(X, strata)
    if len(complete.athlete) < FEWEST_STRATA:
        return None
    X = values.where(applies, 0.0)[usable].loc[complete.rows].to_numpy(float)
    varying = [j for j in range(X.shape[1]) if _changing_strata(X[:, j], complete.stratum) >= FEWEST_CHANGES]
    if not varying:
        return None
    fit = fit_conditional(X[:, varying], complete.is_case, complete.stratum)
    if not fit.converged:
        return None
    covariance, clusters = _clustered(fit.covariance, fit.scores, complete.athlete)
    records = []
    for place, j in enumerate(varying):
        b, se = float(fit.coefficients[place]), float(np.sqrt(covariance[place, place]))
        interval = t_interval(b, se, clusters - 1)
        odds = {
            key: float(np.exp(value))
            for key, value in zip(("odds_ratio", "low", "high"), (b, interval.low, interval.high), strict=True)
        }
        records.append({"exposure": usable[j], "per": UNIT.get(usable[j], 1.0), **odds})
    rare = [{"exposure": name, "per": UNIT.get(name, 1.0)} for j, name in enumerate(usable) if j not in varying]
    counts = {"onsets": len(complete.athlete), "sessions": len(complete.rows), "athletes": clusters}
    told = {"exposures": records, "left_out": rare, "grade": None, "exploratory": True}
    return told | counts | {"block_days": BLOCK_DAYS}


def _complete(X: Floats, strata: Strata) -> Strata:
    """The strata less rows with an unwritten exposure, and less strata that then lack the onset or any comparison."""
    known = ~np.isnan(X).any(axis=1)
    size = len(strata.athlete)
    with_case = np.bincount(strata.stratum[known & strata.is_case], minlength=size) == 1
    with_other = np.bincount(strata.stratum[known & ~strata.is_case], minlength=size) > 0
    keep_stratum = with_case & with_other
    keep = known & keep_stratum[strata.stratum]
    code = np.cumsum(keep_stratum) - 1
    athletes = tuple(name for name, kept in zip(strata.athlete, keep_stratum, strict=True) if kept)
    return Strata(strata.rows[keep], strata.is_case[keep], code[strata.stratum[keep]], athletes)


def _changing_strata(x: Floats, stratum: NDArray[np.int64]) -> int:
    """In how many strata the exposure is not the same throughout."""
    mean = np.bincount(stratum, weights=x) / np.bincount(stratum)
    return len(np.unique(stratum[np.abs(x - mean[stratum]) > 1e-9]))


def _clustered(covariance: Floats, scores: Floats, athlete: tuple[str, ...]) -> tuple[Floats, int]:
    """Sandwich covariance with scores summed over an athlete's strata, and how many athletes."""
    codes = np.unique(np.array(athlete), return_inverse=True)[1]
    clusters = int(codes.max()) + 1
    summed = np.stack([np.bincount(codes, weights=column) for column in scores.T], axis=1)
    factor = clusters / (clusters - 1) if clusters > 1 else np.nan
    return covariance @ (summed.T @ summed) @ covariance * factor, clusters
