"""Whose log it is: titles and names of any form, and logs that name nobody. Invented people all."""

import pytest
from openpyxl import Workbook

ROWS = "Date,Exercise,Load,Reps\n2026-01-05,squat,100,5\n2026-01-07,squat,105,5\n"


def people(logs):
    return sorted({one.athlete for one in (*logs.sets, *logs.pain)})


def said(logs) -> str:
    return " ".join(line for file in logs.files for sheet in file.sheets for line in sheet.assumptions)


@pytest.mark.parametrize(
    ("title", "name"),
    [("Devin's lifting diary - fall 2025", "Devin"), ("Jonas' Trainingstagebuch", "Jonas"), ("anna's log", "Anna"),
     ("Mira Oest’s training log 2026", "Mira Oest"), ("Trainingstagebuch von Mira", "Mira"),
     ("Log of A. Berg", "A. Berg"), ("Journal d'Anaïs", "Anaïs"), ("Carnet de musculation de Théo Brun", "Théo Brun"),
     ("Diario de Íñigo", "Íñigo"),
     ("Diario di Lucia - forza", "Lucia"), ("Diário de treino da Joana", "Joana"), ("Logboek van Fenna", "Fenna"),
     ("Treningslogg for Ingrid", "Ingrid"), ("Træningsdagbog for Søren Kvist", "Søren Kvist"),
     ("Träningsdagbok för Åsa", "Åsa"), ("Training log by Ola Dahl", "Ola Dahl"), ("Dziennik treningowy Ola", "Ola"),
     ("Training log – Devin – 2026", "Devin"), ("Krachtlogboek Sjoerd van Aken", "Sjoerd van Aken"),
     ("Lifter: Devin", "Devin"), ("Imię: Łucja", "Łucja"), ("Plan (coach: Ada Berg)", None), ("Today's training", None),
     ("Women's squat log", None), ("Squat log, coach's copy", None)],
)  # fmt: skip
def test_titles_tell_whose_log_it_is(read, title, name):
    logs = read({"log.csv": f'"{title}"\n\n{ROWS}'})
    assert people(logs) == [name or "Unnamed (log)"]


@pytest.mark.parametrize(
    ("file", "name"),
    [("devin's log.csv", "Devin"), ("Log of Devin.csv", "Devin"), ("Trainingstagebuch_von_Mira.csv", "Mira"),
     ("Mira/log.csv", "Mira"), ("journal d'Anaïs.csv", "Anaïs"), ("treningslogg Ingrid 2026.csv", "Ingrid")],
)  # fmt: skip
def test_names_of_files_and_folders_tell_whose_log_it_is(read, file, name):
    assert people(read({file: ROWS})) == [name]


def test_a_log_that_names_nobody_is_one_unnamed_persons_and_says_how_to_name_them(read):
    logs = read({"training log.csv": ROWS})
    assert people(logs) == ["Unnamed (training log)"]
    assert len(logs.sets) == 2
    assert "person =" in said(logs)


def test_a_diary_that_names_nobody_is_read_too(read):
    assert people(read({"notes.txt": "2026-01-05\nSquat 3x5 @100\n"})) == ["Unnamed (notes)"]


def test_files_that_name_nobody_are_that_of_the_one_person_known(read):
    form = "Date,Name,Elbow pain\n2026-01-06,Ada Berg,2\n"
    logs = read({"training log.csv": ROWS, "pain form.csv": form})
    assert people(logs) == ["Ada Berg"]
    assert "only person known" in said(logs)
    assert people(read({}, '[[athlete]]\nname = "Ada Berg"')) == ["Ada Berg"]


def test_two_files_that_name_nobody_are_one_persons_unless_their_days_are_shared(read):
    form = "Date,Elbow pain\n2026-01-06,2\n"
    assert people(read({"training log.csv": ROWS, "pain form.csv": form})) == ["Unnamed (pain form)"]
    assert len(people(read({"training log.csv": ROWS, "old training.csv": ROWS.replace("100", "60")}))) == 2


def test_a_file_that_names_nobody_beside_several_people_stays_apart(read):
    squad = "Date,Name,Exercise,Load,Reps\n2026-01-05,Ada Berg,squat,90,5\n2026-01-05,Bo Dahl,squat,140,5\n"
    logs = read({"training log.csv": ROWS, "squad.csv": squad})
    assert people(logs) == ["Ada Berg", "Bo Dahl", "Unnamed (training log)"]


def test_rows_of_nobody_in_a_file_that_names_several_people_are_set_aside(read):
    text = "Date,Exercise,Load kg,Reps\n2026-01-05,Squat,90,5\nAda Berg,,,\n2026-01-06,Squat,100,5\nBo Dahl,,,\n"
    logs = read({"squad.csv": text + "2026-01-06,Squat,140,5\n"})
    assert people(logs) == ["Ada Berg", "Bo Dahl"]
    assert [row.reason for row in logs.rejected if row.is_whole_row] == ["it is not known whose log this is"]


@pytest.mark.parametrize(
    "names", [("Upper", "Lower"), ("Push", "Pull"), ("Unterkörper", "Oberkörper"), ("Piernas", "Torso"),
              ("Góra", "Dół"),
              ("Heavy day", "Light day"), ("Block 1", "Block 2"), ("Accumulo", "Massimali"), ("Vikt", "Rekord")]
)  # fmt: skip
def test_sheets_named_after_training_are_nobodys(read, names):
    book = Workbook()
    book.remove(book.active)
    for day, name in enumerate(names, start=5):
        sheet = book.create_sheet(name)
        sheet.append(["Date", "Exercise", "kg", "Reps"])
        sheet.append([f"2026-01-0{day}", "squat", 100, 5])
    assert people(read({"log.xlsx": book})) == ["Unnamed (log)"]


@pytest.mark.parametrize(
    ("title", "file", "name"),
    [("TRÄNINGSDAGBOK  Ylva Brannholm  hösten 2026", "ylva dagbok hösten.csv", "Ylva Brannholm"),
     ("Trainingsheft, Gerold Wessling (Hantelkeller)", "Heft.csv", "Gerold Wessling"),
     ("Tyra Sandelin (kulstötare)", "log.csv", "Tyra Sandelin"), ("Zeszyt Ola Nowik jesienią", "log.csv", "Ola Nowik"),
     ("Squat with Ada Quill and the squad", "ada log.csv", "ada Quill"), ("Dagboken høsten", "log.csv", None),
     ("Höstlogg", "vinterblock.csv", None)],
)  # fmt: skip
def test_a_title_says_more_than_a_first_name_in_a_files_name(read, title, file, name):
    logs = read({file: f'"{title}"\n\n{ROWS}'})
    assert [who.casefold() for who in people(logs)] == [(name or f"Unnamed ({file[:-4]})").casefold()]
