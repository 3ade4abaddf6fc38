"""The daily pain form of those whose logs have no pain column: a time stamp, a name as typed, a place, a number."""

import csv
from collections.abc import Sequence
from datetime import datetime, time, timedelta
from pathlib import Path

from preflare.simulate.draws import Draws
from preflare.simulate.layouts.common import Club, Mess, pick
from preflare.simulate.lifting import SessionDone
from preflare.simulate.people import Person

FILE = "pain/arm_pain_form.csv"
HEADING = ["Timestamp", "Your name", "When", "Where", "Worst pain 0-10", "Anything else?"]
WHERE = ("left elbow", "right elbow", "both elbows", "right upper arm", "left forearm")
NEXT_MORNING = 0.15
KNEE = 0.03


def write(
    folder: Path, club: Club, members: Sequence[int], elsewhere: set[tuple[int, int]], draws: Draws
) -> list[Mess]:
    """Write the form's export and return what is untidy in it. elsewhere: (lifter, day) reported in a diary's notes."""
    answers = []
    for session in club.of(members):
        if session.rating is not None and (session.lifter, session.day) not in elsewhere:
            answers.append(_answer(session, club.lifters[session.lifter], draws))
        if draws.uniform(1)[0] < KNEE:
            answers.append(_knee(session, club.lifters[session.lifter], draws))
    if not answers:
        return []
    answers.sort(key=lambda answer: answer[0])
    rows = [[_stamp(when), *cells] for when, cells in answers]
    mess = []
    fours = [i for i, row in enumerate(rows) if row[4] == "4"]
    for i in (fours[j] for j in pick(draws, 1, len(fours))):
        rows[i][4] = "3-4"
        mess.append(Mess(FILE, f"row {i + 2}", 'the rating, 4, was written as "3-4"'))
    for i in pick(draws, 1, len(rows)):
        mess.append(Mess(FILE, f"row {i + 2}", f'the rating, {rows[i][4]}, was written as "?"'))
        rows[i][4] = "?"
    path = folder / FILE
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        csv.writer(file, lineterminator="\r\n").writerows([HEADING, *rows])
    return [
        Mess(
            FILE,
            "column Timestamp",
            "month first; the day of training is the stamp's, or the day before (next morning)",
        ),
        Mess(FILE, "column Your name", "accents dropped, initials, last name first, first names, nicknames"),
        Mess(FILE, "column Where", "knees among the arms; empty for some ratings of 0"),
        *mess,
    ]


def _stamp(when: datetime) -> str:
    """As a web form exports it: month first, no leading zeros in the date."""
    return f"{when.month}/{when.day}/{when.year} {when:%H:%M:%S}"


def _answer(session: SessionDone, person: Person, draws: Draws) -> tuple[datetime, list[str]]:
    u = draws.uniform(6)
    when, moment = _when(session, u[0], u[1])
    rating = session.rating or 0
    place = WHERE[int(len(WHERE) * u[2] ** 2)]
    if rating == 0:
        place = "" if u[2] < 0.3 else "elbows"
    remark = "" if u[4] > 0.1 else ("same as last time", "ok once warm", "nothing else", "tired")[int(4 * u[5])]
    return when, [typed_name(person, u[3]), moment, place, str(rating), remark]


def _knee(session: SessionDone, person: Person, draws: Draws) -> tuple[datetime, list[str]]:
    u = draws.uniform(4)
    when, moment = _when(session, u[0], u[1])
    side = "left knee" if u[2] < 0.5 else "right knee"
    return when + timedelta(minutes=1), [typed_name(person, u[3]), moment, side, str(1 + int(4 * u[2])), ""]


def _when(session: SessionDone, u: float, v: float) -> tuple[datetime, str]:
    if u < NEXT_MORNING:
        at = datetime.combine(session.date + timedelta(days=1), time(7)) + timedelta(minutes=int(120 * v))
        return at, "next morning"
    return datetime.combine(session.date, time(18, 30)) + timedelta(seconds=int(4 * 3600 * v)), "after training"


def typed_name(person: Person, u: float) -> str:
    """One of the two ways in which this person signs a form."""
    ways = [person.plain, person.initial, person.swapped, person.first, Person(person.first, person.last).plain.lower()]
    usual = sum(map(ord, person.name)) % len(ways)
    if person.nickname and u < 0.35:
        return person.nickname
    return ways[usual] if u < 0.85 else ways[(usual + 2) % len(ways)]
