"""What pain was known before a session, and what was known before its week began."""

import math

import pandas as pd
import pytest

from hand_logs import HandLogs, on


def test_last_and_second_last_rating_and_their_age(view):
    frame = view(HandLogs().set(0).pain(0, 5).set(2).pain(2, 1).set(5))
    assert frame.last_rating.tolist() == pytest.approx([math.nan, 5.0, 1.0], nan_ok=True)
    assert frame.last_rating_age.tolist() == pytest.approx([math.nan, 2.0, 3.0], nan_ok=True)
    assert frame.second_last_rating.tolist() == pytest.approx([math.nan, math.nan, 5.0], nan_ok=True)


def test_unreported_session_leaves_the_rating_before_it_last(view):
    frame = view(HandLogs().set(0).pain(0, 5).set(2).set(5))
    assert frame.last_rating.iloc[2] == 5.0
    assert frame.last_rating_age.iloc[2] == 5.0


def test_rating_of_no_pain_is_a_rating(view):
    frame = view(HandLogs().set(0).pain(0, 0).set(2))
    assert frame.last_rating.iloc[1] == 0.0
    assert frame.any_event_7d.iloc[1] == 0.0


def test_recent_rating_agrees_with_pandas_half_life_mean(view):
    days, ratings = [0, 2, 7, 9, 30], [3.0, 0.0, 6.0, 1.0, 2.0]
    logs = HandLogs()
    for day, rating in zip(days, ratings, strict=True):
        logs.set(day).pain(day, rating)
    expected = pd.Series(ratings).ewm(halflife="10 days", times=pd.to_datetime([on(d) for d in days])).mean().shift(1)
    assert view(logs).recent_rating.tolist() == pytest.approx(expected.tolist(), rel=1e-12, nan_ok=True)


def test_session_ratings_know_nothing_of_their_own_session(view):
    frame = view(HandLogs().set(0).pain(0, 9).pain(1, 8))
    assert math.isnan(frame.last_rating.iloc[0])


def test_rating_on_a_day_far_from_any_squat_is_known_afterwards(view):
    # Day 4 lies more than 2 days after the squat of day 0: no outcome, but known on day 6.
    frame = view(HandLogs().set(0).pain(4, 6).set(6))
    assert math.isnan(frame.rating.iloc[0])
    assert (frame.last_rating.iloc[1], frame.last_rating_age.iloc[1]) == (6.0, 2.0)


def test_rating_before_the_session_of_the_same_day_is_known(view):
    frame = view(HandLogs().set(0).pain(6, 7, moment="before").set(6))
    assert (frame.last_rating.iloc[1], frame.last_rating_age.iloc[1]) == (7.0, 0.0)
    assert frame.any_event_7d.iloc[1] == 1.0


def test_rating_of_unknown_moment_is_known_only_from_the_next_day(view):
    frame = view(HandLogs().set(0).pain(0, 7, moment="unknown").set(1))
    assert math.isnan(frame.last_rating.iloc[0])
    assert frame.last_rating.iloc[1] == 7.0


@pytest.mark.parametrize(
    ("days_back", "in_week", "in_week_before"), [(7, 1.0, 0.0), (8, 0.0, 1.0), (14, 0.0, 1.0), (15, 0.0, 0.0)]
)
def test_events_by_days_back(view, days_back, in_week, in_week_before):
    frame = view(HandLogs().set(20 - days_back).pain(20 - days_back, 4).set(20))
    assert frame.any_event_7d.iloc[1] == in_week
    assert frame.any_event_8_14d.iloc[1] == in_week_before


def test_rating_below_the_event_is_none(view):
    assert view(HandLogs().set(0).pain(0, 3).set(2)).any_event_7d.iloc[1] == 0.0
    assert view(HandLogs().set(0).pain(0, 3).set(2), toml="[event]\nrating = 3\n").any_event_7d.iloc[1] == 1.0


def test_before_the_week_only_ratings_up_to_day_8_count(view):
    frame = view(HandLogs().set(0).pain(0, 2).set(3).pain(3, 4).set(4).pain(4, 8).set(11))
    last = frame.iloc[3]
    assert (last.last_rating_pre, last.last_rating_pre_age, last.second_last_rating_pre) == (4.0, 8.0, 2.0)
    weight = 2 ** (-3 / 10)  # day 0 is 3 days older than day 3
    assert last.recent_rating_pre == pytest.approx((2 * weight + 4) / (weight + 1))
    assert last.last_rating == 8.0


def test_nothing_known_before_the_week_is_missing(view):
    frame = view(HandLogs().set(0).pain(0, 2).set(7))
    assert frame.loc[1, ["last_rating_pre", "last_rating_pre_age", "recent_rating_pre"]].isna().all()
    assert frame.any_event_8_14d.iloc[1] == 0.0
