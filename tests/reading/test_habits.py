"""Habits of keeping a log, each in a small file of its own, counted by hand. Common practice, no published source."""

from datetime import date

import pytest
from openpyxl import Workbook


def loads(logs):
    return [(one.load_kg, one.reps, one.is_warm_up) for one in logs.sets]


def pains(logs):
    return [(one.site, one.side, one.rating, one.moment) for one in logs.pain]


def test_first_names_are_joined_with_the_list_of_members(read):
    book = Workbook()
    book.active.append(["Name", "Born", "Aim"])
    for name in ("Jan-Ole Dahl", "Mai Eklund"):
        book.active.append([name, 1999, "April meet"])
    log = book.create_sheet("Log")
    log.append(["Date", "Name", "Exercise", "Load", "Reps"])
    for day, name in enumerate(("Mai", "Jan-Ole", "JO Dahl"), start=5):
        log.append([f"2026-01-{day:02}", name, "squat", 100, 5])
    assert read({"log.xlsx": book}).people.keys() == {"Jan-Ole Dahl", "Mai Eklund"}


def test_letters_of_a_legend_stand_for_people(read):
    text = "Log 2026 - Torben Dahl & Else Eklund\nT = Torben, E = Else\n\nDate,Who,Exercise,Load,Reps\n"
    logs = read({"log.csv": text + "2026-01-05,T,squat,100,5\n2026-01-05,E,squat,60,5\n"})
    assert set(logs.people) == {"Torben Dahl", "Else Eklund"}


def test_a_week_and_a_weekday_give_the_day(read):
    rows = ["v.3|mån|Ada Berg|knäböj|100|5", "|tors||knäböj|110|5", "v.4|mån||knäböj|120|5"]
    text = "\n".join(["Log 2026", "Vecka|Dag|Namn|Övning|Kg|Reps", *rows])
    # ISO 8601: week 3 of 2026 begins on Monday 12 January
    assert [one.date.day for one in read({"log.csv": text}).sets] == [12, 15, 19]


def test_lines_that_hold_a_date_alone_open_a_day(read):
    rows = ["=== mar 13/01 ===", "Ada Berg|squat|3x5 @100", "=== gio 15/01 ===", "Ada Berg|squat|3x5 @105"]
    text = "\n".join(["Diario 2026", "nome|esercizio|serie", *rows])
    assert {(one.date, one.load_kg) for one in read({"log.txt": text}).sets} == {
        (date(2026, 1, 13), 100),
        (date(2026, 1, 15), 105),
    }


@pytest.mark.parametrize(
    "work",
    ["[60x5 80x3] 3x5@100", "(60x5 80x3) 3x5@100", "w/u 60x5 80x3 / 3x5@100", "60x5, 80x3 (w/u), 3x5@100"],
)
def test_warm_ups_in_brackets_or_before_a_slash(read, work):
    logs = read({"log.csv": f'Date,Name,Exercise,Work\n2026-01-05,Ada Berg,squat,"{work}"\n'})
    assert loads(logs) == [(60, 5, True), (80, 3, True), *[(100, 5, False)] * 3]


@pytest.mark.parametrize("tag", ["W1", "R1", "Aufw.", "éch 1", "oppv"])
def test_the_number_of_a_set_may_say_warm_up(read, tag):
    logs = read({"log.csv": f"Date,Name,Exercise,Set,Kg,Reps\n2026-01-05,Ada Berg,squat,{tag},60,5\n,,,1,100,5\n"})
    assert loads(logs) == [(60, 5, True), (100, 5, False)]


def test_loads_in_brackets_added_to_the_body_or_of_a_pair_of_dumbbells(read):
    cells = ["(60)", "BW+10", "+10", "40s", "KG", "bw"]
    rows = "".join(f"2026-01-05,Ada Berg,dips,{cell},5\n" for cell in cells)
    logs = read({"log.csv": "Date,Name,Exercise,Kg,Reps\n" + rows})
    assert [one.load_kg for one in logs.sets] == [60, 10, 10, 40, None, None]
    assert [one.is_warm_up for one in logs.sets] == [True, *[False] * 5]
    assert logs.rejected == []


def test_misses_and_reserve_written_into_cells(read):
    text = (
        "Date,Name,Exercise,Kg,Reps,RPE\n2026-01-05,Ada Berg,squat,100,4/5,2 RIR\n2026-01-06,Ada Berg,squat,100,5,8\n"
    )
    first, second = read({"log.csv": text}).sets
    assert (first.reps, first.is_failed, first.rir, first.rpe) == (4, True, 2, None)
    assert (second.reps, second.is_failed, second.rir, second.rpe) == (5, False, None, 8)


def test_a_grid_with_dates_below_its_weeks_and_warm_ups_below_the_lift(read):
    book = Workbook()
    for row in (
        ["Block 1 2026", None, None],
        ["Day", "Exercise", "Week 1\n5 Jan", "Week 2 (light)\n12 Jan"],
        ["Monday", "Squat, straight, low", "3x5 100", "3x5 105"],
        [None, "  warm up", "60x5 80x3", "60x5"],
        [None, "Elbow pain left", 2, "3-4"],
        [None, "Notes", None, "knee 2/10 after"],
    ):
        book.active.append(row)
    logs = read({"plan Ada Berg.xlsx": book})
    assert sorted({(one.date.day, one.load_kg, one.is_warm_up) for one in logs.sets}) == [
        (5, 60, True), (5, 80, True), (5, 100, False), (12, 60, True), (12, 105, False)
    ]  # fmt: skip
    assert {one.exercise for one in logs.sets} == {"back squat"}
    assert sorted(pains(logs)) == [
        ("elbow", "left", 2, "after"),
        ("elbow", "left", 4, "after"),
        ("knee", "unknown", 2, "after"),
    ]


@pytest.mark.parametrize(
    ("cell", "site", "side", "rating"),
    [
        ("3 dx", "elbow", "right", 3),
        ("spalla 2", "shoulder", "unknown", 2),
        ("2-3 sx", "elbow", "left", 3),
        ("ginocchio dx 1", "knee", "right", 1),
    ],
)
def test_a_rating_with_its_place_in_one_cell(read, cell, site, side, rating):
    text = f"Data,Nome,Esercizio,Kg,Rip,Dolore\n2026-01-05,Ada Berg,squat,100,5,{cell}\n"
    logs = read({"log.csv": text}, '[season]\ndefault_site = "elbow"')
    assert pains(logs) == [(site, side, rating, "after")]


@pytest.mark.parametrize(
    ("note", "expected"),
    [
        ("coude D 3/10", [("elbow", "right", 3)]),
        ("h albue 2/10", [("elbow", "right", 2)]),
        ("elbow 4/10 right after the last set", [("elbow", "unknown", 4)]),
        ("shoulder pinchy, 2/10 left", [("shoulder", "left", 2)]),
        ("L elbow 6/10, upper arm too 3/10", [("elbow", "left", 6), ("upper arm", "left", 3)]),
        ("elbow 2/10 before, 1/10 after", [("elbow", "unknown", 2), ("elbow", "unknown", 1)]),
        ("sem dor no cotovelo", [("elbow", "unknown", 0)]),
        ("avant-bras G 3/10", [("forearm", "left", 3)]),
        ("biceps 3, triceps 4", []),
    ],
)
def test_sides_and_second_ratings_in_remarks(read, note, expected):
    logs = read({"log.csv": f'Date,Name,Exercise,Kg,Reps,Notes\n2026-01-05,Ada Berg,squat,100,5,"{note}"\n'})
    assert [(one.site, one.side, one.rating) for one in logs.pain] == expected


def test_a_unit_on_another_sheet_holds_for_the_whole_file(read):
    book = Workbook()
    book.active.append(["everything in pounds unless it says kg"])
    log = book.create_sheet("Ada Berg")
    log.append(["Date", "Lift", "Wt", "Reps"])
    log.append(["2026-01-05", "squat", 225, 5])
    log.append(["2026-01-05", "squat", "100kg", 5])
    assert [one.load_kg for one in read({"log.xlsx": book}).sets] == [102.058, 100]  # 225 x 0.45359237


def test_ratings_beside_a_site_under_any_heading_and_no_other_scale_is_pain(read):
    form = ["Timestamp,Name,Where?,Intensity (0 = none / 10 = worst),When?"]
    form += [f"2026-01-0{day} 20:00,Ada Berg,elbow,{rating},after training" for day, rating in ((5, 4), (6, 2))]
    logs = read({"form.csv": "\n".join(form)})
    assert [one.rating for one in logs.pain] == [4, 2]
    wellness = "Date,Name,Energy (0-10),Sleep quality (0-10),Number\n2026-01-05,Ada Berg,7,8,1\n"
    assert read({"form.csv": wellness}).pain == []


def test_a_word_beside_work_may_make_another_lift_of_its_column(read):
    rows = ["2026-01-05,Ada Berg,close grip 3x8@80,3x5@100", "2026-01-07,Ada Berg,3x5@90,"]
    logs = read({"log.csv": "\n".join(["Date,Name,Bench,Squat", *rows])})
    assert [one.exercise for one in logs.sets][::3] == ["close-grip bench press", "back squat", "bench press"]


def test_sets_in_a_column_of_warm_ups_are_warm_ups(read):
    rows = ["2026-01-05;Ada Berg;squat;60x5, 80x3;120x3;3x5 @100"]
    logs = read({"log.csv": "\n".join(["Date;Name;Lift;Warm up;Top set;Back-offs", *rows])})
    assert loads(logs) == [(60, 5, True), (80, 3, True), (120, 3, False), *[(100, 5, False)] * 3]


@pytest.mark.parametrize(("heading", "side"), [("Ból łokcia P", "right"), ("Cotovelo E", "left"), ("Elbow R", "right")])
def test_a_letter_behind_a_site_in_a_heading_is_its_side(read, heading, side):
    logs = read({"log.csv": f"Date,Name,Exercise,Kg,Reps,{heading}\n2026-01-05,Ada Berg,squat,100,5,3\n"})
    assert pains(logs) == [("elbow", side, 3, "after")]


def test_gear_in_brackets_behind_an_exercise_in_a_diary(read):
    text = "Tagebuch 2026\n\nMo 12.01.\nKniebeuge (gerade, eng, tief): Aufw. 60x5 / 3x5 mit 100 kg\n"
    logs = read({"Ada Berg.txt": text})
    assert loads(logs) == [(60, 5, True), *[(100, 5, False)] * 3]
    assert {(one.bar, one.grip_width, one.bar_position) for one in logs.sets} == {("straight", "narrow", "low")}
