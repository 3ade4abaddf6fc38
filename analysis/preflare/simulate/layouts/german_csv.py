"""One row a set in German: semicolons, decimal commas, day-first dates, pounds, an old Windows encoding."""

import csv
from collections.abc import Sequence
from pathlib import Path

from preflare.simulate.draws import Draws
from preflare.simulate.layouts.common import Club, Mess, number, pick
from preflare.simulate.lifting import LiftedSet, SessionDone
from preflare.simulate.people import Person

FILE = "trainingslog_halle_ost.csv"
ENCODING = "cp1252"
HEADING = ["Datum", "Name", "Übung", "Stange", "Ablage", "Griff", "Satz", "Last (lb)", "Wdh.", "RPE", "Bemerkung"]
EXERCISES = {
    "squat": "Kniebeuge", "bench press": "Bankdrücken", "row": "Rudern", "overhead press": "Schulterdrücken",
    "pull-up": "Klimmzüge", "curl": "Bizepscurls", "hammer curl": "Hammercurls", "reverse curl": "Reverse Curls",
    "front squat": "Frontkniebeuge",
}  # fmt: skip
BARS = {"straight": "gerade", "safety": "Sicherheitsstange", "cambered": "gebogen"}
POSITIONS = {"low": "tief", "high": "hoch", None: ""}
GRIPS = {"narrow": "eng", "medium": "mittel", "wide": "weit", None: ""}
LOAD = HEADING.index("Last (lb)")


def write(folder: Path, club: Club, members: Sequence[int], draws: Draws) -> list[Mess]:
    """Write the file and return what is untidy in it."""
    sessions = club.of(members)
    if not sessions:
        return []
    rows: list[list[str]] = [["Trainingslog Halle Ost", *[""] * 10], ["", *[""] * 10], HEADING]
    for session in sessions:
        rows += _session_rows(session, written_name(club.lifters[session.lifter]))
    slips = [i for i, row in enumerate(rows) if row[2] == EXERCISES["squat"] and not row[10] and i > 2]
    mess = []
    for i in (slips[j] for j in pick(draws, 1, len(slips))):
        rows[i][LOAD] = number(10 * float(rows[i][LOAD].replace(",", ".")), comma=True)
        mess.append(Mess(FILE, f"row {i + 1}", f"load ten times too heavy ({rows[i][LOAD]} lb)"))
    with (folder / FILE).open("w", encoding=ENCODING, newline="") as file:
        csv.writer(file, delimiter=";", lineterminator="\r\n").writerows(rows)
    return [
        Mess(FILE, "whole file", "pounds, decimal commas, day-first dates, semicolons, Windows-1252, no pain column"),
        Mess(FILE, "column Name", "last name first, with a comma; accents that the encoding lacks are dropped"),
        *mess,
    ]


def written_name(person: Person) -> str:
    """Last name first; accents only where the file's encoding has them."""
    name = f"{person.last}, {person.first}"
    try:
        name.encode(ENCODING)
    except UnicodeEncodeError:
        last, first = (Person(part, "").plain.strip() for part in (person.last, person.first))
        return f"{last}, {first}"
    return name


def _session_rows(session: SessionDone, name: str) -> list[list[str]]:
    day = session.date.strftime("%d.%m.%Y")
    held = [BARS[session.bar], POSITIONS[session.position], GRIPS[session.grip]]
    rows = [[day, name, EXERCISES["squat"], *held, *_set(k, one)] for k, one in enumerate(session.squats, start=1)]
    for work in session.others:
        rows += [
            [day, name, EXERCISES[work.exercise], "", "", "", *_set(k, one)] for k, one in enumerate(work.sets, start=1)
        ]
    return rows


def _set(k: int, one: LiftedSet) -> list[str]:
    remark = "Aufwärmen" if one.is_warm_up else "Fehlversuch" if one.is_failed else ""
    return [str(k), number(one.load, comma=True), str(one.reps), number(one.rpe, comma=True), remark]
