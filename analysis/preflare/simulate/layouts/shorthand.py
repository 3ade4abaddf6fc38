"""A workbook with one row a session: the work in shorthand, and notes in whatever language the lifter thinks in."""

from collections.abc import Sequence
from datetime import datetime, time
from pathlib import Path

from preflare.simulate.draws import Draws
from preflare.simulate.layouts.common import Club, Mess, in_short, number, open_workbook, pick
from preflare.simulate.lifting import SessionDone

FILE = "training_diary.xlsx"
HEADING = ["Date", "Who", "Bar", "Hands and position", "Squat", "Other work", "How was it?", "sRPE", "Min"]
WEEKS_A_BLOCK = 10
IN_NOTES = 0.75
"""Share of the reported ratings that stand in the notes; the others were filled into the form."""
BARS = {"straight": "comp bar", "safety": "safety bar", "cambered": "cambered"}

# (rating of 1 or more, rating of 0) and remarks that say nothing of an arm, by language.
NOTES = {
    "en": (
        ["left elbow {}/10 after", "elbow pain {}/10 tonight", "both elbows {}/10 once I was home"],
        ["no elbow pain", "elbows pain free", "elbow 0/10"],
        ["slept badly", "moved well", "left knee a bit stiff", "bar speed good", "training partner's elbow was sore"],
    ),
    "es": (
        ["codo derecho {}/10 al acabar", "dolor en el codo {}/10 por la noche", "codos {}/10 después"],
        ["sin dolor de codo", "codo 0/10"],
        ["dormí poco", "buenas sensaciones", "la rodilla algo cargada", "sala llena"],
    ),
    "fr": (
        ["coude gauche {}/10 après la séance", "douleur au coude {}/10 le soir", "coudes {}/10 après"],
        ["pas de douleur au coude", "coude 0/10"],
        ["mal dormi", "bonnes sensations", "genou un peu raide", "salle trop chaude"],
    ),
    "no": (
        ["venstre albue {}/10 etter økta", "vondt i albuen {}/10 på kvelden", "albuer {}/10 etterpå"],
        ["ingen smerter i albuen", "albue 0/10"],
        ["sov dårlig", "gikk lett", "litt stiv i kneet", "fin fart på stanga"],
    ),
}
NUMB_NOTE = "little finger went numb on the drive home"


def split_reports(club: Club, members: Sequence[int], draws: Draws) -> set[tuple[int, int]]:
    """(lifter, day) of the reported sessions whose rating stands in the notes and not in the form."""
    reported = [session for session in club.of(members) if session.rating is not None]
    in_notes = draws.happens(IN_NOTES, len(reported))
    return {(session.lifter, session.day) for session, here in zip(reported, in_notes, strict=True) if here}


def write(folder: Path, club: Club, members: Sequence[int], in_notes: set[tuple[int, int]], draws: Draws) -> list[Mess]:
    """Write the workbook and return what is untidy in it."""
    sessions = club.of(members)
    if not sessions:
        return []
    languages = {member: list(NOTES)[j % len(NOTES)] for j, member in enumerate(members)}
    painful = [s for s in sessions if (s.lifter, s.day) in in_notes and (s.rating or 0) >= 4]
    numb = [painful[j] for j in pick(draws, 1, len(painful))]
    workbook = open_workbook(folder / FILE)
    date_format = workbook.add_format({"num_format": "dd/mm/yyyy"})
    mess = [
        Mess(FILE, "column Who", "first names only; the date is written once a day"),
        Mess(FILE, "column How was it?", "ratings in free text, in English, Spanish, French and Norwegian"),
    ]
    blocks = sorted({session.day // (7 * WEEKS_A_BLOCK) for session in sessions})
    for block in blocks:
        done = [session for session in sessions if session.day // (7 * WEEKS_A_BLOCK) == block]
        name = f"Block {block + 1}"
        sheet = workbook.add_worksheet(name)
        sheet.write(0, 0, f"{name}, {done[0].date:%d/%m/%Y} to {done[-1].date:%d/%m/%Y}")
        sheet.write_row(2, 0, HEADING)
        for row, session in enumerate(done, start=3):
            if row == 3 or done[row - 4].day != session.day:
                sheet.write_datetime(row, 0, datetime.combine(session.date, time()), date_format)
            note = _note(session, (session.lifter, session.day) in in_notes, languages[session.lifter], draws)
            if session in numb:
                note = f"{note}; {NUMB_NOTE}"
                mess.append(Mess(FILE, f'sheet "{name}", row {row + 1}', "a word that a clinician should hear about"))
            sheet.write_row(row, 1, _cells(club, session, note))
    workbook.close()
    return mess


def _cells(club: Club, session: SessionDone, note: str) -> list[str | int]:
    warm_ups = ", ".join(f"{number(one.load)}x{one.reps}" for one in session.squats if one.is_warm_up)
    hands = f"{session.grip}, {session.position} bar" if session.grip else ""
    others = "; ".join(f"{work.exercise} {in_short(work.sets)}" for work in session.others)
    work = f"w/u {warm_ups}; {in_short(session.squats)}" if warm_ups else in_short(session.squats)
    first_name = club.lifters[session.lifter].first
    return [first_name, BARS[session.bar], hands, work, others, note, session.session_rpe, session.minutes]


def _note(session: SessionDone, tells: bool, language: str, draws: Draws) -> str:
    painful, none, remarks = NOTES[language]
    u = draws.uniform(3)
    parts = []
    if u[0] < 0.4:
        parts.append(remarks[int(u[1] * len(remarks))])
    if tells and session.rating is not None:
        words = none if session.rating == 0 else painful
        parts.append(words[int(u[2] * len(words))].format(session.rating))
    return ", ".join(parts)
