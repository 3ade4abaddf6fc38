"""Tables below one another, each under a line with its day and its lifts, people down the first column.

The logs are invented after common ways to keep them (common practice, no published source), and read by eye.
"""

from datetime import date

import pytest

from preflare.reading.lexicon import make_lexicon
from preflare.reading.lifts_of_titles import lifts_in_title
from preflare.reading.words import WordReader


def sets(logs):
    found = [(one.athlete, one.date, one.exercise, one.load_kg, one.reps) for one in logs.sets]
    return sorted(found, key=lambda one: (one[1], one[0], one[2]))


SHEET = """HALL LOG 2026 WEEK 2;;;;
;;;;
{mon} 14.9.2026 - {squat} + {pull};;goal 3x5, easy;;
{who};Set 1;Set 2;{pull};Notes
Ada B.;60x5;65x5;BWx6;
Bo L.;90x5;95x5;BWx7;
;;;;
{thu} 17.9.2026 - {bench};;;;
{who};Set 1;Set 2;Notes;
Ada B.;40x5;45x5;;
Bo L.;70x5;75x5;;
"""
WORDS = [
    ("Kid", "Mon", "Thu", "squat", "pull-ups", "bench press"),
    ("Schüler", "Mo", "Do", "Kniebeuge", "Klimmzüge", "Bankdrücken"),
    ("Élève", "lundi", "jeudi", "squat", "tractions", "développé couché"),
    ("Chico", "lunes", "jueves", "sentadilla", "dominadas", "press de banca"),
    ("Ragazzo", "lunedì", "giovedì", "squat", "trazioni", "panca piana"),
    ("Aluno", "segunda", "quinta", "agachamento", "barra fixa", "supino"),
    ("Leerling", "maandag", "donderdag", "squat", "pull-ups", "bankdrukken"),
    ("Uczeń", "poniedziałek", "czwartek", "przysiad", "podciąganie", "wyciskanie leżąc"),
    ("Elev", "mandag", "torsdag", "knebøy", "pull-ups", "benkpress"),
    ("Elev", "mandag", "torsdag", "squat", "pull-ups", "bænkpres"),
    ("Elev", "måndag", "torsdag", "knäböj", "chins", "bänkpress"),
]


@pytest.mark.parametrize("words", WORDS, ids=lambda words: f"{words[0]}-{words[3]}")
def test_the_lift_of_a_title_that_has_no_column_is_that_of_the_numbered_sets(read, words):
    who, mon, thu, squat, pull, bench = words
    text = SHEET.format(who=who, mon=mon, thu=thu, squat=squat, pull=pull, bench=bench)
    logs = read({"4th hour room.csv": text})
    named = [one for one in sets(logs) if one[3] is not None]
    first, second = date(2026, 9, 14), date(2026, 9, 17)
    assert named == [
        ("Ada B.", first, "back squat", 60, 5), ("Ada B.", first, "back squat", 65, 5),
        ("Bo L.", first, "back squat", 90, 5), ("Bo L.", first, "back squat", 95, 5),
        ("Ada B.", second, "bench press", 40, 5), ("Ada B.", second, "bench press", 45, 5),
        ("Bo L.", second, "bench press", 70, 5), ("Bo L.", second, "bench press", 75, 5),
    ]  # fmt: skip
    assert len(logs.sets) - len(named) == 2  # one set of the other lift each, at body weight


@pytest.mark.parametrize(
    ("title", "lifts"),
    [
        ("MON 9/14  -  SQUAT + PULL-UPS", {"back squat": "SQUAT", "pull-up": "PULL-UPS"}),
        ("Do 17.9. - Bankdrücken und RDL", {"bench press": "Bankdrücken", "romanian deadlift": "RDL"}),
        ("Heavy squat day", {"back squat": "Heavy squat day"}),
        ("no squat today", {"back squat": ""}),
        ("felt bad after last week's bench", {"bench press": ""}),
        ("FALL 2026   WEEK 1", {}),
        ("squat 3x5 @ 100", {}),
    ],
)
def test_lifts_that_a_title_names(title, lifts):
    assert lifts_in_title(title, WordReader(make_lexicon())) == lifts


def test_two_lifts_of_a_title_without_columns_of_their_own_leave_the_sets_without_one(read):
    text = "2026-03-02 - squat + bench\nName;Set 1;Set 2\nAda Berg;60x5;65x5\nBo Lind;90x5;95x5\n"
    assert {one.exercise for one in read({"log.csv": text}).sets} <= {"unknown"}


def test_a_title_over_one_table_gives_no_lift_to_the_next(read):
    text = (
        "2026-03-02 - squat\nName;Set 1;Set 2\nAda Berg;60x5;65x5\nBo Lind;90x5;95x5\n\n"
        "2026-03-04 - squat + bench\nName;Set 1;Set 2\nAda Berg;40x5;45x5\nBo Lind;70x5;75x5\n"
    )
    found = {(one.date.day, one.exercise) for one in read({"log.csv": text}).sets}
    assert found & {(2, "back squat"), (4, "back squat"), (4, "bench press")} == {(2, "back squat")}


@pytest.mark.parametrize("heading", ["Crew X", "Zzz", "Lista nova"])
def test_names_with_initials_in_the_first_column_are_people_under_any_heading(read, heading):
    text = SHEET.format(who=heading, mon="MON", thu="THU", squat="squat", pull="pull-ups", bench="bench press")
    more = "Cid M.;50x5;55x5;;\nDan V.;50x5;55x5;;\n"
    logs = read({"zoom tarn.csv": text.replace("Bo L.;", more + "Bo L.;")})
    assert {one.athlete for one in logs.sets} == {"Ada B.", "Bo L.", "Cid M.", "Dan V."}


def test_lifts_that_nobody_knows_are_no_people(read):
    text = "Date;Zzz;Set 1;Set 2;Pull-ups\n" + "".join(
        f"2026-03-0{day};{lift};60x5;65x5;BWx6\n" for day, lift in enumerate(["Wompus", "Grumble", "Trundle"], 2)
    )
    athletes = {one.athlete.casefold() for one in read({"ada berg.csv": text}).sets}
    assert athletes == {"ada berg"}
