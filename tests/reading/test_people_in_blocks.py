"""Sheets that hold several people, across or in blocks below one another: whose rows, bars, efforts and ratings are.

The logs are invented after common ways to keep them (common practice, no published source), and read by eye.
"""

import pytest

from preflare.reading.legend import read_legend
from preflare.reading.legend_lines import Line
from preflare.reading.words import WordReader


def sets(logs):
    return [
        (one.athlete.split()[0], one.exercise, one.load_kg, one.reps, one.is_warm_up)
        for one in sorted(logs.sets, key=lambda one: (one.athlete, one.date, one.place.row))
    ]


ACROSS = """2026-03-03;;;;;;;
;;{ada};;;{bo};;
{lift};set;kg;x;RIR;kg;x;RIR
{squat};{bar};{straight};;;{safety};;
;W;40;5;;60;5;
;1;70;5;3;100;5;2
;2;idem;4;2;idem;5;1
{bench};W;30;8;;40;8;
;1;50;6;;80;6;
;;;;;;;
{elbow};;3;;;0;;
"""
WORDS = [
    ("exercise", "squat", "bar", "straight", "safety bar", "bench press", "elbow R"),
    ("Übung", "Kniebeuge", "Stange", "gerade", "Sicherheitsstange", "Bankdrücken", "Ellbogen rechts"),
    ("exercice", "squat", "barre", "droite", "barre de sécurité", "développé couché", "coude droit"),
    ("ejercicio", "sentadilla", "barra", "recta", "barra de seguridad", "press de banca", "codo derecho"),
    ("esercizio", "squat", "bilanciere", "dritto", "safety bar", "panca piana", "gomito destro"),
    ("exercício", "agachamento", "barra", "reta", "barra de segurança", "supino", "cotovelo direito"),
    ("oefening", "squat", "stang", "recht", "veiligheidsstang", "bankdrukken", "elleboog R"),
    ("ćwiczenie", "przysiad", "gryf", "prosty", "safety bar", "wyciskanie leżąc", "łokieć prawy"),
    ("øvelse", "knebøy", "stang", "rett", "sikkerhetsstang", "benkpress", "albue høyre"),
    ("øvelse", "squat", "stang", "lige", "sikkerhedsstang", "bænkpres", "albue højre"),
    ("övning", "knäböj", "stång", "rak", "säkerhetsstång", "bänkpress", "armbåge höger"),
]


@pytest.mark.parametrize("words", WORDS, ids=lambda words: f"{words[0]}-{words[2]}-{words[3]}")
def test_the_bar_of_a_lift_stands_beside_its_name_and_counts_behind_loads(read, words):
    lift, squat, bar, straight, safety, bench, elbow = words
    text = ACROSS.format(
        ada="Ada Bergmoen", bo="Bo Lindvall", lift=lift, squat=squat, bar=bar, straight=straight, safety=safety,
        bench=bench, elbow=elbow,
    )  # fmt: skip
    logs = read({"log.csv": text})
    assert sets(logs) == [
        ("Ada", "back squat", 40, 5, True), ("Ada", "back squat", 70, 5, False), ("Ada", "back squat", 70, 4, False),
        ("Ada", "bench press", 30, 8, True), ("Ada", "bench press", 50, 6, False),
        ("Bo", "back squat", 60, 5, True), ("Bo", "back squat", 100, 5, False), ("Bo", "back squat", 100, 5, False),
        ("Bo", "bench press", 40, 8, True), ("Bo", "bench press", 80, 6, False),
    ]  # fmt: skip
    assert {(one.athlete.split()[0], one.exercise, one.bar) for one in logs.sets} == {
        ("Ada", "back squat", "straight"), ("Ada", "bench press", None),
        ("Bo", "back squat", "safety"), ("Bo", "bench press", None),
    }  # fmt: skip
    assert sorted((one.athlete.split()[0], one.site, one.side, one.rating) for one in logs.pain) == [
        ("Ada", "elbow", "right", 3), ("Bo", "elbow", "right", 0),
    ]  # fmt: skip


def test_numbers_behind_loads_that_are_no_counts_are_not_taken_for_repetitions(read):
    text = "2026-03-03;;;;\n;;Ada Bergmoen;;Bo Lindvall;\nexercise;set;kg;q;kg;q\nsquat;1;70;0.55;100;0.61\n"
    logs = read({"log.csv": f"{text};2;70;0.48;100;0.52\n"})
    assert not [one for one in logs.sets if one.reps is not None]


def test_a_rating_under_one_name_is_nobody_elses(read):
    text = "date;2026-03-03;;;;\n;;Ada Bergmoen;;Bo Lindvall;\nexercise;set;kg;reps;kg;reps\n"
    text += "squat;1;70;5;100;5\n;2;72.5;5;102.5;5\nelbow L;;3;;;\nelbow R;;;;4;\nremarks;;wrist R 2 during;;;\n"
    logs = read({"log.csv": text})
    assert sorted((one.athlete.split()[0], one.site, one.side, one.rating) for one in logs.pain) == [
        ("Ada", "elbow", "left", 3), ("Ada", "wrist", "right", 2), ("Bo", "elbow", "right", 4),
    ]  # fmt: skip


BLOCKS = """;3/3/2026;10/3/2026;17/3/2026;24/3/2026
{first};;;;
squat bar;straight, narrow, low;;safety bar;
squat kg;40-70-70;40-72.5-72.5;40-60-60;40-62.5-62.5
squat reps;8-5-5;8-5-4;8-5-5;8-5-5
{rpe} RPE;7-8;7-8.5;8;9-9
elbow R;1;2;;0
;;;;
{second};;;;
squat bar;cambered, wide, high;;;
squat kg;60-100-100-100;sick;60-100-100-100;60-105-105-105
squat reps;6-5-5-5;;6-5-5-5;6-5-5-4
squat RPE;7-7-8;;8;8-8-9
elbow R;0;;4;3
"""
LEGEND = """Squat: the first number is always the warm-up. RPE is of the sets behind it.
Bar: kind, grip (narrow/medium/wide), position (low/high). Blank = same as the week before.
"""
SEASON = (
    '[[athlete]]\nname = "Bramwell Oake"\naliases = ["BRAM"]\n[[athlete]]\nname = "Fenna Holm"\naliases = ["Fen"]\n'
)


@pytest.mark.parametrize(("names", "season"), [(("BRAM", "Fen"), SEASON), (("Ada Berg", "BRAM"), "")])
def test_names_over_blocks_below_days_even_where_they_look_like_lifts(read, names, season):
    logs = read({"log.csv": BLOCKS.format(first=names[0], second=names[1], rpe="squat")}, season)
    by_person = {}
    for one in logs.sets:
        by_person.setdefault(one.athlete, set()).add(one.load_kg)
    assert sorted(map(sorted, by_person.values())) == [[40, 60, 62.5, 70, 72.5], [60, 100, 105]]
    assert {one.exercise for one in logs.sets} == {"back squat"}
    assert sorted(one.rating for one in logs.pain) == [0, 0, 1, 2, 3, 4]


def test_bars_grips_and_first_sets_of_strung_loads_as_a_legend_says(read):
    table = BLOCKS.format(first="Ada Berg", second="Bo Lind", rpe="sqaut")
    logs = read({"log.csv": table, "legend.txt": LEGEND})
    ada = [one for one in logs.sets if one.athlete == "Ada Berg"]
    assert [(one.date.day, one.bar, one.grip_width, one.bar_position) for one in ada if one.is_warm_up] == [
        (3, "straight", "narrow", "low"), (10, "straight", "narrow", "low"),
        (17, "safety", None, None), (24, "safety", None, None),
    ]  # fmt: skip
    assert {(one.bar, one.grip_width, one.bar_position) for one in logs.sets if one.athlete == "Bo Lind"} == {
        ("cambered", "wide", "high")
    }
    assert [one.load_kg for one in logs.sets if one.is_warm_up] == [40, 40, 40, 40, 60, 60, 60]
    bo = [one.rpe for one in logs.sets if one.athlete == "Bo Lind" and not one.is_warm_up]
    assert bo == [7, 7, 8, 8, 8, 8, 8, 8, 9]
    assert not logs.rejected


def test_without_a_legend_a_blank_bar_stays_open_and_no_first_set_is_a_warm_up(read):
    logs = read({"log.csv": BLOCKS.format(first="Ada Berg", second="Bo Lind", rpe="squat")})
    ada = [one for one in logs.sets if one.athlete == "Ada Berg"]
    assert [one.bar for one in ada if one.load_kg == 40] == ["straight", None, "safety", None]
    assert not any(one.is_warm_up for one in logs.sets)


def test_a_lift_named_like_a_bar_stays_a_lift(read):
    text = ";3/3/2026;10/3/2026\nAda Berg;;\nsquat;100x5;102.5x5\ntrap bar deadlift;120x5;125x5\n"
    logs = read({"log.csv": f"{text}Bo Lind;;\nsquat;80x5;82.5x5\n"})
    assert {one.exercise for one in logs.sets if one.load_kg > 110} == {"deadlift"}


FIRSTS = [
    ("Squat: the first number is always the warm-up.", {"back squat"}),
    ("First set = warm-up", {None}),
    ("Kniebeuge: die erste Zahl ist immer der Aufwärmsatz.", {"back squat"}),
    ("Squat : le premier chiffre est toujours l'échauffement.", {"back squat"}),
    ("Sentadilla: el primer número es siempre el calentamiento.", {"back squat"}),
    ("Squat: il primo numero è sempre il riscaldamento.", {"back squat"}),
    ("Agachamento: o primeiro número é sempre o aquecimento.", {"back squat"}),
    ("Squat: het eerste getal is altijd de warming-up.", {"back squat"}),
    ("Przysiad: pierwsza liczba to zawsze rozgrzewka.", {"back squat"}),
    ("Knebøy: første tallet er alltid oppvarming.", {"back squat"}),
    ("Squat: det første tal er altid opvarmning.", {"back squat"}),
    ("Knäböj: första siffran är alltid uppvärmning.", {"back squat"}),
    ("The first set is no warm-up.", set()),
    ("The first number is the load.", set()),
    ("The first set was 60x8 to warm up.", set()),
]


@pytest.mark.parametrize(("line", "lifts"), FIRSTS)
def test_lifts_whose_first_set_is_a_warm_up(lexicon, line, lifts):
    legend = read_legend([Line(line, True)], WordReader(lexicon), {})
    assert {one.lift for one in legend.firsts} == lifts


def test_a_first_set_that_is_no_lighter_is_no_warm_up(read):
    text = "First set = warm-up\nDate;Name;Exercise;kg;Reps\n"
    text += "2026-03-03;Ada Berg;Squat;60;5\n;;;100;5\n2026-03-05;Ada Berg;Squat;100;5\n;;;90;5\n"
    logs = read({"log.csv": text})
    assert [one.is_warm_up for one in logs.sets] == [True, False, False, False]


BLANK = [
    "Bar: kind, grip, place. Blank = same as last week.",
    "Stange: Art, Griffbreite, Stangenposition. Leer = wie in der Woche davor.",
    "Barre : type, prise, position. Vide = comme la semaine d'avant.",
    "Barra: tipo, agarre, apoyo. En blanco = igual que la semana anterior.",
    "Bilanciere: tipo, presa, posizione. Vuoto = come la settimana prima.",
    "Barra: tipo, pegada, posição. Vazio = igual à semana anterior.",
    "Stang: soort, greep, ligging. Leeg = zelfde als de week ervoor.",
    "Gryf: rodzaj, chwyt, pozycja. Puste = jak tydzień wcześniej.",
    "Stang: type, grep, plassering. Tomt = samme som uka før.",
    "Stang: type, greb, placering. Tomt = samme som ugen før.",
    "Stång: sort, grepp, placering. Tomt = samma som veckan innan.",
]


@pytest.mark.parametrize("line", BLANK)
def test_a_blank_bar_is_as_before_where_the_line_above_is_about_bars(lexicon, line):
    found = read_legend([Line(line, True)], WordReader(lexicon), {}).defaults
    assert "bar" in {one.part for one in found if one.value.startswith("as the last time")}


@pytest.mark.parametrize("line", ["Squat: kg. Blank = same as last week.", "Blank = same as the week before."])
def test_a_blank_of_something_else_is_no_bar(lexicon, line):
    assert not read_legend([Line(line, True)], WordReader(lexicon), {}).defaults


MORNINGS = [
    "elbow R next morning 3", "Ellbogen re am nächsten Morgen 3", "coude droit lendemain matin 3",
    "codo dcho a la mañana siguiente 3", "gomito dx mattina dopo 3", "cotovelo dir manhã seguinte 3",
    "elleboog R volgende ochtend 3", "prawy łokieć następnego ranka 3", "høyre albue neste morgen 3",
    "højre albue næste morgen 3", "höger armbåge nästa morgon 3",
]  # fmt: skip


@pytest.mark.parametrize("remark", MORNINGS)
def test_a_rating_behind_the_next_morning(read, remark):
    logs = read({"log.csv": f"Date;Name;Exercise;kg;Reps;Note\n2026-03-03;Ada Berg;Squat;60;5;{remark}\n"})
    assert [(one.site, one.side, one.rating, one.moment) for one in logs.pain] == [
        ("elbow", "right", 3, "next morning")
    ]


@pytest.mark.parametrize("remark", ["elbow R after 3 sets", "elbow R next morning 3 km run", "elbow R next morning"])
def test_other_numbers_behind_a_moment_are_no_ratings(read, remark):
    logs = read({"log.csv": f"Date;Name;Exercise;kg;Reps;Note\n2026-03-03;Ada Berg;Squat;60;5;{remark}\n"})
    assert not logs.pain
