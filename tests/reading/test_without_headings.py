"""Sheets without headings: read where each column plainly is what it is, and told of; else refused with the entry."""

import pytest

ROWS = [
    "2026-01-05,Ada Berg,squat,100,5",
    "2026-01-05,Ada Berg,squat,110,5",
    "2026-01-07,Cy Eklund,bench press,60,8",
    "2026-01-08,Cy Eklund,bench press,62.5,8",
]
STORED = [("Ada Berg", 100, 5), ("Ada Berg", 110, 5), ("Cy Eklund", 60, 8), ("Cy Eklund", 62.5, 8)]


def test_plain_columns_are_read_and_told_of(read):
    logs = read({"log.csv": "\n".join(ROWS)})
    assert [(one.athlete, one.load_kg, one.reps) for one in logs.sets] == STORED
    (told,) = logs.rejected
    assert "no known headings" in told.reason
    assert 'columns = { "A" = "date", "B" = "person", "C" = "exercise", "D" = "load", "E" = "reps" }' in told.remedy


def test_the_entry_of_the_remedy_holds_and_silences_it(read):
    season = (
        '[[source]]\nfile = "log.csv"\ncolumns = { A = "date", B = "person", C = "exercise", D = "load", E = "reps" }'
    )
    logs = read({"log.csv": "\n".join(ROWS)}, season)
    assert [(one.athlete, one.load_kg, one.reps) for one in logs.sets] == STORED
    assert logs.rejected == []


def test_a_first_row_of_unknown_words_is_no_data_and_named_in_the_entry(read):
    logs = read({"log.csv": "\n".join(["Päivä,Nimi,Liike,Paino,Toistot", *ROWS])})  # Finnish, which no vocabulary has
    assert [(one.athlete, one.load_kg, one.reps) for one in logs.sets] == STORED
    assert '"Päivä" = "date"' in logs.rejected[0].remedy
    assert logs.files[0].sheets[0].rows_not_data == 1


@pytest.mark.parametrize(
    "rows",
    [
        [row.replace("squat,", "squat,3,").replace("press,", "press,4,") for row in ROWS],  # sets, load, reps: or else?
        [row.replace(",100", ",8").replace(",110", ",9").replace(",60", ",7") for row in ROWS],  # two light columns
        ["bolt,12,30", "nut,14,31", "screw,15,40"],
    ],
)
def test_columns_that_stay_open_are_refused_with_an_entry_to_write(read, rows):
    logs = read({"log.csv": "\n".join(rows)})
    assert logs.sets == []
    assert len(logs.rejected) == len(rows)
    assert '[[source]] file = "log.csv", columns = {' in logs.rejected[0].remedy
