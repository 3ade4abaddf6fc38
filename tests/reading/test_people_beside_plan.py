"""People across with their loads, beside the sets and repetitions planned for all. Invented logs, read by eye."""

import pytest


def sets(logs):
    """One line a set: first name, day, exercise, load, repetitions."""
    return [(one.athlete.split()[0], f"{one.date:%d.%m}", one.exercise, one.load_kg, one.reps) for one in logs.sets]


MEANT = {
    ("Ada", "14.09", "back squat", 55, 5): 3,
    ("Bo", "14.09", "back squat", 90, 5): 1,
    ("Bo", "14.09", "back squat", 95, 5): 2,
    ("Ada", "14.09", "bench press", 32.5, 6): 2,
    ("Bo", "17.09", "deadlift", 120, 4): 1,
    ("Bo", "17.09", "deadlift", 120, 3): 1,
}
ROWS = """14.9.2026;{squat};{a3x5};55;90/95/95
;{bench};{a2x6};32,5;-
17.9.2026;{deadlift};{a2x4};-;120 (4-3)
"""
LANGUAGES = {
    "en": ("Date;Exercise;Sets x reps", "Squat", "Bench press", "Deadlift"),
    "de": ("Datum;Übung;Sätze x Wdh", "Kniebeuge", "Bankdrücken", "Kreuzheben"),
    "fr": ("Date;Exercice;Séries x reps", "Squat", "Développé couché", "Soulevé de terre"),
    "es": ("Fecha;Ejercicio;Series x reps", "Sentadilla", "Press banca", "Peso muerto"),
    "it": ("Giorno;Esercizio;Serie x rip", "Squat", "Panca piana", "Stacco"),
    "pt": ("Data;Exercício;Séries x reps", "Agachamento", "Supino", "Levantamento terra"),
    "nl": ("Datum;Oefening;Sets x herh", "Squat", "Bankdrukken", "Deadlift"),
    "pl": ("Data;Ćwiczenie;Serie x powt", "Przysiad", "Wyciskanie", "Martwy ciąg"),
    "no": ("Dato;Øvelse;Sett x reps", "Knebøy", "Benkpress", "Markløft"),
    "da": ("Dato;Øvelse;Sæt x reps", "Squat", "Bænkpres", "Dødløft"),
    "sv": ("Datum;Övning;Set x reps", "Knäböj", "Bänkpress", "Marklyft"),
}


def counted(logs):
    found = {}
    for one in sets(logs):
        found[one] = found.get(one, 0) + 1
    return found


@pytest.mark.parametrize("language", LANGUAGES)
def test_sets_by_repetitions_in_one_column(read, language):
    head, squat, bench, deadlift = LANGUAGES[language]
    rows = ROWS.format(squat=squat, bench=bench, deadlift=deadlift, a3x5="3x5", a2x6="2x6", a2x4="2x4")
    assert counted(read({"log.csv": f"{head};Ada;Bo\n{rows}"})) == MEANT


def test_repetitions_by_sets_where_the_heading_says_so(read):
    rows = ROWS.format(squat="Squat", bench="Bench", deadlift="Deadlift", a3x5="5x3", a2x6="6x2", a2x4="4x2")
    assert counted(read({"log.csv": f"Date;Exercise;Reps x sets;Ada;Bo\n{rows}"})) == MEANT


def test_sets_and_repetitions_in_two_columns(read):
    rows = ROWS.format(squat="Squat", bench="Bench", deadlift="Deadlift", a3x5="3;5", a2x6="2;6", a2x4="2;4")
    assert counted(read({"log.csv": f"Date;Exercise;Sets;Reps;Ada;Bo\n{rows}"})) == MEANT


CELLS = {  # a cell of somebody's loads beside 3x5 -> loads with repetitions
    "100": [(100, 5)] * 3,
    "100 kg": [(100, 5)] * 3,
    "100/105/110": [(100, 5), (105, 5), (110, 5)],
    "100 / 102,5 / 105": [(100, 5), (102.5, 5), (105, 5)],
    "100; 105; 110": [(100, 5), (105, 5), (110, 5)],
    "100 (5-5-4)": [(100, 5), (100, 5), (100, 4)],
    "100/105 (5-3)": [(100, 5), (105, 3)],
    "100 no, 95": [(95, 5)] * 3,
    "100 @8": [(100, 5)] * 3,
    "100 RPE 8.5": [(100, 5)] * 3,
    "100 2 RIR": [(100, 5)] * 3,
    "BW": [(None, 5)] * 3,
    "+10": [(10, 5)] * 3,
    "BW+10": [(10, 5)] * 3,
    "2x3 @120": [(120, 3)] * 2,
    "-": [],
    "": [],
}


@pytest.mark.parametrize("cell", CELLS)
def test_what_a_cell_of_loads_says(read, cell):
    rows = f"2026-09-14\tPull-up\t3x5\t{cell}\t80\n\tSquat\t3x5\t60\t90 @8\n\tBench\t2x6\t40\t70\n"
    logs = read({"log.tsv": f"Date\tExercise\tSets x reps\tAda\tBo\n{rows}"})
    own = [(one.load_kg, one.reps) for one in logs.sets if one.athlete == "Ada" and one.exercise == "pull-up"]
    assert own == CELLS[cell]
    assert sum(one.athlete == "Bo" for one in logs.sets) == 8


OPEN = {  # a cell beside 3x5 that leaves something open -> what is said of it
    "100/105": "2 loads beside a plan of 3 sets",
    "100 (4)": "one number in brackets",
    "100/105 (5-5-4)": "2 loads beside a plan of 3 sets",
    "felt bad": "it says no load",
}


@pytest.mark.parametrize("cell", OPEN)
def test_a_cell_that_leaves_something_open_is_set_aside(read, cell):
    rows = f"2026-09-14\tSquat\t3x5\t{cell}\t80\n\tBench\t2x6\t40\t70\n\tRow\t2x8\t40\t60\n\tCurl\t2x8\t20\t30\n"
    rows += "\tDeadlift\t2x8\t80\t130\n"
    logs = read({"log.tsv": f"Date\tExercise\tSets x reps\tAda\tBo\n{rows}"})
    assert not any(one.athlete == "Ada" and one.exercise == "back squat" for one in logs.sets)
    assert any(OPEN[cell] in one.reason and one.place.column == "D" for one in logs.rejected)


LEGENDS = {
    "en": ("R2 = reps in reserve of the LAST set", "sb = used the safety bar instead of the one in the row"),
    "de": ("R2 = Wiederholungen in Reserve", "sb = hat die Safety Bar statt der anderen genommen"),
    "it": ("R2 = ripetizioni di riserva nell'ULTIMA serie", "sb = ha usato il bilanciere di sicurezza della sala"),
    "sv": ("R2 = reps in reserve", "sb = tog safety bar i stället"),
}


@pytest.mark.parametrize("language", LEGENDS)
def test_signs_that_a_legend_explains(read, language):
    reserve, bar = LEGENDS[language]
    logs = read({"log.tsv": (
        f"{reserve}\n{bar}\n\nDate\tExercise\tSets x reps\tBar\tGrip\tAda\tBo\n"
        "2026-09-14\tSquat\t2x5\tstraight\twide\t60 R2\t90 sb R3\n\tBench\t2x6\t\t\t40\t70 R1\n"
    )})  # fmt: skip
    squats = [(one.athlete, one.bar, one.grip_width, one.load_kg) for one in logs.sets if one.exercise == "back squat"]
    assert squats == [("Ada", "straight", "wide", 60)] * 2 + [("Bo", "safety", None, 90)] * 2
    assert [one.rir for one in logs.sets if one.athlete == "Bo" and one.exercise == "back squat"][-1] == 3


def test_a_sign_that_nothing_explains_is_told_of(read):
    logs = read({"log.tsv": (
        "Date\tExercise\tSets x reps\tAda\tBo\n2026-09-14\tSquat\t2x5\t60 zq\t90\n\tBench\t2x6\t40\t70\n"
    )})  # fmt: skip
    assert len(logs.sets) == 8
    assert any('"zq" means' in one.reason for one in logs.rejected)


MEMBERS = {
    "a list with a column of short names": "Name,Signs as\nAda Berglund,Lolla\nBo Lindqvist,Teo\n",
    "a list the other way round": "Signs as,Name\nLolla,Ada Berglund\nTeo,Bo Lindqvist\n",
    "lines with a sign": "Lolla = Ada Berglund\nTeo = Bo Lindqvist\n",
    "brackets behind names": "Ada Berglund (Lolla)\nBo Lindqvist (Teo)\n",
}


@pytest.mark.parametrize("members", MEMBERS)
def test_short_names_beside_full_ones(read, members):
    logs = read({
        "squad.csv": MEMBERS[members],
        "log.csv": "Date,Athlete,Exercise,kg,reps\n2026-09-14,Lolla,Squat,60,5\n2026-09-14,Teo,Squat,90,5\n",
    })  # fmt: skip
    assert {one.athlete for one in logs.sets} == {"Ada Berglund", "Bo Lindqvist"}


def test_a_word_that_two_people_share_is_no_short_name(read):
    logs = read({
        "squad.csv": "Name,Boat\nAda Berglund,Teo\nBo Lindqvist,Teo\n",
        "log.csv": "Date,Athlete,Exercise,kg,reps\n2026-09-14,Teo,Squat,60,5\n",
    })  # fmt: skip
    assert {one.athlete for one in logs.sets} == {"Teo"}


def test_two_columns_of_bare_numbers_are_no_people(read):
    logs = read({"log.csv": (
        "Date,Exercise,Sets,Reps,Massimale,Tonnellaggio\n2026-09-14,Squat,3,5,100,1500\n2026-09-16,Bench,2,6,60,720\n"
    )})  # fmt: skip
    assert not {one.athlete for one in logs.sets} & {"Massimale", "Tonnellaggio"}


def test_what_was_taken_for_people_is_said(read):
    logs = read({"log.csv": "Date,Exercise,Sets x reps,Ada,Bo\n2026-09-14,Squat,3x5,60 @8,90\n,Bench,2x6,40,-\n"})
    assert any('"Ada"' in said and "person's loads" in said for said in logs.files[0].sheets[0].assumptions)
