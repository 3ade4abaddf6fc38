"""Sets in brackets that a legend calls planned and not done. Words in eleven languages (common practice, no source)."""

import pytest

LINES = [
    "(in brackets) = planned but not done", "( ) = not done", "(60x5) = planned, not lifted",
    "(in Klammern) = geplant, aber nicht gemacht", "in Klammern: ausgelassen",
    "(entre parenthèses) = prévu mais pas fait", "(entre paréntesis) = previsto pero no hecho",
    "(tra parentesi) = previsto ma non fatto", "(entre parênteses) = planeado mas não feito",
    "(tussen haakjes) = gepland maar niet gedaan", "(w nawiasie) = zaplanowane, nie zrobione",
    "(i parentes) = planlagt, men ikke gjort", "(i parentes) = planlagt, men ikke lavet",
    "(inom parentes) = planerat men inte gjort",
]  # fmt: skip


@pytest.mark.parametrize("line", LINES)
def test_a_set_in_brackets_was_not_done_where_the_legend_says_so(read, line):
    rows = "Lift|set|07.09.2026|14.09.2026\nSquat|1|90x5|95x5\n|2|90x5|(95x5)\n|3|(90 x 5)|90x5, (95x5)\n"
    logs = read({"Ada Berg.csv": f"{line}\n\n{rows}"})
    assert sorted((one.load_kg, one.reps) for one in logs.sets) == [(90, 5), (90, 5), (90, 5), (95, 5)]
    assert not any(one.is_warm_up for one in logs.sets)
    assert any("not done" in told for file in logs.files for sheet in file.sheets for told in sheet.assumptions)


@pytest.mark.parametrize("cells", ["(95)|5", "95|(5)", "(95)|(5)"])
def test_the_same_holds_for_loads_and_repetitions_in_columns(read, cells):
    body = f"07.09.2026|Ada Berg|Squat|90|5\n07.09.2026|Ada Berg|Squat|{cells}\n"
    logs = read({"log.csv": f"(in brackets) = planned, not done\n\nDate|Name|Exercise|Kg|Reps\n{body}"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(90, 5)]


@pytest.mark.parametrize("line", ["(in brackets) = warm-up", "(in brackets) = warm-up, not counted in the plan", ""])
def test_brackets_of_another_meaning_hold_sets(read, line):
    rows = "Lift|set|07.09.2026|14.09.2026\nSquat|1|(60x5)|(60x5)\n|2|90x5|95x5\n"
    logs = read({"Ada Berg.csv": f"{line}\n\n{rows}" if line else rows})
    assert sum(one.is_warm_up for one in logs.sets) == 2
    assert len(logs.sets) == 4


def test_remarks_in_brackets_stay(read):
    rows = "Lift|set|07.09.2026|14.09.2026\nSquat|1|90x5 (easy)|95x5 (not 97,5)\n|2|90x5|95x5\n"
    logs = read({"Ada Berg.csv": f"(in brackets) = planned, not done\n\n{rows}"})
    assert sorted((one.load_kg, one.reps) for one in logs.sets) == [(90, 5), (90, 5), (95, 5), (95, 5)]
