"""Whiteboards: lifters across, exercises down, one day on each. What is right was told by hand."""

from datetime import date

import pytest
from openpyxl import Workbook


def brief(logs):
    return sorted({(one.athlete, one.date, one.exercise, one.load_kg, one.reps) for one in logs.sets})


LIFTS = [["Squat SSB", "5x3 @100", "5x3 @140"], ["Bench", "3x5 @50", "-"], ["Elbow pain 0-10", 2, 0]]


def book_of(rows, title):
    book = Workbook()
    book.active.title = title
    for row in rows:
        book.active.append(row)
    return book


@pytest.mark.parametrize("corner", ["Exercise", None, "Mon 2 Mar"])
def test_each_lifters_column_is_read_as_theirs(read, corner):
    rows = [["Monday 2 March 2026"], [corner, "Ana Castell", "Bo Winther"], *LIFTS]
    logs = read({"board.xlsx": book_of(rows, "Board")}, season="[season]\nfrom = 2026-01-01\nto = 2026-12-31\n")
    assert brief(logs) == [
        ("Ana Castell", date(2026, 3, 2), "back squat", 100.0, 3),
        ("Ana Castell", date(2026, 3, 2), "bench press", 50.0, 5),
        ("Bo Winther", date(2026, 3, 2), "back squat", 140.0, 3),
    ]
    assert [(one.athlete, one.site, one.rating) for one in logs.pain] == [
        ("Ana Castell", "elbow", 2.0),
        ("Bo Winther", "elbow", 0.0),
    ]
    assert not logs.rejected


def test_a_line_with_a_date_opens_the_next_day_for_the_same_lifters(read):
    head = "Gruppe 2026;;\nÜbung;Lena Vogt;Sina Ott\n"
    text = f"{head}Di 3.3.;;\nKniebeuge;60x5 4x5@80;5x3@90\nDo 5.3.;;\nKreuzheben;;3x3@120\n"
    found = brief(read({"tafel.csv": text}))
    assert ("Lena Vogt", date(2026, 3, 3), "back squat", 80.0, 5) in found
    assert ("Sina Ott", date(2026, 3, 5), "deadlift", 120.0, 3) in found
    assert len(found) == 4


def test_boards_below_one_another_with_other_lifters(read):
    text = "2026;;\n2/3;Ana;Bo\nSquat;5x3@100;5x3@140\n;;\n25/3;Cid;Jan\nSquat;5x3@110;5x3@150\n"
    found = brief(read({"board.csv": text}))
    assert {(name, day.day) for name, day, *_ in found} == {("Ana", 2), ("Bo", 2), ("Cid", 25), ("Jan", 25)}


def test_a_board_without_a_day_is_set_aside_with_the_remedy(read):
    logs = read({"board.csv": "Exercise;Ana;Bo\nSquat;5x3@100;5x3@140\nBench;3x5@60;3x5@90\n"})
    assert not logs.sets
    assert logs.rejected
    assert all("day" in one.reason or "date" in one.reason for one in logs.rejected)


def test_work_of_several_people_is_never_read_as_the_diary_of_one(read):
    rows = [["2 March 2026"], ["who?", "red team 1", "blue team 2"], ["Squat", "5x3 @100", "5x3 @140"]]
    logs = read({"Ada Berg.xlsx": book_of(rows, "x")})
    assert not logs.sets
    assert logs.rejected
