"""Summary figures of the simulated worlds: what a season of each looks like, and what is true of it.

    python -m preflare.simulate.figures --seasons 40
    python -m preflare.simulate.figures --world plant --seasons 100

Means over seasons, Monte Carlo errors in brackets. tests/reference/calibration/worlds.txt keeps them beside the figures
of the program that the analysis plan was made with.
"""

import argparse
import sys
from collections.abc import Mapping, Sequence

import numpy as np

from preflare.simulate.constants import constants
from preflare.simulate.error_rates import IDS
from preflare.simulate.truth import truth
from preflare.simulate.worlds import CAMBERED, HIGH, NARROW, SAFETY, WIDE, SimulatedSeason, simulate_season

WORLDS = ("plant", "null", "nullhet", "nullstrong", "plantstrong", "mhigh", "plantmcar")
FIRST_SEED = 500
SHARES = (
    "share at 0", "share at 4 or more", "reported", "safety bar", "cambered bar", "narrow grip", "wide grip",
    "high position", "reacting",
)  # fmt: skip


def season_figures(season: SimulatedSeason) -> dict[str, float]:
    """Sessions, shares of them in per cent, and the truth of every contrast per 100 sessions."""
    done = season.trained
    ratings = constants()["ratings"]
    of_sessions = (
        season.rating == 0, season.rating >= ratings["event"], season.reported, season.bar == SAFETY,
        season.bar == CAMBERED, season.grip == NARROW, season.grip == WIDE, season.position == HIGH, season.reacting,
    )  # fmt: skip
    figures = {name: float(100 * values[done].mean()) for name, values in zip(SHARES, of_sessions, strict=True)}
    true = truth(season)
    return {"sessions": float(done.sum())} | figures | {f"truth {name}": true[name].per_100 for name in IDS}


def world_figures(world: str, n_seasons: int, n_athletes: int = 24) -> dict[str, tuple[float, float]]:
    """Figure -> mean over seasons and its Monte Carlo error."""
    seasons = [season_figures(simulate_season(world, n_athletes, FIRST_SEED + i)) for i in range(n_seasons)]
    values = {name: np.array([season[name] for season in seasons]) for name in seasons[0]}
    root = np.sqrt(n_seasons)
    return {name: (float(v.mean()), float(v.std(ddof=1) / root)) for name, v in values.items()}


def figures_table(by_world: Mapping[str, Mapping[str, tuple[float, float]]]) -> str:
    """One line a figure, one column a world."""
    lines = [f"{'':<20}" + "".join(f"{world:>16}" for world in by_world)]
    for name in next(iter(by_world.values())):
        shown = (f"{mean:.2f} ({error:.2f})" for mean, error in (figures[name] for figures in by_world.values()))
        lines.append(f"{name:<20}" + "".join(f"{cell:>16}" for cell in shown))
    return "\n".join(lines) + "\n"


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m preflare.simulate.figures")
    parser.add_argument("--world", action="append", help=f"world (may be repeated); without it {', '.join(WORLDS)}")
    parser.add_argument("--seasons", type=int, default=40, help=f"seasons of each, from seed {FIRST_SEED} on")
    parser.add_argument("--lifters", type=int, default=24)
    given = parser.parse_args(arguments)
    by_world = {world: world_figures(world, given.seasons, given.lifters) for world in given.world or WORLDS}
    print(figures_table(by_world), end="")
    return 0


if __name__ == "__main__":
    sys.exit(main())
