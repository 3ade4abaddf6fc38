"""Which squat sessions enter the models, and how their exposures are read."""

import numpy as np
import pytest

from findings.squat_rows import many, sessions
from preflare.models.rows import exposure_values, modelling_rows

NAN = float("nan")


def test_first_fourteen_days_stay_out() -> None:
    rows = modelling_rows(sessions([{"day": 13}, {"day": 14}]))
    assert rows.frame["day"].tolist() == [14]
    assert rows.dropped["first 14 days"] == 1


def test_an_earlier_rating_is_needed_and_one_before_the_window() -> None:
    rows = modelling_rows(sessions([{"last_rating": NAN, "last_rating_pre": NAN}, {"last_rating_pre": NAN}, {}]))
    assert len(rows.frame) == 1
    assert rows.dropped["no earlier rating"] == 1
    assert rows.dropped["no rating before the 7-day window"] == 1


def test_unreported_sessions_stay_among_the_rows() -> None:
    rows = modelling_rows(sessions([{"rating": NAN}, {}]))
    assert rows.reported.tolist() == [False, True]


def test_an_athlete_without_any_rating_leaves() -> None:
    rows = modelling_rows(sessions([*many(3, "Bo Example", rating=NAN), {}]))
    assert rows.athletes == ("Ada Example",)
    assert rows.dropped["no rating from this athlete"] == 3


def test_unwritten_rows_drop_where_most_are_written() -> None:
    rows = modelling_rows(sessions([{"grip_width": None}, {}, {}]))
    assert len(rows.frame) == 2
    assert rows.dropped["grip width not written"] == 1
    assert rows.left_out == ()


def test_an_exposure_written_in_under_half_the_rows_leaves_the_formula_and_no_row_drops() -> None:
    rows = modelling_rows(sessions([{"grip_width": None}, {"grip_width": None}, {}]))
    assert rows.left_out == ("narrow", "wide")
    assert len(rows.frame) == 3


def test_half_written_is_enough() -> None:
    rows = modelling_rows(sessions([{"grip_width": None}, {}]))
    assert rows.left_out == ()
    assert len(rows.frame) == 1


def test_forward_handles_have_no_grip_width_and_the_row_stays() -> None:
    rows = modelling_rows(sessions([{"bar": "safety", "grip_width": None, "bar_position": None}, {}, {}]))
    assert len(rows.frame) == 3
    assert rows.applies["narrow"].tolist() == [False, True, True]
    assert rows.applies["high"].tolist() == [False, True, True]


def test_a_grip_written_on_the_safety_bar_is_read_as_written() -> None:
    values, applies = exposure_values(sessions([{"bar": "safety", "grip_width": "narrow"}]))
    assert applies["narrow"].tolist() == [True]
    assert values["narrow"].tolist() == [1.0]


def test_exposures_stand_in_the_models_units() -> None:
    values, _ = exposure_values(
        sessions([{"intensity": 85.0, "sets_7d": 12.0, "bar": "other", "bar_position": "high"}])
    )
    assert values.iloc[0].to_dict() == pytest.approx(
        {"intensity": 8.5, "safety": 0, "cambered": 0, "narrow": 0, "wide": 0, "high": 1, "sets": 2.4, "other": 1}
    )


def test_an_unwritten_bar_is_missing_not_straight() -> None:
    values, _ = exposure_values(sessions([{"bar": None}, {}]))
    assert np.isnan(values["safety"].iloc[0])
    assert values["safety"].iloc[1] == 0


def test_no_sessions_make_no_rows() -> None:
    rows = modelling_rows(sessions([{}]).iloc[:0])
    assert len(rows.group) == 0
    assert rows.athletes == ()


def test_rows_without_an_estimated_1rm_are_counted_by_bar() -> None:
    unknown = [{"intensity": NAN, "bar": "safety"}, {"intensity": NAN, "bar": "safety"}, {"intensity": NAN}]
    rows = modelling_rows(sessions([*unknown, *many(4)]))
    assert rows.dropped["no estimated 1RM, safety bar"] == 2
    assert rows.dropped["no estimated 1RM, straight bar"] == 1
