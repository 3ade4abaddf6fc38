"""Pounds and kilograms side by side: by cell, by line, by exercise. Common practice, no published source."""

import pytest

from preflare.reading.shorthand import parse_work


def said(text, lexicon):
    work = parse_work(text, lexicon)
    assert not [problem for problem in work.problems if not problem.is_doubt]
    return [(one.load, one.unit, one.reps) for one in work.sets]


@pytest.mark.parametrize(
    "text",
    ["squat (kg, cambered bar): 60x5, 80x5", "squat (kg): 60x5, 80x5", "squat kg 60x5, 80x5", "kg: squat 60x5, 80x5",
     "campus gym, kg plates. squat 60x5, 80x5", "campus (kg) squat 60x5, 80x5", "squat 60kgx5, 80kgx5",
     "Kniebeuge (kg): 60x5, 80x5", "sentadilla (kg) 60x5, 80x5", "przysiad (kg): 60x5, 80x5",
     "in kg today\nsquat 60x5, 80x5",
     "knäböj (kg) 60x5, 80x5", "squat (kilos) 60x5, 80x5"],
)  # fmt: skip
def test_a_unit_apart_from_the_numbers_holds_for_them(text, lexicon):
    assert said(text, lexicon) == [(60, "kg", 5), (80, "kg", 5)]


def test_a_unit_in_an_exercises_name_ends_with_that_exercise(lexicon):
    text = "squat (kg) 60x5\nbench 135x5\nlat pulldown (kg stack) 50x10"
    assert said(text, lexicon) == [(60, "kg", 5), (135, None, 5), (50, "kg", 10)]


def test_a_unit_said_before_all_exercises_holds_for_all_but_those_that_name_their_own(lexicon):
    assert said("lbs today. squat 135x5\nrow (kg) 55x8\nbench 95x5", lexicon) == [
        (135, "lb", 5), (55, "kg", 8), (95, "lb", 5)
    ]  # fmt: skip


def test_lb_beside_a_squat_is_the_low_bar_and_beside_a_curl_pounds(lexicon):
    assert said("squat (LB) 100x5", lexicon) == [(100, None, 5)]
    assert said("curls (lb) 30x10", lexicon) == [(30, "lb", 10)]


@pytest.mark.parametrize("text", ["dips bw x 8, +10x6", "dips BWx8, +10 x 6", "dips bw x8; +10x6"])
def test_a_plus_sign_at_a_load_hangs_it_on_the_body(text, lexicon):
    assert [(one.load, one.reps, one.is_added) for one in parse_work(text, lexicon).sets] == [
        (None, 8, True), (10, 6, True)
    ]  # fmt: skip


def test_a_plus_sign_between_sets_joins_them(lexicon):
    assert said("squat 60x5 +80x3", lexicon) == [(60, None, 5), (80, None, 3)]


@pytest.mark.parametrize(
    "text",
    ["squat low bar, straight bar, narrow grip: 100x5", "squat, straight bar, low bar, narrow grip 100x5",
     "gym at noon. squat low bar straight bar narrow grip 100x5"],
)  # fmt: skip
def test_gear_after_commas_belongs_to_the_exercise_before_it(read, text):
    lines = "".join(f'2026-03-0{day},"{text}, 100x5"\n' for day in (2, 4, 6))
    logs = read({"Ada Berg.csv": f"date,what i did\n{lines}"})
    assert len(logs.sets) == 6
    assert {(one.exercise, one.bar, one.bar_position, one.grip_width) for one in logs.sets} == {
        ("back squat", "straight", "low", "narrow")
    }


def test_one_cell_in_pounds_does_not_hide_that_the_others_look_like_pounds(read):
    rows = "2026-03-02,Squat,135x5 225x5 275x5,\n2026-03-04,Bench,135x5 185x5 225x3,\n2026-03-06,Curl,25 lb x 10,\n"
    logs = read({"Ada Berg.csv": "Date,Lift,Sets,Notes\n" + rows})
    assert any("look like pounds" in row.reason for row in logs.rejected)
