"""Repetitions done of those planned, as people mark them. Common practice, no published source."""

import pytest


@pytest.mark.parametrize("work", ["75x5 F(4)", "75x5 (F) (4)", "75x5 fail (4)", "75x5 F4", "75 x 5 F (4)"])
def test_a_miss_with_the_repetitions_done_in_brackets(read, work):
    logs = read({"Ada Berg.csv": f"Date|Exercise|Set 1|Set 2\n2026-03-02|Bench|75x5|{work}\n"})
    assert [(one.load_kg, one.reps, one.is_failed) for one in logs.sets] == [(75, 5, False), (75, 4, True)]


@pytest.mark.parametrize(
    "cell",
    ["2 (F)", "2F", "2 (of 3)", "2 (von 3)", "2 van 3", "2/3", "2 de 3", "2 (av 3)", "2 Fehlversuch", "2 (raté)"],
)
def test_repetitions_done_of_those_planned_in_their_column(read, cell):
    logs = read({"Ada Berg.csv": f"Date|Exercise|kg|Reps\n2026-03-02|Squat|127.5|{cell}\n"})
    assert [(one.load_kg, one.reps, one.is_failed) for one in logs.sets] == [(127.5, 2, True)]
