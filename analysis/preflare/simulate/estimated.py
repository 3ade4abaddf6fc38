"""Intensity as a log lets one estimate it: load over a 1RM worked out from earlier sets of the same bar.

The rule of the analysis plan (sections 10 and 11): per bar the median of the sessions' best estimates of the last 42
days; without one, the straight bar's estimate times the squad's own ratio of the two bars (three lifters with both),
else times the published ratio; else nothing. This is a second, plain implementation of what the store does in SQL.
"""

from collections import defaultdict
from collections.abc import Sequence
from itertools import groupby

import numpy as np

from preflare.simulate.draws import Draws, Floats
from preflare.simulate.lifting import LIFTING, SessionDone, estimates_of_one_rm, sessions_done
from preflare.simulate.worlds import SimulatedSeason

WINDOW_DAYS = 42
FEWEST_WITH_BOTH = 3
PUBLISHED_RATIO = {"safety": 128.8 / 144.7}
"""Vantrease et al. 2021, JSCR 35(2S):S1-S5: 128.8 kg with the safety bar, 144.7 kg with the straight bar."""
Bests = dict[tuple[int, str], list[tuple[int, float]]]


def estimated_intensity(season: SimulatedSeason) -> Floats:
    """% of the estimated 1RM for each session (n_athletes, n_slots); NaN where no 1RM could be estimated."""
    draws = Draws(season.seed, LIFTING)
    done = sessions_done(season, ["kg"] * season.n_athletes, draws)
    slot_of_day = {int(day): slot for slot, day in enumerate(season.day)}
    found = np.full(season.trained.shape, np.nan)
    bests: Bests = defaultdict(list)
    ratios: dict[str, list[tuple[int, float]]] = defaultdict(list)
    for _, of_the_day in groupby(sorted(done, key=lambda s: (s.day, s.lifter)), key=lambda s: s.day):
        sessions = list(of_the_day)
        for session in sessions:
            top = max(one.load or 0.0 for one in session.squats if not one.is_warm_up)
            one_rm = one_rm_estimate(session.lifter, session.bar, session.day, bests, ratios)
            found[session.lifter, slot_of_day[session.day]] = 100 * top / one_rm
        for session in sessions:
            _learn(session, bests, ratios)
    return found


def one_rm_estimate(lifter: int, bar: str, day: int, bests: Bests, ratios: dict[str, list[tuple[int, float]]]) -> float:
    """The 1RM (kg) for a bar as known before `day`; NaN when it is not.

    bests: (lifter, bar) -> (day, best estimate). ratios: bar -> (lifter, ratio to the straight bar), in order of time.
    """
    own = _median_of_window(bests[lifter, bar], day)
    if np.isfinite(own) or bar == "straight":
        return own
    straight = _median_of_window(bests[lifter, "straight"], day)
    known = ratios[bar]
    if len({who for who, _ in known}) >= FEWEST_WITH_BOTH:
        return straight * float(np.median([ratio for _, ratio in known]))
    return straight * PUBLISHED_RATIO.get(bar, np.nan)


def _median_of_window(points: Sequence[tuple[int, float]], day: int) -> float:
    recent = [estimate for when, estimate in points if 1 <= day - when <= WINDOW_DAYS]
    return float(np.median(recent)) if recent else np.nan


def _learn(session: SessionDone, bests: Bests, ratios: dict[str, list[tuple[int, float]]]) -> None:
    """Add the session's best estimate, and its ratio to the straight bar's where that is known."""
    estimates = [value for value in estimates_of_one_rm(session.squats) if np.isfinite(value)]
    if not estimates:
        return
    bests[session.lifter, session.bar].append((session.day, max(estimates)))
    straight = _median_of_window(bests[session.lifter, "straight"], session.day)
    if session.bar != "straight" and np.isfinite(straight):
        ratios[session.bar].append((session.lifter, max(estimates) / straight))
