"""The lifters of a simulated season: their habits, and how their arms answer to each exposure."""

from dataclasses import dataclass

import numpy as np
from scipy.special import expit

from preflare.simulate.constants import EFFECTS, World, constants
from preflare.simulate.draws import Bools, Draws, Floats


@dataclass(frozen=True)
class Lifters:
    """What each lifter is like, (n_athletes,) each.

    level: log-odds. mean_intensity: % of 1RM. sets: working sets in an ordinary session. safety, cambered, narrow,
    wide, high: the share chosen of the lifter's own accord (wide: of what is not narrow). slopes: (n, 6) log-odds in
    the order of EFFECTS. sets_effect: irritability per set. entered: (n, n_competitions).
    """

    level: Floats
    mean_intensity: Floats
    sets: Floats
    safety: Floats
    cambered: Floats
    narrow: Floats
    wide: Floats
    high: Floats
    slopes: Floats
    sets_effect: Floats
    entered: Bools


def draw_lifters(world: World, n: int, draws: Draws) -> Lifters:
    """n lifters, their habits and how their arms answer to each exposure."""
    table, planted = constants()["lifter"], constants()["planted"]
    level = draws.normal(n)
    means = np.array([planted["mean"][name] for name in EFFECTS]) * (world.effects == "planted")
    spreads = np.array([planted["sd"][name] for name in EFFECTS]) * (world.effects != "none")
    slopes = means + spreads * draws.normal((n, len(EFFECTS)))
    log_sd = planted["sets_log_sd"]
    sets_effect = planted["sets_mean"] * np.exp(log_sd * draws.normal(n) - log_sd**2 / 2)
    wide = np.where(draws.happens(table["never_wide"], n), 0.0, draws.leaning_to_0(table["wide_power"], n))
    return Lifters(
        level=level,
        mean_intensity=table["intensity_mean"]
        + table["intensity_by_level"] * level
        + table["intensity_sd"] * draws.normal(n),
        sets=table["sets_median"] * np.exp(table["sets_log_sd"] * draws.normal(n) + table["sets_by_level"] * level),
        safety=_share_of_bar(draws, level, table["never_safety"], table["safety_logit"]),
        cambered=_share_of_bar(draws, level, table["never_cambered"], table["cambered_logit"]),
        narrow=_share_of_habit(draws, n, table["one_grip_only"], table["one_grip_narrow"], table["narrow_power"]),
        wide=wide,
        high=_share_of_habit(draws, n, table["one_position_only"], table["one_position_high"], table["high_power"]),
        slopes=slopes,
        sets_effect=sets_effect * (world.effects == "planted"),
        entered=_entries(world, n, draws),
    )


def _share_of_bar(draws: Draws, level: Floats, never: float, logit: dict[str, float]) -> Floats:
    n = len(level)
    share = expit(logit["mean"] + logit["by_level"] * level + logit["sd"] * draws.normal(n))
    return np.where(draws.happens(never, n), 0.0, share)


def _share_of_habit(draws: Draws, n: int, only_one: float, that_one: float, power: float) -> Floats:
    """Share of sessions held one way: some lifters never change, the others do so more or less often."""
    always = draws.happens(that_one, n).astype(float)
    return np.where(draws.happens(only_one, n), always, draws.leaning_to_0(power, n))


def competition_weeks(world: World) -> list[int]:
    """Weeks in which the squad's competitions lie; a shared meet is the middle one alone."""
    weeks = list(constants()["calendar"]["competition_weeks"])
    return weeks[1:2] if world.shared_meet else weeks


def _entries(world: World, n: int, draws: Draws) -> Bools:
    entered = draws.happens(constants()["calendar"]["entering"], (n, len(competition_weeks(world))))
    return entered | world.shared_meet
