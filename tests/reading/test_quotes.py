"""Quotation marks in text logs: those that quote (RFC 4180, section 2, rules 5 to 7), ditto marks, inches, marks left
open. The logs are invented; what is right was told by hand."""

import pytest

from preflare.reading.delimited import read_delimited

TITLE = 'Log of the shed / "same" or " = as above\n'
DITTOS = (
    "Date|Exercise|Load|Reps|RPE|Notes\n2026-03-02|Squat|100|5|8|\n"
    '"|"|105|"|9|\n2026-03-04|Bench|60|8||easy\n|"|62,5|"||\n|"|65|6|"|\n2026-03-05|Squat|110|5||"slow; deep"\n'
    '|"|"|4||\n'
)
LIFTS = [("back squat", 100.0, 5), ("back squat", 105.0, 5), ("bench press", 60.0, 8), ("bench press", 62.5, 8),
         ("bench press", 65.0, 6), ("back squat", 110.0, 5), ("back squat", 110.0, 4)]  # fmt: skip
HEAD = "Date,Name,Exercise,Load,Reps,Notes\n"


@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
@pytest.mark.parametrize("delimiter", ["|", " | ", "\t", ";"])
@pytest.mark.parametrize("title", ["", TITLE])
def test_ditto_marks_beside_marks_that_quote_lose_no_row(read, delimiter, line_end, title):
    text = (title + DITTOS.replace(";", ",").replace("|", delimiter)).replace("\n", line_end)
    logs = read({"Ada Berg.txt": text})
    assert [(one.exercise, one.load_kg, one.reps) for one in logs.sets] == LIFTS
    assert [one.place.row - title.count("\n") for one in logs.sets] == list(range(2, 9))
    assert logs.sets[5].note == "slow, deep"


def test_between_two_marks_the_number_of_columns_decides():
    assert read_delimited(b'a;b;c\n1;";";2\n3;4;5\n').rows[1] == ["1", ";", "2"]
    assert read_delimited(b'a;b;c;d\n1;";";2\n3;4;"x";6\n').rows[1] == ["1", "〃", "〃", "2"]


@pytest.mark.parametrize(
    "note",
    ["ok\nthen tired", "\nbroken\n", 'said "no",\nthen, "yes"', "a, b\nc, d, e", "good;\n\nslept, ate, ran, sat"],
)
def test_notes_with_line_breaks_are_one_cell_beside_a_ditto_mark(note):
    quoted = note.replace('"', '""')
    text = f'{HEAD}2026-03-02,Ada,Squat,100,5,"{quoted}"\n2026-03-02,Ada,",105,5,\n2026-03-02,Ada,",110,5,end\n'
    table = read_delimited(text.encode())
    assert [len(row) for row in table.rows] == [6] * 4
    assert table.rows[1][5] == note.strip()
    assert [row[2:4] for row in table.rows[2:]] == [["〃", "105"], ["〃", "110"]]
    assert table.line_numbers == [1, 2, 3 + note.count("\n"), 4 + note.count("\n")]


def test_a_ditto_mark_at_the_end_of_a_row_swallows_neither_the_next_row_nor_its_note():
    rows = [
        'x,Ada,Squat,100,5,"slow\nlate, cold"',
        'x,Ada,Squat,105,5,"',
        'x,Ada,",110,5,"one, two\nthree"',
        'x,",",115,4,"',
    ]
    table = read_delimited((HEAD + "\n".join(rows)).encode())
    notes = ["slow\nlate, cold", "〃", "one, two\nthree", "〃"]
    assert [row[3:] for row in table.rows[1:]] == [
        [load, reps, note] for load, reps, note in zip(["100", "105", "110", "115"], "5554", notes, strict=True)
    ]
    assert table.line_numbers == [1, 2, 4, 5, 7]


def test_a_mark_left_open_and_closed_by_another_row_is_text():
    rows = 'x,Ada,Squat,100,5,"open\nx,Ada,Squat,105,5,\nx,Ada,Squat,110,5,12"\n'
    table = read_delimited((HEAD + rows).encode())
    assert [len(row) for row in table.rows] == [6] * 4
    assert [row[5] for row in table.rows[1:]] == ['"open', None, '12"']
    assert any("1 quotation mark" in remark for remark in table.remarks)
