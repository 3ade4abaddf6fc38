"""Dates that contradict the rows around them or the weekday beside them. Weekdays by Python's calendar.

Common practice, no published source: a log is kept in order, and a slip of the year or of day and month is put right by
the rows above and below it.
"""

from datetime import date

import pytest
from openpyxl import Workbook

DAYS = ["2026-03-02", "2026-03-04", "2026-03-06", "2026-03-09", "2026-03-11", "2026-03-13", "2026-03-16"]


def log_of(days, weekdays=None):
    lines = [f"{day},squat,100,5" for day in days]
    if weekdays is None:
        return "\n".join(["Date,Exercise,kg,Reps", *lines]) + "\n"
    lines = [f"{day},{weekday},squat,100,5" for day, weekday in zip(days, weekdays, strict=True)]
    return "\n".join(["Date,Day,Exercise,kg,Reps", *lines]) + "\n"


def read_days(logs):
    return [one.date.isoformat() for one in logs.sets]


@pytest.mark.parametrize("place", [1, 3, 5, 6])
@pytest.mark.parametrize("year", ["2025", "2024", "2016"])
def test_a_wrong_year_is_put_right_by_the_rows_around_it_and_said(read, place, year):
    days = list(DAYS)
    days[place] = year + days[place][4:]
    logs = read({"Ada Berg.csv": log_of(days)})
    assert read_days(logs) == DAYS
    assert [(one.value, one.place.column, one.is_whole_row) for one in logs.rejected] == [(days[place], "A", False)]
    assert DAYS[place] in logs.rejected[0].reason


def test_a_wrong_year_in_the_first_row(read):
    logs = read({"Ada Berg.csv": log_of(["2025-03-02", *DAYS[1:]])})
    assert read_days(logs) == DAYS


def test_day_and_month_the_other_way_round_in_one_true_date(read):
    book = Workbook()
    book.active.append(["Date", "Exercise", "kg", "Reps"])
    for day in [*map(date.fromisoformat, DAYS[:3]), date(2026, 9, 3), *map(date.fromisoformat, DAYS[4:])]:
        book.active.append([day, "squat", 100, 5])
    logs = read({"Ada Berg.xlsx": book})
    assert read_days(logs) == DAYS
    assert len(logs.rejected) == 1


def test_a_date_of_open_order_amid_true_dates_is_settled_by_them_and_said(read):
    book = Workbook()
    book.active.append(["Date", "Exercise", "kg", "Reps"])
    for day in [*map(date.fromisoformat, DAYS[:4]), "11/3/26", *map(date.fromisoformat, DAYS[5:])]:
        book.active.append([day, "squat", 100, 5])
    logs = read({"Ada Berg.xlsx": book})
    assert read_days(logs) == DAYS
    assert any("11/3/26" in said for sheet in logs.files[0].sheets for said in sheet.assumptions)


def test_a_date_that_fits_both_ways_stays_open(read):
    days = ["2026-03-02", "2026-03-04", "2026-03-06", "2026-03-09", "4/5/2026", "2026-06-13", "2026-06-16"]
    logs = read({"Ada Berg.csv": log_of(days)})
    assert "4/5/2026" not in read_days(logs)
    assert len(logs.sets) == 6
    assert [one.is_whole_row for one in logs.rejected] == [True]


@pytest.mark.parametrize(
    ("weekdays", "first"),
    [(["Thu", "Tue", "Thu", "Tue"], date(2026, 3, 5)), (["Sun", "Wed", "Sat", "Tue"], date(2026, 5, 3))],
)
def test_weekdays_in_a_column_of_their_own_tell_the_order(read, weekdays, first):
    days = ["05/03/2026", "10/03/2026", "12/03/2026", "07/04/2026"]
    if first.month == 5:
        days = ["05/03/2026", "05/06/2026", "05/09/2026", "05/12/2026"]
    logs = read({"Ada Berg.csv": log_of(days, weekdays)})
    assert logs.sets[0].date == first
    assert len(logs.sets) == 4


def test_rows_that_are_not_in_order_are_left_as_they_are(read):
    days = ["2026-03-16", "2026-03-02", "2026-04-09", "2026-03-04", "2026-05-11", "2026-02-13", "2026-03-06"]
    logs = read({"Ada Berg.csv": log_of(days)})
    assert sorted(read_days(logs)) == sorted(days)
    assert not logs.rejected


def test_one_person_after_another_is_no_slip(read):
    rows = ["Date,Name,Exercise,kg,Reps"]
    days = ["2026-01-05", "2026-01-12", "2026-02-02", "2026-03-04", "2026-03-09", "2026-03-30"]
    for name in ("Ada Berg", "Bo Lind", "Cy Holm"):
        rows += [f"{day},{name},squat,100,5" for day in (days if name != "Bo Lind" else ["2026-03-04"])]
    logs = read({"log.csv": "\n".join(rows)})
    assert not logs.rejected
    assert [one.date.isoformat() for one in logs.sets if one.athlete == "Bo Lind"] == ["2026-03-04"]


@pytest.mark.parametrize(("written", "day"), [("2025-01-13", 13), ("2008-09-05", None), ("2026-05-20", None)])
def test_a_day_in_a_form_that_does_not_go_with_its_time_stamp(read, written, day):
    text = "Timestamp,Name,Training day,Elbow pain\n2026-01-12 19:05,Ada Berg,2026-01-12,1\n"
    text += f"2026-01-13 19:05,Ada Berg,{written},5\n2026-01-14 19:05,Ada Berg,2026-01-14,2\n"
    logs = read({"form.csv": text})
    assert [one.date.day for one in logs.pain] == [12, *([day] if day else []), 14]
    assert len(logs.rejected) == 1
    assert logs.rejected[0].place.row == 3


@pytest.mark.parametrize(
    ("sheet", "month"), [("March", 3), ("März 2026", 3), ("Marzo", 3), ("kwiecień", 4), ("April", 4)]
)
def test_days_of_the_month_take_the_month_of_their_sheet(read, sheet, month):
    book = Workbook()
    book.active.title = sheet
    for row in (
        ["Day", "Exercise", "kg", "Reps"],
        [2, "squat", 100, 5],
        [9, "squat", 105, 5],
        ["16.", "squat", 110, 5],
    ):
        book.active.append(row)
    logs = read({"Ada Berg 2026.xlsx": book})
    assert [one.date for one in logs.sets] == [date(2026, month, day) for day in (2, 9, 16)]


def test_days_of_a_block_are_not_days_of_a_month(read):
    book = Workbook()
    book.active.title = "March"
    for row in (["Day", "Exercise", "kg", "Reps"], [1, "squat", 100, 5], [2, "squat", 105, 5], [3, "squat", 110, 5]):
        book.active.append(row)
    logs = read({"Ada Berg 2026.xlsx": book})
    assert not logs.sets
    assert len(logs.rejected) == 3
