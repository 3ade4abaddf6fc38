"""Columns of sets and of how many sets there were, told by what they hold; legends that explain a column.

Headings as people write them in eleven languages (common practice, no published source).
"""

import pytest

from preflare.reading.grouped import set_numbers


@pytest.mark.parametrize(
    "row",
    [
        ["1ª", "2ª", "3ª", "4ª"], ["1.º", "2.º", "3.º"], ["1st", "2nd", "3rd"], ["1re", "2e", "3e"], ["1.", "2.", "3."],
        ["1e", "2e", "3e"], ["1:a", "2:a", "3:e"], ["#1", "#2"], ["1a", "2a", "3a"], ["1er", "2do", "3er"],
    ],
)  # fmt: skip
def test_ordinals_that_count_from_left_to_right_are_numbers_of_sets(row):
    assert set_numbers(["Name", *row]) == {i: i for i in range(1, len(row) + 1)}


@pytest.mark.parametrize("row", [["2ª", "3ª", "4ª", "5ª", "6ª"], ["1ª", "x", "2ª"], ["3rd", "1st"], ["1 kg", "2 kg"]])
def test_days_of_the_week_and_other_texts_are_no_numbers_of_sets(row):
    assert set_numbers(["Name", *row]) == {}


@pytest.mark.parametrize("ordinals", ["1ª,2ª,3ª", "1º,2º,3º", "1st,2nd,3rd", "1.,2.,3.", "1re,2e,3e", "#1,#2,#3"])
def test_sets_under_ordinals_are_all_read(read, ordinals):
    body = "2026-03-05,Ada Berg,Squat,60x5,80x5,100x3\n2026-03-12,Ada Berg,Squat,60x5,82.5x5,\n"
    logs = read({"log.csv": f"Date,Name,Exercise,{ordinals}\n{body}"})
    assert [one.load_kg for one in logs.sets] == [60, 80, 100, 60, 82.5]


HOW_MANY = ["Sets", "Sätze", "Satz", "Séries", "Series", "Serie", "Séries", "Set", "Seria", "Sett", "Sæt", "Set"]


@pytest.mark.parametrize("heading", HOW_MANY)
def test_a_column_of_sets_that_does_not_count_up_says_how_many(read, heading):
    body = "2026-03-05,Ada Berg,Squat,3,5,80\n2026-03-12,Ada Berg,Squat,3,5,82.5\n2026-03-19,Ada Berg,Squat,2,3,90\n"
    logs = read({"log.csv": f"Date,Name,Exercise,{heading},Reps,Kg\n{body}"})
    assert [one.load_kg for one in logs.sets] == [80, 80, 80, 82.5, 82.5, 82.5, 90, 90]


@pytest.mark.parametrize("heading", HOW_MANY)
def test_a_column_of_sets_that_counts_up_numbers_them(read, heading):
    body = "".join(f"2026-03-0{day},Ada Berg,Squat,{n},5,{80 + n}\n" for day in (5, 6) for n in (1, 2, 3))
    logs = read({"log.csv": f"Date,Name,Exercise,{heading},Reps,Kg\n{body}"})
    assert [one.load_kg for one in logs.sets] == [81, 82, 83, 81, 82, 83]


@pytest.mark.parametrize(
    ("heading", "line", "letters"),
    [
        ("Plass", "Plass = hvor stanga ligger: H høy / L lav", "HL"),
        ("Where", "Where = where the bar lies: H high / L low", "HL"),
        ("Wo", "Wo = wo die Stange liegt: H hoch / T tief", "HT"),
        ("Place", "Place = où est la barre : H haute / B basse", "HB"),
        ("Sitio", "Sitio = dónde va la barra: A alta / B baja", "AB"),
        ("Punto", "Punto = dove sta il bilanciere: A alto / B basso", "AB"),
        ("Sítio", "Sítio = onde fica a barra: A alta / B baixa", "AB"),
        ("Plek", "Plek = waar de stang ligt: H hoog / L laag", "HL"),
        ("Plats", "Plats = var stången ligger: H hög / L låg", "HL"),
        ("Plads", "Plads = hvor stangen ligger: H høj / L lav", "HL"),
        ("Miejsce", "Miejsce = gdzie leży gryf: W wysoko / N nisko", "WN"),
    ],
)
def test_a_legend_that_explains_a_column_and_its_letters_is_believed(read, heading, line, letters):
    rows = "".join(f"2026-03-{day:02},Ada Berg,Squat,{letters[day % 2]},80,5\n" for day in range(5, 13))
    logs = read({"log.csv": f'"{line}"\nDate,Name,Exercise,{heading},Kg,Reps\n{rows}'})
    assert [one.bar_position for one in logs.sets] == ["low", "high"] * 4


def test_an_unexplained_column_of_letters_stays_unread(read):
    rows = "".join(f"2026-03-{day:02},Ada Berg,Squat,{'HL'[day % 2]},80,5\n" for day in range(5, 13))
    logs = read({"log.csv": f"Date,Name,Exercise,Plass,Kg,Reps\n{rows}"})
    assert {one.bar_position for one in logs.sets} == {None}


@pytest.mark.parametrize("cells", [("high bar", "low bar"), ("hoch", "tief"), ("alta", "baixa"), ("høy", "lav")])
def test_a_column_of_places_of_the_bar_is_known_by_what_it_holds(read, cells):
    rows = "".join(f"2026-03-{day:02},Ada Berg,Squat,{cells[day % 2]},80,5\n" for day in range(5, 13))
    logs = read({"log.csv": f"Date,Name,Exercise,Xyz,Kg,Reps\n{rows}"})
    assert [one.bar_position for one in logs.sets] == ["low", "high"] * 4


@pytest.mark.parametrize(
    "line",
    [
        "RIR is for all sets of the line", "RIR gilt für alle Sätze der Zeile",
        "RIR pour toutes les séries de la ligne",
        "RIR de todas las series", "RIR di tutte le serie", "RIR de todas as séries", "RIR geldt voor alle sets",
        "RIR dotyczy wszystkich serii", "RIR gjelder alle settene på linja", "RIR gælder alle sættene",
        "RIR gäller alla seten på raden",
    ],
)  # fmt: skip
def test_an_effort_said_to_be_of_all_sets_is_given_to_each(read, line):
    body = "2026-03-05,Ada Berg,Squat,3,5,80/90/100,2\n2026-03-12,Ada Berg,Squat,3,5,85/95/105,1\n"
    logs = read({"log.csv": f'"{line}"\nDate,Name,Exercise,Sets,Reps,Kg,RIR\n{body}'})
    assert [one.rir for one in logs.sets] == [2, 2, 2, 1, 1, 1]


def test_an_effort_of_which_nothing_is_said_is_that_of_the_heaviest_set(read):
    body = "2026-03-05,Ada Berg,Squat,3,5,80/90/100,2\n2026-03-12,Ada Berg,Squat,3,5,85/95/105,1\n"
    logs = read({"log.csv": f"Date,Name,Exercise,Sets,Reps,Kg,RIR\n{body}"})
    assert [one.rir for one in logs.sets] == [None, None, 2, None, None, 1]


def test_repetitions_that_nobody_does_are_set_aside_within_a_list(read):
    logs = read({"log.csv": "Date,Name,Exercise,Sets,Reps,Kg\n2026-03-05,Ada Berg,Bench,3,8/8/55,40\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(40, 8), (40, 8), (40, None)]
    assert [one.value for one in logs.rejected] == ["8/8/55"]


@pytest.mark.parametrize(
    ("cell", "site"),
    [
        ("Braço (acima do cotovelo)", "upper arm"), ("upper arm (just above the elbow)", "upper arm"),
        ("Oberarm oberhalb vom Ellbogen", "upper arm"), ("avant-bras sous le coude", "forearm"),
        ("antebrazo (cerca del codo)", "forearm"), ("avambraccio vicino al gomito", "forearm"),
        ("onderarm bij de elleboog", "forearm"), ("przedramię (przy łokciu)", "forearm"),
        ("underarm ved albuen", "forearm"), ("överarm ovanför armbågen", "upper arm"),
    ],
)  # fmt: skip
def test_a_site_that_only_says_where_another_lies_is_not_sore(read, cell, site):
    logs = read({"form.csv": f"Timestamp,Name,Where,Side,Pain 0-10\n2026-03-05 20:10,Ada Berg,{cell},left,3\n"})
    assert [(one.site, one.rating) for one in logs.pain] == [(site, 3)]


def test_two_sore_sites_with_one_rating_are_still_set_aside(read):
    row = "2026-03-05 20:10,Ada Berg,upper arm and elbow,left,3"
    logs = read({"form.csv": f"Timestamp,Name,Where,Side,Pain 0-10\n{row}\n"})
    assert not logs.pain


@pytest.mark.parametrize("name", ["Bíceps c/ barra", "biceps w/ bar", "Bicepscurl m/ stang", "curl c/ barra"])
def test_with_in_short_hides_no_exercise(read, name):
    logs = read({"log.csv": f"Date,Name,Exercise,Kg,Reps\n2026-03-05,Ada Berg,{name},25,12\n"})
    assert [one.exercise for one in logs.sets] == ["curl"]
