"""Loads under a heading in the plural, bars named by half their name, arrows for the day before, slips told in cells.

Common practice, no published source.
"""

import pytest

LOADS = [
    ("Date|Exercise|Loads (kg)|Reps", "Squat"), ("Date|Exercise|Weights|Reps", "Squat"),
    ("Datum|Übung|Gewichte (kg)|Wdh", "Kniebeuge"), ("Datum|Übung|Lasten|Wdh", "Kniebeuge"),
    ("Date|Exercice|Charges (kg)|Reps", "Squat"), ("Fecha|Ejercicio|Cargas (kg)|Reps", "Sentadilla"),
    ("Fecha|Ejercicio|Pesos|Reps", "Sentadilla"), ("Data|Esercizio|Pesi (kg)|Rip", "Squat"),
    ("Data|Exercício|Cargas (kg)|Reps", "Agachamento"), ("Datum|Oefening|Gewichten (kg)|Reps", "Squat"),
    ("Data|Ćwiczenie|Obciążenia (kg)|Powt", "Przysiad"), ("Dato|Øvelse|Belastninger (kg)|Reps", "Knebøy"),
    ("Dato|Øvelse|Vægte (kg)|Reps", "Squat"), ("Datum|Övning|Vikter (kg)|Reps", "Knäböj"),
]  # fmt: skip


@pytest.mark.parametrize(("head", "lift"), LOADS, ids=[head.split("|")[2] for head, _ in LOADS])
def test_loads_under_a_heading_in_the_plural_are_read(read, head, lift):
    rows = [f"2026-03-02|{lift}|80/82,5/85|5/5/4", f"2026-03-05|{lift}|90|3/3"]
    logs = read({"Ada Berg.csv": "\n".join([head, *rows]) + "\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(80, 5), (82.5, 5), (85, 4), (90, 3), (90, 3)]


@pytest.mark.parametrize(
    ("head", "lift", "written"),
    [
        ("Data|Exercício|Barra|Carga|Reps", "Agachamento", "direita"),
        ("Data|Exercício|Barra|Carga|Reps", "Agachamento", "clássica"),
        ("Datum|Übung|Stange|Gewicht|Wdh", "Kniebeuge", "normale"),
        ("Fecha|Ejercicio|Barra|Carga|Reps", "Sentadilla", "libre"),
        ("Date|Exercise|Bar|Load|Reps", "Squat", "competition"),
    ],
)
def test_a_bar_named_without_the_word_for_a_bar_is_known(read, head, lift, written):
    logs = read({"Ada Berg.csv": f"{head}\n2026-03-02|{lift}|{written}|80|5\n"})
    assert [(one.bar, one.bar_written) for one in logs.sets] == [("straight", written)]


def test_a_word_for_a_side_names_no_bar_in_a_lift(read):
    logs = read({"Ada Berg.csv": "Data|Exercício|Carga|Reps\n2026-03-02|Remada mão direita|20|5\n"})
    assert [one.bar for one in logs.sets] == [None]


DAYS = "Mo 05.01.2026|Do 08.01.2026|Mo 12.01.2026|Do 15.01.2026"


def across(arrow, bars, grips, sets="90×5|95×5|krank|100×5"):
    rows = [f"Termin|{DAYS}", "KNIEBEUGE|||||", f"Stange|{bars}", f"Griff|{grips}", f"1. Satz|{sets}"]
    return "\n".join(rows).replace("→", arrow) + "\n"


@pytest.mark.parametrize("arrow", ["→", "->", "⇒", "➔", "=>", "»"])
def test_an_arrow_in_a_row_of_gear_is_as_the_day_before(read, arrow):
    logs = read({"Ada Berg.csv": across(arrow, "gerade|→||→", "breit|→||→")})
    assert [(one.load_kg, one.bar, one.grip_width) for one in logs.sets] == [
        (90, "straight", "wide"), (95, "straight", "wide"), (100, "straight", "wide"),
    ]  # fmt: skip


def test_an_arrow_behind_a_day_with_sets_and_no_gear_tells_nothing(read):
    logs = read({"Ada Berg.csv": across("→", "gerade||gerade|→", "breit|→||→", "90×5|95×5|97,5×5|100×5")})
    assert [(one.bar, one.grip_width) for one in logs.sets] == [
        ("straight", "wide"), (None, "wide"), ("straight", None), ("straight", None),
    ]  # fmt: skip


SLIPS = [
    "wrong! was 82,5", "falsch! waren 82,5", "erreur, c'était 82,5", "error, eran 82,5", "sbagliato, erano 82,5",
    "erro, eram 82,5", "fout, was 82,5", "pomyłka, było 82,5", "feil, var 82,5", "fejl, var 82,5", "fel, var 82,5",
]  # fmt: skip


@pytest.mark.parametrize("words", SLIPS)
def test_a_load_that_words_in_its_cell_call_wrong_is_said(read, words):
    logs = read({"Ada Berg.csv": across("→", "|||", "|||", f"90×5|87,5×6 (1) {words}|krank|100×5")})
    second = [one for one in logs.sets if str(one.date) == "2026-01-08"]
    is_right = [(one.load_kg, one.reps) for one in second] == [(82.5, 6)]
    assert is_right or any("82.5" in one.reason or "82,5" in one.value for one in logs.rejected)


def test_other_words_with_numbers_correct_nothing(read):
    logs = read({"Ada Berg.csv": across("→", "|||", "|||", "90×5|87,5×6 (1) 45 min später|krank|100×5")})
    assert not any("correct the load" in one.reason for one in logs.rejected)
