"""A small table of mobility screens: three testing days, a column per test and side."""

import csv
from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path

from preflare.simulate.draws import Draws
from preflare.simulate.layouts.common import Club, Mess
from preflare.simulate.worlds import FIRST_DAY

FILE = "mobility_screens.csv"
HEADING = [
    "Name", "Date", "Shoulder external rotation L (deg)", "Shoulder external rotation R (deg)",
    "Thoracic extension (deg)", "Grip strength L (kg)", "Grip strength R (kg)",
]  # fmt: skip
TESTING_DAYS = (1, 106, 218)


def write(folder: Path, club: Club, members: Sequence[int], draws: Draws) -> list[Mess]:
    """Write the table and return what is untidy in it."""
    last = max((session.day for session in club.sessions), default=0)
    rows = []
    for day in (d for d in TESTING_DAYS if d <= last):
        for member in members:
            u, z = draws.uniform(1), draws.normal(5)
            if u[0] < 0.12:
                continue  # not there that day
            values = [85 + 9 * z[0], 83 + 9 * z[1], 24 + 5 * z[2], 42 + 9 * z[3], 44 + 9 * z[4]]
            date = (FIRST_DAY + timedelta(days=day)).isoformat()
            rows.append([club.lifters[member].name, date, *[str(round(float(value))) for value in values]])
    if not rows:
        return []
    with (folder / FILE).open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([HEADING, *rows])
    return [Mess(FILE, "whole file", "lifters who missed a testing day have no row")]
