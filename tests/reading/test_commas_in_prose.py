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


@pytest.mark.parametrize(
    "lines",
    [
        ['"seg" = barra de seguridad', "sent seg: c 1x5x40, 3x6x57,5 @7,5", "dom: 2x6, 1x5", "remo: 60x8, 62,5x8"],
        ["przysiad: rozg 60x5, 90x3; 110x5/5/5 @7,5", "łokieć P 1", "wiosło: 60x5; 80x5", "mc: rozg 60x5; 80x5"],
        ['Kniebeuge: "leicht", 60x5, 80x3', "Bank 77,5x6, 80x4", "Ellbogen gut, Schulter gut"],
        ["Squat 60x5; 80x3; 100x5", "elbow 2", "Bench 60x5; 77,5x6", "slept well"],
        ["mån 7/9", "knäböj: uppv 60x5; 100x5", "armbåge 2", "bänk: uppv 40x5; 60x5; 77,5x6", "rodd 50x8; 55x8"],
        ["squat : éch 60x5, 80x3 ; 100x5", "coude 2", "dév : 60x5 ; 77,5x6", "ras", "tirage : 60x8 ; 70x8"],
        ["lun 5/1", 'stacco: "leggero", 60x5, 82,5x3', "panca 60x5, 70x3", "gomito 2, spalla 0"],
        ["ma 5-1", "squat: wu 60x5, 80x3; 102,5x5", "elleboog 2", "bank: wu 40x5; 60x5", "roeien: wu 40x8; 50x8"],
    ],
)
def test_marks_of_prose_cut_no_line_into_columns(lines):
    """Words in quotation marks within a line, and semicolons between warm-ups and work, make no table."""
    found = read_delimited("\n".join(lines).encode())
    assert ", ".join(", ".join(str(cell) for cell in row) for row in found.rows) == ", ".join(lines)


@pytest.mark.parametrize(
    "text",
    [
        "Date; Lift; Work\n5.1.2026; Squat; 5x100\n6.1.2026; Bench; 5x60\n7.1.2026; Row; 5x60\n",
        "Date; Note\n5.1.2026; good\n6.1.2026; bad\n7.1.2026; good\n",
        "My log\n\nDate; Lift; kg\n5.1.2026; Squat; 100\n\n6.1.2026; Bench; 60\nrest day\n",
    ],
)
def test_semicolons_with_blanks_that_cut_alike_make_a_table(text):
    rows = rows_of(text)
    assert {len(row) for row in rows if len(row) > 1} == {max(line.count(";") for line in text.splitlines()) + 1}
