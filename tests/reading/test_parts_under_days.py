"""Days across with loads, repetitions and efforts in columns of their own under each, warm-ups lettered, a plan beside.

Sheets are invented after common ways to keep such logs (common practice, no published source); expectations are
counted by hand.
"""

import pytest

from preflare.reading.legend_lines import Line
from preflare.reading.legend_terms import terms_of
from preflare.reading.words import WordReader

# legend, words for: exercise, plan, set, reps, reserve; the letter of warm-ups; squat; bench
LANGUAGES = {
    "en": (
        "'W' = warm-up. 'spare' = reps in reserve",
        "Exercise|Plan|Set",
        "reps",
        "spare",
        "W",
        "Squat",
        "Bench press",
    ),
    "de": (
        "„A“ = Aufwärmen. „Res.“ = Wdh in Reserve",
        "Übung|Plan|Satz",
        "Wdh",
        "Res.",
        "A",
        "Kniebeuge",
        "Bankdrücken",
    ),
    "fr": (
        "«E» = échauffement. «rés» = reps en réserve",
        "Exercice|Prévu|Série",
        "reps",
        "rés",
        "E",
        "Squat",
        "Développé couché",
    ),
    "es": (
        "«C» = calentamiento. «res» = reps en reserva",
        "Ejercicio|Plan|Serie",
        "reps",
        "res",
        "C",
        "Sentadilla",
        "Press banca",
    ),
    "it": (
        "«R» = riscaldamento. «buf» = ripetizioni di riserva",
        "Esercizio|Piano|Serie",
        "rip",
        "buf",
        "R",
        "Squat",
        "Panca piana",
    ),
    "pt": (
        "«A» = aquecimento. «res» = reps em reserva",
        "Exercício|Plano|Série",
        "reps",
        "res",
        "A",
        "Agachamento",
        "Supino",
    ),
    "nl": (
        "'O' = opwarmen. 'over' = herhalingen over",
        "Oefening|Plan|Set",
        "herh",
        "over",
        "O",
        "Squat",
        "Bankdrukken",
    ),
    "pl": (
        "„R” = rozgrzewka. „zap.” = ile powtórzeń zostało w zapasie",
        "ćwiczenie|plan|seria",
        "powt.",
        "zap.",
        "R",
        "przysiad",
        "wyciskanie leżąc",
    ),
    "no": ("«O» = oppvarming. «res» = reps i reserve", "Øvelse|Plan|Sett", "reps", "res", "O", "Knebøy", "Benkpress"),
    "da": ("»O« = opvarmning. »res« = reps i reserve", "Øvelse|Plan|Sæt", "reps", "res", "O", "Squat", "Bænkpres"),
    "sv": ("”U” = uppvärmning. ”res” = reps i reserv", "Övning|Plan|Set", "reps", "res", "U", "Knäböj", "Bänkpress"),
}


def sheet(legend, left, reps, effort, letter, squat, bench):
    parts = f"|kg|{reps}|{effort}" * 3
    return (
        f"{legend}\n{left}|2026-09-02|||2026-09-09|||2026-09-16||\n||{parts}\n"
        f"{squat}|2x4|{letter}|50|5||50|5||50|5|\n||1|70|4||72,5|4||75|4|\n||2|75|4|3|75|4|2|77,5|3|1\n"
        f"{bench}|2x6|1|60|6||60|6||60|6|\n||2|60|6|2|62,5|6|2|62,5|5|1\n"
    )


@pytest.mark.parametrize("language", LANGUAGES)
def test_parts_under_each_day(read, language):
    logs = read({"Ada Berg.csv": sheet(*LANGUAGES[language])})
    first = [one for one in logs.sets if one.date.day == 2]
    assert [(one.exercise, one.load_kg, one.reps, one.is_warm_up) for one in first] == [
        ("back squat", 50, 5, True), ("back squat", 70, 4, False), ("back squat", 75, 4, False),
        ("bench press", 60, 6, False), ("bench press", 60, 6, False),
    ]  # fmt: skip
    assert [one.rir for one in first] == [None, None, 3, None, 2]
    assert len(logs.sets) == 15
    assert not logs.rejected


def test_a_heading_that_nobody_knows_costs_its_columns_and_says_so(read):
    logs = read({"Ada Berg.csv": sheet("Strength", "Exercise|Plan|Set", "reps", "qzx", "W", "Squat", "Bench press")})
    assert len(logs.sets) == 15
    assert not any(one.rir or one.rpe for one in logs.sets)
    assert [one.written for one in logs.choices if one.kind == "column"] == ["qzx"]


def test_a_plan_beside_loads_and_repetitions_changes_neither(read):
    text = "Exercise|Plan|2026-09-02||2026-09-09|\n||kg|reps|kg|reps\nSquat|3x5|100|3|100|4\nPull-ups|3x8|BW|8|BW+5|6\n"
    logs = read({"Ada Berg.csv": text})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(100, 3), (100, 4), (None, 8), (5, 6)]


def test_a_letter_that_no_legend_explains_is_a_warm_up_where_it_stands_before_set_1(read):
    logs = read({"Ada Berg.csv": sheet("Strength", "Exercise|Plan|Set", "reps", "RIR", "R", "Squat", "Bench press")})
    assert [one.reps for one in logs.sets if one.is_warm_up] == [5, 5, 5]


@pytest.mark.parametrize(
    ("written", "exercise", "bar"),
    [
        ("Squat, safety bar (since 10 Oct., elbow!)", "back squat", "safety"),
        ("Kniebeuge SSB (ab 10.10. wegen Ellbogen)", "back squat", "safety"),
        ("Squat barre safety (depuis le 10/10, coude)", "back squat", "safety"),
        ("Sentadilla (desde el 3/10 por el codo)", "back squat", None),
        ("Squat (dal 10/10 per il gomito)", "back squat", None),
        ("Agachamento (desde 10/10, cotovelo)", "back squat", None),
        ("Squat (vanaf 10 oktober, elleboog)", "back squat", None),
        ("przysiad, gryf z jarzmem (od 10.10, łokieć!)", "back squat", "safety"),
        ("Knebøy (fra 10. oktober, albue)", "back squat", None),
        ("Squat (fra 10/10 pga albue)", "back squat", None),
        ("Knäböj (från 10/10, armbåge)", "back squat", None),
        ("Squat (SSB from 10.10.)", "back squat", "safety"),
        ("Squat (front)", "front squat", None),
        ("Bench (narrow)", "close-grip bench press", None),
        ("Press (on incline from 10.10.)", "unknown", None),  # it may be another lift
    ],
)
def test_brackets_with_a_day_or_a_reason_beside_a_lift(lexicon, written, exercise, bar):
    named = WordReader(lexicon).exercise(written)
    assert (named.exercise, named.gear.bar) == (exercise, bar)


@pytest.mark.parametrize(
    ("line", "sign", "value"),
    [
        ("Gryf z jarzmem = ten z poduszkami i uchwytami (bezpieczny)", "Gryf z jarzmem", "safety"),
        ("GB = the one with the pads (safety bar)", "GB", "safety"),
        ("GB = die mit den Griffen (Sicherheitsstange)", "GB", "safety"),
        ('with Ada "left" = how many reps were left in the tank', "left", "rir"),
        ("bei Ada „R“ = wie viele Wdh in Reserve", "R", "rir"),
        ("(u Ady „zost.” = ile powtórzeń zostało w zapasie)", "zost.", "rir"),
    ],
)
def test_meanings_in_brackets_and_signs_in_quotes(lexicon, line, sign, value):
    told = terms_of(Line(line, True), WordReader(lexicon))
    assert [(one.written, one.value) for one in told] == [(sign, value)]


def test_done_as_planned_in_a_column_of_repetitions_takes_them_from_the_plan(read):
    text = "Exercise|Plan|2026-09-02||2026-09-09|\n||kg|reps|kg|reps\nSquat|3x5|100|5/5/4|105|ok\n"
    logs = read({"Ada Berg.csv": text})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [
        (100, 5),
        (100, 5),
        (100, 4),
        (105, 5),
        (105, 5),
        (105, 5),
    ]


def test_sets_may_be_lettered(read):
    text = "Exercise|Set|2026-09-02||2026-09-09|\n||kg|reps|kg|reps\nSquat|A|100|5|100|5\n|B|105|5|110|5\n"
    logs = read({"Ada Berg.csv": text})
    assert [(one.exercise, one.load_kg, one.is_warm_up) for one in logs.sets] == [
        ("back squat", 100, False), ("back squat", 100, False), ("back squat", 105, False), ("back squat", 110, False),
    ]  # fmt: skip
