"""Weekly squat sets, older sets, other work: zero, missing, not applicable, and where the window ends."""

import math

import pytest

from hand_logs import HandLogs


def test_week_of_rest_is_zero(view):
    # Days 1 to 7 are logged (a bench session on day 4) and hold no squat.
    frame = view(HandLogs().set(0, times=5).set(4, exercise="bench press").set(8))
    assert frame.sets_7d.iloc[1] == 0.0


def test_rest_inside_a_short_gap_is_zero_too(view):
    # Days 1 to 10 are 10 days without an entry: a rest, not a hole in the log.
    assert view(HandLogs().set(0).set(11)).sets_7d.iloc[1] == 0.0


def test_window_inside_a_long_gap_is_missing_not_zero(view):
    # Days 1 to 11 are 11 days without an entry.
    assert math.isnan(view(HandLogs().set(0).set(12)).sets_7d.iloc[1])


def test_window_before_the_first_entry_is_missing(view):
    # Day 6 looks back to day -1; day 7 to day 0, the first with an entry.
    frame = view(HandLogs().set(0, times=2).set(6, times=3).set(7))
    assert frame.sets_7d.isna().tolist() == [True, True, False]
    assert frame.sets_7d.iloc[2] == 5.0


def test_window_holds_day_7_back_and_not_day_8_nor_the_day_itself(view):
    logs = HandLogs().set(0, times=1).set(1, times=2).set(7, times=4).set(8, times=8).set(8, times=16, ordinal=2)
    frame = view(logs)
    assert frame.sets_7d.tolist()[3:] == [6.0, 6.0]  # days 1 and 7; not day 0, not day 8's other session


def test_window_that_touches_the_end_of_a_long_gap_is_missing(view):
    # Days 1 to 11 unlogged. Day 18 looks back to day 11, unlogged; day 19 to day 12, logged.
    frame = view(HandLogs().set(0).set(12, times=3).set(18, times=2).set(19))
    assert frame.sets_7d.isna().tolist() == [True, True, True, False]
    assert frame.sets_7d.iloc[3] == 5.0


def test_pain_report_alone_makes_a_day_logged(view):
    frame = view(HandLogs().set(0).pain(6, 0).set(12))
    assert frame.sets_7d.iloc[1] == 0.0


def test_day_without_a_squat_is_no_row(view):
    assert view(HandLogs().set(0).set(1, exercise="bench press")).shape[0] == 1


def test_older_sets_weigh_the_sessions_up_to_day_8_by_age(view):
    # On day 16: day 8 (8 days back, 4 sets) and day 1 (7 days older, half the weight, 10 sets): (4 + 5) / 1.5 = 6.
    frame = view(HandLogs().set(1, times=10).set(8, times=4).set(9, times=50).set(16))
    assert frame.older_sets.isna().tolist() == [True, True, False, False]
    assert frame.older_sets.iloc[2] == pytest.approx(10.0)
    assert frame.older_sets.iloc[3] == pytest.approx(6.0)


def test_lead_sets_are_those_of_the_7_days_after(view):
    logs = HandLogs().set(0).set(1, times=2).set(7, times=3).set(8, times=5).set(16)
    frame = view(logs)
    assert frame.lead_sets.iloc[0] == 5.0  # days 1 and 7
    assert frame.lead_sets.iloc[3] == 0.0  # days 9 to 15: rest
    assert math.isnan(frame.lead_sets.iloc[4])  # nothing is known after the last entry


def test_lead_sets_are_missing_when_the_week_after_is_partly_unlogged(view):
    frame = view(HandLogs().set(0).set(3, times=2).set(15))
    assert frame.lead_sets.isna().tolist() == [True, True, True]


def test_lead_exposures_are_means_over_the_sessions_of_the_week_after(view):
    logs = HandLogs().set(0).set(2, bar="safety", grip_width="narrow").set(4, bar="cambered", grip_width="wide")
    frame = view(logs.set(6, grip_width=None, bar_position="high"))
    assert frame.lead_safety.iloc[0] == pytest.approx(1 / 3)
    assert frame.lead_cambered.iloc[0] == pytest.approx(1 / 3)
    assert frame.lead_narrow.iloc[0] == pytest.approx(1 / 2)  # of the two sessions with a written grip
    assert frame.lead_high.iloc[0] == 1.0
    assert frame.loc[3, ["lead_safety", "lead_narrow", "lead_intensity"]].isna().all()


def test_pressing_pulling_and_curls_of_the_week_before(view):
    logs = HandLogs().set(0, exercise="bench press", times=9).set(1, exercise="bench press", times=3)
    logs.set(1, exercise="bench press", is_warm_up=True).set(2, exercise="row", times=4).set(
        7, exercise="curl", times=2
    )
    row = view(logs.set(8, times=5).set(8, exercise="curl", times=7)).iloc[0]
    assert (row.pressing_7d, row.pulling_7d, row.elbow_flexion_7d) == (3.0, 4.0, 2.0)
    assert row.logs_other_lifts


def test_athlete_who_logs_no_other_lifts_has_them_missing_not_zero(view):
    frame = view(HandLogs().set(0).set(8).set(0, exercise="curl", athlete="Bea").set(8, athlete="Bea"))
    assert math.isnan(frame.pressing_7d.iloc[1])
    assert frame.logs_other_lifts.tolist() == [False, False, True]
    assert frame.pressing_7d.iloc[2] == 0.0  # Bea logs curls, and pressed nothing


def test_weeks_to_the_next_competition_entered(view):
    toml = """
        [[competition]]
        date = 2026-01-26
        athletes = ["Ada"]
        [[competition]]
        date = 2026-01-12
        athletes = ["Bea"]
        """
    frame = view(HandLogs().set(0).set(7).set(21).set(22).set(0, athlete="Bea"), toml=toml)
    assert frame.weeks_to_competition.tolist() == pytest.approx([3.0, 2.0, 0.0, 12.0, 1.0])
    assert frame.competition_entered.tolist() == [True, True, True, False, True]


def test_competition_without_names_is_everybodys_and_12_weeks_is_the_most(view):
    frame = view(HandLogs().set(0).set(28), toml="[[competition]]\ndate = 2026-04-27\n")  # day 112
    assert frame.weeks_to_competition.tolist() == [12.0, 12.0]
    assert frame.competition_entered.all()


def test_competition_is_entered_under_an_alias_too(view):
    toml = """
        [[athlete]]
        name = "Ada"
        aliases = ["A. Example"]
        [[competition]]
        date = 2026-01-19
        athletes = ["a. example"]
        """
    assert view(HandLogs().set(0), toml=toml).weeks_to_competition.iloc[0] == 2.0
