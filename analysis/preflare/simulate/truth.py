"""What the exposures of a simulated season truly did: differences per 100 sessions, exact over the rating noise."""

from dataclasses import dataclass

import numpy as np
from scipy.special import expit

from preflare.simulate.constants import EFFECTS, constants
from preflare.simulate.draws import Bools, Floats
from preflare.simulate.worlds import (
    INTENSITY_UNIT,
    NOT_APPLICABLE,
    SimulatedSeason,
    exposure_levels,
    thresholds,
)

WEEKLY_SETS_MOVED = 5.0


@dataclass(frozen=True)
class Truth:
    """One contrast's truth. per_100: sessions of 100 with an event more at the second level than at the first.

    risk_from: events per 100 at the first level. mean_rating: difference of the mean rating.
    """

    per_100: float
    risk_from: float
    mean_rating: float


def truth(season: SimulatedSeason) -> dict[str, Truth]:
    """Truth of every contrast: this session's exposure set to either level, everything before as it was.

    Averaged over the sessions that took place; grip and bar position over those where they apply; weekly sets over
    sessions with a session in the 7 days before, whose sets are moved by 5 in all, shared evenly over its sessions.
    """
    levels = exposure_levels(season.intensity, season.bar, season.grip, season.position)
    slopes = season.lifters.slopes[:, None, :]
    parts = dict(zip(EFFECTS, np.moveaxis(slopes * levels, -1, 0), strict=True))
    slope = {name: np.broadcast_to(slopes[..., j], season.trained.shape) for j, name in enumerate(EFFECTS)}
    as_it_was = season.base + sum(parts.values())
    own_intensity = slope["intensity"] * (_mean_level(season)[:, None])
    half = slope["intensity"] / 2
    without_intensity = as_it_was - parts["intensity"] + own_intensity
    usual_bar = season.base + parts["intensity"]
    medium_grip = as_it_was - parts["narrow"] - parts["wide"]
    low_position = as_it_was - parts["high"]
    held = season.trained & (season.grip != NOT_APPLICABLE)
    pairs = {
        "intensity": (without_intensity - half, without_intensity + half, season.trained),
        "safety": (usual_bar, usual_bar + slope["safety"], season.trained),
        "cambered": (usual_bar, usual_bar + slope["cambered"], season.trained),
        "narrow": (medium_grip, medium_grip + slope["narrow"], held),
        "wide": (medium_grip, medium_grip + slope["wide"], held),
        "high": (low_position, low_position + slope["high"], held),
        "sets": _sets_pair(season, as_it_was),
    }
    if season.world.mild_only:
        return {name: _mild_difference(season, name, *pair) for name, pair in pairs.items()}
    return {name: _truth(*_passed(*pair)) for name, pair in pairs.items()}


def _mean_level(season: SimulatedSeason) -> Floats:
    centre = constants()["lifter"]["intensity_mean"]
    return np.asarray((season.lifters.mean_intensity - centre) / INTENSITY_UNIT)


def _sets_pair(season: SimulatedSeason, as_it_was: Floats) -> tuple[Floats, Floats, Bools]:
    """Log-odds with 2.5 sets fewer and more in the 7 days before; a set adds irritability that fades by the day."""
    days_back = season.day[:, None] - season.day[None, :]
    in_window = ((days_back >= 1) & (days_back <= 7)).astype(float)
    left = in_window * constants()["irritability"]["decay_per_day"] ** np.maximum(days_back, 0)
    trained = season.trained.astype(float)
    sessions = trained @ in_window.T
    mean_left = np.divide(trained @ left.T, sessions, out=np.zeros_like(sessions), where=sessions > 0)
    half = season.lifters.sets_effect[:, None] * mean_left * WEEKLY_SETS_MOVED / 2
    return as_it_was - half, as_it_was + half, season.trained & (sessions > 0)


def _passed(at_from: Floats, at_to: Floats, where: Bools) -> tuple[Floats, Floats]:
    """Chance to pass each cut point at either level, averaged over the sessions `where`."""
    passed_from, passed_to = (expit(eta[where][:, None] - thresholds()).mean(axis=0) for eta in (at_from, at_to))
    return passed_from, passed_to


def _mild_difference(season: SimulatedSeason, name: str, at_from: Floats, at_to: Floats, where: Bools) -> Truth:
    """The same where a session's own exposures move no event: events follow what was there before it alone.

    Weekly sets act through irritability, so they move events here as everywhere.
    """
    event = constants()["ratings"]["event"]
    before = _sets_pair(season, season.base)[:2] if name == "sets" else (season.base, season.base)
    mild, events = _passed(at_from, at_to, where), _passed(*before, where)
    joined = [np.concatenate([m[: event - 1], e[event - 1 :]]) for m, e in zip(mild, events, strict=True)]
    return _truth(*joined)


def _truth(passed_from: Floats, passed_to: Floats) -> Truth:
    event = constants()["ratings"]["event"]
    return Truth(
        per_100=float(100 * (passed_to - passed_from)[event - 1]),
        risk_from=float(100 * passed_from[event - 1]),
        mean_rating=float((passed_to - passed_from).sum()),
    )
