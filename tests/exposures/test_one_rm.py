"""Relative intensity: the 1RM that was known before the session, for the bar of the session."""

import math

import pytest

from hand_logs import HandLogs


def test_five_reps_to_failure_with_100_kg_estimate_112_5_kg(view):
    # Brzycki M. JOPERD 1993;64(1):88-90: 1RM = 36 w / (37 - r); 36 x 100 / 32 = 112.5.
    frame = view(HandLogs().set(0, 100, 5, rpe=10).set(3, 90, 3))
    assert frame.one_rm_kg.iloc[1] == pytest.approx(112.5)
    assert frame.intensity.iloc[1] == pytest.approx(100 * 90 / 112.5)
    assert frame.intensity_source.iloc[1] == "own bar"


def test_ten_reps_are_where_two_published_equations_meet(view):
    # Brzycki's 36 w / (37 - r) and Epley's w (1 + r / 30) agree at r = 10 and nowhere else, for any load: 4/3 w.
    frame = view(HandLogs().set(0, 100, 10, rpe=10).set(3))
    assert frame.one_rm_kg.iloc[1] == pytest.approx(100 * (1 + 10 / 30))


@pytest.mark.parametrize(
    ("reps", "percent"), [(1, 100.00), (2, 97.22), (3, 94.44), (5, 88.89), (8, 80.56), (10, 75.00)]
)
def test_percent_of_1rm_by_reps_to_failure_as_tabulated(view, reps, percent):
    # Brzycki's equation as tables of it are printed, to two decimals.
    frame = view(HandLogs().set(0, 100, reps, rpe=10).set(3))
    assert 100 * 100 / frame.one_rm_kg.iloc[1] == pytest.approx(percent, abs=0.005)


def test_reps_in_reserve_come_from_rpe(view):
    # Zourdos et al. JSCR 2016;30(1):267-275: RPE 8 is 2 reps in reserve, so 5 reps at RPE 8 are 7 possible reps,
    # 36 x 100 / 30 = 120 kg (100 kg is 83.33 % of it).
    by_rpe = view(HandLogs().set(0, 100, 5, rpe=8).set(3))
    by_rir = view(HandLogs().set(0, 100, 5, rir=2).set(3))
    assert by_rpe.one_rm_kg.iloc[1] == by_rir.one_rm_kg.iloc[1] == pytest.approx(120.0)


def test_half_points_of_rpe_are_half_reps(view):
    frame = view(HandLogs().set(0, 100, 5, rpe=8.5).set(3))
    assert frame.one_rm_kg.iloc[1] == pytest.approx(3600 / (37 - 6.5))


def test_single_to_failure_counts_as_its_load(view):
    assert view(HandLogs().set(0, 150, 1, rpe=10).set(3)).one_rm_kg.iloc[1] == pytest.approx(150.0)


def test_set_without_effort_mark_is_a_lower_bound_and_its_share_is_told(view):
    # 36 x 100 / 32 = 112.5 unmarked on day 0, 36 x 100 / 30 = 120 at RPE 8 on day 3; the median of both is 116.25.
    frame = view(HandLogs().set(0, 100, 5).set(3, 100, 5, rpe=8).set(6))
    assert frame.one_rm_kg.tolist()[1:] == pytest.approx([112.5, 116.25])
    assert frame.effort_unmarked_share.tolist()[1:] == pytest.approx([1.0, 0.5])


def test_best_set_of_a_session_counts_and_the_median_over_sessions(view):
    # Bests 100, 110, 150 as singles; the highest of 42 days would be 150, the median is 110.
    logs = HandLogs().set(0, 100, 1, rpe=10).set(0, 90, 1, rpe=10).set(2, 110, 1, rpe=10).set(4, 150, 1, rpe=10).set(6)
    assert view(logs).one_rm_kg.iloc[3] == pytest.approx(110.0)


def test_more_than_ten_possible_reps_estimate_nothing(view):
    frame = view(HandLogs().set(0, 100, 10, rpe=9).set(3, 100, 10, rpe=10).set(6))
    assert math.isnan(frame.one_rm_kg.iloc[1])  # 11 possible reps on day 0
    assert frame.one_rm_kg.iloc[2] == pytest.approx(3600 / 27)  # 10 on day 3


def test_failed_sets_and_marked_warm_ups_estimate_nothing(view):
    logs = HandLogs().set(0, 100, 1, rpe=10).set(0, 200, 1, is_failed=True).set(0, 180, 1, is_warm_up=True).set(3)
    assert view(logs).one_rm_kg.iloc[1] == pytest.approx(100.0)


def test_first_session_has_no_intensity(view):
    frame = view(HandLogs().set(0, 100, 5, rpe=8))
    assert math.isnan(frame.intensity.iloc[0])
    assert frame.intensity_source.iloc[0] == "none"


def test_window_is_the_42_days_before_and_not_the_day_itself(view):
    logs = HandLogs().set(0, 100, 1, rpe=10).session(20).session(30).set(42, 80, 1, rpe=10).set(85, 80, 1)
    frame = view(logs)
    assert frame.one_rm_kg.iloc[1] == pytest.approx(100.0)  # day 0 is 42 days back
    assert math.isnan(frame.one_rm_kg.iloc[2])  # day 42 is 43 days back


def test_session_of_the_same_day_is_not_known_before(view):
    frame = view(HandLogs().set(0, 100, 1, rpe=10).set(0, 100, 1, rpe=10, ordinal=2))
    assert frame.intensity.isna().all()


def test_each_bar_has_its_own_estimate(view):
    logs = (
        HandLogs()
        .set(0, 200, 1, rpe=10)
        .set(2, 160, 1, rpe=10, bar="safety")
        .set(4, 150, 1)
        .set(6, 120, 1, bar="safety")
    )
    frame = view(logs)
    assert frame.one_rm_kg.tolist()[2:] == pytest.approx([200.0, 160.0])
    assert frame.intensity.iloc[3] == pytest.approx(75.0)


def test_unwritten_bar_is_never_taken_for_straight(view):
    frame = view(HandLogs().set(0, 200, 1, rpe=10, bar="straight").set(3, 150, 1, bar=None))
    assert frame.intensity_source.iloc[1] == "none"
    assert frame.bar.isna().tolist() == [False, True]


def test_first_safety_bar_session_borrows_the_published_ratio(view):
    # Vantrease et al. JSCR 2021;35(2S):S1-S5: 144.7 kg straight, 128.8 kg safety bar.
    frame = view(HandLogs().set(0, 144.7, 1, rpe=10).set(3, 64.4, 1, bar="safety"))
    assert frame.intensity_source.iloc[1] == "published ratio"
    assert frame.one_rm_kg.iloc[1] == pytest.approx(128.8)
    assert frame.intensity.iloc[1] == pytest.approx(50.0)


def test_no_ratio_is_published_for_a_cambered_bar(view):
    frame = view(HandLogs().set(0, 150, 1, rpe=10).set(3, 140, 1, bar="cambered"))
    assert frame.intensity_source.iloc[1] == "none"
    assert math.isnan(frame.intensity.iloc[1])


def test_squads_own_ratio_needs_three_athletes_with_both_bars(view):
    # Bea, Cat and Dot: cambered over straight 0.9, 0.8, 1.0, median 0.9; Ada has only a straight-bar single of 200.
    logs = HandLogs().set(0, 200, 1, rpe=10)
    for name, cambered in (("Bea", 90), ("Cat", 80), ("Dot", 100)):
        logs.set(0, 100, 1, rpe=10, athlete=name).set(2, cambered, 1, rpe=10, athlete=name, bar="cambered")
    frame = view(logs.set(7, 90, 1, bar="cambered"))
    ada = frame[frame.athlete == "Ada"].iloc[1]
    assert ada.intensity_source == "squad ratio"
    assert ada.one_rm_kg == pytest.approx(180.0)
    assert ada.intensity == pytest.approx(50.0)


def test_squads_ratio_uses_only_earlier_weeks(view):
    logs = HandLogs().set(0, 200, 1, rpe=10).set(6, 90, 1, bar="cambered")
    for name in ("Bea", "Cat", "Dot"):
        logs.set(0, 100, 1, rpe=10, athlete=name).set(2, 90, 1, rpe=10, athlete=name, bar="cambered")
    frame = view(logs)
    assert frame[frame.athlete == "Ada"].intensity_source.tolist() == ["none", "none"]


def test_an_athletes_own_estimate_goes_before_any_ratio(view):
    logs = HandLogs().set(0, 200, 1, rpe=10).set(2, 150, 1, rpe=10, bar="safety").set(4, 75, 1, bar="safety")
    frame = view(logs)
    assert frame.intensity_source.iloc[2] == "own bar"
    assert frame.intensity.iloc[2] == pytest.approx(50.0)
