"""Pain after squatting: which report belongs to which session, and which is none at all."""

import math

import pytest

from hand_logs import HandLogs


def ratings(view, logs, **other):
    return view(logs, **other).rating.tolist()


def test_unreported_session_is_missing_not_zero(view):
    frame = view(HandLogs().set(0).set(2).pain(2, 0))
    assert math.isnan(frame.rating.iloc[0])
    assert frame.rating.iloc[1] == 0.0
    assert frame.n_reports.tolist() == [0, 1]


def test_highest_rating_up_to_the_end_of_the_second_day_after(view):
    logs = HandLogs().set(0).pain(0, 1).pain(2, 5).pain(3, 9)
    frame = view(logs)
    assert frame.rating.iloc[0] == 5.0
    assert frame.rating_first.iloc[0] == 1.0
    assert frame.n_reports.iloc[0] == 2


def test_window_ends_before_the_next_squat_session(view):
    assert ratings(view, HandLogs().set(0).pain(0, 1).set(1).pain(1, 6)) == [1.0, 6.0]


def test_rating_before_a_session_belongs_to_the_session_of_the_day_before(view):
    frame = view(HandLogs().set(0).set(1).pain(1, 6, moment="before"))
    assert frame.rating.iloc[0] == 6.0
    assert math.isnan(frame.rating.iloc[1])


@pytest.mark.parametrize(("day", "expected"), [(1, 6.0), (2, 6.0), (3, math.nan)])
def test_morning_rating_belongs_to_a_session_of_the_two_days_before(view, day, expected):
    frame = view(HandLogs().set(0).pain(day, 6, moment="next morning"))
    assert frame.rating.iloc[0] == pytest.approx(expected, nan_ok=True)


def test_rating_before_a_session_never_belongs_to_it(view):
    assert math.isnan(view(HandLogs().set(0).pain(0, 6, moment="before")).rating.iloc[0])


def test_rating_during_the_session_belongs_to_it(view):
    assert ratings(view, HandLogs().set(0).pain(0, 6, moment="during")) == [6.0]


def test_unknown_moment_is_no_outcome_but_shown_beside_it(view):
    logs = HandLogs().set(0).pain(0, 6, moment="unknown")
    assert math.isnan(view(logs).rating.iloc[0])
    logs = HandLogs().set(0).pain(0, 6, moment="unknown")
    assert view(logs, "session_rating_any_moment").rating_any_moment.tolist() == [6.0]


def test_highest_of_the_arms_sites_counts_and_makes_one_report(view):
    frame = view(HandLogs().set(0).pain(0, 2, site="elbow").pain(0, 4, site="forearm", side="left"))
    assert (frame.rating.iloc[0], frame.rating_first.iloc[0], frame.n_reports.iloc[0]) == (4.0, 4.0, 1)


@pytest.mark.parametrize(
    "other",
    [
        {"site": "knee"},
        {"site": "unknown"},
        {"kind": "soreness"},
        {"kind": "numbness"},
        {"rating": None, "severity_word": "mild"},
    ],
)
def test_other_sites_other_kinds_and_bare_words_say_nothing_of_the_arm(view, other):
    logs = HandLogs().set(0).pain(0, other.pop("rating", 8), **other)
    assert math.isnan(view(logs).rating.iloc[0])


def test_sites_are_those_of_season_toml(view):
    logs = HandLogs().set(0).pain(0, 7, site="wrist").pain(0, 2, site="elbow")
    assert ratings(view, logs, toml='[event]\nsites = ["wrist"]\n') == [7.0]


def test_of_two_squat_sessions_a_day_the_later_one_takes_the_ratings(view):
    frame = view(HandLogs().set(0).set(0, ordinal=2).pain(0, 5))
    assert math.isnan(frame.rating.iloc[0])
    assert frame.rating.iloc[1] == 5.0


def test_ratings_stay_with_their_own_athlete(view):
    frame = view(HandLogs().set(0).set(0, athlete="Bea").pain(0, 5, athlete="Bea"))
    assert frame.rating.isna().tolist() == [True, False]


def elsewhere(view, logs, **other):
    return view(logs, **other).rating_elsewhere.tolist()


def test_pain_elsewhere_is_the_highest_of_knee_hip_and_back_in_the_same_window(view):
    logs = HandLogs().set(0).pain(0, 2, site="knee").pain(2, 5, site="back").pain(3, 9, site="hip").set(6)
    assert elsewhere(view, logs) == pytest.approx([5.0, math.nan], nan_ok=True)


def test_pain_elsewhere_zero_is_a_report_and_silence_is_none(view):
    logs = HandLogs().set(0).pain(0, 0, site="knee").set(3).pain(3, 4)
    assert elsewhere(view, logs) == pytest.approx([0.0, math.nan], nan_ok=True)


@pytest.mark.parametrize(
    "other",
    [{"site": "elbow"}, {"site": "wrist"}, {"site": "shoulder"}, {"site": "other"}, {"site": "unknown"},
     {"site": "knee", "kind": "soreness"}, {"site": "knee", "moment": "unknown"}, {"site": "knee", "moment": "before"}],
)  # fmt: skip
def test_what_is_no_pain_elsewhere(view, other):
    assert elsewhere(view, HandLogs().set(0).pain(0, 6, **other)) == pytest.approx([math.nan], nan_ok=True)


def test_a_site_that_counts_as_arm_is_not_elsewhere(view):
    logs = HandLogs().set(0).pain(0, 6, site="knee")
    assert elsewhere(view, logs, toml='[event]\nsites = ["knee"]\n') == pytest.approx([math.nan], nan_ok=True)


def test_the_next_mornings_pain_elsewhere_belongs_to_the_session_before(view):
    logs = HandLogs().set(0).set(1).pain(1, 3, site="knee", moment="next morning")
    assert elsewhere(view, logs) == pytest.approx([3.0, math.nan], nan_ok=True)
