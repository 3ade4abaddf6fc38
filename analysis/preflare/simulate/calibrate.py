"""Measures the program's error rates on seasons whose truth is known, by the statistics that `review` itself uses.

    python -m preflare.simulate.calibrate --out calibration        the full run, resumable (hours)
    python -m preflare.simulate.calibrate --share 0.1 --out short   a tenth of the seasons
    python -m preflare.simulate.calibrate --world null --lifters 24 --seasons 50

With one process, set OMP_NUM_THREADS=1: the fits are small and gain nothing from threads.
Outcomes are kept one a line in OUT/outcomes_SEED.jsonl; a run that was stopped goes on where it stopped. Exit code 1
when a bound of the analysis plan is broken.
"""

import argparse
import json
import math
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from numpy.random import SeedSequence

from preflare.simulate.bounds import RUNS, Run, verdicts
from preflare.simulate.outcomes import Outcome, outcome_from, season_outcome
from preflare.simulate.tables import calibration_table

SEED = 2026
SEASONS_A_TASK = 4
TABLE_FILE = "table.txt"


def season_seed(seed: int, run: Run, index: int) -> SeedSequence:
    """The seed of one season: its own whatever else is run, so that results can be pooled and resumed."""
    world, n_athletes = run
    return SeedSequence(seed, spawn_key=(*world.encode(), n_athletes, index))


def calibrate(
    seasons: Mapping[Run, int], seed: int = SEED, jobs: int = 1, done: Iterable[Outcome] = ()
) -> Iterator[Outcome]:
    """Outcomes of every season that is not yet done, as they come.

    seasons: how many of each run. done: outcomes of an earlier, stopped run with the same seed.
    """
    from joblib import Parallel, delayed, parallel_config

    have = {(outcome.world, outcome.n_athletes, outcome.index) for outcome in done}
    missing = [(run, index) for run, n in seasons.items() for index in range(n) if (*run, index) not in have]
    tasks = [missing[start : start + SEASONS_A_TASK] for start in range(0, len(missing), SEASONS_A_TASK)]
    if jobs == 1:
        for task in tasks:
            yield from _run_task(task, seed)
        return
    # One thread a process: the fits are small, and threads that wait for each other cost more than they bring.
    with parallel_config(backend="loky", inner_max_num_threads=1):
        parallel = Parallel(n_jobs=jobs, return_as="generator_unordered")
        for outcomes in parallel(delayed(_run_task)(task, seed) for task in tasks):
            yield from outcomes


def _run_task(task: Sequence[tuple[Run, int]], seed: int) -> list[Outcome]:
    return [season_outcome(run[0], run[1], index, season_seed(seed, run, index)) for run, index in task]


def by_run(outcomes: Iterable[Outcome]) -> dict[Run, list[Outcome]]:
    """Outcomes by world and number of lifters, in order of index."""
    made: dict[Run, list[Outcome]] = {}
    for outcome in sorted(outcomes, key=lambda o: o.index):
        made.setdefault((outcome.world, outcome.n_athletes), []).append(outcome)
    return made


def outcomes_file(folder: Path, seed: int) -> Path:
    return folder / f"outcomes_{seed}.jsonl"


def _line(outcome: Outcome) -> str:
    return json.dumps(outcome.record()) + "\n"


def read_outcomes(path: Path) -> list[Outcome]:
    """Outcomes of an earlier run; the half-written last line of a killed one is left out."""
    if not path.exists():
        return []
    outcomes = []
    for line in path.read_text(encoding="utf-8").splitlines():
        try:
            outcomes.append(outcome_from(json.loads(line)))
        except json.JSONDecodeError:
            continue
    return outcomes


def _wanted(given: argparse.Namespace) -> dict[Run, int]:
    runs = {run: n for run, n in RUNS.items() if given.world is None or run[0] in given.world}
    if given.lifters is not None:
        asked = given.world or sorted({run[0] for run in RUNS})
        runs = {(world, n): RUNS.get((world, n), 200) for world in asked for n in given.lifters}
    if given.seasons is not None:
        return dict.fromkeys(runs, given.seasons)
    return {run: max(1, math.ceil(given.share * n)) for run, n in runs.items()}


def _arguments(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="python -m preflare.simulate.calibrate",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--world", action="append", help="only this world (may be repeated)")
    parser.add_argument("--lifters", action="append", type=int, help="only this many lifters (may be repeated)")
    parser.add_argument("--seasons", type=int, help="seasons of each run, instead of the full run's")
    parser.add_argument("--share", type=float, default=1.0, help="this share of the full run's seasons")
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--jobs", type=int, default=1, help="processes")
    parser.add_argument("--out", type=Path, help="folder for outcomes and table; nothing is kept without it")
    return parser.parse_args(arguments)


def main(arguments: Sequence[str] | None = None) -> int:
    given = _arguments(arguments)
    seasons = _wanted(given)
    path = outcomes_file(given.out, given.seed) if given.out else None
    outcomes = read_outcomes(path) if path else []
    if path:
        # Written anew, so that the broken last line of a killed run does not spoil the next one.
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("".join(map(_line, outcomes)), encoding="utf-8")
    begun, total = len(outcomes), sum(seasons.values())
    for outcome in calibrate(seasons, given.seed, given.jobs, list(outcomes)):
        outcomes.append(outcome)
        if path:
            with path.open("a", encoding="utf-8") as file:
                file.write(_line(outcome))
        if (len(outcomes) - begun) % 20 == 0:
            print(f"{len(outcomes) - begun} seasons more; {total} asked for, {begun} kept before", file=sys.stderr)
    results = by_run(outcomes)
    text = calibration_table(results)
    print(text, end="")
    if given.out:
        (given.out / TABLE_FILE).write_text(text, encoding="utf-8")
    return 1 if any(one.outcome == "broken" for one in verdicts(results)) else 0


if __name__ == "__main__":
    sys.exit(main())
