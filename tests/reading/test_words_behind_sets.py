"""Words for bar, grip and place of the bar behind the sets of a cell, and rows of sets that head nothing.

What each means is common practice, no published source.
"""

import pytest

HEAD = "Date,Name,Squat,Bench"


def gear(logs):
    return [(one.bar, one.bar_position, one.grip_width) for one in logs.sets if one.exercise == "back squat"]


def said(logs):
    return [text for sheet in logs.files[0].sheets for text in sheet.assumptions]


def read_cell(read, cell, title=""):
    return read({"log 2026.csv": f'{title}{HEAD}\n2026-03-02,Ada Berg,"{cell}",60x5\n2026-03-04,Ada Berg,80x5,60x5\n'})


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("50x5, 52.5x5x2 @8 (high, medium)", (None, "high", "medium")),
        ("w 50x5, 60x5x2 (low, narrow)", (None, "low", "narrow")),
        ("50x5, 52.5x5x2 (SSB, high)", ("safety", "high", None)),
        ("(wide) 50x5, 52.5x5x2", (None, None, "wide")),
        ("50x5, 52.5x5x2 [hoch / eng]", (None, "high", "narrow")),
        ("50x5, 52.5x5x2 (barre basse, prise large)", (None, "low", "wide")),
        ("50x5, 52.5x5x2 (barra alta, agarre cerrado)", (None, "high", "narrow")),
        ("50x5, 52.5x5x2 (presa stretta)", (None, None, "narrow")),
        ("50x5, 52.5x5x2 (pegada aberta)", (None, None, "wide")),
        ("50x5, 52.5x5x2 (smal, hoge stang)", (None, "high", "narrow")),
        ("50x5, 52.5x5x2 (szeroko)", (None, None, "wide")),
        ("50x5, 52.5x5x2 (lav, smalt)", (None, "low", "narrow")),
        ("50x5, 52.5x5x2 (låg, brett)", (None, "low", "wide")),
        ("52.5x5x3 low, narrow", (None, "low", "narrow")),
        ("52.5x5x3 (belt, wide)", (None, None, "wide")),
    ],
)
def test_gear_in_brackets_is_of_all_sets_of_the_cell_and_said(read, cell, expected):
    logs = read_cell(read, cell)
    *told, plain = gear(logs)
    assert len(told) >= 3
    assert set(told) == {expected}
    assert plain == (None, None, None)
    assert any("all sets of the cell" in text for text in said(logs))


@pytest.mark.parametrize(
    "cell",
    [
        "50x5, 52.5x5x2 wide",  # the last alone, or all?
        "50x5 (wide), 52.5x5x2",
        "50x5, 52.5x5x2 (w)",
        "50x5, 52.5x5x2 (felt easy)",
        "50x5, 52.5x5x2 (left elbow 2)",
    ],
)
def test_other_words_behind_sets_are_no_gear(read, cell):
    assert set(gear(read_cell(read, cell))) == {(None, None, None)}


@pytest.mark.parametrize("row", ["Bo Lind,165x3x2,R 1,Made the tea.", "Bo Lind,72.5kg x 5,Sets 2,Note"])
def test_a_row_that_holds_a_load_and_its_repetitions_heads_nothing(read, row):
    text = f"2 March 2026,,,\nName,Squat,Elbow,Notes\nAda Berg,80x5x3,L 2,\n{row}\nCy Dahl,90x5x3,R 3,\n"
    logs = read({"log.csv": text})
    assert [one.athlete for one in logs.sets] == ["Ada Berg"] * 3 + ["Bo Lind"] * (2 if "x2" in row else 1) + [
        "Cy Dahl"
    ] * 3
