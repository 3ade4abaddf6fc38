"""Which number of a set is the load: settled over all cells of a log, or by a line that explains it.

The logs are invented and counted by hand; what the words mean is common practice, no published source.
"""

import pytest

from preflare.reading.item import Habits
from preflare.reading.orders import told_in, votes_in
from preflare.reading.shorthand import parse_work
from reading.shorthand_sets import LEXICON, noted


def log_of(cells, exercise="Lunge", title=""):
    rows = [f"2026-01-{day:02}|{exercise}|{cell}\n" for day, cell in enumerate(cells, start=5)]
    return {"Ada Berg.csv": f"{title}Date|Exercise|Sets\n" + "".join(rows)}


def stored(logs):
    return [(one.load_kg, one.reps) for one in logs.sets]


LOAD_FIRST = ["42.5x8", "45x6", "47,5 x 6"]
REPS_FIRST = ["8×42.5", "6×45", "6 × 47,5"]


@pytest.mark.parametrize("cell", ["16x10", "16 x 10", "12x10", "18×12", "20x8"])
def test_numbers_that_could_be_either_follow_the_other_sets_of_a_log_with_the_load_first(read, cell):
    load, reps = (int(number) for number in cell.replace("×", "x").split("x"))
    logs = read(log_of([*LOAD_FIRST, cell]))
    assert stored(logs)[-1] == (load, reps)
    if load < 20:  # a bare load of a bar or more needs no habit
        assert any(
            "load x repetitions, as the other sets are written" in said for said in logs.files[0].sheets[0].assumptions
        )


@pytest.mark.parametrize("cell", ["8×20", "5×40", "6 × 50", "8×15", "10x12"])
def test_numbers_that_could_be_either_follow_the_other_sets_of_a_log_with_the_repetitions_first(read, cell):
    reps, load = (int(number) for number in cell.replace("×", "x").split("x"))
    logs = read(log_of([*REPS_FIRST, cell]))
    assert stored(logs)[-1] == (load, reps)
    assert any("repetitions x load, as the other" in said for said in logs.files[0].sheets[0].assumptions)


@pytest.mark.parametrize("cells", [[*LOAD_FIRST, "8×42.5", "6 × 47,5"], ["42.5x8"]])
def test_a_log_that_writes_both_or_too_few_leaves_the_cell_open(read, cells):
    logs = read(log_of([*cells, "16x10", "8x20"]))
    assert len(logs.sets) == len(cells)
    assert [one.value.rsplit(" | ")[-1] for one in logs.rejected if "not written like sets" in one.reason] == [
        "16x10",
        "8x20",
    ]


def test_another_order_than_the_rest_of_the_log_is_told_of(read):
    logs = read(log_of([*(f"{load}.5x5" for load in range(80, 89)), "5x100"], exercise="Squat"))
    assert stored(logs)[-1] == (100, 5)
    assert ["other than the rest of the log" in one.reason for one in logs.rejected] == [True]


def test_a_scheme_without_load_stays_one_in_a_log_with_the_load_first(read):
    logs = read(log_of([*LOAD_FIRST, "3x5", "8x3"], exercise="Squat"))
    assert stored(logs)[3:] == [(None, 5)] * 3 + [(None, 3)] * 8


@pytest.mark.parametrize(
    ("line", "order"),
    [
        ("Boxes are kg x reps", "LR"),
        ("weight x reps", "LR"),
        ("Satz: Wiederholungen × kg", "RL"),
        ("Gewicht x Wdh", "LR"),
        ("charge x reps", "LR"),
        ("peso x reps", "LR"),
        ("repeticiones x kilos", "RL"),
        ("carico x ripetizioni", "LR"),
        ("chili x rip", "LR"),
        ("carga x repetições", "LR"),
        ("herhalingen × gewicht", "RL"),
        ("powtórzenia x kg", "RL"),
        ("kg x reps, (o) = oppvarming", "LR"),
        ("gentagelser x kg", "RL"),
        ("vikt x reps", "LR"),
        ("séries x reps x kg", "SRL"),
        ("serie x powtórzenia x kg (4x5x100 to cztery serie)", "SRL"),
        ("charge x reps (x séries)", "LRS"),
        ("Gewicht x Sätze x Wdh", "LSR"),
        ("reps x sets x weight", "RSL"),
        ("reps x weight x sets", "RLS"),
        ("sett x kg x reps", "SLR"),
        ("5 x 3 for the squat", None),
        ("3 sets x 5", None),
        ("kg", None),
    ],
)
def test_a_line_says_the_order_in_every_language(line, order):
    habits, said = told_in([line], LEXICON)
    assert (habits.triple if order and len(order) == 3 else habits.pair) == order
    assert said == (line if order else "")


def test_two_lines_that_differ_say_nothing():
    assert told_in(["kg x reps", "Wdh x kg"], LEXICON)[0] == Habits()


@pytest.mark.parametrize(
    ("order", "text", "expected"),
    [
        ("LRS", "16x10x2", "2*16x10"),
        ("LSR", "100x3x5", "3*100x5"),
        ("SRL", "2x12x15", "2*15x12"),
        ("RSL", "12x2x15", "2*15x12"),
        ("RLS", "5x100x3", "3*100x5"),
        ("SLR", "3x100x5", "3*100x5"),
        ("SRL", "100x5x3", "3*100x5"),  # no hundred sets: read by its size
    ],
)
def test_three_numbers_follow_the_order_that_holds_for_the_log(order, text, expected):
    assert noted(parse_work(text, LEXICON, habits=Habits(triple=order)).sets) == expected


def test_votes_count_sets_whose_load_cannot_be_mistaken():
    assert votes_in(["62.5x5 60x5", "5x62,5", "5x100kg", "16x10"]) == {"LR": 2, "RL": 2}
    assert votes_in(["62.5x5x3", "3x5x62.5", "4x5x100", "2x12x15"]) == {"LRS": 1, "SRL": 2}
    assert votes_in(["3x5@100", "3x5 100", "100 3x5", "3x60 s", "85%", "3x5"]) == {"schemes": 1}


RATED = "2026-01-05|Squat|100x5x3 @8\n"


@pytest.mark.parametrize(
    "line",
    [
        "RPE is of the last set", "RPE (out of 10) is for the last work set only", "RPE nur vom letzten Satz",
        "@ = RPE de la dernière série", "RPE de la última serie", "RPE dell'ultima serie", "RPE da última série",
        "RPE van de laatste set", "RPE ostatniej serii", "RPE er for siste sett", "RPE gælder sidste sæt",
        "RPE gäller sista set",
    ],
)  # fmt: skip
def test_an_effort_is_that_of_the_last_set_where_a_line_says_so(read, line):
    logs = read({"Ada Berg.csv": f"{line}\n\nDate|Exercise|Sets\n{RATED}"})
    assert [one.rpe for one in logs.sets] == [None, None, 8]
    assert any("that of the last one" in said for said in logs.files[0].sheets[0].assumptions)


def test_an_effort_is_that_of_all_sets_it_stands_behind_where_nothing_says_otherwise(read):
    assert [one.rpe for one in read({"Ada Berg.csv": f"Date|Exercise|Sets\n{RATED}"}).sets] == [8, 8, 8]
