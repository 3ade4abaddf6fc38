"""Restricted cubic splines span the same space as an independent natural-spline basis."""

import numpy as np
import pytest
from patsy import dmatrix

from preflare.models.splines import restricted_cubic_spline

KNOTS = (2.0, 10.0, 20.0, 30.0, 38.0)


def test_spans_the_natural_cubic_splines_of_patsy() -> None:
    # patsy's cr is the natural cubic regression spline of Wood SN, Generalized Additive Models (2006), another basis of
    # the same space: its inner knots, with the outer two as bounds.
    week = np.linspace(0, 40, 201)
    inside = week[(week >= KNOTS[0]) & (week <= KNOTS[-1])]
    other = np.asarray(
        dmatrix("cr(x, knots=inner, lower_bound=low, upper_bound=high) - 1",
                {"x": inside, "inner": list(KNOTS[1:-1]), "low": KNOTS[0], "high": KNOTS[-1]})
    )  # fmt: skip
    ours = np.column_stack([np.ones(len(inside)), restricted_cubic_spline(inside, KNOTS)])
    assert ours.shape[1] == other.shape[1] == 5
    for target, basis in ((ours, other), (other, ours)):
        fitted = basis @ np.linalg.lstsq(basis, target, rcond=None)[0]
        assert fitted == pytest.approx(target, abs=1e-8)


def test_is_straight_beyond_the_outer_knots() -> None:
    beyond = np.array([39.0, 45.0, 51.0, 57.0])
    assert np.diff(restricted_cubic_spline(beyond, KNOTS), n=2, axis=0) == pytest.approx(0, abs=1e-9)
    before = np.array([-9.0, -5.0, -1.0])
    assert np.diff(restricted_cubic_spline(before, KNOTS), n=2, axis=0) == pytest.approx(0, abs=1e-12)


def test_four_knots_by_hand() -> None:
    # x = 6, knots 0, 4, 8, 12: (6^3 - 0) / 144 = 1.5; (2^3 - 0) / 144 = 0.0555...
    assert restricted_cubic_spline(np.array([6.0]), (0, 4, 8, 12))[0] == pytest.approx([6, 1.5, 8 / 144])


@pytest.mark.parametrize("knots", [(1.0, 2.0), (0.0, 5.0, 5.0)])
def test_refuses_knots_that_make_no_spline(knots: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="three or more increasing knots"):
        restricted_cubic_spline(np.array([1.0]), knots)
