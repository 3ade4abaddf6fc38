"""The worlds' summary figures: counted by hand, and the kept table within Monte Carlo error of the plan's program."""

import re
from pathlib import Path

import numpy as np
import pytest

from preflare.simulate.figures import WORLDS, figures_table, main, season_figures, world_figures
from preflare.simulate.worlds import simulate_season

TABLE = Path(__file__).parents[1] / "reference" / "calibration" / "worlds.txt"
LINE = re.compile(r"^  (\S.*?) +(-?[\d.]+) \(([\d.]+)\) +(-?[\d.]+) \(([\d.]+)\) +(-?[\d.]+)$")


def kept() -> dict[str, dict[str, tuple[float, ...]]]:
    """World -> figure -> mean and error here, mean and error of the plan's program, z as printed."""
    found: dict[str, dict[str, tuple[float, ...]]] = {}
    world = ""
    for line in TABLE.read_text(encoding="utf-8").splitlines():
        world = line if line in WORLDS else world
        if match := LINE.match(line):
            found.setdefault(world, {})[match[1]] = tuple(float(value) for value in match.groups()[1:])
    return found


def test_every_kept_figure_is_the_plans_within_monte_carlo_error():
    table = kept()
    assert set(table) == set(WORLDS)
    for world, figures in table.items():
        assert len(figures) == 15, world
        for name, (here, error, plan, plan_error, printed) in figures.items():
            spread = np.hypot(error, plan_error)
            z = (here - plan) / spread if spread > 0 else 0.0
            assert abs(z) < 3.3, (world, name)
            assert z == pytest.approx(printed, abs=0.6)  # means and errors are printed to two decimals


@pytest.mark.parametrize("world", ["plant", "nullstrong"])
def test_the_program_still_makes_the_kept_figures(world):
    # The first twenty of the hundred seasons behind the table.
    for name, (mean, error) in world_figures(world, 20).items():
        if name in kept()[world]:
            there, its_error, *_ = kept()[world][name]
            assert mean == pytest.approx(there, abs=3.3 * np.hypot(error, its_error) + 0.005), name


def test_shares_are_of_the_sessions_that_took_place():
    season = simulate_season("plant", 3, 1)
    figures = season_figures(season)
    done = season.trained
    assert figures["sessions"] == done.sum()
    assert figures["share at 0"] == pytest.approx(100 * (season.rating[done] == 0).sum() / done.sum())
    assert figures["reported"] == pytest.approx(100 * (season.reported & done).sum() / done.sum())


def test_the_command_prints_a_column_a_world(capsys):
    assert main(["--world", "null", "--seasons", "2", "--lifters", "4"]) == 0
    assert capsys.readouterr().out == figures_table({"null": world_figures("null", 2, 4)})
