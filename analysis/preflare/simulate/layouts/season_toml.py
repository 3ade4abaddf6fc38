"""season.toml of the invented club: the season, nicknames, competitions, recorded changes, the club's own words."""

import json
from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path

import numpy as np

from preflare.simulate.lifters import competition_weeks
from preflare.simulate.people import CLUB, Person
from preflare.simulate.worlds import FIRST_DAY, SAFETY, SimulatedSeason

FILE = "season.toml"
SATURDAY = 5
MEETS = ("Frost meet", "Thaw meet", "Solstice meet")
EARLIEST_CHANGE_WEEK = 8


def write(folder: Path, season: SimulatedSeason, lifters: Sequence[Person], seed: int) -> None:
    """Write season.toml beside the logs."""
    last = FIRST_DAY + timedelta(days=7 * (int(season.week[-1]) + 1) - 1)
    blocks = [
        "# What the logs do not say for themselves. Every key is optional.",
        f"[season]\nname = {_text(f'{CLUB} {FIRST_DAY.year}/{last.year % 100}')}\nfrom = {FIRST_DAY}\nto = {last}\n"
        f'default_site = "elbow"\nseed = {seed}',
        '[words]\nbar.safety = ["ox bar"]',
        *(_athlete(person) for person in lifters if person.nickname),
        *_competitions(season, lifters),
        *_changes(season, lifters),
    ]
    (folder / FILE).write_text("\n\n".join(blocks) + "\n", encoding="utf-8", newline="\n")


def _text(value: str) -> str:
    return json.dumps(value, ensure_ascii=False)


def _athlete(person: Person) -> str:
    return f"[[athlete]]\nname = {_text(person.name)}\naliases = [{_text(person.nickname or '')}]"


def _competitions(season: SimulatedSeason, lifters: Sequence[Person]) -> list[str]:
    blocks = []
    for j, week in enumerate(competition_weeks(season.world)):
        names = [_text(person.name) for i, person in enumerate(lifters) if season.lifters.entered[i, j]]
        day = FIRST_DAY + timedelta(days=7 * week + SATURDAY)
        if names:
            blocks.append(
                f"[[competition]]\ndate = {day}\nname = {_text(MEETS[j])}\nathletes = [\n    "
                + ",\n    ".join(names)
                + ",\n]"
            )
    return blocks


def recorded_changes(season: SimulatedSeason) -> list[tuple[int, int, str, str]]:
    """(lifter, day, what, why) of the two changes that the coach wrote down: those who were eased off longest."""
    late = season.trained & season.reacting & (season.week >= EARLIEST_CHANGE_WEEK)[None, :]
    order = np.argsort(-late.sum(axis=1), kind="stable")
    changes = []
    for lifter, what in zip(order, ("moved to the safety bar", "lighter squats and fewer sets"), strict=False):
        eased = late[lifter] & ((season.bar[lifter] == SAFETY) | (what != "moved to the safety bar"))
        if eased.any():
            changes.append((int(lifter), int(season.day[np.flatnonzero(eased)[0]]), what, "elbow pain"))
    return changes


def _changes(season: SimulatedSeason, lifters: Sequence[Person]) -> list[str]:
    return [
        f"[[change]]\ndate = {FIRST_DAY + timedelta(days=day)}\nathletes = [{_text(lifters[lifter].name)}]\n"
        f"what = {_text(what)}\nwhy = {_text(why)}"
        for lifter, day, what, why in recorded_changes(season)
    ]
