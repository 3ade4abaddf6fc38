"""Weekly grids and notebooks: rows of dates, cells that name another bar, "same" in a grid, several lines in a cell."""

from datetime import date

import pytest
from openpyxl import Workbook


def book_of(rows):
    book = Workbook()
    book.active.title = "Block"
    for row in rows:
        book.active.append(row)
    return book


def brief(logs):
    return sorted({(one.date, one.exercise, one.load_kg, one.reps, one.is_warm_up) for one in logs.sets})


def test_a_row_of_ranges_below_numbered_weeks_gives_their_days(read):
    rows = [
        ["Treino 2026"],
        ["Dia", "Exercício", "Semana 1", "Semana 2"],
        [None, None, "09/03 - 15/03", "16/03 - 22/03"],
        ["Segunda", "Agachamento", "3x5 100", None],
        ["Quinta", "Supino", None, "3x5 60"],
    ]
    logs = read({"Ada Berg.xlsx": book_of(rows)})
    assert brief(logs) == [
        (date(2026, 3, 9), "back squat", 100.0, 5, False),
        (date(2026, 3, 19), "bench press", 60.0, 5, False),
    ]
    assert not logs.rejected


def test_the_warm_ups_below_a_cell_that_names_another_bar_are_with_that_bar(read):
    rows = [
        ["2026"],
        ["Day", "Exercise", "Week 1 (2 Mar)", "Week 2 (9 Mar)"],
        ["Mon", "Squat straight bar, low", "3x5 100", "SSB 3x5 80"],
        [None, "warm-up", "60x5", "50x5"],
    ]
    logs = read({"Ada Berg.xlsx": book_of(rows)})
    bars = {(one.date.day, one.is_warm_up): (one.bar, one.bar_position) for one in logs.sets}
    assert bars == {
        (2, False): ("straight", "low"),
        (2, True): ("straight", "low"),
        (9, False): ("safety", None),
        (9, True): ("safety", None),
    }


@pytest.mark.parametrize("word", ["idem", "same", "〃", "dito"])
def test_same_in_a_grid_is_the_week_before_and_is_said(read, word):
    rows = [
        ["2026"],
        ["Day", "Exercise", "Week 1 (2 Mar)", "Week 2 (9 Mar)"],
        ["Mon", "Squat", "3x5 100", "3x5 105"],
        [None, "Bench", "3x5 60", word],
    ]
    logs = read({"Ada Berg.xlsx": book_of(rows)})
    assert (date(2026, 3, 9), "bench press", 60.0, 5, False) in brief(logs)
    (told,) = logs.rejected
    assert "3x5 60" in told.reason


@pytest.mark.parametrize("lines", [["2/10 left elbow"], ["left elbow 2/10", "Deadlift 1x3 @140"]])
def test_every_line_of_a_cell_is_an_exercise_or_a_remark_of_its_own(read, lines):
    text = "\n".join(["Squat 2x5 @100", "Bench 3x5 @80", *lines])
    logs = read(
        {"Ada Berg.xlsx": book_of([["Training 2026"], ["Mon 5 Jan"], [text], ["Wed 7 Jan"], ["Bench 3x5 @82.5"]])}
    )
    on_monday = {one.exercise for one in logs.sets if one.date == date(2026, 1, 5)}
    assert on_monday == {"back squat", "bench press"} | ({"deadlift"} if len(lines) > 1 else set())
    assert [(one.site, one.side, one.rating) for one in logs.pain] == [("elbow", "left", 2.0)]
    assert not logs.rejected


def test_a_word_for_warm_ups_holds_for_its_own_line_only(read):
    text = '"Pull ups 3x8 BW\nw/u 60x5\n100x5"'
    logs = read({"Ada Berg.csv": f"Date;Session\n2026-01-05;{text}\n2026-01-07;Squat 3x5 @100\n"})
    assert [one.is_warm_up for one in logs.sets if one.date.day == 5] == [False, False, False, True, False]


def test_a_grid_without_a_heading_over_its_days_and_exercises(read):
    rows = [
        ["Blok 1 - 2026"],
        [None, "Week 10 (2-8 mrt)", "Week 11 (9-15 mrt)"],
        ["MA"],
        ["Squat", "3x5@100", "3x5@102,5"],
        ["pijn elleboog re", 2, 3],
        ["DO"],
        ["Deadlift", "3x3@150", None],
    ]
    logs = read({"Geert Damsma.xlsx": book_of(rows)})
    assert brief(logs) == [
        (date(2026, 3, 2), "back squat", 100.0, 5, False),
        (date(2026, 3, 5), "deadlift", 150.0, 3, False),
        (date(2026, 3, 9), "back squat", 102.5, 5, False),
    ]
    assert [(one.date.day, one.site, one.side, one.rating) for one in logs.pain] == [
        (2, "elbow", "right", 2.0),
        (9, "elbow", "right", 3.0),
    ]
