"""What was once read in silence: other units, weeks of a block, marks nobody explains, slips, loads that are none.

Common practice, no published source, save where one stands beside the check.
"""

from datetime import date

import pytest

SQUAT = "2026-03-02,Squat,{},5\n"


@pytest.mark.parametrize(
    ("heading", "kg"),
    # stone: 14 lb of 0.45359237 kg (Weights and Measures Act 1985, schedule 1), so 12 are 76.2035 kg
    [("Load (stone)", 76.2035), ("Load (st)", 76.2035), ("Weight in stone", 76.2035), ("Load (g)", 0.012)],
)
def test_a_load_in_another_unit_of_mass_is_converted_and_said(read, heading, kg):
    logs = read({"Ada Berg.csv": f"Date,Exercise,{heading},Reps\n" + SQUAT.format(12)})
    assert [one.load_kg for one in logs.sets] == [pytest.approx(kg, rel=1e-4)]
    assert any("were read as" in said for said in logs.files[0].sheets[0].assumptions)
    assert not any("without a unit" in said for said in logs.files[0].sheets[0].assumptions)


@pytest.mark.parametrize(
    "heading",
    [
        "Load (plates)",
        "Load (pins)",
        "Gewicht (Scheiben)",
        "Charge (plaques)",
        "Carga (placas)",
        "Carico (dischi)",
        "Gewicht (platen)",
        "Ciężar (talerze)",
        "Vekt (skiver)",
        "Vikt (skivor)",
        "Load (kN)",
        "Load (level)",
    ],
)
def test_a_number_that_is_no_mass_is_no_load(read, heading):
    logs = read({"Ada Berg.csv": f"Date,Exercise,{heading},Reps\n" + SQUAT.format(12)})
    assert [one.load_kg for one in logs.sets] == [None]
    assert [one.value for one in logs.rejected] == ["12"]


def test_kg_written_at_the_number_stands(read):
    logs = read({"Ada Berg.csv": "Date,Exercise,Load (plates),Reps\n" + SQUAT.format("100 kg")})
    assert [one.load_kg for one in logs.sets] == [100]


WEEKS = "Day,Exercise,{0} 1,{0} 2\nMon,Squat,100x5,110x3\n"


@pytest.mark.parametrize("word", ["Week", "Woche", "Semaine", "Semana", "Settimana", "Tydzień", "Uke", "Uge", "Vecka"])
def test_weeks_numbered_from_one_are_not_guessed_to_be_those_of_the_year(read, word):
    logs = read({"Ada Berg 2026.csv": WEEKS.format(word)})
    assert not logs.sets
    assert logs.rejected
    assert any("[season] from" in said for said in logs.files[0].sheets[0].assumptions)


def test_weeks_count_from_a_date_above_the_log(read):
    logs = read({"Ada Berg.csv": "Strength block from 2 March 2026\n" + WEEKS.format("Week")})
    assert [one.date for one in logs.sets] == [date(2026, 3, 2), date(2026, 3, 9)]
    assert any("2026-03-02" in said for said in logs.files[0].sheets[0].assumptions)


def test_weeks_of_the_calendar_are_read_as_such_and_said(read):
    # ISO 8601 (Python's calendar): week 1 of 2026 begins on 29 December 2025, week 10 on 2 March 2026
    logs = read({"Ada Berg 2026.csv": WEEKS.format("KW")})
    assert [one.date for one in logs.sets] == [date(2025, 12, 29), date(2026, 1, 5)]
    later = "Day,Exercise,Week 10,Week 11\nMon,Squat,100x5,110x3\n"
    logs = read({"Bo Lind 2026.csv": later})
    assert [one.date for one in logs.sets if one.athlete == "Bo Lind"] == [date(2026, 3, 2), date(2026, 3, 9)]


@pytest.mark.parametrize("work", ["o30x8", "30x8*", "~30x8", "30x8!", "30x8p", "30x8 p", "30x8 *", "#30x8", "30x8°"])
def test_a_mark_that_nothing_explains_is_told_and_changes_nothing(read, work):
    logs = read({"Ada Berg.csv": f"Date|Exercise|Set 1|Set 2\n2026-03-02|Squat|100x5|{work}\n"})
    assert [(one.load_kg, one.reps, one.is_warm_up, one.is_failed) for one in logs.sets] == [
        (100, 5, False, False),
        (30, 8, False, False),
    ]
    assert [one.value for one in logs.rejected] == [work]


@pytest.mark.parametrize(
    "work", ["30x8", "30x8x", "30x8 f", "w30x8", "30x8kg", "30x8@7", "30kg x 8", "3x8@30, 3x8@40", "30*8"]
)
def test_what_is_known_at_a_set_is_no_open_mark(read, work):
    logs = read({"Ada Berg.csv": f"Date|Exercise|Sets\n2026-03-02|Squat|100x5, {work}\n"})
    assert not any("nothing says what" in one.reason for one in logs.rejected)


@pytest.mark.parametrize(
    ("role", "written", "kind", "understood"),
    [
        ("Bar", "safty bar", "bar", "safety"),
        ("Bar", "cambred", "bar", "cambered"),
        ("Where", "elobw", "site", "elbow"),
        ("Where", "Ellenbgen", "site", "elbow"),
        ("Exercise", "Knibeuge", "exercise", "back squat"),
        ("Where", "wirst", "site", "wrist"),
    ],
)
def test_a_slip_of_one_letter_is_adopted_only_as_an_assumption(read, role, written, kind, understood):
    rows = {
        "Bar": f"Date,Exercise,Bar,kg,Reps\n2026-03-02,squat,{written},100,5\n",
        "Exercise": f"Date,Exercise,kg,Reps\n2026-03-02,{written},100,5\n",
        "Where": f"Date,Where,Side,Rating\n2026-03-02,{written},left,3\n",
    }
    told = [one for one in read({"Ada Berg.csv": rows[role]}).choices if one.written == written]
    assert [(one.kind, one.understood, one.how) for one in told] == [(kind, understood, "assumed")]


def test_kilograms_by_date_without_lifts_are_no_sets(read):
    logs = read({"Ada Berg.csv": "Date,kg,Resting pulse\n2026-03-02,84.2,58\n2026-03-09,84,57\n"})
    assert not logs.sets
    assert not logs.rejected


@pytest.mark.parametrize(("reps", "stored"), [("5", 5), ("30", 30), ("55", None)])
def test_more_repetitions_than_anyone_does_with_a_load_are_set_aside(read, reps, stored):
    logs = read({"Ada Berg.csv": f"Date,Exercise,kg,Reps\n2026-03-02,squat,135,{reps}\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(135, stored)]
    assert [one.value for one in logs.rejected] == ([] if stored else ["55"])
