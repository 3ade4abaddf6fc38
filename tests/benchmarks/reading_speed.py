"""How long an import takes beside the bare read of the same file, and how much memory it needs.

    python tests/benchmarks/reading_speed.py                       # 60,000 sets in a workbook, 2,000,000 in a CSV file
    python tests/benchmarks/reading_speed.py --sets 2000 20000     # fewer, for a quick look

A workbook is set beside python-calamine's read of it into lists, a CSV file beside DuckDB's own read_csv of it into a
table of a new database. Every side runs in fresh processes, the sides by turns; of its runs the quickest counts.
Seconds are those of the work, without the import of the libraries; memory is the peak of the whole process.
"""

import argparse
import csv
import json
import random
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path

import xlsxwriter

HEADINGS = ["Athlete", "Date", "Exercise", "Bar", "Grip", "Load (kg)", "Reps", "RPE", "Elbow pain (0-10)"]
LIFTS = {"squat": 120, "bench press": 80, "row": 70, "curl": 30}  # with what a lifter lifts of it, kg
SETS_OF_A_LIFT = 5
UNTIDY = 0.002  # chance of a row that is not as the others: a blank date, a letter in a load, a range as effort
SETS = (60_000, 2_000_000)
RUNS = 3


def invented_rows(n_sets: int, n_athletes: int) -> Iterator[list[str | float | date]]:
    """The rows of a log of one row a set, session by session."""
    draw = random.Random(1)
    names = [f"Lifter {chr(65 + i % 26)}{chr(97 + i // 26 % 26)}bor {chr(65 + i // 676)}" for i in range(n_athletes)]
    strength = {name: draw.uniform(0.6, 1.6) for name in names}
    in_session = SETS_OF_A_LIFT * len(LIFTS)
    for number in range(n_sets):
        session, at = divmod(number, in_session)
        day, who = divmod(session, n_athletes)
        if at == 0:
            bars = [draw.choices(("straight", "SSB"), (4, 1))[0] if lift == "squat" else "" for lift in LIFTS]
            grips = [draw.choice(("narrow", "medium", "wide")) for _ in LIFTS]
        lift, nth = divmod(at, SETS_OF_A_LIFT)
        name, usual = list(LIFTS.items())[lift]
        load: str | float = round(usual * strength[names[who]] * draw.uniform(0.7, 1.0) / 2.5) * 2.5
        when: str | date = date(2015, 1, 1) + timedelta(days=2 * day)
        effort: str | float = draw.choice((7, 7.5, 8, 8.5, 9, ""))
        pain: str | float = draw.choice((0, 0, 1, 2, 3)) if nth == 0 and lift == 0 else ""
        if draw.random() < UNTIDY:
            load, when, effort = draw.choice(((f"{load}O", when, effort), (load, "", effort), (load, when, "7-8")))
        yield [names[who], when, name, bars[lift], grips[lift], load, draw.randint(1, 8), effort, pain]


def write_csv(path: Path, n_sets: int) -> None:
    """A log of a large federation as CSV."""
    with path.open("w", newline="", encoding="utf-8") as stream:
        csv.writer(stream).writerow(HEADINGS)
        csv.writer(stream).writerows(invented_rows(n_sets, 400))


def write_workbook(path: Path, n_sets: int) -> None:
    """A log of a squad as a workbook with true dates and numbers."""
    book = xlsxwriter.Workbook(path, {"constant_memory": True, "default_date_format": "yyyy-mm-dd"})
    sheet = book.add_worksheet("log")
    sheet.write_row(0, 0, HEADINGS)
    for number, row in enumerate(invented_rows(n_sets, 20), start=1):
        sheet.write_row(number, 0, row)
    book.close()


# The sides: each imports what it needs, and gives the work to be timed --------------------------------------------


def bare_workbook(path: Path) -> Callable[[], object]:
    """python-calamine's read of the first sheet."""
    from python_calamine import load_workbook

    return lambda: load_workbook(path).get_sheet_by_index(0).to_python()


def bare_csv(path: Path) -> Callable[[], object]:
    """DuckDB's read of the file into a table on disk."""
    import duckdb

    def read() -> None:
        with duckdb.connect(str(path.with_suffix(".bare.duckdb"))) as connection:
            connection.execute("create or replace table log as select * from read_csv(?)", [str(path)])

    return read


def read_only(path: Path) -> Callable[[], object]:
    """Our reading: rows with their places, people joined, what cannot be set aside."""
    import polars  # noqa: F401
    import python_calamine  # noqa: F401

    from preflare.reading import read_logs

    return lambda: read_logs([path])


def whole_import(path: Path) -> Callable[[], object]:
    """Our reading and the store with all that is derived at import."""
    import python_calamine  # noqa: F401

    import preflare.exposures
    import preflare.reading
    import preflare.store  # noqa: F401
    from preflare.season import Season, read_everything

    store = path.with_suffix(".season.duckdb")
    store.unlink(missing_ok=True)

    def run() -> None:
        with Season.open(store) as season:
            season.store_read(read_everything([path], None))

    return run


SIDES = {side.__name__: side for side in (bare_workbook, bare_csv, read_only, whole_import)}


def measure(side: str, path: Path) -> dict[str, float]:
    """Processor and wall seconds and peak memory (MB) of one side, in this process."""
    work = SIDES[side](path)
    cpu, wall = time.process_time(), time.perf_counter()
    work()
    return {
        "cpu": time.process_time() - cpu,
        "wall": time.perf_counter() - wall,
        "peak": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }


def compare(path: Path, bare: str, n_sets: int) -> None:
    """Prints what each side took, and how many times the bare read that is."""
    runs: dict[str, list[dict[str, float]]] = {bare: [], "read_only": [], "whole_import": []}
    for side in [*runs] * RUNS:
        done = subprocess.run([sys.executable, __file__, "--side", side, str(path)], capture_output=True, check=True)
        runs[side].append(json.loads(done.stdout))
    least = {side: {what: min(run[what] for run in found) for what in found[0]} for side, found in runs.items()}
    print(f"{n_sets:,} sets, {path.suffix[1:]}, {path.stat().st_size / 1e6:.0f} MB")
    for side, found in least.items():
        times = {what: found[what] / least[bare][what] for what in ("cpu", "wall")}
        print(
            f"  {side:<14}{found['cpu']:7.2f} s processor ({times['cpu']:.1f} times)"
            f"{found['wall']:8.2f} s wall ({times['wall']:.1f} times){found['peak']:7.0f} MB"
        )


def main(workbook_sets: int, csv_sets: int) -> None:
    """Both comparisons, each in a folder of its own."""
    with tempfile.TemporaryDirectory() as folder:
        for name, write, bare, n_sets in (
            ("log.xlsx", write_workbook, "bare_workbook", workbook_sets),
            ("log.csv", write_csv, "bare_csv", csv_sets),
        ):
            path = Path(folder) / name
            write(path, n_sets)
            compare(path, bare, n_sets)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description="Time an import beside the bare read of the same file.")
    parser.add_argument("--sets", nargs=2, type=int, default=SETS, metavar=("WORKBOOK", "CSV"))
    parser.add_argument("--side", nargs=2, metavar=("NAME", "FILE"), help="measure one side once, as JSON")
    chosen = parser.parse_args()
    if chosen.side:
        print(json.dumps(measure(chosen.side[0], Path(chosen.side[1]))))
    else:
        main(*chosen.sets)
