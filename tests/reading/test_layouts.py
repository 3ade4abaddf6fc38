"""The layouts that a squad really has, each read without being told which. Loads in kg, checked by hand."""

from datetime import date, datetime

import pytest
from openpyxl import Workbook

MONDAY = date(2026, 1, 5)


def workbook(**sheets):
    """A workbook with the given sheets, written by openpyxl."""
    book = Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name.replace("_", " "))
        for row in rows:
            sheet.append(row)
    return book


def brief(logs):
    """(athlete, day, exercise, load, reps) of every set."""
    return [(s.athlete, s.date, s.exercise, s.load_kg, s.reps) for s in logs.sets]


def test_one_row_a_set(read):
    # given a plain file, names and dates only on the first row of a session
    text = """Squad sheet

Date,Lifter,Exercise,Bar,Bar position,Grip,Set,Weight (kg),Reps,RPE,Warm-up,Missed,Session RPE,Minutes
2026-01-05,Ada Berg,squat,SSB,,,1,60,5,,x,,7,75
,,squat,SSB,,,2,100,3,8.5,,,,
,,squat,SSB,,,3,110,1,9,,x,,
,,bench press,,,,1,50,5,,,,,
"""
    # when read
    logs = read({"log.csv": text})
    # then four sets of one session, the bar kept, marks kept
    assert brief(logs) == [
        ("Ada Berg", MONDAY, "back squat", 60, 5), ("Ada Berg", MONDAY, "back squat", 100, 3),
        ("Ada Berg", MONDAY, "back squat", 110, 1), ("Ada Berg", MONDAY, "bench press", 50, 5),
    ]  # fmt: skip
    assert [(s.bar, s.rpe, s.is_warm_up, s.is_failed, s.set_number) for s in logs.sets] == [
        ("safety", None, True, False, 1), ("safety", 8.5, False, False, 2), ("safety", 9, False, True, 3),
        (None, None, False, False, 1),
    ]  # fmt: skip
    assert [(s.session_rpe, s.duration_min) for s in logs.sessions] == [(7, 75)]


def test_semicolons_decimal_commas_pounds_and_day_first(read):
    text = "Datum;Name;Übung;Stange;Ablage;Griff;Satz;Last (lb);Wdh;RPE;Bemerkung\r\n"
    text += "13.1.2026;Berg, Ada;Kniebeuge;gerade;tief;eng;1;220,5;5;8,5;\r\n"
    text += "13.1.2026;Berg, Ada;Kniebeuge;gerade;tief;eng;2;132;8;;Aufwärmen\r\n"
    logs = read({"log.csv": text.encode("cp1252")})
    first, second = logs.sets
    # 220.5 x 0.45359237 = 100.0171 and 132 x 0.45359237 = 59.8742 (pound of 1959)
    assert (first.load_kg, first.reps, first.rpe) == (100.017, 5, 8.5)
    assert (first.bar, first.bar_position, first.grip_width) == ("straight", "low", "narrow")
    assert (second.load_kg, second.is_warm_up) == (59.874, True)
    assert first.athlete == "Ada Berg"
    assert logs.files[0].sheets[0].unit == "lb"


def test_a_sheet_per_athlete_with_a_column_per_set(read):
    # given merged dates, week totals and a legend
    rows = [
        ["Ada Berg - season log (kg x reps)"],
        [],
        ["Date", "Exercise", "Bar", "Set 1", "Set 2", "Set 3", "Comment"],
        [datetime(2026, 1, 5), "Squat", "straight", "60x5 wu", "100x3 RPE 8", "110x1 x", "slow"],
        [None, "Curl", None, "12.5x10", None, None, None],
        [None, "Week total: 3 squat sets"],
        ["wu = warm-up, x = missed"],
    ]
    book = workbook(Ada_B=rows)
    book["Ada B"].merge_cells("A4:A5")
    logs = read({"lifters.xlsx": book})
    assert brief(logs) == [
        ("Ada Berg", MONDAY, "back squat", 60, 5), ("Ada Berg", MONDAY, "back squat", 100, 3),
        ("Ada Berg", MONDAY, "back squat", 110, 1), ("Ada Berg", MONDAY, "curl", 12.5, 10),
    ]  # fmt: skip
    assert [s.is_failed for s in logs.sets] == [False, False, True, False]
    assert logs.rejected == []


def test_pairs_of_load_and_repetitions_under_a_two_line_heading(read):
    rows = [["Date", "Exercise", "Set 1", None, "Set 2", None], [None, None, "kg", "reps", "kg", "reps"],
            [datetime(2026, 1, 5), "Squat", 100, 5, 110, 3]]  # fmt: skip
    book = workbook(Ada_Berg=rows)
    book["Ada Berg"].merge_cells("C1:D1")
    book["Ada Berg"].merge_cells("E1:F1")
    assert brief(read({"log.xlsx": book})) == [
        ("Ada Berg", MONDAY, "back squat", 100, 5), ("Ada Berg", MONDAY, "back squat", 110, 3)
    ]  # fmt: skip


def test_repeated_kg_and_reps_columns_are_sets_from_left_to_right(read):
    text = "Date,Name,Exercise,kg,reps,kg,reps\n2026-01-05,Ada Berg,squat,100,5,110,3\n"
    assert [(s.load_kg, s.reps) for s in read({"log.csv": text}).sets] == [(100, 5), (110, 3)]


def test_sets_times_repetitions_in_columns(read):
    text = (
        'Date,Name,Exercise,Sets,Reps,Load\n2026-01-05,Ada Berg,squat,3,5,100\n2026-01-05,Ada Berg,bench,2,"5,4",60\n'
    )
    assert brief(read({"log.csv": text}))[2:] == [
        ("Ada Berg", MONDAY, "back squat", 100, 5),
        ("Ada Berg", MONDAY, "bench press", 60, 5),
        ("Ada Berg", MONDAY, "bench press", 60, 4),
    ]


def test_one_row_a_session_with_work_in_short(read):
    rows = [
        ["Block 1, 05/01/2026 to 30/01/2026"],
        [],
        ["Date", "Who", "Bar", "Hands and position", "Squat", "Other work", "How was it?", "sRPE", "Min"],
        [
            datetime(2026, 1, 5),
            "Ada Berg",
            "cambered",
            "narrow, high bar",
            "w/u 60x5; 3x3 @140 RPE8",
            "row 2x8 @50; hammer curl 1x10 @15",
            "left elbow 4/10 after",
            7,
            75,
        ],
        [None, "Bo Dahl", "straight", "wide, low bar", "140x3, 150x2", None, "slept badly", 8, 60],
    ]
    logs = read({"diary.xlsx": workbook(Block_1=rows)})
    assert [(s.athlete, s.exercise, s.load_kg, s.reps, s.bar, s.bar_position, s.grip_width) for s in logs.sets] == [
        ("Ada Berg", "back squat", 60, 5, "cambered", "high", "narrow"),
        *[("Ada Berg", "back squat", 140, 3, "cambered", "high", "narrow")] * 3,
        *[("Ada Berg", "row", 50, 8, None, None, None)] * 2,
        ("Ada Berg", "hammer curl", 15, 10, None, None, None),
        ("Bo Dahl", "back squat", 140, 3, "straight", "low", "wide"),
        ("Bo Dahl", "back squat", 150, 2, "straight", "low", "wide"),
    ]
    assert [(p.athlete, p.site, p.side, p.rating, p.moment, p.origin) for p in logs.pain] == [
        ("Ada Berg", "elbow", "left", 4, "after", "note")
    ]  # fmt: skip


def test_a_weekly_grid_with_weeks_across(read):
    rows = [
        ["Ada Berg"],
        ["Weeks across, kg"],
        ["Week", None, 1, 2, 3],
        ["Day", "Exercise", datetime(2026, 1, 5), datetime(2026, 1, 12), datetime(2026, 1, 19)],
        ["Monday", "Squat, straight bar", "5x3 @140; narrow, low", None, "150x2"],
        [None, "Squat, safety bar", None, "2x4 @120", None],
        ["Friday", "Bench press", "3x5 @100", "rest", None],
        [None, "Total squat sets", 5, 2, 1],
    ]
    logs = read({"grid.xlsx": workbook(Ada_Berg=rows)})
    assert sorted(set(brief(logs))) == [
        ("Ada Berg", date(2026, 1, 5), "back squat", 140, 3), ("Ada Berg", date(2026, 1, 9), "bench press", 100, 5),
        ("Ada Berg", date(2026, 1, 12), "back squat", 120, 4), ("Ada Berg", date(2026, 1, 19), "back squat", 150, 2),
    ]  # fmt: skip
    assert {(s.bar, s.grip_width) for s in logs.sets if s.date == MONDAY} == {("straight", "narrow")}
    assert len(logs.sets) == 5 + 1 + 2 + 3


def test_numbered_weeks_count_from_the_first_day_of_the_season(read):
    text = "Ada Berg\nDay,Exercise,Week 1,Week 2\nMon,Squat,5x3 @140,\nThu,Squat,,150x2\n"
    logs = read({"grid.csv": text}, "[season]\nfrom = 2026-01-05\nto = 2026-03-01")
    assert {s.date for s in logs.sets} == {date(2026, 1, 5), date(2026, 1, 15)}


def test_a_file_per_athlete_with_the_name_in_its_name_only(read):
    text = "Date,Exercise,Load,Reps\n2026-01-05,squat,100,5\n"
    logs = read({"ada_berg_2026.csv": text, "training log Bo Dahl.csv": text})
    assert {s.athlete for s in logs.sets} == {"ada berg".title(), "Bo Dahl"}


def test_two_tables_on_one_sheet_below_one_another(read):
    text = """Squats
Date,Name,Exercise,Load,Reps
2026-01-05,Ada Berg,squat,100,5

Screens
Name,Date,Shoulder external rotation L (deg),Grip strength R (kg)
Ada Berg,2026-01-06,85,44
"""
    logs = read({"log.csv": text})
    assert len(logs.sets) == 1
    assert [(s.test, s.side, s.value, s.unit) for s in logs.screens] == [
        ("shoulder external rotation", "left", 85, "deg"), ("grip strength", "right", 44, "kg")
    ]  # fmt: skip


def test_two_tables_beside_one_another(read):
    text = "Date,Name,Exercise,Load,Reps,,Date,Name,Elbow pain\n2026-01-05,Ada Berg,squat,100,5,,2026-01-06,Bo Dahl,3\n"
    logs = read({"log.csv": text})
    assert brief(logs) == [("Ada Berg", MONDAY, "back squat", 100, 5)]
    assert [(p.athlete, p.date, p.rating) for p in logs.pain] == [("Bo Dahl", date(2026, 1, 6), 3)]


def test_screens_in_long_form(read):
    text = "Name,Date,Test,Side,Value,Unit\nAda Berg,2026-01-06,Shoulder ER,left,85,deg\n"
    (one,) = read({"screens.csv": text}).screens
    assert (one.test, one.side, one.value, one.unit) == ("shoulder external rotation", "left", 85, "deg")


def test_season_toml_names_columns_units_and_people(read):
    text = "Tag,Zeug,Wt,N\n2026-01-05,squat,220.5,5\n"
    season = '[[source]]\nfile = "odd.csv"\nunit = "lb"\nperson = "Ada Berg"\n'
    season += 'columns = { Tag = "date", Zeug = "exercise", Wt = "load", N = "reps" }'
    assert brief(read({"odd.csv": text}, season)) == [("Ada Berg", MONDAY, "back squat", 100.017, 5)]


def test_a_squad_teaches_its_own_bar(read):
    text = "Date,Name,Exercise,Bar,Load,Reps\n2026-01-05,Ada Berg,squat,ox bar,100,5\n"
    assert [s.bar for s in read({"log.csv": text}).sets] == [None]
    assert [s.bar for s in read({"log.csv": text}, '[words]\nbar.safety = ["ox bar"]').sets] == ["safety"]


def test_an_unknown_exercise_is_kept_and_the_nearest_word_offered(read):
    logs = read({"log.csv": "Date,Name,Exercise,Load,Reps\n2026-01-05,Ada Berg,squaaat,100,5\n"})
    assert [s.exercise for s in logs.sets] == ["unknown"]
    (choice,) = [c for c in logs.choices if c.kind == "exercise"]
    assert (choice.understood, choice.nearest) == (None, "back squat")


@pytest.mark.parametrize(
    ("written", "exercise"),
    [("sqaut", "back squat"), ("Bnech", "bench press"), ("Kniebeueg", "back squat"), ("Setadilla SSB", "back squat")],
)
def test_a_single_slip_in_a_long_word_is_put_right_and_shown_as_assumed(read, written, exercise):
    logs = read({"log.csv": f"Date,Name,Exercise,Load,Reps\n2026-01-05,Ada Berg,{written},100,5\n"})
    assert [s.exercise for s in logs.sets] == [exercise]
    (choice,) = [c for c in logs.choices if c.kind == "exercise"]
    assert (choice.written, choice.understood, choice.how) == (written, exercise, "assumed")


def test_an_empty_workbook_is_said_to_hold_nothing(read):
    book = Workbook()
    logs = read({"empty.xlsx": book})
    assert logs.sets == []
    assert logs.files[0].sheets[0].rows_read == 0


@pytest.mark.parametrize(
    ("heading", "exercise", "bar", "canonical", "canonical_bar"),
    [
        ("Date;Nom;Exercice;Barre;Charge;Reps", "squat avec pause", "barre de sécurité", "pause squat", "safety"),
        ("Fecha;Nombre;Ejercicio;Barra;Peso;Repeticiones", "sentadilla", "barra recta", "back squat", "straight"),
        ("Data;Nome;Esercizio;Bilanciere;Carico;Ripetizioni", "panca piana", "dritto", "bench press", "straight"),
        ("Data;Nome;Exercício;Barra;Carga;Repetições", "agachamento livre", "barra reta", "back squat", "straight"),
        ("Datum;Naam;Oefening;Stang;Gewicht;Herhalingen", "kniebuiging", "veiligheidsstang", "back squat", "safety"),
        ("Data;Zawodnik;Ćwiczenie;Gryf;Ciężar;Powtórzenia", "przysiad na skrzynię", "prosta", "box squat", "straight"),
        ("Dato;Navn;Øvelse;Stang;Vekt;Reps", "knebøy", "rett stang", "back squat", "straight"),
        ("Dato;Navn;Øvelse;Stang;Vægt;Gentagelser", "dødløft", "lige stang", "deadlift", "straight"),
        ("Datum;Namn;Övning;Stång;Vikt;Repetitioner", "frontböj", "rak stång", "front squat", "straight"),
        (
            "Datum;Name;Übung;Stange;Gewicht;Wdh",
            "enges Bankdrücken",
            "Langhantel",
            "close-grip bench press",
            "straight",
        ),
    ],
)
def test_words_in_other_languages(read, heading, exercise, bar, canonical, canonical_bar):
    logs = read({"log.csv": f"{heading}\n13.1.2026;Ada Berg;{exercise};{bar};100;5\n"})
    assert [(s.exercise, s.bar, s.load_kg, s.reps) for s in logs.sets] == [(canonical, canonical_bar, 100, 5)]


def test_one_effort_for_a_row_is_that_of_its_heaviest_sets(read):
    text = "Date,Name,Lift,Top set,Back-offs,RPE top\n2026-01-06,Ada Berg,Low bar squat,160x1,2x4 @ 135,8.5\n"
    assert [(s.load_kg, s.rpe) for s in read({"log.csv": text}).sets] == [(160, 8.5), (135, None), (135, None)]


def test_repetitions_set_by_set_under_one_load(read):
    text = "Date,Name,Exercise,Load,S1,S2,S3,RPE\n2026-01-06,Ada Berg,Squat,100,5,5,4,8\n"
    assert [(s.load_kg, s.reps, s.rpe) for s in read({"log.csv": text}).sets] == [(100, 5, 8), (100, 5, 8), (100, 4, 8)]


def test_loads_set_by_set_above_one_number_of_repetitions(read):
    text = "Date,Name,Exercise,Reps,Set 1,Set 2\n2026-01-06,Ada Berg,Squat,5,100,110\n"
    assert [(s.load_kg, s.reps) for s in read({"log.csv": text}).sets] == [(100, 5), (110, 5)]


def test_people_across_with_a_name_above_their_columns(read):
    text = "Spring block,,,,,\n,,Ada Berg,,Bo Dahl,\nDate,Exercise,kg,reps,kg,reps\n"
    text += "2026-01-05,Squat,100,5,140,3\n2026-01-07,Bench,60,5,,\n"
    assert brief(read({"squad.csv": text})) == [
        ("Ada Berg", MONDAY, "back squat", 100, 5), ("Ada Berg", date(2026, 1, 7), "bench press", 60, 5),
        ("Bo Dahl", MONDAY, "back squat", 140, 3),
    ]  # fmt: skip


def test_a_column_for_each_person_with_work_in_short(read):
    text = "Squats 2026,,\nDate,Ada Berg,Bo Dahl\n2026-01-05,2x5 @100,140x3\n2026-01-07,,150x2\n"
    assert brief(read({"hall.csv": text})) == [
        ("Ada Berg", MONDAY, "back squat", 100, 5), ("Ada Berg", MONDAY, "back squat", 100, 5),
        ("Bo Dahl", MONDAY, "back squat", 140, 3), ("Bo Dahl", date(2026, 1, 7), "back squat", 150, 2),
    ]  # fmt: skip


def test_a_column_for_each_person_with_ratings(read):
    text = "Elbow pain after training (0-10),,\nDate,Ada Berg,Bo Dahl\n2026-01-05,3,0\n2026-01-07,,5\n"
    logs = read({"ratings.csv": text})
    assert [(p.athlete, p.date, p.site, p.rating) for p in logs.pain] == [
        ("Ada Berg", MONDAY, "elbow", 3), ("Bo Dahl", MONDAY, "elbow", 0), ("Bo Dahl", date(2026, 1, 7), "elbow", 5)
    ]  # fmt: skip


def test_loads_and_number_of_sets_that_do_not_agree_are_refused(read):
    text = 'Date,Name,Exercise,Sets,Reps,Load\n2026-01-05,Ada Berg,squat,3,5,"100/110"\n'
    logs = read({"log.csv": text})
    assert logs.sets == []
    assert "2 and 3 sets" in logs.rejected[0].reason


def test_a_unit_said_on_one_sheet_holds_for_the_whole_workbook(read):
    head = ["Date", "Exercise", "Load", "Reps"]
    book = workbook(Ada_Berg=[["All loads in lb"], head, [datetime(2026, 1, 5), "Squat", 200, 5]],
                    Bo_Dahl=[head, [datetime(2026, 1, 5), "Squat", 300, 5]])  # fmt: skip
    assert [s.load_kg for s in read({"log.xlsx": book}).sets] == [90.718, 136.078]


def test_sets_under_a_heading_that_promises_something_else_are_read(read):
    text = 'Datum;Athletin;Einheit;Befinden\n13.01.2026;Ina Wolf;"Kniebeuge: 60x8, 80x5\nRudern 2x10 @35";gut\n'
    assert [(s.exercise, s.load_kg) for s in read({"log.csv": text}).sets] == [
        ("back squat", 60), ("back squat", 80), ("row", 35), ("row", 35)
    ]  # fmt: skip


def test_ticks_under_done_hide_nothing(read):
    text = "date,lifter,exercise,set,lbs,reps,RIR,done\n2026-01-05,Sam Hill,Low Bar Squat,1,225,5,3,x\n"
    assert [(s.load_kg, s.reps, s.rir, s.bar_position) for s in read({"log.csv": text}).sets] == [
        (102.058, 5, 3, "low")
    ]


def test_a_warm_up_marked_in_the_column_of_set_numbers(read):
    text = "Dato;Utøver;Øvelse;Sett;Kg;Reps\n13.01.2026;Ola Moe;Knebøy;oppv;60;5\n;;;1;100;5\n;;;2;100;5\n"
    assert [(s.load_kg, s.is_warm_up) for s in read({"log.csv": text}).sets] == [(60, True), (100, False), (100, False)]


def test_stacked_weeks_with_weekdays_across(read):
    text = "Kuba Zych 2026;;;\nTydzień 3;Poniedziałek;Środa;Piątek\nPrzysiad;1x5@100;;1x3@115\nBól łokcia;1;;4\n"
    text += "Tydzień 4;Poniedziałek;Środa;Piątek\nPrzysiad;1x5@102,5;;\n"
    logs = read({"plan.csv": text})
    # ISO 8601: week 3 of 2026 begins on 12 January, week 4 on 19 January.
    assert [(s.athlete, s.date.day, s.load_kg) for s in logs.sets] == [
        ("Kuba Zych", 12, 100),
        ("Kuba Zych", 16, 115),
        ("Kuba Zych", 19, 102.5),
    ]
    assert [(p.date.day, p.site, p.rating) for p in logs.pain] == [(12, "elbow", 1), (16, "elbow", 4)]


def test_a_bar_named_between_exercise_and_sets(read):
    text = "Datum;Athletin;Training\n"
    text += "13.01.2026;Ina Wolf;Kniebeuge mit Sicherheitsstange 2x6 mit 75 kg, Squat (SSB) 1x5 @80\n"
    logs = read({"log.csv": text})
    assert [(s.exercise, s.bar, s.load_kg, s.reps) for s in logs.sets] == [
        ("back squat", "safety", 75, 6), ("back squat", "safety", 75, 6), ("back squat", "safety", 80, 5)
    ]  # fmt: skip
