"""How long an import and the model frame take, and how much memory, by size of the squad.

    python tests/benchmarks/store_speed.py 60 1     # athletes, seasons of 40 weeks

Invented sets: three sessions a week, four lifts, a report after three sessions of four. Prints seconds and the peak
resident memory.
"""

import random
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path

from preflare.exposures import finding_context, model_frame, report_views
from preflare.reading.rows import FileReading, Logs, PainRow, Place, SetRow, SheetReading
from preflare.settings import Settings
from preflare.store import Store

START = date(2024, 1, 1)
LIFTS = (("back squat", 5), ("bench press", 5), ("row", 4), ("curl", 3))


def invented_logs(athletes: int, seasons: int, seed: int = 1) -> Logs:
    """Logs of `athletes` lifters over `seasons` times 40 weeks, one file."""
    random_numbers = random.Random(seed)
    logs, row = Logs(), 1
    for athlete in (f"Lifter {number:05d}" for number in range(athletes)):
        best = random_numbers.uniform(100, 220)
        for week in range(40 * seasons):
            for weekday in (0, 2, 4):
                if random_numbers.random() < 0.08:
                    continue
                day = START + timedelta(days=7 * (week + 12 * (week // 40)) + weekday)
                row = _session(logs, row, athlete, day, best, random_numbers)
    sheet = SheetReading("log.csv", "", "one row a set", {}, "true dates", "kg", "en", False, row, row, 0, 0)
    logs.files.append(FileReading("log.csv", "0" * 64, "csv", "utf-8", None, (sheet,)))
    return logs


def _session(logs: Logs, row: int, athlete: str, day: date, best: float, random_numbers: random.Random) -> int:
    bar = random_numbers.choices(("straight", "safety", "cambered"), (8, 2, 1))[0]
    for lift, n_sets in LIFTS:
        load = round(best * random_numbers.uniform(0.7, 0.9), 1)
        for number in range(1, n_sets + 1):
            row += 1
            logs.sets.append(
                SetRow(
                    athlete,
                    day,
                    1,
                    number,
                    lift,
                    lift,
                    bar if lift == "back squat" else None,
                    None,
                    "low",
                    "medium",
                    None,
                    None,
                    load,
                    5,
                    8.0,
                    None,
                    False,
                    False,
                    None,
                    Place("log.csv", "", row),
                )
            )
    if random_numbers.random() < 0.75:
        rating = float(max(0, round(random_numbers.gauss(1, 2))))
        logs.pain.append(
            PainRow(
                athlete,
                day,
                None,
                rating,
                None,
                "elbow",
                "right",
                "after",
                "pain",
                "column",
                str(rating),
                Place("log.csv", "", row),
            )
        )
    return row


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Prints the seconds that the block took."""
    begun = time.perf_counter()
    yield
    print(f"{what:<28}{time.perf_counter() - begun:8.2f} s", flush=True)


def peak_memory_mb() -> float:
    """Peak resident memory of this process so far; Linux only."""
    status = Path("/proc/self/status").read_text()
    return int(status.split("VmHWM:")[1].split()[0]) / 1024


def main(athletes: int, seasons: int) -> None:
    """Imports twice and derives everything once."""
    logs = invented_logs(athletes, seasons)
    print(f"{len(logs.sets)} sets, {len(logs.pain)} reports; {peak_memory_mb():.0f} MB before the import")
    with tempfile.TemporaryDirectory() as folder, Store.open(Path(folder) / "season.duckdb") as store:
        with timed("import"):
            store.import_logs(logs, Settings(), "")
        with timed("import again"):
            store.import_logs(logs, Settings(), "")
        with timed("model frame"):
            frame = model_frame(store)
        with timed("views for reports"):
            report_views(store)
        with timed("context for findings"):
            finding_context(store)
    print(f"{len(frame)} squat sessions; {peak_memory_mb():.0f} MB at most")


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]))
