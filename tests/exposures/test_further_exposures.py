"""The exposures beside the model's own: longer windows, heavy repetitions, changes of set-up, screens, daily load."""

import math

import pytest

from hand_logs import HandLogs, on


def test_squat_work_of_7_and_28_days(view):
    # Days 1, 22, 28 before day 29 (d-28, d-7, d-1); a note on days 8 and 15 keeps the log unbroken.
    logs = HandLogs().session(0).set(1, 100, 5, times=2).session(8).session(15).set(22, 90, 3, times=3)
    row = view(logs.set(28, 80, 10).set(29), "squat_work_before").iloc[3]
    assert (row.reps_7d, row.volume_load_7d, row.squat_days_7d) == (19.0, 9 * 90 + 800, 2.0)
    assert (row.sets_28d, row.reps_28d, row.squat_days_28d) == (6.0, 29.0, 3.0)
    assert row.volume_load_28d == 1000 + 810 + 800
    assert row.days_since_squat == 1.0


def test_month_is_missing_where_the_week_is_not(view):
    rows = view(HandLogs().set(0).set(7).set(8), "squat_work_before")
    assert rows.squat_days_7d.tolist() == pytest.approx([math.nan, 1.0, 1.0], nan_ok=True)
    assert rows.sets_28d.isna().all()
    assert math.isnan(rows.days_since_squat.iloc[0])


def test_heavy_repetitions_count_from_the_bound_on(view):
    logs = HandLogs().set(0, 100, 1, rpe=10).set(3, 79, 5).set(3, 80, 4).set(3, 85, 3).set(3, 90, 2).set(3, 95, 1)
    row = view(logs, "heavy_reps").iloc[1]
    assert (row.heavy_reps_80, row.heavy_reps_85, row.heavy_reps_90) == (10.0, 6.0, 3.0)


def test_heavy_repetitions_are_zero_when_light_and_missing_without_a_1rm(view):
    rows = view(HandLogs().set(0, 100, 1, rpe=10).set(3, 60, 5), "heavy_reps")
    assert math.isnan(rows.heavy_reps_80.iloc[0])
    assert rows.heavy_reps_80.iloc[1] == 0.0


def test_change_of_bar_and_grip_against_the_last_squat_session(view):
    logs = HandLogs().set(0, grip_width="narrow").set(2, bar="safety").set(4, bar="safety", grip_width="wide")
    rows = view(logs.set(6, bar="straight", grip_width="wide"), "set_up_change").sort_values("session_id")
    assert rows.bar_changed.tolist() == pytest.approx([math.nan, 1.0, 0.0, 1.0], nan_ok=True)
    assert rows.grip_width_changed.tolist() == pytest.approx([math.nan, math.nan, math.nan, 0.0], nan_ok=True)


def test_curls_by_forearm_position(view):
    logs = HandLogs().set(0, exercise="curl", times=9).set(1, exercise="curl", times=3)
    row = view(logs.set(7, exercise="hammer curl", times=2).set(8), "curls_by_forearm_7d").iloc[0]
    assert (row.curl_supinated_7d, row.curl_neutral_7d, row.curl_pronated_7d) == (3.0, 2.0, 0.0)


@pytest.mark.parametrize(
    ("day", "phase"),
    [(63, "last weeks"), (62, "preparation"), (1, "preparation"), (0, "no meet near"), (85, "no meet near")],
)
def test_phase_by_days_to_the_competition(view, day, phase):
    # The competition is on day 84: day 63 is 3 weeks before it, day 0 is 12.
    assert view(HandLogs().set(day), "phase", toml="[[competition]]\ndate = 2026-03-30\n").phase.tolist() == [phase]


def test_newest_screen_is_the_last_one_before_the_day(view):
    logs = HandLogs().screen(0, 70).screen(4, 80).screen(6, 90).set(3).set(6)
    rows = view(logs, "newest_screen").sort_values("session_id")
    assert rows.value.tolist() == [70.0, 80.0]
    assert rows.age_days.tolist() == [3, 2]


def load_week(loads):
    """Each load as one session of that many minutes at RPE 1; 0 is rest. A note before and after closes the week."""
    logs = HandLogs()
    for day, load in enumerate(loads):
        if load:
            logs.session(day, session_rpe=1.0, duration_min=float(load))
    return logs.pain(len(loads) - 1, 0)


def test_monotony_and_strain_of_a_worked_week(view):
    # Foster's definitions on the week 400, 0, 400, 0, 600, 300, 0: total 1700, mean 242.857, SD (n - 1) 243.975;
    # monotony 0.995418, strain 1692.2107 (arithmetic of the definition).
    week = view(load_week([400, 0, 400, 0, 600, 300, 0]), "daily_load").iloc[6]
    assert week.weekly_total == 1700.0
    assert week.monotony == pytest.approx(0.9954180744, abs=1e-8)
    assert week.strain == pytest.approx(1692.2107265, abs=1e-6)


def test_weighted_average_of_a_worked_series(view):
    # Williams et al. BJSM 2017;51(3):209-210: lambda = 2 / (N + 1), seeded with the first load.
    days = view(load_week([400, 0, 400, 0, 600, 300, 0, 500]), "daily_load")
    expected_7 = [400, 300, 325, 243.75, 332.8125, 324.609375, 243.457031, 307.592773]
    expected_28 = [400, 372.4138, 374.3163, 348.5014, 365.8461, 361.3050, 336.3874, 347.6710]
    assert days.ewma_7.tolist() == pytest.approx(expected_7, abs=1e-5)
    assert days.ewma_28.tolist() == pytest.approx(expected_28, abs=1e-4)


def test_monotony_of_seven_equal_days_is_missing_not_infinite(view):
    assert view(load_week([300] * 7), "daily_load").monotony.isna().all()


def test_load_without_minutes_is_missing_not_rest(view):
    days = view(
        load_week([300] * 6).session(6, session_rpe=5.0).session(7, session_rpe=1.0, duration_min=60.0), "daily_load"
    )
    assert days.load.tolist() == pytest.approx([300.0] * 6 + [math.nan, 60.0], nan_ok=True)
    assert days.weekly_total.isna().all()
    assert days.ewma_7.iloc[7] == 60.0  # begins anew


def test_days_are_those_of_the_season(view):
    days = view(load_week([300, 0, 300]), "daily_load")
    assert [day.date() for day in days.date] == [on(0), on(1), on(2)]
