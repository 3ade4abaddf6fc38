"""Cells left blank beside a set: the load of the set above, a set that was not done, a plan.

What is right was counted by hand. Common practice, no published source.
"""

import pytest

from preflare.reading.legend import read_legend
from preflare.reading.legend_lines import Line
from preflare.reading.words import WordReader

HEAD = "Date;Name;Exercise;Set;Kg;Reps\n"


def loads(logs):
    return [(one.load_kg, one.reps) for one in logs.sets]


def sentences(logs):
    return [text for file in logs.files for sheet in file.sheets for text in sheet.assumptions]


def log(*days: str) -> str:
    return HEAD + "".join(f"2026-03-{2 + 2 * i:02};Ada Berg;{day}\n" for i, day in enumerate(days))


SQUAT = "Squat;1;100;5\n;;;2;;5\n;;;3;;5"


def test_loads_left_out_below_first_sets_are_those_of_the_set_above_and_it_is_said(read):
    logs = read({"log.csv": log(SQUAT, SQUAT)})
    assert loads(logs) == [(100, 5)] * 6
    assert any("left blank" in text for text in sentences(logs))


def test_a_lift_named_again_and_numbered_on_keeps_its_load(read):
    below = "\n".join(f"2026-03-02;Ada Berg;Squat;{number};;{reps}" for number, reps in ((2, 5), (3, 5), (4, 4)))
    assert loads(read({"log.csv": log(f"Squat;1;100;5\n{below}")})) == [(100, 5), (100, 5), (100, 5), (100, 4)]


def test_one_forgotten_load_is_no_habit(read):
    assert loads(read({"log.csv": log("Squat;1;100;5\n;;;2;;5\n;;;3;105;5")})) == [(100, 5), (None, 5), (105, 5)]


def test_where_first_sets_lack_their_load_too_nothing_is_carried(read):
    logs = read({"log.csv": log(SQUAT, "Bench;1;;5\n;;;2;;5")})
    assert loads(logs) == [(100, 5), (None, 5), (None, 5), (None, 5), (None, 5)]


def test_body_weight_below_an_added_load_stays_without(read):
    logs = read({"log.csv": log(SQUAT, SQUAT, "Pull-up;1;10;5\n;;;2;;4")})
    assert loads(logs)[-2:] == [(10, 5), (None, 4)]


def test_the_load_of_a_warm_up_is_not_carried_to_a_set(read):
    logs = read({"log.csv": "Weight left blank = same as the set above\n" + log("Squat;WU;60;5\n;;;1;;5\n;;;2;;5")})
    assert loads(logs) == [(60, 5), (None, 5), (None, 5)]


def test_another_person_or_day_takes_no_load_from_above(read):
    legend = "Weight left blank = same as the set above\n"
    rows = "2026-03-02;Ada Berg;Squat;1;100;5\n2026-03-02;Bo Lind;Squat;2;;5\n2026-03-04;Bo Lind;Squat;3;;5\n"
    assert loads(read({"log.csv": legend + HEAD + rows})) == [(100, 5), (None, 5), (None, 5)]


@pytest.mark.parametrize(
    "line",
    [
        "Weight left blank but reps filled in = same weight as the set above (same bar too)",
        "Gewicht leer = wie oben",
        "kg leer = Gewicht vom Satz darüber",
        "charge vide = même charge que la série du dessus",
        "peso en blanco = mismo peso que la serie anterior",
        "peso vuoto = come la serie sopra",
        "carga em branco = mesma carga da série anterior",
        "gewicht leeg = zelfde gewicht als de vorige set",
        "ciężar puste = jak wyżej",
        "vekt tomt = som settet over",
        "vægt tom = samme vægt",
        "vikt tomt = som ovan",
    ],
)
def test_a_legend_says_that_a_blank_load_is_the_one_above(read, lexicon, line):
    assert read_legend([Line(line, True)], WordReader(lexicon), {}).blank_load == line
    logs = read({"log.csv": f"{line}\n" + log("Squat;1;100;5\n;;;2;;5")})
    assert loads(logs) == [(100, 5), (100, 5)]


@pytest.mark.parametrize(
    "line",
    ["blank day = same as above", "name left blank = as above", "everything blank = nothing done", "blank = absent"],
)
def test_other_blanks_say_nothing_of_loads(lexicon, line):
    assert read_legend([Line(line, True)], WordReader(lexicon), {}).blank_load == ""


@pytest.mark.parametrize(
    "line",
    [
        "No reps written = did not lift it",
        "Keine Wdh = nicht gemacht",
        "reps vides = pas fait",
        "reps en blanco = no hecho",
        "ripetizioni vuote = non fatta",
        "reps em branco = não feito",
        "reps leeg = niet gedaan",
        "powt puste = nie zrobione",
        "reps tomt = ikke gjort",
        "reps tom = ikke lavet",
        "reps tomt = inte gjort",
    ],
)
def test_a_legend_says_that_a_set_without_repetitions_was_not_done(read, lexicon, line):
    assert read_legend([Line(line, True)], WordReader(lexicon), {}).blank_reps == line
    logs = read({"log.csv": f"{line}\n" + log("Squat;1;100;5\n;;;2;110;")})
    assert loads(logs) == [(100, 5)]


def test_loads_on_a_sheet_without_any_repetitions_are_a_plan_and_set_aside(read):
    logs = read({"log.csv": log("Squat;1;100;\n;;;2;110;")})
    assert not loads(logs)
    assert [one.place.row for one in logs.rejected] == [2, 3]
    assert all("as in a plan" in one.reason for one in logs.rejected)


def test_one_load_without_repetitions_among_others_is_stored_without(read):
    assert loads(read({"log.csv": log("Squat;1;100;5\n;;;2;110;")})) == [(100, 5), (110, None)]


@pytest.mark.parametrize(
    ("line", "part", "value", "bar"),
    [
        ("Straight bar back squats are HIGH BAR for everybody this fall.", "position", "high", "straight"),
        ("Kniebeugen mit gerader Stange immer high bar", "position", "high", "straight"),
        ("com a reta o agachamento é sempre barra alta", "position", "high", "straight"),
        ("bar: only written if it is not the straight bar", "bar", "straight", None),
        ("Stange steht nur da, wenn es nicht die gerade ist", "bar", "straight", None),
        ("barra: solo si no es recta", "bar", "straight", None),
        ("bilanciere scritto solo se non è dritto", "bar", "straight", None),
        ("barra: só escrevo quando não é a reta", "bar", "straight", None),
        ("stang alleen als het niet de rechte is", "bar", "straight", None),
        ("gryf: piszę tylko gdy nie prosty", "bar", "straight", None),
        ("stang: bare når det ikke er rett stang", "bar", "straight", None),
        ("stång skrivs bara om den inte är rak", "bar", "straight", None),
        ("grip: only noted when not medium", "width", "medium", None),
    ],
)
def test_a_legend_says_what_holds_with_one_bar_or_where_nothing_is_written(lexicon, line, part, value, bar):
    found = read_legend([Line(line, True)], WordReader(lexicon), {}).defaults
    assert [(one.part, one.value, one.bar) for one in found] == [(part, value, bar)]


def test_a_comma_between_lift_and_bar_makes_both_hold_always(lexicon):
    found = read_legend([Line("Squat, straight bar, always low bar", True)], WordReader(lexicon), {}).defaults
    assert [(one.part, one.value, one.bar) for one in found] == [("bar", "straight", None), ("position", "low", None)]


def test_what_holds_with_one_bar_is_not_put_to_another(read):
    line = "Straight bar back squats are always high bar\n"
    rows = "2026-03-02;Ada Berg;Squat;straight;100;5\n2026-03-04;Ada Berg;Squat;cambered;90;5\n"
    logs = read({"log.csv": f"{line}Date;Name;Exercise;Bar;Kg;Reps\n{rows}"})
    assert [(one.bar, one.bar_position) for one in logs.sets] == [("straight", "high"), ("cambered", None)]


def test_figures_that_a_legend_explains_are_no_signs(lexicon):
    found = read_legend([Line("3/5 = got 3 of the 5", True)], WordReader(lexicon), {})
    assert (found.terms, found.unclear) == ((), ())
