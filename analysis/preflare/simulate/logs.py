"""A simulated season as the untidy files of an invented club, with season.toml and the answer key beside them.

`python -m preflare.simulate.logs FOLDER [--seed N]` writes the demo season into FOLDER.
"""

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from preflare.simulate.draws import Draws
from preflare.simulate.layouts import (
    answer_key,
    athlete_sheets,
    german_csv,
    grid,
    pain_form,
    screens,
    season_toml,
    sets_csv,
    shorthand,
)
from preflare.simulate.layouts.common import Club, Mess, pick
from preflare.simulate.lifting import LIFTING, SessionDone, sessions_done
from preflare.simulate.people import Person, club
from preflare.simulate.worlds import FIRST_DAY, SimulatedSeason, simulate_season

DEMO_WORLD, DEMO_ATHLETES, DEMO_SEED = "plant", 24, 1
GAPS, SPLIT, FIRST_LAYOUT = 20, 21, 30
"""Streams of random numbers."""
SHARES = {"sets": 6, "german": 5, "sheets": 6, "diary": 4, "grid": 3}
"""Of every 24 lifters, how many keep their log in which way."""
UNLOGGED_WEEKS = ((0.25, 2), (0.5, 2), (0.7, 3))
"""Where in the season, as a share of it, a lifter's log is silent, and for how many weeks."""


@dataclass(frozen=True)
class Members:
    """Which lifters keep their log in which way."""

    sets: list[int]
    german: list[int]
    sheets: list[int]
    diary: list[int]
    grid: list[int]

    @property
    def form(self) -> list[int]:
        """Those whose own log has no pain column."""
        return sorted([*self.german, *self.sheets, *self.diary, *self.grid])


def deal(n: int) -> Members:
    """Deal n lifters to the layouts in the proportions of SHARES, in turns, so that every layout gets some."""
    ways: dict[str, list[int]] = {name: [] for name in SHARES}
    for lifter in range(n):
        # The layout that is furthest behind its share of the lifters dealt so far.
        behind = {name: (lifter + 1) * SHARES[name] / sum(SHARES.values()) - len(ways[name]) for name in SHARES}
        ways[max(behind, key=lambda name: behind[name])].append(lifter)
    return Members(**ways)


def write_logs(season: SimulatedSeason, folder: Path, seed: int) -> list[Path]:
    """Write the season as logs into `folder` (made if need be); returns the files, in order of name.

    seed: of everything that the season itself does not say: loads, other lifts, who typed what.
    """
    folder.mkdir(parents=True, exist_ok=True)
    lifters = club(season.n_athletes)
    members = deal(season.n_athletes)
    units = ["lb" if lifter in members.german else "kg" for lifter in range(season.n_athletes)]
    done = sessions_done(season, units, Draws(seed, LIFTING))
    logged, mess = _with_gaps(done, lifters, Draws(seed, GAPS))
    squad = Club(lifters, logged)
    in_notes = shorthand.split_reports(squad, members.diary, Draws(seed, SPLIT))
    streams = [Draws(seed, FIRST_LAYOUT + k) for k in range(7)]
    everybody = range(season.n_athletes)
    mess += sets_csv.write(folder, squad, members.sets, streams[0])
    mess += german_csv.write(folder, squad, members.german, streams[1])
    mess += athlete_sheets.write(folder, squad, members.sheets, streams[2])
    mess += shorthand.write(folder, squad, members.diary, in_notes, streams[3])
    mess += grid.write(folder, squad, members.grid, streams[4])
    mess += pain_form.write(folder, squad, members.form, in_notes, streams[5])
    mess += screens.write(folder, squad, everybody, streams[6])
    season_toml.write(folder, season, lifters, seed)
    answer_key.write(folder, season, lifters, _holders(members), mess)
    return sorted(path for path in folder.rglob("*") if path.is_file())


def _holders(members: Members) -> dict[str, list[int]]:
    return {
        sets_csv.FILE: members.sets,
        german_csv.FILE: members.german,
        athlete_sheets.FILE: members.sheets,
        shorthand.FILE: members.diary,
        grid.FILE: members.grid,
        pain_form.FILE: members.form,
    }


def _with_gaps(
    done: list[SessionDone], lifters: Sequence[Person], draws: Draws
) -> tuple[list[SessionDone], list[Mess]]:
    """The sessions less those of weeks that three lifters did not log at all, training and pain alike."""
    season_end = max(session.day for session in done)
    silent, mess = [], []
    for lifter, (share, weeks) in zip(pick(draws, len(UNLOGGED_WEEKS), len(lifters)), UNLOGGED_WEEKS, strict=False):
        first = 7 * int(share * season_end / 7)
        silent.append((lifter, first, first + 7 * weeks))
        monday = FIRST_DAY + timedelta(days=first)
        mess.append(Mess("all files", lifters[lifter].name, f"nothing logged for {weeks} weeks from {monday}"))
    kept = [s for s in done if not any(s.lifter == who and start <= s.day < end for who, start, end in silent)]
    return kept, mess


def write_demo(
    folder: Path, *, seed: int = DEMO_SEED, n_athletes: int = DEMO_ATHLETES, world: str = DEMO_WORLD
) -> list[Path]:
    """Simulate a season and write it as logs; returns the files."""
    return write_logs(simulate_season(world, n_athletes, seed), folder, seed)


def main(arguments: Sequence[str] | None = None) -> None:
    parser = argparse.ArgumentParser(prog="python -m preflare.simulate.logs", description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--seed", type=int, default=DEMO_SEED)
    parser.add_argument("--athletes", type=int, default=DEMO_ATHLETES)
    parser.add_argument("--world", default=DEMO_WORLD)
    given = parser.parse_args(arguments)
    files = write_demo(given.folder, seed=given.seed, n_athletes=given.athletes, world=given.world)
    print("\n".join(str(path) for path in files))


if __name__ == "__main__":
    main()
