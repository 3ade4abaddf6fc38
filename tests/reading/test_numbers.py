"""Numbers and units: decimal marks, pounds, ratings, minutes."""

from datetime import time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflare.reading.numbers import (
    KG_PER_LB,
    parse_count,
    parse_effort,
    parse_load,
    parse_minutes,
    parse_number,
    parse_rating,
    to_kg,
)


def test_a_pound_is_the_pound_of_1959():
    # International yard and pound agreement, 1 July 1959: 1 lb = 0.45359237 kg exactly.
    assert KG_PER_LB == 0.45359237
    assert to_kg(100, "lb") == 45.359
    assert to_kg(2000, "lb") == 907.185  # one short ton, 907.18474 kg (NIST SP 811, appendix B.8)


@pytest.mark.parametrize(
    ("text", "number"),
    [("82,5", 82.5), ("82.5", 82.5), ("1.234,5", 1234.5), ("1,234.5", 1234.5), ("1 234,5", 1234.5),
     ("1\u202f234,5", 1234.5), ("-3", -3.0), ("1.234", None), ("1,234", None), ("12O", None), ("", None)],
)  # fmt: skip
def test_decimal_comma_and_point_are_told_apart_or_refused(text, number):
    assert parse_number(text) == number


@given(st.integers(0, 9_999_99).map(lambda cents: cents / 100), st.sampled_from(",."))
def test_any_number_with_two_decimals_is_read_back(number, mark):
    assert parse_number(f"{number:.2f}".replace(".", mark)) == number


@pytest.mark.parametrize(
    ("cell", "number", "unit"),
    [(140.0, 140, None), ("140 kg", 140, "kg"), ("315lb", 315, "lb"), ("82,5", 82.5, None), ("142,500", 142.5, None),
     ("225 lbs", 225, "lb")],
)  # fmt: skip
def test_a_load_carries_the_unit_of_its_cell(cell, number, unit):
    load = parse_load(cell)
    assert load is not None
    assert (load.number, load.unit) == (number, unit)


@pytest.mark.parametrize("cell", ["heavy", "100 stone", None, True, "1OO"])
def test_a_load_that_is_no_number_is_none(cell):
    assert parse_load(cell) is None


@pytest.mark.parametrize(
    ("text", "value", "is_range"),
    [
        ("7", 7, False),
        ("7/10", 7, False),
        ("3-4", 4, True),
        ("4 out of 10", 4, False),
        ("4,5", 4.5, False),
        ("12", 12, False),
    ],
)
def test_a_rating_is_read_and_a_range_takes_the_higher(text, value, is_range):
    # "3-4 is read as 4": the project's own rule.
    rating = parse_rating(text)
    assert rating is not None
    assert (rating.value, rating.is_range) == (value, is_range)


@pytest.mark.parametrize("text", ["mild", "?", "4/5", "140x5", ""])
def test_other_words_are_no_rating(text):
    assert parse_rating(text) is None


def test_effort_takes_halves_and_the_middle_of_neighbours():
    assert parse_effort("8,5") == (8.5, False)
    assert parse_effort("@8") == (8.0, False)
    assert parse_effort("7-8") == (7.5, True)
    assert parse_effort("easy") is None


def test_minutes_are_read_from_clock_text_number_and_duration():
    assert [parse_minutes(cell) for cell in (75.0, "75 min", "1h15", "1:15", timedelta(minutes=75), time(1, 15))] == [
        75.0
    ] * 6


def test_repetitions_are_whole_and_not_negative():
    assert [parse_count(cell) for cell in (5.0, "5", 0.0, 5.5, "-1", "x", None)] == [5, 5, 0, None, None, None, None]
