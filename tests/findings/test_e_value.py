"""VanderWeele and Ding's E-values."""

import pytest

from preflare.findings.e_value import e_value, e_value_limit
from preflare.models.standardise import Interval

# VanderWeele TJ, Ding P. Ann Intern Med 2017;167:268-274; values as in the vignette of the R package EValue 4.1.4.


@pytest.mark.parametrize(
    ("ratio", "expected"), [(3.9, 7.263034), (10.73, 20.94777), (0.80, 1.809017), (8.02, 15.52336), (0.91, 1.428571)]
)
def test_published_e_values(ratio: float, expected: float) -> None:
    assert e_value(ratio) == pytest.approx(expected, abs=5e-6)


def test_the_limit_nearest_to_no_effect_counts() -> None:
    assert e_value_limit(Interval(3.9, 1.8, 8.7)) == pytest.approx(3.0, abs=1e-9)
    assert e_value_limit(Interval(0.80, 0.71, 0.91)) == pytest.approx(1.428571, abs=5e-6)


def test_an_interval_that_holds_no_effect_needs_nothing_unmeasured() -> None:
    assert e_value_limit(Interval(1.2, 0.9, 1.6)) == 1.0
