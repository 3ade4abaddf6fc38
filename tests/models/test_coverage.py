"""A short look at whether intervals hold the truth; the long one is `python tests/models/coverage.py`."""

import pytest

from models.coverage import coverage, line


@pytest.mark.parametrize(("family", "profiled"), [("linear", 0), ("logistic", 0), ("cumulative logit", 20)])
def test_intervals_hold_the_truth_about_as_often_as_announced(family, profiled):
    """80 seasons of 24 athletes. At 95 %, fewer than 69 of 80 has a chance of 0.05 %, fewer than 15 of 20 of 0.03 %."""
    found = coverage(family, 24, 80, seed=7, profiled=profiled)

    assert found.failed == 0
    assert (found.t >= 69 / 80).all()
    assert found.profiled == profiled
    assert profiled == 0 or (found.sd >= 15 / 20).all()
    # Coefficients are off by less than a tenth of the standard deviation between athletes, SDs by less than a seventh.
    assert (abs(found.bias) < 0.1).all()
    assert (abs(found.sd_bias) < 1 / 7).all()


def test_a_printed_line_gives_each_share_with_its_monte_carlo_error():
    found = coverage("linear", 8, 5, seed=1)

    assert line("linear", 8, found).startswith("linear                   8 ")
    assert line("linear", 8, found).count("(") == 6  # z, t and Satterthwaite of two coefficients; no profile was asked
