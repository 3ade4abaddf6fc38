"""Habits of diaries in plain text: letters for weekdays, signs of a legend in the name of a lift, lists of repetitions
with an effort, plans and totals. Written for the project; common practice, no published source."""

import pytest

from preflare.reading.shorthand import parse_work


@pytest.mark.parametrize(
    "letters",
    ["L X V", "L M V", "L G S", "M W F", "M D F", "P Ś P", "M O F", "S Q S"],  # es, fr, it, en, de, pl, sv, pt
)
def test_letters_for_weekdays_open_days(read, letters):
    one, two, three = letters.split()
    text = f"Log 2026\n\n{one} 31/8\nsquat 60x5, 80x5\n\n{two} 2/9\nsquat 90x5\n\n{three} 4/9\nsquat 95x5\n"
    found = {(str(one.date), one.load_kg) for one in read({"Ada Berg.txt": text}).sets}
    days = {("2026-08-31", 60), ("2026-08-31", 80), ("2026-09-02", 90), ("2026-09-04", 95)}
    assert found == days


@pytest.mark.parametrize(
    ("written", "reps"),
    [
        ("squat 110x5/5/5 @7,5", [5, 5, 5]),
        ("przysiad: 110x5/5/5 @7,5", [5, 5, 5]),
        ("Kniebeuge 110x6/4 @9", [6, 4]),
        ("sentadilla 110 kg x 5/5 @8", [5, 5]),
        ("squat 110x5/4/3 RPE 8", [5, 4, 3]),
        ("squat 110x6/6 2 RIR", [6, 6]),
        ("knäböj 110x3/3/3/3 @8.5", [3, 3, 3, 3]),
        ("squat 110kgx8/7 @9", [8, 7]),
    ],
)
def test_repetitions_behind_one_load_with_an_effort_are_sets_at_that_load(lexicon, written, reps):
    work = parse_work(written, lexicon)
    assert [(one.load, one.reps) for one in work.sets] == [(110, n) for n in reps]
    assert not work.problems


def test_a_load_behind_a_list_is_no_effort(lexicon):
    assert not parse_work("squat 100x5/5 @110", lexicon).sets


@pytest.mark.parametrize(
    "line",
    ["PLAN: squat 3x5x70 Monday", "Plan: Kniebeuge 3x5x70", "Objectif : squat 3x5x70", "Objetivo: sentadilla 3x5x70",
     "Obiettivo: squat 3x5x70", "Doel: squat 3x5x70", "cel: przysiad 3x5x70", "Mål: knäböj 3x5x70",
     "TOTAL: best squat 3x5x70"],
)  # fmt: skip
def test_a_line_of_a_plan_or_total_stores_no_set(read, line):
    text = f"Log 2026\n\n31/8/2026\nsquat 60x5, 80x5\n{line}\n"
    assert [one.load_kg for one in read({"Ada Berg.txt": text}).sets] == [60, 80]


@pytest.mark.parametrize(
    ("legend", "line", "exercise"),
    [
        ("dom = dominadas, PB = press banca", "dom: 60x5", "pull-up"),
        ("sent = sentadilla trasera, PB = press banca", "sent: 60x5", "back squat"),
    ],
)
def test_a_sign_of_the_legend_is_neither_day_nor_heading(read, legend, line, exercise):
    text = f"Diario 2026\n{legend}\n\n31/8/2026\n{line}\n"
    assert [one.exercise for one in read({"Ada Berg.txt": text}).sets] == [exercise]


@pytest.mark.parametrize("sign", ["c", "k", "q"])
def test_a_letter_before_a_set_marks_that_set_alone(read, sign):
    text = f"Log 2026\n{sign} = warm-up\n\n31/8/2026\nsquat: {sign} 1x5x40, {sign} 1x3x57,5, 3x5x65\n"
    found = [(one.load_kg, one.is_warm_up) for one in read({"Ada Berg.txt": text}).sets]
    assert found == [(40, True), (57.5, True), (65, False), (65, False), (65, False)]
