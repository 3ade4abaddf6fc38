"""A workbook of weekly grids: days and exercises down, weeks across, a sheet per lifter."""

from collections.abc import Sequence
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import Any

from preflare.simulate.draws import Draws
from preflare.simulate.layouts.common import Club, Mess, in_short, open_workbook
from preflare.simulate.lifting import SessionDone
from preflare.simulate.people import Person
from preflare.simulate.worlds import FIRST_DAY

FILE = "weekly_grid.xlsx"
DAYS = {0: "Monday", 2: "Wednesday", 4: "Friday"}
SQUATS = {"straight": "Squat, straight bar", "safety": "Squat, safety bar", "cambered": "Squat, cambered bar"}
OTHERS = {
    0: ("bench press", "row", "hammer curl"),
    2: ("overhead press", "pull-up", "curl"),
    4: ("bench press", "reverse curl", "front squat"),
}
FIRST_ROW, FIRST_COLUMN = 4, 2


def write(folder: Path, club: Club, members: Sequence[int], draws: Draws) -> list[Mess]:
    """Write the workbook and return what is untidy in it. draws: not needed here."""
    if not club.of(members):
        return []
    workbook = open_workbook(folder / FILE)
    date_format = workbook.add_format({"num_format": "d mmm yyyy"})
    for member in members:
        sessions = club.of([member])
        if sessions:
            _sheet(workbook, date_format, club.lifters[member], sessions)
    workbook.close()
    return [
        Mess(FILE, "every sheet", "weeks run across; a column's date is its Monday; the day's name stands once"),
        Mess(FILE, "last row of every sheet", "weekly totals"),
    ]


def _sheet(workbook: Any, date_format: Any, person: Person, sessions: list[SessionDone]) -> None:
    sheet = workbook.add_worksheet(person.name)
    weeks = max(session.day // 7 for session in sessions) + 1
    sheet.write(0, 0, person.name)
    sheet.write(1, 0, "Weeks across. Top set first, kg. Grip and place of the bar after the sets.")
    sheet.write_row(FIRST_ROW - 2, 0, ["Week", "", *range(1, weeks + 1)])
    sheet.write_row(FIRST_ROW - 1, 0, ["Day", "Exercise"])
    for week in range(weeks):
        monday = datetime.combine(FIRST_DAY + timedelta(days=7 * week), time())
        sheet.write_datetime(FIRST_ROW - 1, FIRST_COLUMN + week, monday, date_format)
    rows = _row_labels(sheet)
    for session in sessions:
        column, weekday = FIRST_COLUMN + session.day // 7, session.day % 7
        sheet.write(rows[weekday, SQUATS[session.bar]], column, _squat_cell(session))
        for work in session.others:
            sheet.write(rows[weekday, work.exercise], column, in_short(work.sets))
    totals = max(rows.values()) + 1
    sheet.write(totals, 1, "Total squat sets")
    for week in range(weeks):
        done = [one for s in sessions if s.day // 7 == week for one in s.squats if not one.is_warm_up]
        sheet.write_number(totals, FIRST_COLUMN + week, len(done))


def _row_labels(sheet: Any) -> dict[tuple[int, str], int]:
    """Write the labels down the side; returns (weekday, exercise) -> row."""
    rows: dict[tuple[int, str], int] = {}
    row = FIRST_ROW
    for weekday, day in DAYS.items():
        sheet.write(row, 0, day)
        for label in (*SQUATS.values(), *OTHERS[weekday]):
            sheet.write(row, 1, label if label in SQUATS.values() else label.capitalize())
            rows[weekday, label] = row
            row += 1
    return rows


def _squat_cell(session: SessionDone) -> str:
    held = f"; {session.grip}, {session.position}" if session.grip else ""
    return in_short(session.squats) + held
