"""One row a set: the squad sheet of the lifters who type everything, with a pain column."""

import csv
from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

from preflare.simulate.draws import Draws
from preflare.simulate.layouts.common import Club, Mess, number, pick
from preflare.simulate.lifting import LiftedSet, SessionDone
from preflare.simulate.people import CLUB

FILE = "squad_sets.csv"
HEADING = [
    "Date", "Lifter", "Exercise", "Bar", "Bar position", "Grip", "Set", "Weight (kg)", "Reps", "RPE", "Warm-up",
    "Missed", "Elbow pain after (0-10)", "Session RPE", "Minutes",
]  # fmt: skip
LOAD, PAIN = HEADING.index("Weight (kg)"), HEADING.index("Elbow pain after (0-10)")
OTHER_SPELLING_FROM = 150
"""Day from which one lifter is typed without accents."""


def write(folder: Path, club: Club, members: Sequence[int], draws: Draws) -> list[Mess]:
    """Write the file and return what is untidy in it."""
    sessions = club.of(members)
    if not sessions:
        return []
    respelt = members[min(1, len(members) - 1)]
    rows: list[list[str]] = [
        [f"{CLUB} - squad sheet", *[""] * 14],
        ["kg, one row a set. Name and date once a session."],
        [],
        HEADING,
    ]
    for _, month in groupby(sessions, key=lambda s: (s.date.year, s.date.month)):
        done = list(month)
        for session in done:
            person = club.lifters[session.lifter]
            name = person.plain if session.lifter == respelt and session.day >= OTHER_SPELLING_FROM else person.name
            rows += _session_rows(session, name)
        n_sets = sum(not one.is_warm_up for session in done for one in session.squats)
        rows.append(["Total " + done[0].date.strftime("%m/%Y"), "", "", "", "", "", str(n_sets), *[""] * 8])
    mess = _make_untidy(rows, draws)
    with (folder / FILE).open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(rows)
    person = club.lifters[respelt]
    return [
        Mess(FILE, "rows 1 to 3", "title lines above the headings"),
        Mess(FILE, "every session", "date and name only on its first row"),
        Mess(FILE, "end of every month", "a totals row"),
        Mess(FILE, person.name, f"typed {person.plain} from February on"),
        *mess,
    ]


def _session_rows(session: SessionDone, name: str) -> list[list[str]]:
    rows = [_row("squat", one, session, k) for k, one in enumerate(session.squats, start=1)]
    for work in session.others:
        rows += [_row(work.exercise, one, None, k) for k, one in enumerate(work.sets, start=1)]
    rows[0][0], rows[0][1] = session.date.isoformat(), name
    rows[0][PAIN:] = [number(session.rating), str(session.session_rpe), str(session.minutes)]
    return rows


def _row(exercise: str, one: LiftedSet, squat: SessionDone | None, k: int) -> list[str]:
    held = [squat.bar, squat.position or "", squat.grip or ""] if squat else ["", "", ""]
    marks = ["x" if one.is_warm_up else "", "x" if one.is_failed else ""]
    return ["", "", exercise, *held, str(k), number(one.load), str(one.reps), number(one.rpe), *marks, "", "", ""]


def _make_untidy(rows: list[list[str]], draws: Draws) -> list[Mess]:
    """Slips of the finger, in place: three loads ten times too heavy, a letter for a digit, ratings, repeated rows."""
    mess = []
    work = [i for i, row in enumerate(rows) if len(row) > LOAD and row[2] == "squat" and not row[10] and row[LOAD]]
    slips = pick(draws, 4, len(work))
    for i in (work[j] for j in slips[:3]):
        rows[i][LOAD] = number(10 * float(rows[i][LOAD]))
        mess.append((i, f"load ten times too heavy ({rows[i][LOAD]} kg)"))
    for i in (work[j] for j in slips[3:]):
        rows[i][LOAD] = rows[i][LOAD].replace("0", "O") if "0" in rows[i][LOAD] else rows[i][LOAD] + "O"
        mess.append((i, f'a letter O in the load ("{rows[i][LOAD]}")'))
    rated = [i for i, row in enumerate(rows[4:], start=4) if row[1] and row[PAIN]]
    for i in (rated[j] for j in pick(draws, 2, len(rated))):
        mess.append((i, f'the rating, {rows[i][PAIN]}, was written as "?"'))
        rows[i][PAIN] = "?"
    fours = [i for i in rated if rows[i][PAIN] == "4"]
    for i in (fours[j] for j in pick(draws, 1, len(fours))):
        rows[i][PAIN] = "3-4"
        mess.append((i, 'the rating, 4, was written as "3-4"'))
    again = [work[j] for j in pick(draws, 2, len(work))]
    for i in reversed(again):
        rows.insert(i + 1, list(rows[i]))

    def place(i: int) -> int:
        """The row as a spreadsheet shows it: counted from 1, repeated rows included."""
        return i + 1 + sum(other < i for other in again)

    found = [Mess(FILE, f"row {place(i)}", what) for i, what in sorted(mess)]
    return found + [Mess(FILE, f"row {place(i) + 1}", "the row above once more") for i in again]
