"""A workbook with a sheet per lifter and a column per set, dates merged over the day's exercises."""

from collections.abc import Sequence
from itertools import groupby
from pathlib import Path
from typing import Any

from preflare.simulate.draws import Draws
from preflare.simulate.layouts.common import Club, Mess, number, open_workbook, pick
from preflare.simulate.lifting import LiftedSet, SessionDone
from preflare.simulate.people import Person

FILE = "lifters.xlsx"
FIRST_ROW = 3
SET_COLUMN = 5
OWN_WORDS = {"safety": "ox bar"}
"""The club's own word for its safety bar; season.toml says what it means."""


def write(folder: Path, club: Club, members: Sequence[int], draws: Draws) -> list[Mess]:
    """Write the workbook and return what is untidy in it."""
    if not club.of(members):
        return []
    workbook = open_workbook(folder / FILE)
    formats = {
        "title": workbook.add_format({"bold": True, "align": "center"}),
        "heading": workbook.add_format({"bold": True, "bottom": 1}),
        "date": workbook.add_format({"num_format": "ddd d mmm yyyy", "valign": "top"}),
        "total": workbook.add_format({"italic": True}),
    }
    mess = [
        Mess(FILE, "every sheet", "a merged title, dates merged over the day's exercises, week totals, a legend below"),
        Mess(FILE, "column Bar", 'the safety bar is called "ox bar" (season.toml says so)'),
    ]
    for member in members:
        sessions = club.of([member])
        if sessions:
            mess += _sheet(workbook, formats, club.lifters[member], sessions, draws)
    workbook.close()
    return mess


def sheet_name(person: Person) -> str:
    """First name and the last one's initial, as it fits on a tab."""
    return f"{person.first} {person.last[0]}."


def _sheet(
    workbook: Any, formats: dict[str, Any], person: Person, sessions: list[SessionDone], draws: Draws
) -> list[Mess]:
    name = sheet_name(person)
    sheet = workbook.add_worksheet(name)
    width = max(len(session.squats) for session in sessions)
    heading = [
        "Date",
        "Exercise",
        "Bar",
        "Hands",
        "Position",
        *[f"Set {k + 1}" for k in range(width)],
        "sRPE",
        "Comment",
    ]
    sheet.merge_range(0, 0, 0, len(heading) - 1, f"{person.name} - season log (kg x reps)", formats["title"])
    sheet.write_row(FIRST_ROW - 1, 0, heading, formats["heading"])
    row, mess = FIRST_ROW, []
    slip = pick(draws, 1, len(sessions))[0]
    for _, week in groupby(sessions, key=lambda s: s.day // 7):
        done = list(week)
        for session in done:
            slipped = session is sessions[slip]
            if slipped:
                mess.append(
                    Mess(FILE, f'sheet "{name}", row {row + 1}', "the heaviest set's load is ten times too heavy")
                )
            row = _session(sheet, formats, session, row, width, slipped)
        n_sets = sum(not one.is_warm_up for session in done for one in session.squats)
        sheet.write(row, 1, f"Week total: {n_sets} squat sets", formats["total"])
        row += 1
    sheet.write(row + 1, 0, "wu = warm-up, x = missed. RPE on the hard sets only.")
    return mess


def _session(sheet: Any, formats: dict[str, Any], session: SessionDone, row: int, width: int, slipped: bool) -> int:
    """Write one session from `row` on; returns the next free row."""
    works = [("Squat", session.squats), *[(work.exercise.capitalize(), work.sets) for work in session.others]]
    last = row + len(works) - 1
    if last > row:
        sheet.merge_range(row, 0, last, 0, "", formats["date"])
    sheet.write_datetime(row, 0, _midnight(session), formats["date"])
    sheet.write_row(row, 2, [OWN_WORDS.get(session.bar, session.bar), session.grip or "", session.position or ""])
    sheet.write_number(row, SET_COLUMN + width, session.session_rpe)
    for offset, (exercise, sets) in enumerate(works):
        sheet.write(row + offset, 1, exercise)
        heaviest = max((one.load or 0.0 for one in sets), default=0.0)
        for k, one in enumerate(sets):
            wrong = slipped and offset == 0 and one.load == heaviest
            sheet.write(row + offset, SET_COLUMN + k, _cell(one, 10.0 if wrong else 1.0))
            slipped = slipped and not wrong
    return last + 1


def _midnight(session: SessionDone) -> Any:
    from datetime import datetime, time

    return datetime.combine(session.date, time())


def _cell(one: LiftedSet, times: float) -> str:
    load = "bw" if one.load is None else number(one.load * times)
    effort = f" RPE {number(one.rpe)}" if one.rpe is not None and not one.is_failed else ""
    return f"{load}x{one.reps}{effort}{' wu' if one.is_warm_up else ''}{' x' if one.is_failed else ''}"
