"""Sets of a plan that ends a line of a diary: they were not done. Common practice, no published source."""

import pytest

DAY = "2026-03-02\n"


@pytest.mark.parametrize(
    "line",
    [
        "Squat: 80x5x3. Plan next Monday: squat 85x5x3",
        "Squat 80x5x3! Plan for December: squat 90x3x3, deadlift 120x3",
        "Kniebeuge 80x5x3. Plan nächste Woche: Kniebeuge 85x5x3",
        "Squat 80x5x3. Objectif lundi : squat 85x5x3",
        "Sentadilla 80x5x3. Objetivo lunes: sentadilla 85x5x3",
        "Squat 80x5x3 - Obiettivo lunedì: squat 85x5x3",
        "Agachamento 80x5x3. Plano para segunda: agachamento 85x5x3",
        "Squat 80x5x3; doel maandag: squat 85x5x3",
        "Przysiad 80x5x3. Plan na poniedziałek: przysiad 85x5x3",
        "Knebøy 80x5x3. Neste gang: knebøy 85x5x3",
        "Squat 80x5x3. Næste gang squat 85x5x3",
        "Knäböj 80x5x3. Plan nästa må: knäböj 85x5x3",
    ],
)
def test_a_plan_behind_the_sets_of_a_line_is_not_stored(read, line):
    logs = read({"Ada Berg.txt": f"Ada Berg\n{DAY}{line}\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(80.0, 5)] * 3


@pytest.mark.parametrize(
    "line",
    [
        "Thinking of another grip. Plan next Monday: squat 85x5x3 medium",
        "Neue Bestleistung! Plan bis Dezember: Kniebeuge 90x3x3, Kreuzheben 120x3",
        "Nytt grepp kanske. Plan till december: knäböj 90x3x3",
    ],
)
def test_a_plan_behind_a_remark_is_not_stored(read, line):
    logs = read({"Ada Berg.txt": f"Ada Berg\n{DAY}Squat 80x5\n{line}\n"})
    assert [(one.exercise, one.load_kg) for one in logs.sets] == [("back squat", 80.0)]
