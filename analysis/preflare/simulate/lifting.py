"""What the squad of a simulated season lifted, set by set, so that a log can be written of it.

The heaviest set of a session lies at the planted share of the lifter's true 1RM for the bar; possible repetitions
follow Brzycki's equation (1RM = 36 load / (37 - possible repetitions); Brzycki M. JOPERD 1993;64(1):88-90), and the
repetitions done plus those left in reserve (10 - RPE) add up to them, with the noise of a real day.
Loads are in the unit of the plates that the lifter uses.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from preflare.simulate.draws import Draws, Floats
from preflare.simulate.worlds import BARS, FIRST_DAY, GRIPS, POSITIONS, SimulatedSeason

LIFTING = 10
"""Stream of random numbers."""
KG_PER_LB = 0.45359237
PLATES = {"kg": 2.5, "lb": 2.5}
EMPTY_BAR = {"kg": 20.0, "lb": 45.0}
SAFETY_RATIO, CAMBERED_RATIO = 0.89, 0.96
TOP_SET_FROM = 0.80
"""Share of 1RM from which a session is one top set and lighter ones; below it all sets are alike."""
MOST_REPS = 12
EFFORT_NOT_WRITTEN = 0.05
FAILED = 0.02
OTHER_WORK: tuple[tuple[tuple[str, float | None, int, int, float], ...], ...] = (
    (("bench press", 0.62, 4, 5, 0.9), ("row", 0.42, 3, 8, 0.8), ("hammer curl", 0.12, 3, 10, 0.45)),
    (("overhead press", 0.36, 3, 6, 0.7), ("pull-up", None, 3, 6, 0.75), ("curl", 0.18, 3, 10, 0.5)),
    (("bench press", 0.55, 3, 8, 0.85), ("reverse curl", 0.13, 2, 12, 0.4), ("front squat", 0.55, 2, 5, 0.08)),
)
"""By day of the week: exercise, load as a share of the squat 1RM (None: body weight), sets, repetitions, chance."""


@dataclass(frozen=True)
class LiftedSet:
    """One set. load: in the lifter's unit, None for body weight. rpe: None when not written."""

    load: float | None
    reps: int
    rpe: float | None = None
    is_warm_up: bool = False
    is_failed: bool = False


@dataclass(frozen=True)
class Work:
    """One exercise of a session. exercise: English name."""

    exercise: str
    sets: tuple[LiftedSet, ...]


@dataclass(frozen=True)
class SessionDone:
    """One lifter's session. bar, grip, position: canonical words or None. rating: None when unreported."""

    lifter: int
    day: int
    date: date
    unit: str
    bar: str
    grip: str | None
    position: str | None
    squats: tuple[LiftedSet, ...]
    others: tuple[Work, ...]
    session_rpe: int
    minutes: int
    rating: int | None
    is_reacting: bool
    planted_intensity: float


@dataclass(frozen=True)
class Strength:
    """True 1RM with the straight bar at the season's start (kg), its gain per day, and the other bars' ratios to it."""

    start_kg: float
    gain_per_day: float
    ratio: dict[str, float]

    def one_rm_kg(self, bar: str, day: int) -> float:
        return self.start_kg * (1 + self.gain_per_day * day) * self.ratio[bar]


def strengths(n: int, draws: Draws) -> list[Strength]:
    """How strong each lifter is. Gains of 4 to 9 % a season; safety bar about 11 % below the straight bar."""
    start = np.clip(125 * np.exp(0.28 * draws.normal(n)), 70, 230)
    gain = (0.04 + 0.05 * draws.uniform(n)) / 280
    safety = SAFETY_RATIO + 0.012 * draws.normal(n)
    cambered = CAMBERED_RATIO + 0.01 * draws.normal(n)
    return [
        Strength(
            float(start[i]),
            float(gain[i]),
            {"straight": 1.0, "safety": float(safety[i]), "cambered": float(cambered[i])},
        )
        for i in range(n)
    ]


def sessions_done(season: SimulatedSeason, units: list[str], draws: Draws) -> list[SessionDone]:
    """Every session of the season, by lifter and day. units: kg or lb for each lifter."""
    strong = strengths(season.n_athletes, draws)
    return [
        _session(season, lifter, int(slot), strong[lifter], units[lifter], draws)
        for lifter in range(season.n_athletes)
        for slot in np.flatnonzero(season.trained[lifter])
    ]


def _session(
    season: SimulatedSeason, lifter: int, slot: int, strength: Strength, unit: str, draws: Draws
) -> SessionDone:
    at = (lifter, slot)
    day = int(season.day[slot])
    bar = str(BARS[season.bar[at]])
    intensity = float(season.intensity[at])
    n_sets = int(season.sets[at])
    one_rm = strength.one_rm_kg(bar, day) / (KG_PER_LB if unit == "lb" else 1.0)
    squats = squat_sets(intensity / 100, n_sets, one_rm, unit, draws)
    u = draws.uniform(3)
    hard = 5 + (intensity - 75) / 6 + n_sets / 5 + 1.5 * (u[0] - 0.5)
    return SessionDone(
        lifter=lifter,
        day=day,
        date=FIRST_DAY + timedelta(days=day),
        unit=unit,
        bar=bar,
        grip=GRIPS[season.grip[at]],
        position=POSITIONS[season.position[at]],
        squats=squats,
        others=_other_work(slot % 3, one_rm, PLATES[unit], bool(season.reacting[at]), draws),
        session_rpe=int(np.clip(np.rint(hard), 3, 10)),
        minutes=int(60 + 5 * np.rint(n_sets + 6 * u[1])),
        rating=int(season.rating[at]) if season.reported[at] else None,
        is_reacting=bool(season.reacting[at]),
        planted_intensity=intensity,
    )


def possible_reps(share: float) -> float:
    """Repetitions to failure at a share of 1RM (Brzycki)."""
    return 37 - 36 * share


def to_plates(load: float, plate: float) -> float:
    return float(np.rint(load / plate) * plate)


def squat_sets(share: float, n_sets: int, one_rm: float, unit: str, draws: Draws) -> tuple[LiftedSet, ...]:
    """Warm-ups and n_sets working sets whose heaviest lies at `share` of the 1RM; loads and 1RM in `unit`."""
    plate = PLATES[unit]
    u, z = draws.uniform(5), draws.normal(2)
    top_load = to_plates(share * one_rm, plate)
    today = possible_reps(top_load / one_rm) + 0.6 * z[0]
    reps = int(np.clip(np.rint(today - 0.5 - 3 * u[0]), 1, MOST_REPS))
    rpe = float(np.clip(np.rint(2 * (10 - (today - reps) + 0.3 * z[1])) / 2, 5, 10))
    written = None if u[1] < EFFORT_NOT_WRITTEN else rpe
    warm_ups = _warm_ups(top_load, one_rm, unit)
    if share < TOP_SET_FROM or n_sets == 1:
        work = [LiftedSet(top_load, reps, rpe)] * n_sets
    else:
        lighter = max(share - 0.08 - 0.05 * u[2], 0.55)
        load = min(to_plates(lighter * one_rm, plate), top_load - plate)
        easy = int(np.clip(np.rint(possible_reps(load / one_rm) - 5 - 2 * u[3]), 2, 8))
        work = [LiftedSet(top_load, reps, written), *[LiftedSet(load, easy)] * (n_sets - 1)]
    if u[4] < FAILED and n_sets > 2:
        last = work[-1]
        work[-1] = LiftedSet(last.load, max(last.reps - 2, 0), 10.0, is_failed=True)
    return (*warm_ups, *work)


def _warm_ups(top_load: float, one_rm: float, unit: str) -> list[LiftedSet]:
    """Two or three lighter sets below 45 % of the 1RM, so that an unmarked one can be told from work by its load."""
    loads = sorted({max(to_plates(share * one_rm, PLATES[unit]), EMPTY_BAR[unit]) for share in (0.3, 0.38, 0.44)})
    reps = (8, 5, 3)
    return [LiftedSet(load, n, is_warm_up=True) for load, n in zip(loads, reps, strict=False) if 0 < load < top_load]


def _other_work(slot: int, one_rm: float, plate: float, is_reacting: bool, draws: Draws) -> tuple[Work, ...]:
    """Presses, pulls and curls of the day: bench and rows, press and pull-ups, bench and curls by turns."""
    u = draws.uniform(8)
    done = []
    for j, (exercise, share, n_sets, reps, chance) in enumerate(OTHER_WORK[slot]):
        if is_reacting and "curl" in exercise:
            chance *= 0.6  # an arm that hurts curls less
        if u[j] < chance:
            load = None if share is None else to_plates(share * one_rm * (0.95 + 0.1 * u[3 + j]), plate)
            n = n_sets + int(u[6] < 0.3) - int(u[7] < 0.2)
            done.append(Work(exercise, (LiftedSet(load, reps),) * n))
    return tuple(done)


def estimates_of_one_rm(sets: tuple[LiftedSet, ...]) -> Floats:
    """Brzycki's estimate of the 1RM from each set; NaN for warm-ups, failed sets and above 10 possible repetitions.

    A set without an effort mark counts as if nothing had been left in reserve: a lower bound.
    """
    estimates = []
    for one in sets:
        possible = one.reps + (10 - one.rpe if one.rpe is not None else 0)
        usable = not one.is_warm_up and not one.is_failed and one.load and possible <= 10
        estimates.append(36 * (one.load or np.nan) / (37 - possible) if usable else np.nan)
    return np.array(estimates)
