"""Set shorthand: the ways lifters write sets, and writing then reading any set gives the set back.

What each form means is common practice in strength training, no published source.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflare.reading.shorthand import parse_work
from reading.shorthand_sets import LEXICON, sets_of


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("5x3 @140", [(140, 3)] * 5),
        ("3x5@82,5", [(82.5, 5)] * 3),
        ("140/5/3", [(140, 5)] * 3),
        ("140x3,3,2", [(140, 3), (140, 3), (140, 2)]),
        ("120x5 130x3 140x1", [(120, 5), (130, 3), (140, 1)]),
        ("140x3, 150x2", [(140, 3), (150, 2)]),
        ("140x3x2", [(140, 3)] * 2),
        ("3x5x100", [(100, 5)] * 3),
        ("140kg 5x3", [(140, 3)] * 5),
        ("5x3 140kg", [(140, 3)] * 5),
        ("5,5,4 @100", [(100, 5), (100, 5), (100, 4)]),
        ("5@140", [(140, 5)]),
        ("3 sets of 5 at 140", [(140, 5)] * 3),
        ("3 Sätze à 5 Wdh mit 140 kg", [(140, 5)] * 3),
        ("3x5 @100/105/110", [(100, 5), (105, 5), (110, 5)]),
        ("140kgx5", [(140, 5)]),
        ("140x3 then 150x2", [(140, 3), (150, 2)]),
        ("3 singles @160", [(160, 1)] * 3),
        ("3x10 @15", [(15, 10)] * 3),
        ("3x10", [(None, 10)] * 3),
    ],
)
def test_shorthand_gives_load_and_repetitions_of_every_set(text, expected):
    assert sets_of(text) == expected
    assert not parse_work(text, LEXICON).problems


def test_top_single_and_back_offs_are_read_in_one_line():
    # given the line of the issue, when read
    work = parse_work("top single 180 @8.5, back-offs 3x4@150", LEXICON)
    # then one single at RPE 8.5 and three fours
    assert [(s.load, s.reps, s.rpe) for s in work.sets] == [(180, 1, 8.5), *[(150, 4, None)] * 3]


@pytest.mark.parametrize(
    ("text", "rpe", "rir"),
    [("5x3@RPE8", 8, None), ("5x3 @140 RPE8", 8, None), ("82.5x5@7.5", 7.5, None), ("2x5@140 2RIR", None, 2),
     ("2x5 @140 RIR 1", None, 1), ("140x3 @ 8,5", 8.5, None)],
)  # fmt: skip
def test_effort_is_read_as_rpe_or_repetitions_in_reserve(text, rpe, rir):
    assert {(s.rpe, s.rir) for s in parse_work(text, LEXICON).sets} == {(rpe, rir)}


def test_warm_ups_end_where_the_work_begins():
    work = parse_work("w/u 60x5, 80x3; 140x3x3", LEXICON)
    assert [(s.load, s.is_warm_up) for s in work.sets] == [(60, True), (80, True), *[(140, False)] * 3]


def test_a_mark_behind_one_set_marks_that_set_alone():
    work = parse_work("60x5 wu, 100x3, 140x1 x", LEXICON)
    assert [(s.is_warm_up, s.is_failed) for s in work.sets] == [(True, False), (False, False), (False, True)]


def test_a_missed_last_repetition_fails_the_set():
    (one,) = parse_work("140x3+1F", LEXICON).sets
    assert (one.reps, one.is_failed) == (3, True)


def test_a_percentage_stands_instead_of_a_load():
    assert {(s.load, s.percent, s.reps) for s in parse_work("5x3 @75%", LEXICON).sets} == {(None, 75, 3)}


def test_body_weight_with_a_load_hung_on():
    (one,) = parse_work("BW+20x5", LEXICON).sets
    assert (one.load, one.reps, one.is_added) == (20, 5, True)


@pytest.mark.parametrize("text", ["15x10", "8x20", "3x30@", "140", "100x5x3x2x1", "3x5@@100"])
def test_what_could_mean_two_things_is_refused_with_its_text(text):
    work = parse_work(text, LEXICON)
    assert not work.sets
    assert "".join(problem.text for problem in work.problems)


def test_a_range_of_repetitions_leaves_them_unknown_and_says_so():
    work = parse_work("3x4-6 @100", LEXICON)
    assert [(s.load, s.reps) for s in work.sets] == [(100, None)] * 3
    assert work.problems[0].is_doubt


def test_exercises_named_between_the_sets_belong_to_what_follows_or_precedes_them():
    assert [(s.exercise, s.load) for s in parse_work("Squat: 2x3@140; Bench: 1x5@100", LEXICON).sets] == [
        ("Squat", 140), ("Squat", 140), ("Bench", 100)
    ]  # fmt: skip
    assert {s.exercise for s in parse_work("4x8 curls", LEXICON).sets} == {"curls"}


def test_remarks_between_sets_are_kept_and_are_no_work():
    work = parse_work("5x3 @140 elbow 4/10, felt easy", LEXICON)
    assert (len(work.sets), work.problems) == (5, ())
    assert work.remarks == ("elbow 4/10, felt easy",)


LOADS = st.integers(min_value=80, max_value=1600).map(lambda quarter: quarter / 4)  # 20 to 400 kg in 250 g
REPS = st.integers(min_value=1, max_value=20)
EFFORT = st.one_of(st.none(), st.integers(min_value=8, max_value=20).map(lambda half: half / 2))


def written(number: float, comma: bool) -> str:
    return format(number, "g").replace(".", ",") if comma else format(number, "g")


@given(load=LOADS, reps=REPS, n=st.integers(2, 9), effort=EFFORT, comma=st.booleans(), form=st.integers(0, 5))
def test_any_set_written_in_short_is_read_back(load, reps, n, effort, comma, form):
    kg = written(load, comma)
    text = [f"{n}x{reps} @{kg}", f"{n} x {reps} @ {kg} kg", f"{kg}kg x {reps} x {n}", f"{n}x{reps}x{kg}kg",
            f"{kg} kg {n}x{reps}", f"{n} sets of {reps} at {kg}"][form]  # fmt: skip
    if effort is not None:
        text += f" RPE{written(effort, comma)}"
    work = parse_work(text, LEXICON)
    assert [(s.load, s.reps, s.rpe) for s in work.sets] == [(load, reps, effort)] * n, text
    assert not work.problems


@given(st.lists(st.tuples(LOADS, REPS), min_size=1, max_size=6), st.sampled_from([", ", "; ", " ", "\n"]))
def test_any_list_of_sets_is_read_back_in_order(sets, between):
    text = between.join(f"{format(load, 'g')}x{reps}" for load, reps in sets)
    assert sets_of(text) == sets, text


@given(st.text(max_size=60))
def test_no_text_breaks_the_reader_and_sets_are_never_absurd(text):
    work = parse_work(text, LEXICON)
    assert len(work.sets) <= 20 * max(len(text), 1)
    assert all(one.reps is None or 0 <= one.reps <= 100 for one in work.sets)


@pytest.mark.parametrize("text", ["160x1 @8", "160 x 1 @ 8", "160kg x 1 @8"])
def test_an_effort_behind_an_at_is_never_a_number_of_sets(text):
    assert [(s.load, s.reps, s.rpe) for s in parse_work(text, LEXICON).sets] == [(160, 1, 8)]
