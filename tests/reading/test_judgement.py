"""What cannot be is set aside with its reason, what stands twice counts once, and every row is accounted for."""

from datetime import date

import pytest

HEADER = "Date,Name,Exercise,Set,Load,Reps\n"


def season(n=8, load=100, exercise="squat"):
    return "".join(f"2026-01-{day:02},Ada Berg,{exercise},1,{load},5\n" for day in range(1, n + 1))


def balance(logs):
    """Rows read, and the sum of what became of them, over all sheets."""
    sheets = [sheet for file in logs.files for sheet in file.sheets]
    return sum(s.rows_read for s in sheets), sum(s.rows_stored + s.rows_rejected + s.rows_not_data for s in sheets)


@pytest.mark.parametrize("slip", ["1000", "10000", "-100", "1.0", "620"])
def test_a_load_that_cannot_be_is_set_aside_and_its_set_kept(read, slip):
    logs = read({"log.csv": HEADER + season() + f"2026-01-20,Ada Berg,squat,1,{slip},5\n"})
    assert [s.load_kg for s in logs.sets if s.date == date(2026, 1, 20)] == [None]
    (row,) = logs.rejected
    assert (row.value.lstrip("-"), row.place.column, row.is_whole_row) == (slip.lstrip("-"), "E", False)


def test_the_sets_of_one_cell_are_told_once(read):
    log = "Date,Name,Exercise,Work\n" + "".join(f"2026-01-{day:02},Ada Berg,squat,3x5 100\n" for day in range(1, 9))
    logs = read({"log.csv": log + "2026-01-20,Ada Berg,squat,3x5 1000\n"})
    assert [s.load_kg for s in logs.sets if s.date == date(2026, 1, 20)] == [None] * 3
    assert [r.place.row for r in logs.rejected] == [10]


@pytest.mark.parametrize("fine", ["60", "20", "180", "220"])
def test_light_and_heavy_work_within_reason_stays(read, fine):
    logs = read({"log.csv": HEADER + season() + f"2026-01-20,Ada Berg,squat,1,{fine},5\n"})
    assert logs.rejected == []


def test_a_letter_in_a_load_names_file_row_column_and_value(read):
    (row,) = read({"log.csv": HEADER + season() + "2026-01-20,Ada Berg,squat,1,12O,5\n"}).rejected
    assert str(row.place) == "log.csv, row 10, column E"
    assert (row.value, "letter O" in row.reason) == ("12O", True)


def test_a_row_with_a_set_number_that_stands_twice_counts_once(read):
    logs = read({"log.csv": HEADER + "2026-01-05,Ada Berg,squat,1,100,5\n2026-01-05,Ada Berg,squat,1,100,5\n"})
    assert len(logs.sets) == 1
    assert "repeats row 2" in logs.rejected[0].reason


def test_equal_sets_without_numbers_are_three_sets(read):
    logs = read({"log.csv": "Date,Name,Exercise,Load,Reps\n" + "2026-01-05,Ada Berg,squat,100,5\n" * 3})
    assert [s.set_number for s in logs.sets] == [1, 2, 3]


def test_a_session_pasted_twice_counts_once(read):
    header = "Date,Name,Exercise,Load,Reps\n"
    session = "2026-01-05,Ada Berg,squat,100,5\n2026-01-05,Ada Berg,squat,110,3\n"
    logs = read({"log.csv": header + session + "2026-01-07,Ada Berg,squat,90,5\n" + session})
    assert len(logs.sets) == 3
    assert [r.place.row for r in logs.rejected] == [5, 6]


def test_the_same_sessions_in_two_files_count_once(read):
    text = "Date,Name,Exercise,Load,Reps\n" + "".join(
        f"2026-01-{d:02},Ada Berg,squat,{90 + d},5\n" for d in range(1, 9)
    )
    logs = read({"a.csv": text, "copy of a.csv": text})
    assert len(logs.sets) == 8
    assert len(logs.rejected) == 8
    assert "a.csv already" in logs.rejected[0].reason


def test_squats_in_one_file_and_curls_in_another_are_one_session(read):
    header = "Date,Name,Exercise,Load,Reps\n"
    logs = read(
        {"a.csv": header + "2026-01-05,Ada Berg,squat,100,5\n", "b.csv": header + "2026-01-05,Ada Berg,curl,15,10\n"}
    )
    assert {s.ordinal for s in logs.sets} == {1}


def test_other_squats_on_the_same_day_in_another_file_are_a_second_session(read):
    header = "Date,Name,Exercise,Load,Reps\n"
    logs = read(
        {"a.csv": header + "2026-01-05,Ada Berg,squat,100,5\n", "b.csv": header + "2026-01-05,Ada Berg,squat,70,8\n"}
    )
    assert [s.ordinal for s in logs.sets] == [1, 2]


def test_every_row_is_stored_rejected_or_no_data(read):
    # given one of each: title, blank, headings, a good row, a total, a bad date, a legend
    text = (
        "Club log\n\n"
        + HEADER
        + "2026-01-05,Ada Berg,squat,1,100,5\nTotal,,,1,,\nsoon,Ada Berg,squat,1,100,5\nsquat = back squat\n"
    )
    logs = read({"log.csv": text})
    (sheet,) = logs.files[0].sheets
    assert (sheet.rows_read, sheet.rows_stored, sheet.rows_rejected, sheet.rows_not_data) == (6, 1, 1, 4)
    assert [r.place.row for r in logs.rejected] == [6]
    assert logs.rejected[0].value == "soon | Ada Berg | squat | 1 | 100 | 5"


def test_rows_without_headings_are_rejected_with_a_remedy(read):
    logs = read({"log.csv": "7,8,9\n1,2,3\n"})
    assert [r.is_whole_row for r in logs.rejected] == [True, True]
    assert "headings" in logs.rejected[0].remedy
    assert balance(logs) == (2, 2)


def test_a_text_that_a_spreadsheet_turned_into_a_date_is_flagged_never_guessed(read):
    from datetime import datetime

    from openpyxl import Workbook

    book = Workbook()
    for row in (
        ["Date", "Name", "Exercise", "Load", "Reps"],
        [datetime(2026, 1, 5), "Ada Berg", "squat", 100, datetime(2026, 3, 5)],
    ):
        book.active.append(row)
    logs = read({"log.xlsx": book})
    assert [(s.load_kg, s.reps) for s in logs.sets] == [(100, None)]
    assert "date" in logs.rejected[0].reason


def test_a_script_in_a_name_is_a_name(read):
    logs = read({"log.csv": HEADER + "2026-01-05,<script>alert(1)</script>,squat,1,100,5\n"})
    assert [s.athlete for s in logs.sets] == ["<script>alert(1)</script>"]


def test_shuffled_rows_keep_the_balance(read):
    from random import Random

    rows = (
        HEADER + season() + "Total,,,8,,\nsoon,Ada Berg,squat,1,100,5\n2026-01-09,Bo Dahl,bench,1,x,5\n"
    ).splitlines()
    for seed in range(5):
        Random(seed).shuffle(rows)
        logs = read({"log.csv": "\n".join(rows)})
        assert balance(logs) == (len(rows), len(rows))


def test_partners_who_take_turns_repeat_sets_and_lose_none(read):
    turns = "2026-01-05,Ada Berg,squat,100,5\n2026-01-05,Bo Dahl,squat,140,5\n" * 3
    assert len(read({"log.csv": "Date,Name,Exercise,Load,Reps\n" + turns}).sets) == 6


def test_a_heading_that_nobody_knows_is_shown_with_the_nearest_known_one(read):
    logs = read({"log.csv": "Date,Name,Exercise,Load,Reps,Comentsz\n2026-01-05,Ada Berg,squat,100,5,q\n"})
    (choice,) = [choice for choice in logs.choices if choice.kind == "column"]
    assert (choice.written, choice.understood, choice.nearest) == ("Comentsz", None, "note")


def test_a_slip_in_a_warm_up_shows_against_many_sets(read):
    # 40 kg typed as 400 among sets of 40 to 140: under three times the upper quartile, yet twice the usual top.
    rows = "".join(
        f"2026-01-{d:02},Ada Berg,squat,{k},{load},5\n" for d in range(1, 9) for k, load in enumerate((40, 100, 140), 1)
    )
    logs = read({"log.csv": HEADER + rows + "2026-01-20,Ada Berg,squat,1,400,5\n"})
    assert [r.value for r in logs.rejected] == ["400"]


def test_a_corrected_copy_of_a_file_is_found_out_and_not_counted_twice(read):
    # given a copy in which one session of five has another load
    header = "Date,Name,Exercise,Load,Reps\n"
    rows = [f"2026-01-{d:02},Ada Berg,squat,{90 + d},5\n" for d in range(1, 6)]
    corrected = [*rows[:4], "2026-01-05,Ada Berg,squat,97.5,5\n"]
    logs = read({"a.csv": header + "".join(rows), "b corrected.csv": header + "".join(corrected)})
    # then five sessions stand, and the one that differs is named as such
    assert [(s.place.file, s.ordinal) for s in logs.sets] == [("a.csv", 1)] * 5
    assert [r.reason.endswith("with other figures") for r in logs.rejected] == [False] * 4 + [True]


def test_a_grid_that_repeats_one_week_of_a_log_keeps_its_other_weeks(read):
    log = "Date,Name,Exercise,Load,Reps\n2026-01-05,Ada Berg,squat,100,5\n"
    grid = "Ada Berg,,,\nDay,Exercise,Week 1,Week 2\nMon,Squat,100x5,110x3\n"
    logs = read({"a.csv": log, "grid.csv": grid}, "[season]\nfrom = 2026-01-05\nto = 2026-03-01")
    assert sorted((s.date.day, s.load_kg) for s in logs.sets) == [(5, 100), (12, 110)]
    assert [(r.value, r.is_whole_row) for r in logs.rejected] == [("100x5", False)]
