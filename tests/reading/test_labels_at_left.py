"""Words at the left of days across name the lifts of their rows, whatever stands above them or elsewhere on the sheet.

Sheets are invented after common ways to keep such logs (common practice, no published source); expectations are
counted by hand.
"""

from collections import Counter

import pytest

from preflare.reading.legend_habits import AS_LAST, defaults_of
from preflare.reading.legend_lines import Line
from preflare.reading.pain_text import read_pain
from preflare.reading.words import WordReader

DAYS = "08/09/2026;15/09/2026;22/09/2026"
ROWS = """Squat;60x5 / 60x5;62,5x5 / 62,5x5;65x5
bar;straight, low;;safety
RPE;8;;7
Bench press;40x6;42,5x6;45x6 / 45x5
RPE;7;8;
Pull up;x7 / x4;x6, x5;+5x6 / +5x4
Zonkers;20x10;20x10;22,5x10

Right elbow pain;2;3;
"""
LIFTS = {"back squat": 5, "bench press": 4, "pull-up": 6, "unknown": 3}
CORNERS = [
    "Treino de", "Training", "Session", "Workout", "Load", "kg", "Carga", "Reps", "Séries", "Name", "Who", "Notes",
    "Obs", "Datum", "Week", "Woche", "", "Ex.", "Séance", "Allenamento", "Trening", "Bar", "Plan", "Total", "Squat",
]  # fmt: skip


def lifts(logs):
    return dict(Counter(one.exercise for one in logs.sets))


@pytest.mark.parametrize("name", ["Ana Lima.csv", "Squat Ana.csv"])
@pytest.mark.parametrize("corner", CORNERS)
def test_a_row_is_of_the_lift_at_its_left(read, corner, name):
    logs = read({name: f"Squat block;;;\n{corner};{DAYS}\n{ROWS}"})
    assert lifts(logs) == LIFTS
    assert [one.rating for one in logs.pain] == [2, 3]


@pytest.mark.parametrize("heading", ["Session", "Name", "Notes", "Week", "Block", "Coach", "What"])
def test_a_list_has_its_lifts_in_the_column_that_names_them(read, heading):
    rows = "05.09.2026;Squat;100;5\n05.09.2026;Bench press;60;6\n12.09.2026;Squat;105;5\n12.09.2026;Deadlift;120;3\n"
    logs = read({"Squat Ana.csv": f"Date;{heading};Load;Reps\n{rows}"})
    assert [one.exercise for one in logs.sets] == ["back squat", "bench press", "back squat", "deadlift"]


def test_repetitions_without_a_load_hang_on_the_body_alone(read):
    logs = read({"Ana Lima.csv": f"Lift;{DAYS}\n{ROWS}"})
    told = [(one.load_kg, one.reps) for one in logs.sets if one.exercise == "pull-up"]
    assert told == [(None, 7), (None, 4), (None, 6), (None, 5), (5, 6), (5, 4)]
    other = read({"Bo Lima.csv": f"Lift;{DAYS}\nSquat;60x5;x5;65x5\n"})
    assert [one.load_kg for one in other.sets if one.athlete == "Bo Lima"] == [60, 65]  # a squat has a load


def test_a_name_in_the_corner_is_whose_log_it_is(read):
    logs = read({"log.csv": f"Ana Lima;{DAYS}\nSquat;60x5;62,5x5;65x5\n"})
    assert {one.athlete for one in logs.sets} == {"Ana Lima"}
    two = read({"log.csv": f"Ana;{DAYS}\nSquat;60x5;62,5x5;65x5\n;;;\nBo;{DAYS}\nSquat;90x5;92,5x5;95x5\n"})
    assert Counter(one.athlete for one in two.sets) == {"Ana": 3, "Bo": 3}


LAST_TIME = [
    "blank bar = as in the previous session",
    "Stange leer = wie in der vorigen Einheit",
    "barre vide = comme à la séance précédente",
    "barra en blanco = la de la sesión anterior",
    "bilanciere in bianco = come nell'allenamento precedente",
    "barra em branco = igual ao treino anterior",
    "stang leeg = zelfde als vorige training",
    "gryf puste = jak na poprzednim treningu",
    "stang blank = samme som forrige økt",
    "stang blank = samme som sidste træning",
    "stång tom = samma som förra passet",
]


@pytest.mark.parametrize("line", LAST_TIME)
def test_a_blank_bar_may_be_that_of_the_session_before(lexicon, line):
    found = defaults_of([Line(line, True)], WordReader(lexicon))
    assert [(one.part, one.value) for one in found] == [("bar", AS_LAST)]


@pytest.mark.parametrize("line", ["blank bar = straight for this session", "blank bar = not asked last time"])
def test_other_sentences_carry_no_bar(lexicon, line):
    assert AS_LAST not in [one.value for one in defaults_of([Line(line, True)], WordReader(lexicon))]


def test_a_bar_of_the_session_before_keeps_the_place_of_its_cell(read):
    legend = "blank bar = as in the previous session. RPE = the same for all sets of the lift;;;\n"
    logs = read({"Ana Lima.csv": f"{legend}Lift;{DAYS}\n{ROWS}"})
    squats = [(one.date.day, one.bar, one.bar_position, one.rpe) for one in logs.sets if one.exercise == "back squat"]
    assert squats == [
        (8, "straight", "low", 8), (8, "straight", "low", 8),
        (15, "straight", "low", None), (15, "straight", "low", None),
        (22, "safety", None, 7),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "rating"),
    [("dor no bíceps D 3", 3), ("doeu no tríceps D 2", 2), ("no biceps pain", 0), ("sem dor no bíceps", 0)],
)
def test_portuguese_no_is_in_the(lexicon, text, rating):
    assert [(one.site, one.rating) for one in read_pain(text, lexicon).reports] == [("upper arm", rating)]
