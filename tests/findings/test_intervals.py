"""Intervals of surveillance figures against published and handbook values."""

import numpy as np
import pytest
from scipy.stats import binomtest

from preflare.findings.before_onset import median_interval
from preflare.findings.intervals import poisson_rate, wilson


@pytest.mark.parametrize(
    ("events", "exposure", "rate", "low", "high"),
    [
        # Rothman KJ. Modern Epidemiology 1998, p. 238: 41 cases in 28,010 and 15 in 19,017 person-years; the data are
        # in the help of epitools::rateratio, the exact limits computed from chi-squared quantiles.
        (41, 28010, 0.0014637629, 0.00105042156, 0.00198575971),
        (15, 19017, 0.0007887679, 0.00044146743, 0.00130095277),
        # No event in 500 h and 3 in 250 h, computed from chi-squared quantiles.
        (0, 500, 0.0, 0.0, 0.0073777589),
        (3, 250, 0.012, 0.0024746885, 0.0350690923),
    ],
)
def test_exact_poisson_intervals(events: int, exposure: float, rate: float, low: float, high: float) -> None:
    interval = poisson_rate(events, exposure)
    assert (interval.value, interval.low, interval.high) == pytest.approx((rate, low, high), rel=1e-6, abs=1e-10)


def test_a_rate_without_exposure_is_unknown() -> None:
    assert np.isnan(poisson_rate(0, 0).value)


@pytest.mark.parametrize(
    ("painful", "lifters", "share", "low", "high"),
    [
        # Counts of Stromback E et al. Orthop J Sports Med 2018;6(5):2325967118771016: 73 of 104 now, 83 of 95 in
        # 12 months.
        (73, 104, 0.701923, 0.608101, 0.781360),
        (83, 95, 0.873684, 0.792079, 0.926243),
        (0, 20, 0.0, 0.0, 0.161125),
    ],
)
def test_wilson_intervals(painful: int, lifters: int, share: float, low: float, high: float) -> None:
    interval = wilson(painful, lifters)
    assert (interval.value, interval.low, interval.high) == pytest.approx((share, low, high), abs=1e-6)


def test_wilson_agrees_with_scipy() -> None:
    for k, n in ((1, 7), (5, 9), (30, 31)):
        expected = binomtest(k, n).proportion_ci(method="wilson")
        interval = wilson(k, n)
        assert (interval.low, interval.high) == pytest.approx((expected.low, expected.high), rel=1e-12)


def test_nobody_reporting_gives_no_share() -> None:
    assert np.isnan(wilson(0, 0).value)


def test_median_interval_uses_the_sign_tests_order_statistics() -> None:
    # Sign test, n = 10: the 2nd smallest and 2nd largest hold the median with 97.9 % (handbook tables of the binomial).
    assert median_interval(np.arange(1.0, 11.0)) == (2.0, 9.0)


def test_five_values_allow_no_95_percent_interval_of_a_median() -> None:
    # The widest interval of five values holds the median with 1 - 2/32 = 93.75 % only.
    assert median_interval(np.arange(5.0)) == (None, None)
