"""How long reading takes beside the bare spreadsheet reader, and how much memory it needs.

    python tests/benchmarks/reading_speed.py 60000     # sets in one workbook

Prints processor seconds, their ratio to the bare read of the same file, and the peak resident memory.
"""

import random
import resource
import sys
import tempfile
import time
from datetime import datetime, timedelta
from pathlib import Path

import xlsxwriter
from python_calamine import load_workbook

from preflare.reading import read_logs

HEADINGS = ["Date", "Name", "Exercise", "Bar", "Grip", "Set", "Load (kg)", "Reps", "RPE", "Notes"]
NAMES = [
    f"{first} {last}" for first in ("Ada", "Bo", "Cy", "Dag") for last in ("Berg", "Dahl", "Eklund", "Fors", "Gran")
]


def write_workbook(path: Path, n_sets: int) -> None:
    """An invented log of one row a set."""
    draw = random.Random(1)
    book = xlsxwriter.Workbook(path)
    sheet = book.add_worksheet("log")
    day_format = book.add_format({"num_format": "yyyy-mm-dd"})
    sheet.write_row(0, 0, HEADINGS)
    for row in range(1, n_sets + 1):
        day, k = divmod(row - 1, 5 * len(NAMES))
        sheet.write_datetime(row, 0, datetime(2020, 1, 1) + timedelta(days=day), day_format)
        exercise, bar = draw.choice(["squat", "bench press", "row"]), draw.choice(["straight", "SSB"])
        grip, effort = draw.choice(["narrow", "medium", ""]), draw.choice([7, 8, 8.5, ""])
        load, reps = draw.randrange(60, 180, 5), draw.randint(1, 8)
        sheet.write_row(row, 1, [NAMES[k // 5], exercise, bar, grip, k % 5 + 1, load, reps, effort])
    book.close()


def main(n_sets: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "log.xlsx"
        write_workbook(path, n_sets)
        start = time.process_time()
        load_workbook(path).get_sheet_by_index(0).to_python()
        bare = time.process_time() - start
        start = time.process_time()
        logs = read_logs([path])
        ours = time.process_time() - start
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    times = f"{ours / bare:.1f} times"
    print(f"{len(logs.sets)} sets: bare read {bare:.2f} s, read_logs {ours:.2f} s, {times}; peak {peak:.0f} MB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 60_000)
