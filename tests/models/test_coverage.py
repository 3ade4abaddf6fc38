"""A short look at whether intervals hold the truth; the long one is `python tests/models/coverage.py`."""

import pytest

from models.coverage import coverage


@pytest.mark.parametrize("family", ["linear", "logistic", "cumulative logit"])
def test_intervals_hold_the_truth_about_as_often_as_announced(family):
    """80 seasons of 24 athletes. At 95 %, fewer than 69 of 80 (86 %) has a chance of 0.05 %."""
    found = coverage(family, 24, 80, seed=7, profiled=0)

    assert found.failed == 0
    assert (found.t >= 69 / 80).all()
    # Coefficients are off by less than a tenth of the standard deviation between athletes.
    assert (abs(found.bias) < 0.1).all()
