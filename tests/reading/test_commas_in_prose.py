"""Commas in a text without columns: those of sentences have a blank behind, those between digits are decimal marks."""

import pytest

from preflare.reading.delimited import read_delimited

LINES = [
    "lun 7/9, palestra vuota",
    "Squat: risc 60x5, 80x3 | 107,5x5x3 @7,5",
    "Panca 77,5x6, 80x4",
    "gomito dx 2, sx 0",
]


def rows_of(text):
    return [[cell for cell in row if cell is not None] for row in read_delimited(text.encode()).rows]


def test_a_decimal_comma_in_prose_cuts_no_number():
    rows = rows_of("\n".join(LINES))
    assert rows[1] == ["Squat: risc 60x5", "80x3 | 107,5x5x3 @7,5"]
    assert rows[2] == ["Panca 77,5x6", "80x4"]


@pytest.mark.parametrize(
    "text",
    [
        "Date,Lift,kg,Reps\n2026-01-05,squat,100,5\n2026-01-06,squat,102,5\n",  # a table: its commas have no blanks
        'Date,Lift,kg\n2026-01-05,squat,"100,5"\n2026-01-06, squat, 102\n',  # quoted
        "1,2\n3,4\n",  # nothing but digits
    ],
)
def test_a_table_is_cut_at_every_comma(text):
    widths = {len(row) for row in rows_of(text)}
    assert widths == {text.splitlines()[0].count(",") + 1}


def test_a_diary_keeps_its_loads_and_efforts(read):
    text = "Diario 2026\n\n7.9.2026\nSquat 60x5, 80x3, 107,5x5 @7,5\nPanca 60x5, 77,5x6\n"
    logs = read({"Ada Berg.txt": text})
    assert [(one.load_kg, one.reps, one.rpe) for one in logs.sets] == [
        (60, 5, None), (80, 3, None), (107.5, 5, 7.5), (60, 5, None), (77.5, 6, None)
    ]  # fmt: skip
