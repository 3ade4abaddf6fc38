"""Signs of work in short that a log's legend explains: corrections by an arrow, strokes, reserve by an example.

The lines are invented; each language says the same.
"""

import pytest


def sets(logs):
    return [(one.load_kg, one.reps, one.is_warm_up, one.rir) for one in logs.sets]


def log_with(read, legend, work):
    return read({"Ada Berg.csv": f"Ada Berg\n{legend}\n\nDate;Exercise;Work\n2026-09-07;Squat;{work}\n"})


ARROWS = [
    "→ = typo, what follows counts", "→ : vertippt, das zweite gilt",
    "→ = je me suis trompée, c'est ce qui suit qui compte",
    "→ = me he equivocado, vale lo segundo", "→ = sbagliato, vale il secondo", "→ = errado, vale o segundo",
    "→ = vergist, het tweede geldt", "→ = pomyłka, liczy się drugie", "→ = skrivefeil, det andre gjelder",
    "→ = fejl, det andet gælder", "→ = skrivfel, det andra gäller", "-> = corrected",
    "100x5→90x5 = wrong first, corrected",
]  # fmt: skip


@pytest.mark.parametrize("legend", ARROWS)
def test_an_arrow_that_puts_right_leaves_the_set_behind_it(read, legend):
    logs = log_with(read, legend, "70x5, 167.5x5→67.5x5")
    assert sets(logs) == [(70, 5, False, None), (67.5, 5, False, None)]


@pytest.mark.parametrize(
    ("work", "done"),
    [
        ("67.5→57.5x6", [(57.5, 6)]), ("67.5x6→5", [(67.5, 5)]), ("67.5x6 -> 57.5x6, 60x6", [(57.5, 6), (60, 6)]),
        ("60x6 67.5x6→57.5x6 57.5x6", [(60, 6), (57.5, 6), (57.5, 6)]),
    ],
)  # fmt: skip
def test_what_an_arrow_puts_right_may_be_a_part_of_a_set(read, work, done):
    assert [one[:2] for one in sets(log_with(read, "→ = correction", work))] == done


@pytest.mark.parametrize("legend", ["", "→ = failed", "SB → safety bar", "wrong loads are crossed out"])
def test_an_arrow_that_no_line_explains_so_joins_two_sets(read, legend):
    logs = log_with(read, legend, "60x5→70x5")
    assert [one.load_kg for one in logs.sets] == [60, 70]


STROKES = [
    "before the | = warm-up", "left of the |: warm-ups, right of it work", "vor dem | = Aufwärmen",
    "links vom | Aufwärmen",
    "Avant le trait | : échauffement", "antes de | = calentamiento", "prima di | = riscaldamento",
    "à esquerda de | = aquecimento", "voor de | = opwarmen", "przed | = rozgrzewka", "før | = oppvarming",
    "til venstre for | = opvarmning", "före | = uppvärmning",
]  # fmt: skip


@pytest.mark.parametrize("legend", STROKES)
def test_sets_before_a_stroke_are_warm_ups_where_the_legend_says_so(read, legend):
    logs = log_with(read, legend, "60x5 98x3 | 100x5 100x5")
    assert [one[2] for one in sets(logs)] == [True, True, False, False]
    assert not [one for one in logs.rejected if "before the bar" in one.reason]


@pytest.mark.parametrize("legend", ["after the | = warm-up", "warm-ups are in italics"])
def test_no_other_line_makes_a_stroke_one_of_warm_ups(read, legend):
    logs = log_with(read, legend, "98x3 | 100x5 100x5")
    assert not any(one.is_warm_up for one in logs.sets)


@pytest.mark.parametrize(
    "legend",
    [
        "r2 at the end = I had 2 reps in reserve on the last set", "r2 am Ende = es waren noch 2 in Reserve",
        "r2 à la fin = il restait 2 reps en réserve sur la DERNIÈRE série",
        "r2 al final = quedaban 2 en reserva en la última",
        "r2 alla fine = ne avevo ancora 2 in riserva", "r2 no fim = ainda tinha 2 reps em reserva",
        "r2 aan het eind = er waren er nog 2 in reserve", "r2 na końcu = zostały 2 w zapasie",
        "r2 til slutt = jeg hadde 2 reps igjen", "r2 til sidst = der var 2 reps tilbage",
        "r2 i slutet = det fanns 2 reps kvar",
    ],
)  # fmt: skip
def test_reserve_is_told_by_an_example_with_its_number(read, legend):
    logs = log_with(read, legend, "100x5 100x5 r3")
    assert [(one.load_kg, one.rir) for one in logs.sets] == [(100, None), (100, 3)]


@pytest.mark.parametrize(
    "legend",
    [
        "Gear: BD straight bar / grip n narrow, m medium, l wide / bar H high, B low",
        "Matériel : BD barre droite / prise n serrée, m moyenne, l large / barre H haute, B basse",
        "Material: BD gerade Stange / Griff n eng, m mittel, l weit / Ablage H hoch, B tief",
    ],
)
def test_a_list_may_name_what_its_next_signs_are_about(read, legend):
    table = "Date;Exercise;Gear;kg;Reps\n2026-09-07;Squat;BD / n / H;100;5\n2026-09-09;Squat;BD / l / B;100;5\n"
    logs = read({"Ada Berg.csv": f"{legend}\n\n{table}"})
    assert [(one.bar, one.grip_width, one.bar_position) for one in logs.sets] == [
        ("straight", "narrow", "high"),
        ("straight", "wide", "low"),
    ]
