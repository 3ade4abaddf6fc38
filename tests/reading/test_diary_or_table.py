"""Diaries in which a line reads like headings: nothing but lines stands below it, so they are no tables.

The people and their loads are invented; what each says was written by hand from the text. That a row of headings is
followed by rows of its own shape is what a table is (RFC 4180, section 2, rule 4: as many fields in every line).
"""

import pytest
from openpyxl import Workbook

LEGENDS = [
    "- kg x reps x sets.  100x5x3 = 100 kg, 5 reps, 3 sets.  o = warm-up",
    "- kg x Wdh x Sätze: 100x5x3 heißt 100 kg, 5 Wdh, 3 Sätze",
    "poids, répétitions, séries, toujours dans cet ordre",
    "peso, repeticiones, series",
    "carico, ripetizioni, serie",
    "carga, repetições, séries",
    "gewicht, herhalingen, sets",
    "ciężar, powtórzenia, serie",
    "vekt, reps, sett",
    "vægt, reps, sæt",
    "vikt, reps, set",
    "Date; exercise; kg; reps; sets",
    "Exercise | kg | reps",
]
LOG = """Bo Ek 2026

{legend}
{legend2}

Mon 2/3
squat: 60x5  82,5x5x2
bench: 40x8, 45x8
felt good, slept well, rain

Thu 5/3
deadlift: 100x5
left elbow 3/10 after
"""
SETS = [("back squat", 60), ("back squat", 82.5), ("back squat", 82.5), ("bench press", 40), ("bench press", 45)]
SETS += [("deadlift", 100)]


@pytest.mark.parametrize("ending", ["txt", "csv"])
@pytest.mark.parametrize("legend", LEGENDS)
def test_a_line_that_reads_like_headings_makes_no_table_of_a_diary(read, legend, ending):
    logs = read({f"notes.{ending}": LOG.format(legend=legend, legend2="")})
    assert [(one.exercise, one.load_kg) for one in logs.sets] == SETS
    assert [(one.site, one.side, one.rating) for one in logs.pain] == [("elbow", "left", 3)]


@pytest.mark.parametrize("blank", ["", "\n"])
def test_rows_of_the_shape_of_their_headings_are_a_table_among_lines(read, blank):
    rows = [f"{day}.3.2026;squat;{load};5" for day in (2, 4, 6, 8) for load in (100, 110)]
    text = "Bo Ek 2026\nnotes from the gym\n\nDate;Exercise;kg;reps\n" + f"\n{blank}".join(rows)
    assert [one.load_kg for one in read({"log.txt": text}).sets] == [100, 110] * 4


def test_a_name_alone_ends_what_is_anothers_above_it(read):
    text = "Kurs 2026\n\nMo 2.3.\nAda\n  - squat: 60x5\nCleo: krank\nBo\n  - squat: 80x5\n"
    text += "\nMo 9.3.\nAda\n  - squat: 60x5\nBo\n  - squat: 80x5\nCleo\n  - squat: 40x5\n"
    logs = read({"kurs.txt": text})
    assert [(one.athlete, one.load_kg) for one in logs.sets] == [
        ("Ada", 60), ("Bo", 80), ("Ada", 60), ("Bo", 80), ("Cleo", 40),
    ]  # fmt: skip


def test_a_line_of_headings_in_a_workbook_of_lines(read):
    book = Workbook()
    for line in LOG.format(legend="weight, reps, sets", legend2="kg x reps").splitlines():
        book.active.append([line or None])
    assert [(one.exercise, one.load_kg) for one in read({"notes.xlsx": book}).sets] == SETS
