"""Lines within a table that hold one text: days, weeks, lifts, bars, remarks, totals. Counted by hand.

Common practice, no published source. Weekdays by Python's calendar: 5 January 2026 is a Monday.
"""

from datetime import date

import pytest
from openpyxl import Workbook

MONDAY, THURSDAY = date(2026, 1, 5), date(2026, 1, 8)


def book_of(rows, is_merged):
    book = Workbook()
    for row in rows:
        book.active.append(row)
        if len(row) == 1 and is_merged:
            book.active.merge_cells(
                start_row=book.active.max_row, end_row=book.active.max_row, start_column=1, end_column=5
            )
    return book


def brief(logs):
    return [(one.date, one.exercise, one.load_kg, one.reps) for one in logs.sets]


DAYS = [
    ("Montag, 05.01.2026 – Unterkörper", "Do 08.01. – Oberkörper"),
    ("Monday 5 January 2026 - lower", "Thu 8 Jan - upper"),
    ("Tag 1: Montag 5.1.2026", "Tag 2: Donnerstag 8.1.2026"),
    ("lundi 5 janvier 2026 (bas du corps)", "jeudi 8 janvier (haut)"),
    ("Lunes 05/01/2026 - pierna", "Jueves 08/01/2026 - torso"),
    ("lun 5 gen 2026: gambe", "gio 8 gen: petto"),
    ("segunda-feira, 05/01/2026", "quinta-feira, 08/01/2026"),
    ("ma 5 jan 2026 benen", "do 8 jan armen"),
    ("poniedziałek 5.01.2026 nogi", "czwartek 8.01. góra"),
    ("mandag 5. januar 2026 – bein", "torsdag 8. januar – overkropp"),
    ("måndag 5 januari 2026 ben", "torsdag 8 januari armar"),
    ("2026-01-05 heavy", "2026-01-08 light"),
]


@pytest.mark.parametrize("days", DAYS)
@pytest.mark.parametrize("is_merged", [True, False])
def test_a_line_names_the_day_of_the_rows_below_it(read, days, is_merged):
    rows = [
        ["Exercise", "Set", "kg", "Reps", "Note"],
        [days[0]], ["Squat", 1, 100, 5, None], ["Squat", 2, 105, 5, None], ["Total", None, 1025, None, None],
        [days[1]], ["Bench", 1, 60, 5, None],
    ]  # fmt: skip
    logs = read({"Ada Berg 2026.xlsx": book_of(rows, is_merged)})
    assert brief(logs) == [
        (MONDAY, "back squat", 100, 5), (MONDAY, "back squat", 105, 5), (THURSDAY, "bench press", 60, 5),
    ]  # fmt: skip
    assert not logs.rejected


@pytest.mark.parametrize("days", DAYS)
def test_so_in_a_text_file_with_a_blank_column_of_dates(read, days):
    rows = ["Date;Exercise;kg;Reps;Note", f"{days[0]};;;;", ";Squat;100;5;", f"{days[1]};;;;", ";Bench;60;5;"]
    logs = read({"Ada Berg 2026.csv": "\n".join(rows)})
    assert brief(logs) == [(MONDAY, "back squat", 100, 5), (THURSDAY, "bench press", 60, 5)]


@pytest.mark.parametrize("line", ["Mon 5th - heavy", "Mon. 5. (heavy)", "Monday, 5th", "lun 5", "Mo 5."])
def test_a_day_of_the_month_with_its_weekday_takes_the_month_of_the_title(read, line):
    rows = ["Training January 2026", "Exercise;kg;Reps", f"{line};;", "Squat;100;5", "Thu 8th;;", "Bench;60;5"]
    logs = read({"Ada Berg.csv": "\n".join(rows)})
    assert brief(logs) == [(MONDAY, "back squat", 100, 5), (THURSDAY, "bench press", 60, 5)]


def test_a_day_of_the_month_goes_on_from_the_day_before(read):
    rows = ["Exercise;kg;Reps", "Thu 29 Jan 2026;;", "Squat;100;5", "Tue 3rd - light;;", "Squat;80;5"]
    assert [one.date for one in read({"Ada Berg.csv": "\n".join(rows)}).sets] == [date(2026, 1, 29), date(2026, 2, 3)]


def test_a_line_whose_day_stays_open_takes_no_day_from_above(read):
    rows = ["Exercise;kg;Reps", "Mon 5 Jan 2026;;", "Squat;100;5", "Fri 31st;;", "Squat;80;5"]
    logs = read({"Ada Berg.csv": "\n".join(rows)})
    assert brief(logs) == [(MONDAY, "back squat", 100, 5)]
    assert any("Fri 31st" in one.reason for one in logs.rejected)


@pytest.mark.parametrize(
    ("squat", "bench"),
    [
        ("Squat", "Bench press"), ("A) Squat", "B) Bench press"), ("1. Kniebeuge", "2. Bankdrücken"),
        ("— Sentadilla —", "— Press banca —"), ("PRZYSIAD:", "WYCISKANIE LEŻĄC:"), ("Knebøy", "Benkpress"),
    ],
)  # fmt: skip
def test_a_line_names_the_lift_of_the_rows_below_it(read, squat, bench):
    rows = [
        ["Date", "Set", "kg", "Reps", "Note"],
        [squat],
        ["2026-01-05", 1, 100, 5, None],
        ["2026-01-08", 1, 105, 5, None],
    ]
    rows += [[bench], ["2026-01-05", 1, 60, 5, None]]
    for is_merged in (True, False):
        logs = read({"Ada Berg.xlsx": book_of(rows, is_merged)})
        assert brief(logs) == [
            (MONDAY, "back squat", 100, 5), (THURSDAY, "back squat", 105, 5), (MONDAY, "bench press", 60, 5),
        ]  # fmt: skip


def test_a_lift_named_under_a_day_ends_with_that_day(read):
    rows = ["Set;kg;Reps", "Mon 5 Jan 2026;;", "Squat;;", "1;100;5", "Thu 8 Jan 2026;;", "1;60;5"]
    logs = read({"Ada Berg.csv": "\n".join(rows)})
    assert [one.exercise for one in logs.sets] == ["back squat", "unknown"]


@pytest.mark.parametrize(
    ("line", "bar"),
    [
        ("Safety bar", "safety"), ("gerade Stange", "straight"), ("barre courbe", "cambered"),
        ("Barra recta:", "straight"),
    ],
)  # fmt: skip
def test_a_line_names_the_bar_of_the_squats_below_it(read, line, bar):
    rows = ["Date;Exercise;kg;Reps", f"{line};;;", "2026-01-05;Squat;100;5", "2026-01-05;Bench;60;5"]
    logs = read({"Ada Berg.csv": "\n".join(rows)})
    assert [(one.exercise, one.bar) for one in logs.sets] == [("back squat", bar), ("bench press", None)]


def test_a_remark_between_the_rows_may_tell_of_pain_and_is_no_row(read):
    rows = ["Exercise;kg;Reps", "Mon 5 Jan 2026;;", "Squat;100;5", "right elbow 4/10 after;;", "felt good today;;"]
    logs = read({"Ada Berg.csv": "\n".join(rows)})
    assert [(one.date, one.site, one.side, one.rating) for one in logs.pain] == [(MONDAY, "elbow", "right", 4)]
    assert len(logs.sets) == 1
    assert not logs.rejected


@pytest.mark.parametrize("line", ["2026-01-0", "2026-01-", "05/01/2", "5.1.202", "5."])
def test_a_last_line_that_is_cut_off_is_set_aside(read, line):
    logs = read({"Ada Berg.csv": f"Date,Exercise,kg,Reps\n2026-01-05,Squat,100,5\n{line}"})
    assert len(logs.sets) == 1
    assert [(one.value.strip(" |"), one.is_whole_row) for one in logs.rejected] == [(line, True)]


def test_sets_in_a_line_without_a_column_are_set_aside(read):
    logs = read({"Ada Berg.csv": "Date,Exercise,kg,Reps\n2026-01-05,Squat,100,5\nthen curls 3x10 @ 20\n"})
    assert len(logs.sets) == 1
    assert [one.is_whole_row for one in logs.rejected] == [True]


def test_weeks_and_weekdays_in_lines(read):
    rows = [
        "Exercise;kg;Reps",
        "Week 2 (5 Jan - 11 Jan 2026);;",
        "Monday;;",
        "Squat;100;5",
        "Thursday - upper;;",
        "Bench;60;5",
    ]
    logs = read({"Ada Berg.csv": "\n".join(rows)})
    assert brief(logs) == [(MONDAY, "back squat", 100, 5), (THURSDAY, "bench press", 60, 5)]
