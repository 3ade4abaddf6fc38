"""What a report says of seasons in which the coach reacts to pain and nothing else is true: to be read aloud.

    python -m preflare.simulate.sentences --seeds 5
    python -m preflare.simulate.sentences --world plant

Every direction that a sentence gives there is false, so it must stand as a question or be contradicted by a check.
"""

import argparse
import sys
from collections.abc import Iterator, Sequence
from typing import Any

from preflare.findings import review
from preflare.settings import Settings
from preflare.simulate.frames import world_frame
from preflare.simulate.worlds import simulate_season

WORLDS = ("null", "nullstrong")
FIRST_SEED = 101


def season_findings(world: str, seed: int, n_athletes: int = 24) -> dict[str, Any]:
    """The whole findings of one simulated season."""
    return review(world_frame(simulate_season(world, n_athletes, seed)), Settings())


def spoken(found: dict[str, Any]) -> Iterator[str]:
    """One line a finding, and the notes on what the season's own models rest on."""
    for finding in found["findings"]:
        yield f"{finding['grade']}: {finding['sentence']}"
    yield from (note["words"] for note in found["notes"] if note["kind"] == "model")


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m preflare.simulate.sentences")
    parser.add_argument("--world", action="append", help=f"world (may be repeated); without it {' and '.join(WORLDS)}")
    parser.add_argument("--seeds", type=int, default=5, help=f"seasons of each, from seed {FIRST_SEED} on")
    parser.add_argument("--lifters", type=int, default=24)
    given = parser.parse_args(arguments)
    for world in given.world or WORLDS:
        for seed in range(FIRST_SEED, FIRST_SEED + given.seeds):
            print(f"{world}, seed {seed}", *spoken(season_findings(world, seed, given.lifters)), "", sep="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
