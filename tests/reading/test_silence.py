"""Nothing that a lifter wrote about work is lost without a word. Figures by hand; layouts from common practice."""

from datetime import date

import pytest
from openpyxl import Workbook

WORK = ["3x5 @ 100kg RPE8", "100x5, 110x5, 120x3", "w/u 60x5; 140/5/3", "5x3@80%"]
# (load, repetitions) of every set of WORK, by hand: 140/5/3 is load, repetitions, sets
SETS = [(100, 5)] * 3 + [(100, 5), (110, 5), (120, 3)] + [(60, 5)] + [(140, 5)] * 3 + [(None, 3)] * 5


def log_of(heading, cells):
    """One row a session, an exercise column and one more column under the given heading."""
    rows = [f'2026-01-{day:02},Ada Berg,squat,"{cell}",2\n' for day, cell in enumerate(cells, start=5)]
    return f"Date,Name,Exercise,{heading},Elbow pain\n" + "".join(rows)


@pytest.mark.parametrize("heading", ["sets", "Set", "reps", "Weight", "work", "Training", "main", "Session", "Sätze"])
def test_work_in_short_is_read_under_any_near_heading(read, heading):
    logs = read({"log.csv": log_of(heading, WORK)})
    assert [(one.load_kg, one.reps) for one in logs.sets] == SETS
    assert [one.is_warm_up for one in logs.sets].count(True) == 1
    assert logs.files[0].sheets[0].columns[heading].startswith("work")


def test_single_cells_in_short_among_numbers_of_sets_are_read_too(read):
    logs = read({"log.csv": log_of("sets,Load,Reps", ['3","100","5', '4","105","5', '140/5/3","","'])})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(100, 5)] * 3 + [(105, 5)] * 4 + [(140, 5)] * 3


@pytest.mark.parametrize(
    ("row", "column", "value"),
    [
        ('many","","', "D", "many"),
        ('3","","', "D", "3"),
        ('","heavy","', "E", "heavy"),
        ('","","some', "F", "some"),
        ('many","100","5', "D", "many"),
        ('","bodyweight","', "E", "bodyweight"),
    ],
)
def test_a_cell_of_work_that_cannot_be_read_is_set_aside_with_place_and_remedy(read, row, column, value):
    logs = read({"log.csv": log_of("sets,Load,Reps", ['3","100","5', row])})
    (one,) = logs.rejected
    assert (one.place.row, one.place.column, one.value, one.is_whole_row) == (3, column, value, False)
    assert one.reason
    assert one.remedy
    assert len(logs.pain) == 2


def test_a_load_beside_work_in_short_that_cannot_be_read_is_set_aside(read):
    text = "Date,Name,Exercise,Work,Load\n2026-01-05,Ada Berg,squat,3x5,100\n2026-01-06,Ada Berg,squat,3x5,heavy\n"
    logs = read({"log.csv": text})
    assert [one.load_kg for one in logs.sets] == [100] * 3 + [None] * 3
    assert [(str(one.place), one.value) for one in logs.rejected] == [("log.csv, row 3, column E", "heavy")]


def test_a_sheet_without_a_log_is_said_to_be_nobody_s(read):
    book = Workbook()
    book.active.title = "Ada Berg"
    book.active.append(["Keys are with the caretaker"])
    book.active.append(["Squat rack", "bolted in 2019"])
    logs = read({"Ada Berg squat.xlsx": book})
    (sheet,) = logs.files[0].sheets
    assert sheet.layout == "no table of a log"
    assert sheet.assumptions == ("No headings of a log were found on this sheet, so nothing was read from it.",)


@pytest.mark.parametrize("heading", ["sets", "reps"])
def test_a_date_that_the_spreadsheet_made_of_sets_stays_refused(read, heading):
    # "3-5" typed into a cell becomes the 3rd of May or the 5th of March, by the spreadsheet's language.
    book = Workbook()
    book.active.append(["Date", "Name", "Exercise", heading, "Elbow pain"])
    book.active.append([date(2026, 1, 5), "Ada Berg", "squat", date(2026, 5, 3), 2])
    book.active.append([date(2026, 1, 6), "Ada Berg", "squat", "5", 2])
    logs = read({"log.xlsx": book})
    refused = [one for one in logs.rejected if one.place.row == 2]
    assert [(one.place.column, one.is_whole_row) for one in refused] == [("D", False)]
    assert "into a date" in refused[0].reason
    assert all(one.date != date(2026, 1, 5) for one in logs.sets)


BESIDE = "Date,Name,Exercise,{},Sets,Reps\n"


@pytest.mark.parametrize("heading", ["Work", "Load"])
@pytest.mark.parametrize(
    ("work", "sets", "reps", "stored", "told"),
    [  # by hand: a single set is done as often as Sets says; what the work says itself is only checked
        ("100x5", "3", "", [(100, 5)] * 3, None),
        ("100x5", "3", "5", [(100, 5)] * 3, None),
        ("w/u 60x5; 100x5", "3", "", [(60, 5)] + [(100, 5)] * 3, None),
        ("100x5, 110x3", "2", "", [(100, 5), (110, 3)], None),
        ("100x5, 110x3", "4", "", [(100, 5), (110, 3)], "E"),
        ("3x5 @100", "4", "", [(100, 5)] * 3, "E"),
        ("100x5", "", "4", [(100, 5)], "F"),
        ("100x5", "many", "", [(100, 5)], "E"),
    ],
)
def test_number_columns_beside_work_multiply_it_or_are_set_aside(read, heading, work, sets, reps, stored, told):
    logs = read({"log.csv": BESIDE.format(heading) + f'2026-01-05,Ada Berg,squat,"{work}",{sets},{reps}\n'})
    assert [(one.load_kg, one.reps) for one in logs.sets] == stored
    assert [one.place.column for one in logs.rejected] == ([told] if told else [])


def test_a_load_beside_work_that_says_another_is_set_aside(read):
    text = "Date,Name,Exercise,Work,Load\n2026-01-05,Ada Berg,squat,100x5,120\n2026-01-06,Ada Berg,squat,100x5,100\n"
    logs = read({"log.csv": text})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(100, 5), (100, 5)]
    assert [(str(one.place), one.value) for one in logs.rejected] == [("log.csv, row 2, column E", "120")]
    assert "other loads (100 kg)" in logs.rejected[0].reason
