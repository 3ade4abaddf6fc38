"""Loads, repetitions and efforts in labelled rows below one another. The logs are invented, and read by eye."""

import pytest


def sets(logs):
    """One line a set: first name, day, exercise, load, repetitions, effort, whether a warm-up."""
    return [
        (one.athlete.split()[0], f"{one.date:%d.%m}", one.exercise, one.load_kg, one.reps, one.rpe, one.is_warm_up)
        for one in logs.sets
    ]


MEANT = [
    ("Ada", "09.09", "back squat", 20, 8, None, True),
    ("Ada", "09.09", "back squat", 60, 5, 7, False),
    ("Ada", "09.09", "back squat", 65, 5, 8.5, False),
    ("Ada", "09.09", "bench press", 40, 6, None, False),
    ("Ada", "09.09", "bench press", 42.5, 6, 8, False),
    ("Bo", "09.09", "back squat", 100, 5, 7, False),
    ("Bo", "09.09", "back squat", 105, 4, 9, False),
]

OWN_COLUMN = """{date};{who};{lift};;{warm};1;2
9.9.2026;Ada Berg;{squat};{load};20;60;65
;;;{reps};8;5;5
;;;RPE;;7;8,5
;;{bench};{load};;40;42,5
;;;{reps};;6;6
;;;RPE;;;8
;Bo Lind;{squat};{load};;100;105
;;;{reps};;5;4
;;;RPE;;7;9
"""
LANGUAGES = {
    "en": ("Date", "Athlete", "Exercise", "Warm-up", "Squat", "Bench press", "kg", "reps"),
    "de": ("Datum", "Athlet", "Übung", "Aufwärmen", "Kniebeuge", "Bankdrücken", "Gewicht", "Wdh."),
    "fr": ("Date", "Nom", "Exercice", "Échauffement", "Squat", "Développé couché", "charge", "rép."),
    "es": ("Fecha", "Nombre", "Ejercicio", "Calentamiento", "Sentadilla", "Press banca", "peso", "reps"),
    "it": ("Data", "Chi", "Esercizio", "Riscaldamento", "Squat", "Panca piana", "kg", "rip"),
    "pt": ("Data", "Nome", "Exercício", "Aquecimento", "Agachamento", "Supino", "carga", "repetições"),
    "nl": ("Datum", "Naam", "Oefening", "Opwarmen", "Squat", "Bankdrukken", "gewicht", "herh."),
    "pl": ("Data", "Zawodnik", "Ćwiczenie", "Rozgrzewka", "Przysiad", "Wyciskanie", "ciężar", "powt."),
    "no": ("Dato", "Navn", "Øvelse", "Oppvarming", "Knebøy", "Benkpress", "vekt", "reps"),
    "da": ("Dato", "Navn", "Øvelse", "Opvarmning", "Squat", "Bænkpres", "vægt", "gentagelser"),
    "sv": ("Datum", "Namn", "Övning", "Uppvärmning", "Knäböj", "Bänkpress", "vikt", "reps"),
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_labels_in_a_column_of_their_own(read, language):
    date, who, lift, warm, squat, bench, load, reps = LANGUAGES[language]
    logs = read({
        "log.csv": OWN_COLUMN.format(
            date=date, who=who, lift=lift, warm=warm, squat=squat, bench=bench, load=load, reps=reps
        )
    })  # fmt: skip
    assert sets(logs) == MEANT


ARRANGED = {
    "a heading over the labels": (
        "Date,Athlete,Exercise,What,WU,1,2\n2026-09-09,Ada Berg,Squat,kg,20,60,65\n,,,reps,8,5,5\n,,,RPE,,7,8.5\n"
        ",,Bench press,kg,,40,42.5\n,,,reps,,6,6\n,,,RPE,,,8\n,Bo Lind,Squat,kg,,100,105\n,,,reps,,5,4\n,,,RPE,,7,9\n"
    ),
    "repetitions first": (
        "Date,Athlete,Exercise,,WU,1,2\n2026-09-09,Ada Berg,Squat,reps,8,5,5\n,,,kg,20,60,65\n,,,RPE,,7,8.5\n"
        ",,Bench press,reps,,6,6\n,,,kg,,40,42.5\n,,,RPE,,,8\n,Bo Lind,Squat,reps,,5,4\n,,,kg,,100,105\n,,,RPE,,7,9\n"
    ),
    "everything named again in each row": (
        "Date,Athlete,Exercise,,WU,1,2\n2026-09-09,Ada Berg,Squat,kg,20,60,65\n2026-09-09,Ada Berg,Squat,reps,8,5,5\n"
        "2026-09-09,Ada Berg,Squat,RPE,,7,8.5\n2026-09-09,Ada Berg,Bench press,kg,,40,42.5\n"
        "2026-09-09,Ada Berg,Bench press,reps,,6,6\n2026-09-09,Ada Berg,Bench press,RPE,,,8\n"
        "2026-09-09,Bo Lind,Squat,kg,,100,105\n2026-09-09,Bo Lind,Squat,reps,,5,4\n2026-09-09,Bo Lind,Squat,RPE,,7,9\n"
    ),
    "labels where the lifts stand": (
        "Date,Athlete,Exercise,WU,1,2\n2026-09-09,Ada Berg,Squat,20,60,65\n,,reps,8,5,5\n,,RPE,,7,8.5\n"
        ",,Bench press,,40,42.5\n,,reps,,6,6\n,,RPE,,,8\n,Bo Lind,Squat,,100,105\n,,reps,,5,4\n,,RPE,,7,9\n"
    ),
    "a lift in a line above its labels": (
        "Date,Athlete,Exercise,WU,1,2\n2026-09-09,Ada Berg,Squat,,,\n,,kg,20,60,65\n,,reps,8,5,5\n,,RPE,,7,8.5\n"
        ",,Bench press,,,\n,,kg,,40,42.5\n,,reps,,6,6\n,,RPE,,,8\n,Bo Lind,Squat,,,\n,,kg,,100,105\n,,reps,,5,4\n"
        ",,RPE,,7,9\n"
    ),
    "sets counted in words, warm-ups by an abbreviation": (
        "Date,Athlete,Exercise,,w/u,Set 1,Set 2,Notes\n2026-09-09,Ada Berg,Squat,kg,20,60,65,\n,,,reps,8,5,5,good\n"
        ",,,RPE,,7,8.5,\n,,Bench press,kg,,40,42.5,\n,,,reps,,6,6,\n,,,RPE,,,8,\n,Bo Lind,Squat,kg,,100,105,\n"
        ",,,reps,,5,4,\n,,,RPE,,7,9,\n"
    ),
    "lift and label in one cell": (
        "Date,Athlete,Exercise,WU,1,2\n2026-09-09,Ada Berg,Squat kg,20,60,65\n,,Squat reps,8,5,5\n,,Squat RPE,,7,8.5\n"
        ",,Bench press kg,,40,42.5\n,,Bench press reps,,6,6\n,,Bench press RPE,,,8\n,Bo Lind,Squat kg,,100,105\n"
        ",,Squat reps,,5,4\n,,Squat RPE,,7,9\n"
    ),
    "a cross for the repetitions": (
        "Date,Athlete,Exercise,,WU,1,2\n2026-09-09,Ada Berg,Squat,kg,20,60,65\n,,,x,8,5,5\n,,,@,,7,8.5\n"
        ",,Bench press,kg,,40,42.5\n,,,x,,6,6\n,,,@,,,8\n,Bo Lind,Squat,kg,,100,105\n,,,x,,5,4\n,,,@,,7,9\n"
    ),
    "totals at the right": (
        "Date,Athlete,Exercise,,WU,1,2,Total\n2026-09-09,Ada Berg,Squat,kg,20,60,65,145\n,,,reps,8,5,5,18\n"
        ",,,RPE,,7,8.5,\n,,Bench press,kg,,40,42.5,82.5\n,,,reps,,6,6,12\n,,,RPE,,,8,\n"
        ",Bo Lind,Squat,kg,,100,105,205\n,,,reps,,5,4,9\n,,,RPE,,7,9,\n"
    ),
}


@pytest.mark.parametrize("arranged", ARRANGED)
def test_other_arrangements(read, arranged):
    assert sets(read({"log.csv": ARRANGED[arranged]})) == MEANT


def test_pounds_halves_misses_and_words_behind_numbers(read):
    logs = read({"log.csv": (
        "Date,Athlete,Exercise,,1,2,3\n2026-09-09,Ada Berg,Squat,lb,135,225,225\n,,,reps,5,3,2 (F)\n,,,RPE,7,8½,10\n"
        ",,Pull-up,lb,BW,BW,\n,,,reps,6,5,\n"
    )})  # fmt: skip
    told = [(one.load_kg and round(one.load_kg, 1), one.reps, one.rpe, one.is_failed) for one in logs.sets]
    assert told == [
        (61.2, 5, 7, False),
        (102.1, 3, 8.5, False),
        (102.1, 2, 10, True),
        (None, 6, None, False),
        (None, 5, None, False),
    ]


OPEN = {  # one row in which something is open -> the loads and repetitions that are stored, what is said
    "a load without repetitions": ("kg,60,65", "reps,5,", [(60, 5)], "a load without repetitions"),
    "a dash for the repetitions": ("kg,60,65", "reps,5,-", [(60, 5)], "not done"),
    "no load before one": ("kg,,65", "reps,5,5", [(65, 5)], "before sets that have one"),
    "no load behind one": ("kg,60,", "reps,5,5", [(60, 5)], "beside sets that have one"),
    "a word for a load": ("kg,heavy,65", "reps,5,5", [(65, 5)], "the load is not a number"),
    "too many repetitions": ("kg,60,65", "reps,5,66", [(60, 5)], "no whole number that anyone does"),
    "numbers that do not agree": ("kg,60/65/70,65", "reps,5/5,5", [(65, 5)], "do not agree"),
}


@pytest.mark.parametrize("case", OPEN)
def test_what_is_open_is_set_aside(read, case):
    loads, reps, stored, said = OPEN[case]
    logs = read({"log.csv": f"Date,Athlete,Exercise,,1,2\n2026-09-09,Ada Berg,Squat,{loads}\n,,,{reps}\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == stored
    assert any(said in one.reason for one in logs.rejected)


def test_a_blank_load_is_that_before_it_where_a_legend_says_so(read):
    logs = read({"log.csv": (
        "Three rows a lift: kg and reps. blank kg = same as the set before. wu = warm-up.\n\n"
        "Date,Athlete,Exercise,,1,2\n2026-09-09,Ada Berg,Squat,kg,60,\n,,,reps,5,5\n,,Curl,kg,15,\n,,,reps,8,8\n"
    )})  # fmt: skip
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(60, 5), (60, 5), (15, 8), (15, 8)]


def test_bar_and_grip_in_either_row_and_remarks_beside_them(read):
    logs = read({"log.csv": (
        "Date,Athlete,Exercise,Bar,Grip,,1,2,Remarks\n2026-09-09,Ada Berg,Squat,straight,,kg,60,65,left elbow 3 after\n"
        ",,,,wide,reps,5,5,slow\n,,Bench press,,medium,kg,40,40,\n,,,,,reps,6,6,wrist hurt 2/10\n"
    )})  # fmt: skip
    assert [(one.bar, one.grip_width) for one in logs.sets[:2]] == [("straight", "wide")] * 2
    assert {(one.site, one.rating) for one in logs.pain} == {("elbow", 3), ("wrist", 2)}
    assert len(logs.sets) == 4


def test_a_row_of_a_lift_with_a_sore_place_in_its_remark_is_no_row_of_headings(read):
    logs = read({"log.csv": (
        "Data;Chi;Esercizio;Presa;Unità;1;2;Note\n9/9/2026;Ada Berg;Squat;media;kg;60;65;\n;;;;rip;5;5;\n"
        ";;Panca piana;media;kg;40;42,5;polso sx 3 durante la panca\n;;;;rip;6;6;\n"
        ";;Panca stretta;stretta;kg;30;32,5;gomito dx 2 dopo\n;;;;rip;8;8;\n"
    )})  # fmt: skip
    assert len(logs.sets) == 6
    assert [(one.site, one.side, one.rating) for one in logs.pain] == [("wrist", "left", 3), ("elbow", "right", 2)]


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_column_of_names_under_an_unknown_heading_is_not_read_as_the_file_s(read, language):
    who = {
        "en": "who are you", "de": "wer bist du", "fr": "qui es-tu", "es": "quién eres", "it": "chi sei",
        "pt": "quem és", "nl": "wie ben je", "pl": "kim jesteś", "no": "hvem er du", "da": "hvem er du",
        "sv": "vem är du",
    }[language]  # fmt: skip
    for heading in (who, "xyz"):
        logs = read({"dolore_braccia.csv": (
            f"timestamp;{heading};site;side;pain 0-10\n09/09/2026 19:52;Bea;elbow;right;3\n"
            "10/09/2026 20:10;Carlo E.;elbow;right;2\n16/09/2026 08:15;bea;elbow;right;2\n"
            "17/09/2026 08:15;Carlo E.;elbow;right;1\n18/09/2026 08:15;Bea;elbow;right;1\n"
        )})  # fmt: skip
        assert {one.athlete for one in logs.pain} == {"Bea", "Carlo E."}
