"""Headings in two or three lines: a name over several columns governs these and no others. Counted by hand.

Common practice, no published source.
"""

from datetime import date, datetime

import pytest
from openpyxl import Workbook


def brief(logs):
    return [(one.exercise, one.load_kg, one.reps, one.is_warm_up) for one in logs.sets]


def squat(load, reps, is_warm_up=False):
    return ("back squat", load, reps, is_warm_up)


def bench(load, reps):
    return ("bench press", load, reps, False)


def book_of(rows, *merged):
    book = Workbook()
    for row in rows:
        book.active.append(row)
    for cells in merged:
        book.active.merge_cells(cells)
    return book


WANTED = [squat(100, 5), squat(105, 5), bench(60, 5), bench(62.5, 4)]
NAMES = [
    ("SQUAT", "BENCH PRESS"), ("Kniebeuge", "Bankdrücken"), ("Squat", "Développé couché"),
    ("Sentadilla", "Press banca"),
    ("Squat", "Panca piana"), ("Agachamento", "Supino"), ("Kniebuiging", "Bankdrukken"), ("Przysiad", "Wyciskanie"),
    ("Knebøy", "Benkpress"), ("Squat", "Bænkpres"), ("Knäböj", "Bänkpress"),
]  # fmt: skip


@pytest.mark.parametrize("names", NAMES)
def test_a_lift_blank_to_the_right_governs_its_own_sets(read, names):
    text = f"Ada Berg 2026\n,{names[0]},,{names[1]},,\nDate,Set 1,Set 2,Set 1,Set 2,Notes\n"
    logs = read({"log.csv": text + "2026-01-05,100x5,105x5,60x5,62.5x4,fine\n"})
    assert brief(logs) == WANTED


@pytest.mark.parametrize("names", NAMES)
def test_a_merged_lift_governs_its_own_sets(read, names):
    rows = [
        ["Ada Berg 2026"],
        [None, None, names[0], None, names[1], None],
        ["Date", "Day", 1, 2, 1, 2, "Remarks"],
        [datetime(2026, 1, 5), "Mon", "100x5", "105x5", "60x5", "62.5x4", "fine"],
    ]
    assert brief(read({"log.xlsx": book_of(rows, "A1:G1", "C2:D2", "E2:F2")})) == WANTED


def test_loads_and_repetitions_side_by_side_under_each_lift(read):
    text = (
        "Ada Berg 2026\n,Squat,,,,Bench,,,\nDate,kg,reps,kg,reps,kg,reps,kg,reps\n2026-01-05,100,5,105,5,60,5,62.5,4\n"
    )
    assert brief(read({"log.csv": text})) == WANTED


def test_three_lines_of_headings(read):
    text = "Ada Berg 2026\n,Squat,,,,Bench,,,\n,Set 1,,Set 2,,Set 1,,Set 2,\nDate,kg,reps,kg,reps,kg,reps,kg,reps\n"
    assert brief(read({"log.csv": f"{text}2026-01-05,100,5,105,5,60,5,62.5,4\n"})) == WANTED


def test_headings_above_and_numbers_of_sets_below_them(read):
    text = "Ada Berg 2026\nDate,Squat,,Bench,,Notes\n,1,2,1,2,\n2026-01-05,100x5,105x5,60x5,62.5x4,fine\n"
    assert brief(read({"log.csv": text})) == WANTED


def test_warm_ups_and_work_under_names_of_their_own(read):
    text = "Ada Berg 2026\n,,Warm-up,,Work sets,\nDate,Exercise,1,2,1,2\n"
    logs = read({"log.csv": f"{text}2026-01-05,Squat,40x5,60x3,100x5,105x5\n2026-01-05,Bench,40x5,,60x5,62.5x4\n"})
    assert brief(logs) == [
        squat(40, 5, True), squat(60, 3, True), squat(100, 5), squat(105, 5), ("bench press", 40, 5, True),
        bench(60, 5), bench(62.5, 4),
    ]  # fmt: skip


@pytest.mark.parametrize("heading", ["What", "Lift", "Exercise", "Which one"])
def test_a_lift_named_in_a_cell_of_its_group(read, heading):
    text = f"Ada Berg 2026\n,SQUAT,,THIRD LIFT,,\nDate,Set 1,Set 2,{heading},Set 1,Set 2\n"
    text += "2026-01-05,100x5,105x5,Deadlift,140x3,145x3\n2026-01-07,,,Barbell row,50x8,55x8\n"
    logs = read({"log.csv": f"{text}2026-01-09,100x5,,Curl,20x10,\n"})
    assert [one[0] for one in brief(logs)] == [
        "back squat", "back squat", "deadlift", "deadlift", "row", "row", "back squat", "curl",
    ]  # fmt: skip


def test_sets_under_a_name_that_nobody_knows_are_not_read_as_the_lift_beside_them(read):
    text = "Squat log 2026\n,SQUAT,,WOBBLE LIFT,\nDate,Set 1,Set 2,Set 1,Set 2\n2026-01-05,100x5,105x5,60x5,62.5x4\n"
    logs = read({"Ada Berg.csv": text})
    assert [(one.exercise, one.exercise_written) for one in logs.sets] == [
        *[("back squat", "SQUAT")] * 2, *[("unknown", "WOBBLE LIFT")] * 2,
    ]  # fmt: skip


def test_a_bar_and_grip_govern_their_own_group(read):
    text = "Ada Berg 2026\n,SQUAT,,,BENCH,,\nDate,Bar,Grip,Set 1,Grip,Set 1\n"
    text += "2026-01-05,safety,medium,100x5,narrow,60x5\n2026-01-07,,,,wide,60x5\n2026-01-09,straight,wide,105x5,,\n"
    logs = read({"log.csv": text})
    assert [(one.exercise, one.bar, one.grip_width) for one in logs.sets] == [
        ("back squat", "safety", "medium"), ("bench press", None, "narrow"), ("bench press", None, "wide"),
        ("back squat", "straight", "wide"),
    ]  # fmt: skip


def test_a_mark_in_a_group_looks_up_past_days_without_it_and_past_totals(read):
    rows = [
        "Ada Berg 2026", ",SQUAT,,BENCH,", "Date,Bar,Set 1,Set 1,Set 2", "2026-01-05,safety,100x5,60x5,",
        "2026-01-07,,,60x5,", "Week 1 total,,500,,", '2026-01-12,"""",102.5x5,,',
    ]  # fmt: skip
    logs = read({"log.csv": "\n".join(rows)})
    assert [one.bar for one in logs.sets if one.exercise == "back squat"] == ["safety", "safety"]
    assert [one.bar for one in logs.sets if one.exercise != "back squat"] == [None, None]


@pytest.mark.parametrize(
    ("name", "left", "right"),
    [
        ("ELBOW PAIN 0-10", "Left", "Right"), ("Ellenbogen", "li", "re"), ("Douleur coude", "G", "D"),
        ("Codo", "I", "D"), ("Gomito", "sx", "dx"), ("Dor cotovelo", "E", "D"), ("Łokieć", "L", "P"),
        ("Elleboog", "L", "R"), ("Albue", "V", "H"), ("Armbåge", "vänster", "höger"), ("Elbow", "L", "R"),
    ],
)  # fmt: skip
def test_sides_under_the_name_of_a_sore_place(read, name, left, right):
    rows = [
        [None, "Squat", None, name, None, None],
        ["Date", "Set 1", "Set 2", left, right, "Notes"],
        [datetime(2026, 1, 5), "100x5", "105x5", 2, 4, None],
    ]
    logs = read({"Ada Berg.xlsx": book_of(rows, "B1:C1", "D1:E1")})
    assert [(one.site, one.side, one.rating) for one in logs.pain] == [("elbow", "left", 2), ("elbow", "right", 4)]
    assert [one.date for one in logs.sets] == [date(2026, 1, 5)] * 2


def test_moments_under_the_name_of_a_sore_place_alone(read):
    text = "Ada Berg 2026\n,,,,right elbow pain,,,\nDate,Exercise,kg,reps,before,during,after,Notes\n"
    logs = read({"log.csv": f"{text}2026-01-05,Squat,100,5,0,2,3,fine\n"})
    assert [(one.site, one.side, one.moment, one.rating) for one in logs.pain] == [
        ("elbow", "right", "before", 0), ("elbow", "right", "during", 2), ("elbow", "right", "after", 3),
    ]  # fmt: skip
    assert brief(logs) == [squat(100, 5)]


def test_a_title_over_a_whole_table_is_no_group(read):
    rows = [["Squat and bench, Ada Berg"], ["Date", "Exercise", "kg", "reps"], ["2026-01-05", "Bench", 60, 5]]
    logs = read({"Ada Berg.xlsx": book_of(rows, "A1:D1")})
    assert brief(logs) == [bench(60, 5)]


def test_a_rating_or_remark_merged_over_the_sets_of_a_day_is_one_report(read):
    rows = [
        ["Date", "Exercise", "Set", "kg", "Reps", "Elbow pain R", "Note"],
        [datetime(2026, 1, 5), "Squat", 1, 100, 5, 4, "left wrist 3/10"],
        [None, None, 2, 105, 5, None, None],
        [datetime(2026, 1, 7), "Squat", 1, 100, 5, 4, None],
    ]
    logs = read({"Ada Berg.xlsx": book_of(rows, "A2:A3", "B2:B3", "F2:F3", "G2:G3")})
    assert brief(logs) == [squat(100, 5), squat(105, 5), squat(100, 5)]
    assert [(one.date.day, one.site, one.rating) for one in logs.pain] == [
        (5, "elbow", 4),
        (5, "wrist", 3),
        (7, "elbow", 4),
    ]


def test_a_lift_over_the_first_of_several_columns_holds_for_all_of_them(read):
    text = "Date,Squat,,,Bench,,\n2026-01-05,100x5,105x5,,60x5,62.5x4,\n2026-01-07,100x5,105x5,110x5,60x5,,\n"
    logs = read({"Ada Berg.csv": text})
    assert brief(logs)[:4] == WANTED
    assert [one[0] for one in brief(logs)[4:]] == ["back squat"] * 3 + ["bench press"]


def test_values_without_a_heading_are_told_of(read):
    logs = read({"Ada Berg.csv": "Date,Exercise,kg,Reps,\n2026-01-05,Squat,100,5,7\n2026-01-07,Squat,100,5,8\n"})
    assert any("Column E has no heading" in said for said in logs.files[0].sheets[0].assumptions)
