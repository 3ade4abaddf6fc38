"""Remarks that say what is true of their row's sets: left out, or done with another grip or bar that day.

Ways in which people write such remarks: common practice, no published source.
"""

import pytest

HEAD = "Date,Name,Exercise,Bar,Grip,Load,Reps,Notes\n"
ROWS = "2026-03-05,Ada Berg,Bench,,,60,5,\n2026-03-05,Ada Berg,Squat,{bar},{grip},80,5,{remark}\n"


def squat_of(logs):
    (found,) = [one for one in logs.sets if one.exercise == "back squat"]
    return found


@pytest.mark.parametrize(
    "remark",
    [
        "not done", "no time - left out", "keine Zeit; gestrichen", "pas eu le temps; pas fait",
        "sin tiempo: no lo hice",
        "non fatto", "não feito", "geen tijd; overgeslagen", "brak czasu; nie zrobione", "ble ikke tid; strøket",
        "ikke lavet", "hann inte; struket",
    ],
)  # fmt: skip
def test_a_row_whose_remark_says_that_it_was_left_out_is_no_set(read, remark):
    logs = read({"log.csv": HEAD + ROWS.format(bar="", grip="", remark=remark)})
    assert [one.exercise for one in logs.sets] == ["bench press"]
    (told,) = [one for one in logs.rejected if "was not done" in one.reason]
    assert told.place.row == 3


@pytest.mark.parametrize(
    "remark",
    [
        "third set not done", "4th skipped", "nothing left out", "letzter Satz gestrichen", "3e série pas faite",
        "warm-up was not done properly", "siste sett strøket", "ingenting", "no", "time was short",
    ],
)  # fmt: skip
def test_a_remark_that_leaves_out_less_than_the_row_leaves_its_sets(read, remark):
    logs = read({"log.csv": HEAD + ROWS.format(bar="", grip="", remark=remark)})
    assert len(logs.sets) == 2


@pytest.mark.parametrize(
    ("remark", "width"),
    [
        ("wide grip today", "wide"), ("with a narrow grip", "narrow"), ("breiter Griff heute", "wide"),
        ("heute mit engem Griff", "narrow"), ("prise large aujourd'hui", "wide"), ("agarre ancho hoy", "wide"),
        ("presa larga oggi", "wide"), ("pega larga hoje", "wide"), ("brede greep vandaag", "wide"),
        ("szeroki chwyt dzisiaj", "wide"), ("bredt grep i dag", "wide"), ("bredt greb i dag", "wide"),
        ("brett grepp idag", "wide"), ("felt fine; wide grip", "wide"),
    ],
)  # fmt: skip
def test_a_grip_named_in_the_remark_is_that_of_its_set(read, remark, width):
    logs = read({"log.csv": HEAD + ROWS.format(bar="", grip="", remark=remark)})
    assert squat_of(logs).grip_width == width
    assert any("A remark was read as the bar or grip" in told for file in logs.files for told in _told(file))


@pytest.mark.parametrize(
    "remark",
    ["no wide grip", "wide grip next time", "wide grip?", "wide", "narrow stance", "hands hurt", "wide or narrow grip"],
)
def test_a_remark_that_does_not_plainly_name_a_grip_gives_none(read, remark):
    logs = read({"log.csv": HEAD + ROWS.format(bar="", grip="", remark=remark)})
    assert squat_of(logs).grip_width is None


def test_what_the_row_writes_stands_above_its_remark(read):
    logs = read({"log.csv": HEAD + ROWS.format(bar="", grip="narrow", remark="wide grip today")})
    assert squat_of(logs).grip_width == "narrow"


@pytest.mark.parametrize("remark", ["tried a wide grip for once", "first time wide grip", "wide grip felt odd"])
def test_a_default_of_the_legend_is_no_guess_against_a_remark(read, remark):
    legend = '"Squat: straight bar and medium grip, unless something else is written"\n'
    logs = read({"log.csv": legend + HEAD + ROWS.format(bar="", grip="", remark=remark)})
    assert squat_of(logs).grip_width is None
    assert any("the grip was left open" in one.reason and one.place.row == 4 for one in logs.rejected)


def _told(file):
    return [told for sheet in file.sheets for told in sheet.assumptions]
