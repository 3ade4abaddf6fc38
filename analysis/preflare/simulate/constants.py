"""The constants of worlds.toml: what every simulated season rests on, and what each world changes."""

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from preflare.errors import UsageError

EFFECTS = ("intensity", "safety", "cambered", "narrow", "wide", "high")
"""Exposures of a session itself, in the order of a lifter's slopes. Sets act through irritability alone."""
FILE = Path(__file__).with_name("worlds.toml")


@dataclass(frozen=True)
class World:
    """One kind of season.

    effects: planted, none, or differ (mean 0, athletes differ). miss: which reports stay away (see [reporting]).
    one_rm_error: relative SD of a slowly drifting error of the logged 1RM. reacts: the coach changes training after
    pain. reacts_to_felt: also to irritability that no log holds. curling: curls are the only cause. mild_only: the
    exposures move ratings 1 to 3 alone. grip_on_safety: grip is held, written and matters on the safety bar too.
    estimated_one_rm: intensity comes from a 1RM estimated from the logged sets. shared_meet: one meet for everybody.
    """

    name: str
    effects: str
    miss: str
    one_rm_error: float
    reacts: bool
    reacts_to_felt: bool
    curling: bool
    mild_only: bool
    grip_on_safety: bool
    estimated_one_rm: bool
    shared_meet: bool
    weeks: int


@cache
def constants() -> dict[str, Any]:
    """worlds.toml as tables."""
    return tomllib.loads(FILE.read_text(encoding="utf-8"))


def world_names() -> list[str]:
    return list(constants()["world"])


def world_named(name: str) -> World:
    """One world: the options of `plant`, changed as worlds.toml says. Raises UsageError for an unknown name."""
    worlds = constants()["world"]
    if name not in worlds:
        raise UsageError(f'There is no world "{name}". Known worlds: {", ".join(worlds)}.')
    return World(name=name, **{**worlds["plant"], **worlds[name]})
