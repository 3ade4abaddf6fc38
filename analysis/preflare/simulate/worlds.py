"""Seasons with known causes: what lifters did, what it did to their arms, and what the coach did about it.

A rating is the number of cut points below `log-odds + logistic noise`. The log-odds are the lifter's level, plus
irritability (it fades by a fixed share a day and is fed by sets and by what the exposures added), plus the season and
the nearness of a competition, plus this session's exposures. After two sessions in a row at the event rating the
coach turns to the safety bar and to lighter, shorter sessions. All constants stand in worlds.toml.

Arrays are (n_athletes, n_slots); a slot is one day on which the squad squats.
"""

from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit

from preflare.simulate.constants import World, constants, world_named
from preflare.simulate.draws import Bools, Draws, Floats, Seed
from preflare.simulate.lifters import Lifters, competition_weeks, draw_lifters
from preflare.simulate.other_lifts import OtherLifts

Ints = NDArray[np.int64]
STRAIGHT, SAFETY, CAMBERED = 0, 1, 2
MEDIUM, NARROW, WIDE, NOT_APPLICABLE = 0, 1, 2, -1
LOW, HIGH = 0, 1
BARS = np.array(["straight", "safety", "cambered"], dtype=object)
GRIPS = np.array(["medium", "narrow", "wide", None], dtype=object)
POSITIONS = np.array(["low", "high", None], dtype=object)
"""The program's words for the codes; NOT_APPLICABLE, -1, finds the last."""
FIRST_DAY = date(2025, 9, 1)
"""A Monday, day 0 of every simulated season."""
INTENSITY_UNIT = 10.0
LIFTERS, SESSIONS, OTHER_LIFTS = 0, 1, 2
"""Streams of random numbers: a world that draws more of one kind leaves the others as they were."""


@dataclass(frozen=True)
class SimulatedSeason:
    """Everything that happened, known and unknown to a log. Arrays (n_athletes, n_slots) unless said.

    day, week: (n_slots,), from 0. trained: whether there was a session; other arrays mean nothing where it is False.
    intensity: % of 1RM. intensity_logged: the same with the log's error of the 1RM. bar, grip, position: codes of
    this module, NOT_APPLICABLE where a bar has none. sets: working squat sets. rating: 0 to 10 after the session,
    whether reported or not. reacting: the coach had changed the session because of pain.
    weeks_to_competition: to the next one entered, at most 12. competition_ahead: there is such a one.
    base: log-odds without this session's exposures. pressing, pulling, elbow_flexion: sets, None in worlds without.
    """

    world: World
    seed: Seed
    lifters: Lifters
    day: Ints
    week: Ints
    trained: Bools
    intensity: Floats
    intensity_logged: Floats
    bar: Ints
    grip: Ints
    position: Ints
    sets: Floats
    rating: Ints
    reported: Bools
    reacting: Bools
    weeks_to_competition: Floats
    competition_ahead: Bools
    base: Floats
    pressing: Floats | None
    pulling: Floats | None
    elbow_flexion: Floats | None

    @property
    def n_athletes(self) -> int:
        return int(self.trained.shape[0])


@dataclass
class _State:
    """What a lifter brings into the next slot, (n_athletes,) each; changed slot by slot."""

    irritability: Floats
    last_day: Floats
    events_in_a_row: Ints
    reaction_left: Ints
    bar: Ints
    grip: Ints
    position: Ints
    block: Floats
    volume: Floats
    one_rm_error: Floats


def simulate_season(world: str, n_athletes: int, seed: Seed, weeks: int | None = None) -> SimulatedSeason:
    """One season of `world`. weeks: that world's own number when None. The same seed gives the same season."""
    options = world_named(world)
    return _simulate(options, n_athletes, seed, options.weeks if weeks is None else weeks)


def _simulate(world: World, n: int, seed: Seed, weeks: int) -> SimulatedSeason:
    lifters = draw_lifters(world, n, Draws(seed, LIFTERS))
    draws = Draws(seed, SESSIONS)
    state = _first_state(world, lifters, draws)
    other_lifts = OtherLifts(n, Draws(seed, OTHER_LIFTS)) if world.curling else None
    records = []
    calendar = constants()["calendar"]
    for week in range(weeks):
        _new_week(world, state, draws)
        if other_lifts is not None:
            other_lifts.new_week(state.volume)
        for slot in range(calendar["sessions_a_week"]):
            records.append(_session(world, lifters, state, draws, week, slot, other_lifts))
    columns: dict[str, Any] = {name: np.stack([record[name] for record in records], axis=1) for name in records[0]}
    return SimulatedSeason(
        world=world,
        seed=seed,
        lifters=lifters,
        day=columns.pop("day")[0].astype(np.int64),
        week=columns.pop("week")[0].astype(np.int64),
        **{name: columns.pop(name, None) for name in ("pressing", "pulling", "elbow_flexion")},
        **columns,
    )


def _first_state(world: World, lifters: Lifters, draws: Draws) -> _State:
    n = len(lifters.level)
    return _State(
        irritability=constants()["irritability"]["sd"] * draws.normal(n) + _usual_load(world, lifters),
        last_day=np.zeros(n),
        events_in_a_row=np.zeros(n, dtype=np.int64),
        reaction_left=np.zeros(n, dtype=np.int64),
        bar=np.full(n, STRAIGHT),
        grip=_draw_grip(lifters, draws),
        position=draws.happens(lifters.high, n).astype(np.int64),
        block=draws.normal(n),
        volume=draws.normal(n),
        one_rm_error=world.one_rm_error * draws.normal(n),
    )


def _usual_load(world: World, lifters: Lifters) -> Floats:
    """The irritability that an ordinary week's sets keep up; taken off the log-odds so that levels stay comparable."""
    per_set = constants()["planted"]["sets_mean"] * (world.effects == "planted")
    return np.asarray(per_set * lifters.sets * constants()["irritability"]["typical_sessions"], dtype=np.float64)


def _draw_grip(lifters: Lifters, draws: Draws) -> Ints:
    u = draws.uniform(len(lifters.narrow))
    wide = u < lifters.narrow + (1.0 - lifters.narrow) * lifters.wide
    return np.where(u < lifters.narrow, NARROW, np.where(wide, WIDE, MEDIUM))


def _new_week(world: World, state: _State, draws: Draws) -> None:
    """Blocks of intensity and volume, and the error of the 1RM, drift from week to week."""
    n = len(state.block)
    memory, error_memory = constants()["coaching"]["block_memory"], constants()["one_rm"]["memory"]
    state.block = memory * state.block + np.sqrt(1 - memory**2) * draws.normal(n)
    state.volume = memory * state.volume + np.sqrt(1 - memory**2) * draws.normal(n)
    fresh = np.sqrt(1 - error_memory**2) * world.one_rm_error * draws.normal(n)
    state.one_rm_error = error_memory * state.one_rm_error + fresh


def _session(
    world: World, lifters: Lifters, state: _State, draws: Draws, week: int, slot: int, other: OtherLifts | None
) -> dict[str, Any]:
    """One slot: the coach plans, the lifter squats, the arm answers. Changes `state`, returns the slot's record."""
    n = len(lifters.level)
    calendar = constants()["calendar"]
    day = 7 * week + calendar["day_step"] * slot
    trained = draws.happens(calendar["attendance"][slot], n)
    gap, ahead = _weeks_to_competition(world, lifters, week)
    nearness = 1.0 - gap / calendar["longest_weeks"]
    irritability = _faded(state, day, draws)
    reacting = _reacting(world, lifters, state, irritability, draws)
    intensity, sets = _plan_load(lifters, state, draws, nearness, slot, reacting)
    bar = _plan_bar(lifters, state, draws, nearness, reacting)
    grip, position = _hold(world, lifters, state, draws, bar, reacting)
    levels = exposure_levels(intensity, bar, grip, position)
    base = lifters.level + irritability - _usual_load(world, lifters) + _calendar_effect(nearness, week)
    added = (lifters.slopes * levels).sum(axis=1)
    rating = _rate(world, base, added, draws)
    reported = draws.happens(_chance_of_report(world, rating, bar), n)
    record: dict[str, Any] = {
        "day": np.full(n, day), "week": np.full(n, week), "trained": trained, "reacting": reacting, "base": base,
        "intensity": intensity, "intensity_logged": intensity * (1.0 + state.one_rm_error), "sets": sets,
        "bar": bar, "grip": grip, "position": position, "rating": rating, "reported": reported,
        "weeks_to_competition": gap, "competition_ahead": ahead,
    }  # fmt: skip
    usual = lifters.slopes[:, 0] * (lifters.mean_intensity - constants()["lifter"]["intensity_mean"]) / INTENSITY_UNIT
    carried = constants()["irritability"]["carry_over"] * (added - usual) + lifters.sets_effect * sets
    if other is not None:
        record |= other.session(nearness, reacting)
        carried = carried + other.irritation(record["elbow_flexion"])
    _remember(world, state, draws, day, trained, irritability + carried, rating, bar, reacting)
    return record


def _weeks_to_competition(world: World, lifters: Lifters, week: int) -> tuple[Floats, Bools]:
    """Weeks to the next competition entered, at most 12, and whether there is one."""
    longest = float(constants()["calendar"]["longest_weeks"])
    gap = np.full(len(lifters.level), np.inf)
    for j, meet in enumerate(competition_weeks(world)):
        if meet >= week:
            gap = np.where(lifters.entered[:, j], np.minimum(gap, meet - week), gap)
    return np.minimum(gap, longest), np.isfinite(gap)


def _faded(state: _State, day: int, draws: Draws) -> Floats:
    """Irritability after the days since the last session: it fades, and life adds to it."""
    table = constants()["irritability"]
    left = table["decay_per_day"] ** (day - state.last_day)
    return np.asarray(state.irritability * left + table["sd"] * np.sqrt(1 - left**2) * draws.normal(len(left)))


def _reacting(world: World, lifters: Lifters, state: _State, irritability: Floats, draws: Draws) -> Bools:
    table = constants()["reaction"]
    reacting = (state.reaction_left > 0) & world.reacts
    if world.reacts_to_felt:
        felt = irritability - _usual_load(world, lifters) + lifters.level - table["felt_threshold"]
        reacting = reacting | draws.happens(expit(table["felt_slope"] * felt), len(felt))
    return reacting


def _plan_load(
    lifters: Lifters, state: _State, draws: Draws, nearness: Floats, slot: int, reacting: Bools
) -> tuple[Floats, Floats]:
    """Intensity of the heaviest set (% of 1RM) and working sets: blocks, the day of the week, the competition."""
    table, reaction, n = constants()["coaching"], constants()["reaction"], len(nearness)
    centre = constants()["calendar"]["competition_centre"]
    intensity = (
        lifters.mean_intensity
        + table["intensity_by_nearness"] * (nearness - centre)
        + table["intensity_by_block"] * state.block
        + table["intensity_by_slot"][slot]
        + table["intensity_noise"] * draws.normal(n)
        + reaction["intensity"] * reacting
    )
    swing = np.exp(table["sets_block_sd"] * state.volume + table["sets_noise_sd"] * draws.normal(n))
    planned = lifters.sets * (1 + table["sets_by_nearness"] * nearness) * swing * (1 + reaction["sets"] * reacting)
    return intensity, np.maximum(1.0, np.rint(planned))


def _plan_bar(lifters: Lifters, state: _State, draws: Draws, nearness: Floats, reacting: Bools) -> Ints:
    """Half of the time the bar of last time, else by habit, less often far from straight near a competition."""
    table, n = constants()["coaching"], len(nearness)
    off_season = 1 + table["bar_by_nearness"] * nearness
    u = draws.uniform(n)
    drawn = np.where(
        u < lifters.safety * off_season,
        SAFETY,
        np.where(u < (lifters.safety + lifters.cambered) * off_season, CAMBERED, STRAIGHT),
    )
    bar = np.where(draws.happens(table["new_bar"], n), drawn, state.bar)
    return np.where(reacting & draws.happens(constants()["reaction"]["safety"], n), SAFETY, bar)


def _hold(world: World, lifters: Lifters, state: _State, draws: Draws, bar: Ints, reacting: Bools) -> tuple[Ints, Ints]:
    """Grip width and bar position of the session; the forward handles of a safety bar have neither."""
    table, reaction, n = constants()["coaching"], constants()["reaction"], len(bar)
    drawn = _draw_grip(lifters, draws)
    state.grip = np.where(draws.happens(table["new_grip"], n), drawn, state.grip)
    drawn_position = draws.happens(lifters.high, n).astype(np.int64)
    state.position = np.where(draws.happens(table["new_position"], n), drawn_position, state.position)
    eased = reacting & draws.happens(reaction["off_narrow"], n) & (state.grip == NARROW)
    raised = reacting & draws.happens(reaction["to_high"], n)
    grip = np.where(eased, MEDIUM, state.grip)
    position = np.where(raised, HIGH, state.position)
    if world.grip_on_safety:
        return grip, position
    return np.where(bar == SAFETY, NOT_APPLICABLE, grip), np.where(bar == SAFETY, NOT_APPLICABLE, position)


def exposure_levels(intensity: Floats, bar: Ints, grip: Ints, position: Ints) -> Floats:
    """Exposures as numbers, last axis in the order of EFFECTS; intensity from 78 % in steps of 10 points."""
    levels = [
        (intensity - constants()["lifter"]["intensity_mean"]) / INTENSITY_UNIT,
        bar == SAFETY,
        bar == CAMBERED,
        grip == NARROW,
        grip == WIDE,
        position == HIGH,
    ]
    return np.stack([np.asarray(level, dtype=np.float64) for level in levels], axis=-1)


def _calendar_effect(nearness: Floats, week: int) -> Floats:
    table = constants()["calendar"]
    phase = 2 * np.pi * (week + table["season_shift_weeks"]) / table["season_period_weeks"]
    near = table["competition_effect"] * (nearness - table["competition_centre"])
    return np.asarray(near + table["season_amplitude"] * np.cos(phase))


def thresholds() -> Floats:
    return np.array(constants()["ratings"]["thresholds"])


def _rate(world: World, base: Floats, added: Floats, draws: Draws) -> Ints:
    """Ratings 0 to 10: the number of cut points passed."""
    noise = draws.logistic(len(base))
    rating = _cuts_passed(base + added + noise)
    if world.mild_only:
        event = constants()["ratings"]["event"]
        without = _cuts_passed(base + noise)
        rating = np.where(without >= event, without, np.minimum(rating, event - 1))
    return rating


def _cuts_passed(value: Floats) -> Ints:
    return np.asarray((value[:, None] > thresholds()).sum(axis=1), dtype=np.int64)


def _chance_of_report(world: World, rating: Ints, bar: Ints) -> Floats:
    table, event = constants()["reporting"], constants()["ratings"]["event"]
    rarer, chance = {
        "zero": (rating == 0, table["none"]),
        "high": (rating >= event, table["high"]),
        "random": (rating >= 0, table["random"]),
        "skipped": ((rating >= event) & (bar == SAFETY), table["skipped"]),
    }[world.miss]
    return np.where(rarer, float(chance), float(table["some"]))


def _remember(
    world: World, state: _State, draws: Draws, day: int, trained: Bools, irritability: Floats, rating: Ints, bar: Ints,
    reacting: Bools,
) -> None:  # fmt: skip
    """Carry what happened into the next slot, for those who trained."""
    table, event = constants()["reaction"], constants()["ratings"]["event"]
    state.irritability = np.where(trained, irritability, state.irritability)
    state.last_day = np.where(trained, day, state.last_day)
    in_a_row = np.where(rating >= event, state.events_in_a_row + 1, 0)
    state.events_in_a_row = np.where(trained, in_a_row, state.events_in_a_row)
    left = np.where(trained, np.maximum(state.reaction_left - 1, 0), state.reaction_left)
    starts = trained & (state.events_in_a_row >= table["after_events"]) & world.reacts
    state.reaction_left = np.where(starts, draws.whole(table["shortest"], table["longest"], len(left)), left)
    state.bar = np.where(trained & ~reacting, bar, state.bar)
