"""Sessions across and, below each lift, a row for its bar and its grip that is filled in where they change.

Words as people write them in eleven languages (common practice, no published source).
"""

import pytest

ROWS = [  # lift, headings of bar and grip, bars (safety, cambered, straight), grips (wide, medium), bench press
    ("en", "Squat", "bar", "grip", ("SSB", "cambered", "straight"), ("wide", "medium"), "Bench press"),
    ("de", "Kniebeugen", "Stange", "Griff", ("Sicherheitsstange", "gebogen", "gerade"), ("breit", "mittel"), "Bank"),
    ("fr", "Squat", "barre", "prise", ("sécu", "cambrée", "droite"), ("large", "moyenne"), "Développé couché"),
    ("es", "Sentadilla", "barra", "agarre", ("SSB", "curva", "recta"), ("ancho", "medio"), "Press banca"),
    ("it", "Squat", "bilanciere", "presa", ("SSB", "curvo", "dritto"), ("larga", "media"), "Panca piana"),
    ("pt", "Agachamento", "barra", "pegada", ("SSB", "curva", "reta"), ("larga", "média"), "Supino"),
    ("nl", "Squat", "stang", "greep", ("SSB", "gebogen", "recht"), ("breed", "medium"), "Bankdrukken"),
    ("pl", "Przysiad", "gryf", "chwyt", ("SSB", "łamany", "prosty"), ("szeroki", "średni"), "Wyciskanie"),
    ("no", "Knebøy", "stang", "grep", ("SSB", "buet", "rett"), ("bred", "middels"), "Benkpress"),
    ("da", "Squat", "stang", "greb", ("SSB", "buet", "lige"), ("bred", "mellem"), "Bænkpres"),
    ("sv", "Knäböj", "stång", "grepp", ("SSB", "böjd", "rak"), ("brett", "medel"), "Bänkpress"),
]  # fmt: skip
AS_LAST = {
    "en": "Bar or grip left blank = as the session before for that lift",
    "de": "Stange oder Griff leer = wie in der Einheit davor",
    "fr": "Barre ou prise laissée vide = comme la séance d'avant pour cet exercice",
    "es": "Barra o agarre en blanco = como la sesión anterior",
    "it": "Bilanciere o presa vuoti = come la seduta precedente",
    "pt": "Barra ou pegada em branco = como no treino anterior",
    "nl": "Stang of greep leeg = als de vorige training",
    "pl": "Gryf lub chwyt puste = jak na poprzednim treningu",
    "no": "Stang eller grep tomt = som forrige økt",
    "da": "Stang eller greb tomt = som forrige træning",
    "sv": "Stång eller grepp tomt = som förra passet",
}
DAYS = "07.09.2026|10.09.2026|14.09.2026|17.09.2026"


def table(lift, bar, grip, bars, grips, bench, legend=""):
    """Four sessions: squats on three bars, the last of them twice; the grip of the bench press written twice."""
    rows = [
        f"Lift|set|{DAYS}", f"{lift}|{bar}|{bars[0]}|{bars[1]}|{bars[2]}|", "|1|90x5|95x5|100x5|105x5",
        "|2|90x5|95x5|100x5|105x5", f"{bench}|{grip}|{grips[0]}||{grips[1]}|", "|1|60x5|62,5x5|65x5|67,5x5",
    ]  # fmt: skip
    return "\n".join([*([legend, ""] if legend else []), *rows]) + "\n"


def by_day(logs, exercise):
    return sorted((one for one in logs.sets if one.exercise == exercise), key=lambda one: one.date)


@pytest.mark.parametrize("row", ROWS, ids=[row[0] for row in ROWS])
def test_a_row_of_bars_beside_its_lift_names_no_people(read, row):
    logs = read({"Ada Berg.csv": table(*row[1:])})
    squats = by_day(logs, "back squat")
    assert [one.load_kg for one in squats] == [90, 90, 95, 95, 100, 100, 105, 105]
    assert [one.bar for one in squats] == ["safety"] * 2 + ["cambered"] * 2 + ["straight"] * 2 + [None] * 2
    assert {one.athlete for one in logs.sets} == {"Ada Berg"}


@pytest.mark.parametrize("row", ROWS, ids=[row[0] for row in ROWS])
def test_a_blank_is_as_in_the_session_before_for_each_lift_where_the_legend_says_so(read, row):
    logs = read({"Ada Berg.csv": table(*row[1:], AS_LAST[row[0]])})
    bars = [one.bar for one in by_day(logs, "back squat")]
    assert bars == ["safety"] * 2 + ["cambered"] * 2 + ["straight"] * 4
    assert [one.grip_width for one in by_day(logs, "bench press")] == [
        "wide",
        "wide",
        "medium",
        "medium",
    ]


def test_a_legend_about_squats_leaves_the_grip_of_other_lifts_open(read):
    row = ROWS[0][1:]
    logs = read({"Ada Berg.csv": table(*row, "Squat: bar or grip blank = same as last time")})
    assert [one.grip_width for one in by_day(logs, "bench press")] == ["wide", None, "medium", None]


def test_names_in_a_row_of_headings_with_bar_and_grip_are_people(read):
    body = "07.09.2026|Squat|SSB||60x5 62,5x5|80x5 85x5\n14.09.2026|Squat|straight|wide|65x5 65x5|90x5 90x5\n"
    logs = read({"log.csv": f"Date|Exercise|Bar|Grip|Mirka|Joppe\n{body}"})
    assert {one.athlete for one in logs.sets} == {"Mirka", "Joppe"}
    assert len(logs.sets) == 8


def test_brackets_that_hold_a_number_are_no_grip(read):
    text = table(*ROWS[2][1:], AS_LAST["fr"]).replace("62,5x5|65x5", "62,5x5 (pas 65)|65x5")
    logs = read({"Ada Berg.csv": text})
    assert [one.grip_width for one in by_day(logs, "bench press")] == [
        "wide",
        "wide",
        "medium",
        "medium",
    ]
    assert {one.grip_written for one in logs.sets} & {"5)", "65)", "pas 65"} == set()


@pytest.mark.parametrize("label", ["Squat|Sort of thing", "Squat|", "Which one|", "|Gryffe"])
def test_words_below_some_of_the_days_across_are_no_people(read, label):
    rows = f"Lift|set|{DAYS}\n{label}|Rusty|Newbie|Oldie|\nSquat|1|90x5|95x5|100x5|105x5\n|2|90x5|95x5|100x5|105x5\n"
    logs = read({"Ada Berg.csv": rows})
    assert {one.athlete for one in logs.sets} == {"Ada Berg"}
    assert [one.load_kg for one in by_day(logs, "back squat")] == [90, 90, 95, 95, 100, 100, 105, 105]


PAINS = [
    "right elbow: strong pain during pull-ups", "rechter Ellbogen: starke Schmerzen bei Klimmzügen",
    "coude droit : forte douleur pendant les tractions", "codo derecho: dolor fuerte en las dominadas",
    "gomito destro: forte dolore durante le trazioni", "cotovelo direito: dor forte nas barras",
    "rechter elleboog: hevige pijn tijdens optrekken", "prawy łokieć: silny ból przy podciąganiu",
    "høyre albue: sterk smerte under pullups", "højre albue: stærk smerte under pullups",
    "höger armbåge: kraftig smärta under chins",
]  # fmt: skip


@pytest.mark.parametrize("remark", PAINS)
def test_a_sentence_behind_a_place_and_a_colon_is_no_lost_answer(read, remark):
    logs = read({"log.csv": f"Date|Name|Exercise|Kg|Reps|Notes\n2026-09-07|Ada Berg|Squat|100|5|{remark}\n"})
    assert [(one.site, one.side, one.rating, one.severity_word) for one in logs.pain] == [
        ("elbow", "right", None, "severe")
    ]


@pytest.mark.parametrize(
    "remark",
    ["right elbow: no strong pain in pull-ups", "right elbow: strong pain last week", "right elbow: 14 strong pain"],
)
def test_what_is_denied_or_of_another_day_behind_a_colon_is_no_report(read, remark):
    logs = read({"log.csv": f"Date|Name|Exercise|Kg|Reps|Notes\n2026-09-07|Ada Berg|Squat|100|5|{remark}\n"})
    assert not logs.pain
