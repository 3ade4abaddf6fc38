"""Flare-ups by hand: onset, peak, end, and what belongs together. The definition is our own, fixed in season.toml."""

import pandas as pd
import pytest

from preflare.findings.flare_ups import flare_up_sessions, rated_days, squad_flare_ups
from preflare.settings import FlareUp

RULE = FlareUp()


def numbers(ratings: list[float], rise: int | None = None) -> list[int | None]:
    return [day.number for day in rated_days(ratings, RULE, rise)]


def test_a_rise_of_two_over_the_own_median_and_at_least_four_is_an_onset() -> None:
    assert numbers([2, 2, 2, 2, 2, 4]) == [None] * 5 + [1]


def test_a_rise_that_stays_below_four_is_none() -> None:
    assert numbers([0, 0, 0, 0, 0, 3]) == [None] * 6


def test_four_is_none_where_the_usual_is_three() -> None:
    assert numbers([3, 3, 3, 3, 3, 4, 5]) == [None] * 6 + [1]


def test_five_reported_days_are_needed_for_a_baseline() -> None:
    assert numbers([0, 0, 0, 0, 8]) == [None] * 5


def test_three_days_below_end_it_and_the_third_is_the_last() -> None:
    days = rated_days([0, 0, 0, 0, 0, 6, 1, 1, 1, 0], RULE)
    assert [day.number for day in days] == [None] * 5 + [1] * 4 + [None]
    assert [day.is_last for day in days] == [False] * 8 + [True, False]


def test_a_new_rise_before_that_belongs_to_the_same_flare_up() -> None:
    assert numbers([0, 0, 0, 0, 0, 6, 1, 1, 7, 1, 1, 1, 5]) == [None] * 5 + [1] * 7 + [2]


def test_days_of_a_flare_up_do_not_move_the_baseline() -> None:
    # The baseline stays 0: after nine days at 6, three days at 1 end it, and 4 is a flare-up again.
    assert numbers([0] * 5 + [6] * 9 + [1] * 3 + [4]) == [None] * 5 + [1] * 12 + [2]


def test_only_the_last_fourteen_usual_days_make_the_baseline() -> None:
    assert numbers([3] * 14 + [0] * 14 + [4])[-1] == 1
    assert numbers([3] * 14 + [0] * 6 + [4])[-1] is None


def test_a_higher_rise_asks_for_more() -> None:
    assert numbers([2, 2, 2, 2, 2, 4], rise=3) == [None] * 6


def _frame() -> pd.DataFrame:
    ratings = [0, 0, 0, 0, 0, 6, None, 1, 1, 1]
    days = pd.date_range("2025-09-01", periods=10, freq="2D")
    return pd.DataFrame({"athlete": "Ada Example", "date": days, "rating": pd.Series(ratings, dtype=float)})


def test_a_season_lists_onset_end_and_peak() -> None:
    made = squad_flare_ups(_frame(), RULE)
    assert made.to_dict("records") == [
        {
            "athlete": "Ada Example",
            "number": 1,
            "onset": pd.Timestamp("2025-09-11"),
            "end": pd.Timestamp("2025-09-19"),
            "peak": 6.0,
            "is_over": True,
        }
    ]


def test_a_flare_up_at_the_end_of_the_log_is_not_over() -> None:
    made = squad_flare_ups(_frame().iloc[:6], RULE)
    assert made["is_over"].tolist() == [False]
    assert made["end"].isna().all()


def test_sessions_without_a_rating_or_a_baseline_are_neither() -> None:
    flags = flare_up_sessions(_frame(), RULE, 2)
    assert flags.isna().tolist() == [True] * 5 + [False, True, False, False, False]
    assert flags.dropna().tolist() == [1, 0, 0, 0]


def test_nobody_reporting_gives_no_flare_ups() -> None:
    made = squad_flare_ups(_frame().assign(rating=float("nan")), RULE)
    assert len(made) == 0


@pytest.mark.parametrize("rise", [1, 2, 3])
def test_every_rise_still_needs_a_four(rise: int) -> None:
    assert numbers([0, 0, 0, 0, 0, 3], rise) == [None] * 6
