"""More ways to write the same sets: signs, lists, words of other languages, and what must not be taken for work.

What each form means is common practice in strength training, no published source.
"""

import pytest

from preflare.reading.shorthand import parse_work
from reading.shorthand_sets import LEXICON, sets_of


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # signs
        ("3х5 @100", [(100, 5)] * 3),  # the Cyrillic letter
        ("5*3*140", [(140, 3)] * 5),
        ("80x8 -> 60x10 → 40x12", [(80, 8), (60, 10), (40, 12)]),
        ("180x1 RPE9 / 150x4x3", [(180, 1), *[(150, 4)] * 3]),
        ("140x1 ✓", [(140, 1)]),
        ("225#x5", [(225, 5)]),
        # a load and its repetitions
        ("100 - 3x5", [(100, 5)] * 3),
        ("100 (3x5)", [(100, 5)] * 3),
        ("100(5) 110(5) 120(3)", [(100, 5), (110, 5), (120, 3)]),
        ("100/5, 110/5, 120/3", [(100, 5), (110, 5), (120, 3)]),
        ("135-5, 185-5, 225-5", [(135, 5), (185, 5), (225, 5)]),
        ("100: 5,5,4", [(100, 5), (100, 5), (100, 4)]),
        ("5 reps @ 100kg x 3 sets", [(100, 5)] * 3),
        ("5 @ 100 x 3", [(100, 5)] * 3),
        ("100xF", [(100, 0)]),
        # lists of loads, of repetitions, of both
        ("3x5 100/110/120", [(100, 5), (110, 5), (120, 5)]),
        ("3x5: 100, 110, 120", [(100, 5), (110, 5), (120, 5)]),
        ("60/80/100x5", [(60, 5), (80, 5), (100, 5)]),
        ("5/3/1: 100, 115, 130", [(100, 5), (115, 3), (130, 1)]),
        ("5-5-4 @ 100", [(100, 5), (100, 5), (100, 4)]),
        ("3x6-8 @60 (8,7,6)", [(60, 8), (60, 7), (60, 6)]),
        # asides that change no number
        ("140kg (85%) 3x3", [(140, 3)] * 3),
        ("5x5 tempo 3-1-0 @ 90", [(90, 5)] * 5),
        ("100x5 (30X1)", [(100, 5)]),
        ("3x8/side @20", [(20, 8)] * 3),
        ("3x10/10 @25", [(25, 10)] * 3),
        ("100xAMRAP (12)", [(100, 12)]),
        ("A1 squat 3x5 100; A2 rows 3x8 50", [*[(100, 5)] * 3, *[(50, 8)] * 3]),
        # words
        ("3 serie po 5 powt. 100 kg", [(100, 5)] * 3),
        ("5 por 5 con 80kg", [(80, 5)] * 5),
        ("3 séries de 5 à 100 kg", [(100, 5)] * 3),
        ("3 sett à 5 på 100", [(100, 5)] * 3),
    ],
)
def test_other_ways_to_write_sets(text, expected):
    assert sets_of(text) == expected
    assert not parse_work(text, LEXICON).problems


@pytest.mark.parametrize(
    ("text", "expected", "doubt"),
    [
        ("100@8 x5", [(100, 5)], "effort"),  # eight sets of five, or one at RPE 8
        ("100x2+2+2", [(100, 2)] * 3, "2+2+2"),
        ("20kg per hand 3x10", [(20, 10)] * 3, "one hand"),
        ("2x20kg x 10", [(20, 10)], "one hand"),
    ],
)
def test_what_may_mean_two_things_is_read_with_a_doubt(text, expected, doubt):
    work = parse_work(text, LEXICON)
    assert [(one.load, one.reps) for one in work.sets] == expected
    assert [problem.is_doubt for problem in work.problems] == [True]
    assert doubt in work.problems[0].reason


@pytest.mark.parametrize("text", ["25/12/2026", "8-12", "20:15", "30-40", "5-3"])
def test_dates_clocks_and_ranges_are_no_sets(text):
    assert sets_of(text) == []


def test_a_remark_that_changes_a_set_is_told_of():
    assert parse_work("3x5@100 (last set only 4)", LEXICON).problems
    assert not parse_work("3x5@100, felt heavy, elbow 4/10", LEXICON).problems


def test_each_set_may_have_its_own_effort():
    for text in ("3x5@100 RPE 7/8/8.5", "3x5@100 @7, @8, @8.5", "100x5@7 100x5@8 100x5@8.5"):
        assert [one.rpe for one in parse_work(text, LEXICON).sets] == [7, 8, 8.5]


def test_a_block_above_all_warm_ups_is_work():
    marks = [one.is_warm_up for one in parse_work("WU 60x5, 80x3, 3x5 @100", LEXICON).sets]
    assert marks == [True, True, False, False, False]
    assert all(one.is_warm_up for one in parse_work("WU 60x5, 80x3, 100x1", LEXICON).sets)


def test_sets_by_the_clock_have_no_repetitions():
    assert sets_of("plank 3x30s") == [(None, None)] * 3
