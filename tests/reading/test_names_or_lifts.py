"""A short word alone may be a person as well as a lift cut short; it is a lift where the vocabulary has it so. Names
over tables below one another say whose rows follow.

The names are common first names; what the words mean is common practice, no published source.
"""

import pytest

from preflare.reading.words import WordReader
from reading.shorthand_sets import LEXICON

READER = WordReader(LEXICON)


@pytest.mark.parametrize(
    "name",
    [
        "Bram",
        "BRAM",
        "Fen",
        "fen",
        "Lena",
        "Lars",
        "Dom",
        "Domi",
        "Tric",
        "Jer",
        "Zan",
        "Aga",
        "Rad",
        "Marek",
        "Markus",
    ],
)
def test_a_short_name_alone_is_no_lift(name):
    found = READER.exercise(name)
    assert (found.exercise, found.how) == ("unknown", "not known")


@pytest.mark.parametrize(
    ("written", "lift"),
    [
        ("SSB", "back squat"),
        ("Dips", "dip"),
        ("Benk", "bench press"),
        ("Benken", "bench press"),
        ("Bänken", "bench press"),
        ("Knieb.", "back squat"),
        ("Kreuz", "deadlift"),
        ("sqaut", "back squat"),
        ("Bnech", "bench press"),
        ("kniebeugen", "back squat"),
        ("marklyften", "deadlift"),
        ("remadas", "row"),
        ("wykr. bułg.", "split squat"),
    ],
)
def test_lifts_cut_short_bent_or_with_a_slip_are_still_known(written, lift):
    assert READER.exercise(written).exercise == lift


PAIRS = [
    ("Bram", "Fen"), ("BRAM", "FEN"), ("Lars", "Aga"), ("Ada Berg", "Bo Lind"),
    ("Ada Berg - 2026", "Bo Lind - 2026"), ("Name: Ada Berg", "Name: Bo Lind"), ("Zawodnik: Ada", "Zawodnik: Bo"),
]  # fmt: skip
HEADS = [
    ("Date", "Exercise", "kg", "Reps", "Squat", "Bench"),
    ("Datum", "Übung", "kg", "Wdh", "Kniebeuge", "Bankdrücken"),
    ("Date", "Exercice", "kg", "Répétitions", "Squat", "Développé couché"),
    ("Fecha", "Ejercicio", "kg", "Reps", "Sentadilla", "Press banca"),
    ("Data", "Ćwiczenie", "kg", "Powt.", "Przysiad", "Wyciskanie leżąc"),
]


def blocks(first, second, heads, days=("2026-09-14", "2026-09-14")):
    day, lift, kg, reps, squat, bench = heads
    return f"""{first};;;
{day};{lift};{kg};{reps}
{days[0]};{squat};100;5
{days[0]};{bench};60;5
;;;
{second};;;
{day};{lift};{kg};{reps}
{days[1]};{squat};120;5
{days[1]};{bench};80;5
"""


@pytest.mark.parametrize(("first", "second"), PAIRS)
@pytest.mark.parametrize("heads", HEADS, ids=lambda heads: heads[1])
def test_each_table_below_a_name_is_that_persons(read, first, second, heads):
    logs = read({"log.csv": blocks(first, second, heads)})
    name, other = (line.split(" - ")[0].split(": ")[-1] for line in (first, second))
    assert [(one.athlete.casefold(), one.load_kg) for one in logs.sets] == [
        (name.casefold(), 100.0), (name.casefold(), 60.0), (other.casefold(), 120.0), (other.casefold(), 80.0),
    ]  # fmt: skip
    told = logs.files[0].sheets[0].assumptions
    assert f"The rows below each of these lines were read as those of the person named: {name}, {other}." in told


@pytest.mark.parametrize(
    ("first", "second"), [("Volym", "Tyngre"), ("Week 1", "Week 2"), ("Squat", "Bench"), ("Ada Berg", "Ada Berg")]
)
def test_lines_over_the_parts_of_one_log_name_nobody(read, first, second):
    logs = read({"Kim Alder.csv": blocks(first, second, HEADS[0], ("2026-09-14", "2026-09-21"))})
    assert len({one.athlete for one in logs.sets}) == 1
    assert len(logs.sets) == 4


def test_a_table_without_a_name_goes_on_for_the_person_above(read):
    rows = blocks("Ada Berg", "", HEADS[0]) + ";;;\n" + blocks("Bo Lind", "", HEADS[0])
    logs = read({"log.csv": rows})
    assert [one.athlete for one in logs.sets].count("Ada Berg") == 4
    assert [one.athlete for one in logs.sets].count("Bo Lind") == 4
