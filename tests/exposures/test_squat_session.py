"""Which sessions form rows, and what is a session's own: heaviest set, bar, grip, working sets."""

import math

import pytest

from hand_logs import HandLogs


def test_front_squats_form_no_row_and_box_squats_do(view):
    logs = HandLogs().set(0, exercise="front squat").set(2, exercise="box squat").set(4, exercise="bench press")
    assert view(logs).day.tolist() == [2]


def test_session_of_marked_warm_ups_alone_forms_no_row(view):
    assert view(HandLogs().set(0, is_warm_up=True).set(1)).day.tolist() == [1]


def test_exposures_are_those_of_the_heaviest_set(view):
    logs = HandLogs().set(0, 100, 5, bar="straight", grip_width="wide", bar_position="low")
    logs.set(0, 140, 2, bar="safety", grip_width=None, bar_position=None).set(0, 120, 3, grip_width="narrow")
    row = view(logs).iloc[0]
    assert (row.top_load_kg, row.bar) == (140.0, "safety")
    assert not row.grip_applies
    assert row.is_mixed_bar
    assert row.is_mixed_grip


def test_of_equal_loads_more_reps_then_the_earlier_set_counts(view):
    logs = (
        HandLogs()
        .set(0, 100, 3, grip_width="wide")
        .set(0, 100, 5, grip_width="narrow")
        .set(0, 100, 5, grip_width="medium")
    )
    assert view(logs).grip_width.iloc[0] == "narrow"


def test_marked_warm_up_is_never_the_heaviest(view):
    assert view(HandLogs().set(0, 300, 1, is_warm_up=True).set(0, 100)).top_load_kg.iloc[0] == 100.0


def test_grip_counts_as_written_on_every_bar(view):
    frame = view(HandLogs().set(0, bar="safety", grip_width="narrow").set(2, bar="safety").set(4, grip_width="medium"))
    assert frame.grip_applies.tolist() == [True, False, True]


def test_working_sets_leave_out_marked_warm_ups_and_sets_below_half_of_the_1rm(view):
    # 1RM 100 kg from day 0. On day 3: 49 kg is out, 50 kg is in, a marked warm-up is out.
    logs = (
        HandLogs()
        .set(0, 100, 1, rpe=10)
        .set(3, 49, 5)
        .set(3, 50, 5)
        .set(3, 80, 5, times=3)
        .set(3, 60, 5, is_warm_up=True)
    )
    assert view(logs).session_sets.tolist() == [1.0, 4.0]


def test_session_of_light_sets_has_zero_working_sets_not_missing(view):
    frame = view(HandLogs().set(0, 100, 1, rpe=10).set(3, 40, 5, times=4))
    assert frame.session_sets.iloc[1] == 0.0
    assert frame.intensity.iloc[1] == pytest.approx(40.0)


def test_without_a_1rm_every_unmarked_set_counts(view):
    assert view(HandLogs().set(0, 20, 5).set(0, 100, 5)).session_sets.iloc[0] == 2.0


def test_set_without_a_load_counts_as_a_set_and_has_no_intensity(view):
    frame = view(HandLogs().set(0, 100, 1, rpe=10).set(3, None, 5))
    assert frame.session_sets.iloc[1] == 1.0
    assert math.isnan(frame.intensity.iloc[1])


def test_failed_top_set_is_still_the_sessions_heaviest(view):
    frame = view(HandLogs().set(0, 100, 1, rpe=10).set(3, 95, 1).set(3, 105, 1, is_failed=True))
    assert frame.intensity.iloc[1] == pytest.approx(105.0)


def test_rows_stand_by_athlete_date_and_ordinal(view):
    logs = HandLogs().set(5, athlete="Zoe").set(3).set(1, ordinal=2).set(1)
    frame = view(logs)
    assert frame[["athlete", "day"]].to_records(index=False).tolist() == [
        ("Ada", 0),
        ("Ada", 0),
        ("Ada", 2),
        ("Zoe", 4),
    ]
    assert frame.week.tolist() == [0.0, 0.0, 0.0, 0.0]


def test_day_counts_from_the_seasons_first_entry_of_anybody(view):
    frame = view(HandLogs().set(0, exercise="bench press", athlete="Zoe").set(15))
    assert (frame.day.iloc[0], frame.week.iloc[0], frame.season.iloc[0]) == (15, 2.0, 0)


def test_more_than_90_days_without_anybody_part_two_seasons(view):
    # Days 1 to 90 are 90 days without an entry: one season. Days 1 to 91 are 91: two.
    assert view(HandLogs().set(0).set(91)).season.tolist() == [0, 0]
    frame = view(HandLogs().set(0).set(92))
    assert frame.season.tolist() == [0, 1]
    assert frame.day.tolist() == [0, 0]


def test_season_limits_choose_rows_and_keep_what_was_known_before(view):
    toml = "[season]\nfrom = 2026-01-08\nto = 2026-01-12\n"  # days 3 to 7
    frame = view(HandLogs().set(0, 100, 1, rpe=10).pain(0, 3).set(3, 80, 1).set(7, 90, 1).set(8, 95, 1), toml=toml)
    assert frame.day.tolist() == [0, 4]
    assert frame.intensity.tolist() == pytest.approx([80.0, 100 * 90 / 90.0])
    assert frame.last_rating.tolist() == [3.0, 3.0]
