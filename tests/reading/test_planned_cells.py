"""Sets in a cell that it calls planned or not done are set aside. Common practice, no published source."""

import pytest

DONE = [(100.0, 5)] * 3


def read_cell(read, cell):
    logs = read({"Ada Berg.csv": f"Date|Exercise|Sets\n2026-03-02|Squat|{cell}\n2026-03-04|Squat|3x5@90\n"})
    return [(one.load_kg, one.reps) for one in logs.sets if one.load_kg != 90], [one.reason for one in logs.rejected]


@pytest.mark.parametrize(
    "cell",
    [
        "5x117.5 geplant",
        "3x5@100 (planned)",
        "planned 3x5@100",
        "geplant: 3x5@100",
        "3x5@100 (Plan)",
        "3x5@100 prévu",
        "3x5@100 previsto",
        "3x5@100 in programma",
        "3x5@100 não feito",
        "3x5@100 gepland, niet gedaan",
        "3x5@100 zaplanowane",
        "3x5@100 planlagt",
        "3x5@100 planerat",
        "3x5@100 not done",
        "60x5, 80x5, 100x5 (planned)",  # which of them?
        "planned 3x5@100, 3x5@105",
    ],
)
def test_sets_that_a_cell_calls_planned_are_set_aside(read, cell):
    sets, reasons = read_cell(read, cell)
    assert sets == []
    assert any("planned or not done" in reason for reason in reasons)


@pytest.mark.parametrize(
    "cell",
    [
        "3x5@100 as planned",
        "3x5@100 wie geplant",
        "3x5@100 comme prévu",
        "3x5@100 enligt plan",
        "3x5@100 (planned 105)",
        "3x5@100 (more than planned)",
        "3x5@100, not planned",
    ],
)
def test_sets_done_as_planned_are_stored(read, cell):
    assert read_cell(read, cell) == (DONE, [])


@pytest.mark.parametrize(
    "cell",
    [
        "planned 3x5@105, did 3x5@100",
        "3x5@100, planned 3x5@105",
        "3x5@100 (prévu 3x5@105)",
        "geplant 3x5@105; gemacht 3x5@100",
    ],
)
def test_of_both_what_was_done_is_stored_and_the_plan_told(read, cell):
    sets, reasons = read_cell(read, cell)
    assert sets == DONE
    assert any("planned or not done" in reason for reason in reasons)


def test_a_warm_up_beside_a_plan_stays_one(read):
    logs = read({"Ada Berg.csv": "Date|Exercise|Sets\n2026-03-02|Squat|60x5 (w/u), 100x5, planned 105x5\n"})
    assert [(one.load_kg, one.is_warm_up) for one in logs.sets] == [(60.0, True), (100.0, False)]
