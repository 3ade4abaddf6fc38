"""The views by day and week that reports draw: rest is 0, unlogged is missing, unreported is its own state."""

import pandas as pd

from hand_logs import HandLogs, on


def test_daily_series_has_zero_for_rest_and_missing_for_unlogged(view):
    # Days 2 to 12 are 11 days without an entry: unlogged. Day 14 is rest. Zoe closes the season on day 16.
    logs = HandLogs().set(0, times=3).set(1, exercise="curl", times=2).set(13).set(15).set(16, athlete="Zoe")
    days = view(logs, "athlete_day")
    ada = days[days.athlete == "Ada"].set_index(days[days.athlete == "Ada"].date.dt.day - on(0).day)
    assert ada.squat_sets.loc[[0, 1, 13, 14, 15]].tolist() == [3.0, 0.0, 1.0, 0.0, 1.0]
    assert ada.elbow_flexion_sets.loc[1] == 2.0
    assert ada.squat_sets.loc[2:12].isna().all()
    assert not ada.is_logged.loc[16]  # after the last entry nothing is known
    assert ada.rating.isna().all()


def test_week_states_tell_reported_unreported_and_no_log_apart(view):
    logs = HandLogs().set(0).pain(1, 0).set(7).set(21).pain(21, 3)
    weeks = view(logs, "response_week")
    assert weeks.state.tolist() == ["reported", "unreported", "no log", "reported"]
    assert weeks.sessions.tolist() == [1, 1, 0, 1]
    assert weeks.reported.tolist() == [1, 0, 0, 1]
    assert weeks.week_start.dt.day_of_week.eq(0).all()


def test_training_without_squats_and_without_a_report_is_unreported(view):
    weeks = view(HandLogs().set(0).set(7, exercise="bench press").set(14), "response_week")
    assert weeks.state.tolist() == ["unreported"] * 3


def test_iso_weeks_begin_on_monday(view):
    # ISO 8601: 2026-01-11 is a Sunday, the last day of the week of Monday 2026-01-05.
    weeks = view(HandLogs().set(6).set(7), "athlete_week")
    assert weeks.week_start.tolist() == [pd.Timestamp(on(0)), pd.Timestamp(on(7))]
    assert weeks.squat_sets.tolist() == [1.0, 1.0]
    assert weeks.logged_days.tolist() == [1, 1]


def test_weekly_pain_counts_lifters_not_reports(view):
    logs = HandLogs().set(0).pain(0, 3).pain(1, 5).set(0, athlete="Bea").pain(0, 0, athlete="Bea").set(0, athlete="Cat")
    week = view(logs, "weekly_pain").iloc[0]
    assert (week.athletes, week.reporting, week.with_pain, week.with_event) == (3, 2, 1, 1)


def test_sites_are_counted_by_reports_and_lifters(view):
    logs = HandLogs().set(0).pain(0, 3).pain(1, 5).pain(1, 2, site="knee", side="left").pain(1, 0, athlete="Bea")
    sites = view(logs, "pain_site").set_index("site")
    assert sites.loc["elbow", ["reports", "athletes"]].tolist() == [2, 1]
    assert sites.is_outcome_site.to_dict() == {"elbow": True, "knee": False}


def test_surveillance_counts(view):
    logs = HandLogs().set(0, times=4).session(0, duration_min=90)
    for day, rating in enumerate([0, 0, 0, 0, 0, 5, 4]):
        logs.pain(day, rating)
    counts = view(logs.set(6, exercise="row"), "surveillance_count").iloc[0]
    assert (counts.onsets, counts.flare_days, counts.squat_sets) == (1, 2, 4.0)
    assert (counts.squat_sessions, counts.reported_sessions, counts.event_sessions) == (1, 1, 0)
    assert (counts.hours, counts.days_with_duration, counts.training_days) == (1.5, 1, 2)
    assert counts.athlete_days == 7


def test_shares_of_what_is_unwritten_or_left_out(view):
    logs = HandLogs().set(0, 100, 1, rpe=10).set(0, 60, 5, is_warm_up=True).set(3, 40, 5, times=2)
    logs.set(3, 80, 5, bar="safety").set(3, 90, 3, times=3)
    share = view(logs, "set_share").iloc[0]
    assert (share.squat_sets, share.light_sets, share.warm_up_sets) == (5, 2, 1)
    assert (share.mixed_bar_sessions, share.mixed_grip_sessions, share.squat_sessions) == (1, 0, 2)
    assert share.unmarked_effort_share == 0.0


def test_warning_words_are_found_in_notes_whole_and_without_accents(view):
    logs = HandLogs().set(0, note="felt a POP in the elbow").set(1, note="popular session").set(2, note="Hand ist TAUB")
    found = view(logs, "warning")
    assert found.words.tolist() == ["felt a POP in the elbow", "Hand ist TAUB"]


def test_numbness_is_a_warning_whatever_its_words(view):
    logs = HandLogs().set(0).pain(0, 2, kind="numbness", evidence="fingers asleep")
    assert view(logs, "warning").words.tolist() == ["fingers asleep"]
