"""Days in rows of headings: across beside columns about sets, in the corner of a block, without their month.

The logs are invented, in eleven languages, and read by eye.
"""

from datetime import date

import pytest
from openpyxl import Workbook

from preflare.reading.crosswise_marks import heads_of
from preflare.reading.days_across import are_days_in_order

BODY = """Squat;straight;100x5 100x5;;105x5
;SSB;;80x5;
Bench press;;60x5;62.5x5;65x5
Elbow R;;2;3;
"""
ACROSS = [
    ("07.09", "back squat", "straight", 100, 5),
    ("07.09", "back squat", "straight", 100, 5),
    ("07.09", "bench press", None, 60, 5),
    ("14.09", "back squat", "safety", 80, 5),
    ("14.09", "bench press", None, 62.5, 5),
    ("21.09", "back squat", "straight", 105, 5),
    ("21.09", "bench press", None, 65, 5),
]


def sets(logs):
    found = [(f"{one.date:%d.%m}", one.exercise, one.bar, one.load_kg, one.reps) for one in logs.sets]
    return sorted(found, key=lambda one: (one[0], one[1]))


def pain(logs):
    return sorted((f"{one.date:%d.%m}", one.site, one.side, one.rating) for one in logs.pain)


@pytest.mark.parametrize(
    "head",
    [
        "Exercise;Bar;7 Sep;14 Sep;21 Sep", "Lift;Bar;Mon 7/9;Mon 14/9;Mon 21/9",
        ";Bar;07/09;14/09;21/09", "Exercise;Bar;9/7;9/14;9/21", "Exercise;Bar / grip;2026-09-07;2026-09-14;2026-09-21",
        "Who;Bar;07/09;14/09;21/09", "Übung;Griff;07.09.;14.09.;21.09.", "Exercice;Barre, prise;07/09;14/09;21/09",
        "Exercice;Matériel;07/09 (matin);14/09;21/09 soir", "Exercice;Prise;Séance 1 - 07/09;S. 2 - 14/09;S. 3 - 21/09",
        "Ejercicio;Agarre;lun 7/9;lun 14/9;lun 21/9", "Esercizio;Bilanciere;7/9;14/9;21/9",
        "Exercício;Pegada;07-09;14-09;21-09", "Oefening;Greep;7-9;14-9;21-9", "Ćwiczenie;Chwyt;7.09;14.09;21.09",
        "Øvelse;Grep;7/9;14/9;21/9", "Øvelse;Stang;7. sep;14. sep;21. sep", "Övning;Grepp;7/9;14/9;21/9",
    ],
)  # fmt: skip
def test_days_stand_across_beside_a_column_about_sets(read, head):
    logs = read({"Ada Berg.csv": f"Ada Berg - autumn 2026\n\n{head}\n{BODY}"})
    assert sets(logs) == ACROSS
    assert pain(logs) == [("07.09", "elbow", "right", 2), ("14.09", "elbow", "right", 3)]


@pytest.mark.parametrize("width", [1, 2])
def test_true_dates_across_over_one_column_or_two(read, width):
    book = Workbook()
    sheet = book.active
    sheet.title = "Ada Berg"
    days = [date(2026, 9, day) for day in (7, 14, 21)]
    sheet.append(["Exercise", "Grip", *(cell for day in days for cell in [day, None][:width])])
    sheet.append(["Squat", "straight", *(cell for _ in days for cell in ["60x5", "100x5"][:width])])
    loads = [60, 100][:width]
    assert sets(read({"log.xlsx": book})) == [
        (f"{day:%d.%m}", "back squat", "straight", load, 5) for day in days for load in loads
    ]


@pytest.mark.parametrize(
    ("title", "days"),
    [
        ("September 2026", ["Mon 7", "Mon 14", "Mon 21"]), ("September 2026", ["7th", "14th", "21st"]),
        ("September 2026", ["Mo 7.", "Mo 14.", "Mo 21."]), ("septembre 2026", ["lun 7", "lun 14", "lun 21"]),
        ("septiembre 2026", ["lun 7", "lun 14", "lun 21"]), ("settembre 2026", ["lun 7", "lun 14", "lun 21"]),
        ("setembro 2026", ["seg 7", "seg 14", "seg 21"]), ("september 2026", ["ma 7", "ma 14", "ma 21"]),
        ("wrzesień 2026", ["pon 7", "pon 14", "pon 21"]), ("september 2026", ["man 7", "man 14", "man 21"]),
        ("september 2026", ["mån 7", "mån 14", "mån 21"]),
    ],
)  # fmt: skip
def test_days_without_their_month_take_it_from_the_line_above_which_is_said(read, title, days):
    logs = read({"Ada Berg.csv": f"Ada Berg\n{title}\nLift;Bar;{';'.join(days)}\n{BODY}"})
    assert sets(logs) == ACROSS
    assert any("The month of days across" in said for said in logs.files[0].sheets[0].assumptions)


def test_a_smaller_day_lies_in_the_next_month(read):
    logs = read({"Ada Berg.csv": "September 2026\nLift;Bar;Mon 21;Mon 28;Mon 5\nSquat;SSB;100x5;100x5;100x5\n"})
    assert [f"{one.date:%d.%m}" for one in logs.sets] == ["21.09", "28.09", "05.10"]


@pytest.mark.parametrize("row", ["reps;6/6;5/4;4/4", "Reps;6/6;5/6;4/6", "grip;5/5;4/5;3/5"])
def test_repetitions_done_of_those_meant_are_no_days(lexicon, row):
    assert heads_of(list(enumerate(row.split(";"))), lexicon) is None


@pytest.mark.parametrize(
    ("cells", "are_days"),
    [
        ("07/09 14/09 21/09", True), ("9/7 9/14 9/21", True), ("21/12 28/12 4/1", True), ("7.9. 14.9. 21.9.", True),
        ("6/6 5/6 4/6", False), ("3/5 4/5 5/5", False), ("21/09 14/03 7/1", False), ("07/09 14/09", False),
    ],
)  # fmt: skip
def test_days_follow_one_another_and_one_can_be_nothing_else(lexicon, cells, are_days):
    assert are_days_in_order(cells.split(), lexicon) is are_days


BLOCK = "{day};{head}\nSquat;SSB;60x5;105x5;\nBench press;;60x5;62.5x5;ok\nElbow R;2;;;\n\n"


@pytest.mark.parametrize(
    ("first", "second", "head"),
    [
        ("Mon 7 Sept", "Mon 14 Sept", "Bar;Set 1;Set 2;Notes"),
        ("Mo 07.09.", "Mo 14.09.", "Stange;Satz 1;Satz 2;Notiz"),
        ("Lundi 7/9", "Lundi 14/9", "matériel;s1;s2;remarques"),
        ("Lunes 7/9", "Lunes 14/9", "barra;serie 1;serie 2;notas"),
        ("Lun 7/9", "Lun 14/9", "bilanciere;serie 1;serie 2;note"),
        ("Seg 7/9", "Seg 14/9", "barra;série 1;série 2;notas"),
        ("ma 7-9", "ma 14-9", "stang;set 1;set 2;opmerkingen"),
        ("pon. 7.09", "pon. 14.09", "sztanga;seria 1;seria 2;uwagi"),
        ("man 7/9", "man 14/9", "stang;sett 1;sett 2;kommentar"),
        ("mån 7/9", "mån 14/9", "stång;set 1;set 2;anteckningar"),
        ("mandag d. 7/9", "mandag d. 14/9", "stang;sæt 1;sæt 2;bemærkninger"),
        ("7/9", "14/9", "bar;1;2;notes"),
        ("Session 1 - 07/09", "Session 2 - 14/09", "bar;#1;#2;notes"),
        ("2026-09-07", "2026-09-14", "bar;1;2;notes"),
    ],
)
def test_a_day_in_the_corner_of_a_block_holds_for_its_rows(read, first, second, head):
    text = "Ada Berg - 2026\n\n" + "".join(BLOCK.format(day=day, head=head) for day in (first, second))
    logs = read({"Ada Berg.csv": text})
    done = [("back squat", "safety", 60), ("back squat", "safety", 105), ("bench press", None, 60)]
    done.append(("bench press", None, 62.5))
    assert sets(logs) == [(day, *one, 5) for day in ("07.09", "14.09") for one in done]
    assert pain(logs) == [("07.09", "elbow", "right", 2), ("14.09", "elbow", "right", 2)]
    assert not logs.rejected


@pytest.mark.parametrize("head", ["kg;reps;RPE", "charge;répétitions;RPE", "Gewicht;Wdh;RPE", "exercise;kg;reps"])
def test_a_day_in_the_corner_stands_beside_loads_and_repetitions(read, head):
    squat = ";Squat;100;5" if head.startswith("exercise") else "Squat;100;5;8"
    logs = read({"Ada Berg.csv": f"2026\n2026-09-07;{head}\n{squat}\n\n2026-09-14;{head}\n{squat}\n"})
    assert sets(logs) == [(day, "back squat", None, 100, 5) for day in ("07.09", "14.09")]


def test_rows_of_data_that_begin_with_a_day_are_no_headings(read):
    text = "date;exercise;bar;grip;kg;reps\n2026-09-07;Squat;straight;wide;100;5\n2026-09-08;Squat;SSB;;100;5\n"
    assert sets(read({"Ada Berg.csv": text})) == [
        ("07.09", "back squat", "straight", 100, 5),
        ("08.09", "back squat", "safety", 100, 5),
    ]
