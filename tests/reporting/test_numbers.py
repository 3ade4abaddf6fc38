"""How numbers are printed.

Sources: counts of 100 with one denominator, Gigerenzer and Hoffrage (1995), Psychol Rev 102:684-704 (from memory);
"0 of 20" is not 0 %, Rothman's and Wilson's intervals of 0 of 20 reach 16 of 100.
"""

import pytest

from preflare.reporting import numbers
from preflare.reporting.words import load_words

WORDS = load_words("en")


@pytest.mark.parametrize(
    ("estimate", "low", "high", "printed"),
    [
        (4.2, 1.1, 9.4, "4 of 100 (1 to 9)"),
        (0.3, 0.0, 1.2, "less than 1 of 100 (0 to 1)"),
        (99.7, 96.0, 99.9, "more than 99 of 100 (96 to more than 99)"),
        (14.0, None, 20.0, "14 of 100 (no interval)"),
        (None, None, None, "not estimated"),
        (float("nan"), 1.0, 2.0, "not estimated"),
    ],
)
def test_a_count_of_100_is_whole_and_brings_its_interval(estimate, low, high, printed):
    assert numbers.per_100(estimate, low, high, WORDS) == printed


@pytest.mark.parametrize(
    ("estimate", "low", "high", "printed"),
    [
        (6.8, 2.2, 13.1, "7 more of 100 (2 more to 13 more)"),
        (-3.0, -8.4, 1.6, "3 fewer of 100 (8 fewer to 2 more)"),
        (0.2, -4.0, 4.0, "none more of 100 (4 fewer to 4 more)"),
        (None, -4.0, 9.0, "4 fewer to 9 more of 100"),
        (None, None, None, "not estimated"),
    ],
)
def test_a_difference_says_more_or_fewer(estimate, low, high, printed):
    assert numbers.difference(estimate, low, high, WORDS) == printed


@pytest.mark.parametrize(
    ("value", "printed"),
    [(1.71, "1.7"), (0.0623, "0.062"), (0.997, "1.0"), (23.8, "24"), (312.0, "310"), (10808.0, "11,000"), (9.96, "10")],
)
def test_a_ratio_has_two_figures_and_no_power_of_ten(value, printed):
    # The last: 9.96 rounds to 10, whose two figures are both before the decimal sign.
    assert numbers.two_figures(value, WORDS) == printed


def test_an_estimate_is_marked_as_one_and_a_count_is_not():
    text = WORDS.spans("team.bars.sentence", bar="x", prior=numbers.per_100(4, 1, 9, WORDS), raw="1", adjusted="2")
    assert [s.kind for s in text if s.text == "4 of 100 (1 to 9)"] == ["estimate"]
    assert {s.kind for s in text if s.text == "1"} == {"plain"}


def test_p_values_have_two_figures_and_a_floor():
    assert [numbers.p_value(p, WORDS) for p in (0.0004, 0.012, 0.3, None)] == [
        "under 0.001",
        "0.012",
        "0.30",
        "not estimated",
    ]


def test_a_rate_of_nothing_keeps_its_upper_limit():
    assert numbers.rate(0.0, 0.0, 7.378, WORDS) == "0 (0 to 7.4)"  # 0 in 500 h: upper 7.38 per 1000 h, exact Poisson


def test_dates_are_written_in_words():
    assert numbers.span_of_days("2025-09-01", "2026-06-07", WORDS) == "1 September 2025 to 7 June 2026"
    assert numbers.table_day("2026-03-09", WORDS) == "9\u00a0Mar\u00a02026"
    assert numbers.short_day("2026-03-09", WORDS) == "9\u00a0Mar"
