"""The 28 days before a flare-up against the athlete's ordinary sessions, counted by hand and against the findings."""

import numpy as np
import pandas as pd
import pytest

from hand_logs import HandLogs
from preflare.exposures import model_frame
from preflare.findings.before_onset import DAYS_BEFORE, FEWEST_SESSIONS, before_onset

BEFORE, ORDINARY, ONSET, OVER = (12, 14, 21, 28, 36), (0, 3, 6, 11, 47, 50), 40, 43


def season_with_a_flare_up():
    """Onset on day 40, over on day 43; three sets a session; the last session before it on a safety bar."""
    logs = HandLogs()
    for day in sorted((*BEFORE, *ORDINARY, ONSET)):
        logs.set(day, times=3, rpe=8, bar="safety" if day == 36 else "straight")
        logs.pain(day, 5 if day == ONSET else 0)
    for day in (41, 42, OVER):
        logs.pain(day, 0)
    return logs


def test_a_session_28_days_before_is_before_and_one_of_29_days_is_ordinary(view):
    (row,) = view(season_with_a_flare_up(), "flare_up_before").to_dict("records")
    assert (row["sessions_before"], row["sessions_usual"]) == (len(BEFORE), len(ORDINARY))
    assert (row["straight_before"], row["safety_before"], row["cambered_before"]) == (4, 1, 0)
    assert (row["straight_usual"], row["safety_usual"]) == (6, 0)


def test_sets_are_the_mean_of_the_week_before_each_session(view):
    # Before: day 12 has 6 sets behind it (days 6, 11), day 14 has 6 (11, 12), day 21 and 28 have 3, day 36 none.
    # Ordinary: days 0, 3 and 6 have no whole logged week behind them; 11, 47 and 50 have 3 each.
    (row,) = view(season_with_a_flare_up(), "flare_up_before").to_dict("records")
    assert row["sets_before"] == pytest.approx(18 / 5)
    assert row["sets_usual"] == pytest.approx(3)


def test_fewer_than_three_sessions_tell_no_mean_but_are_counted(view):
    logs = HandLogs()
    for day in (0, 3, 6, 9, 20):
        logs.set(day, times=3, rpe=8).pain(day, 0)
    logs.set(40).pain(40, 5)
    (row,) = view(logs, "flare_up_before").to_dict("records")
    assert row["sessions_before"] == 1
    assert np.isnan(row["sets_before"])
    assert np.isnan(row["intensity_before"])
    assert row["sessions_usual"] == 4
    assert not np.isnan(row["intensity_usual"])


def test_an_athlete_without_a_flare_up_has_no_row(view):
    assert view(HandLogs().set(0).pain(0, 0), "flare_up_before").empty


def test_the_means_are_those_of_the_findings(view, shared_store):
    # The findings reach the same windows in Python: their median over flare-ups must be the median of these rows.
    logs = HandLogs()
    for name, start in (("Ada", 0), ("Ben", 1), ("Cleo", 2)):
        for day in range(start, 200, 3):
            load = 100.0 + day % 17
            logs.set(day, load, times=2 + day % 4, rpe=8, athlete=name)
            logs.pain(day, 6 if day // 3 % 20 == 15 else 0, athlete=name)
    rows = view(logs, "flare_up_before")
    told = rows[(rows.sessions_before >= FEWEST_SESSIONS) & (rows.sessions_usual >= FEWEST_SESSIONS)]
    onsets = shared_store.frame("flare_up").rename(columns={"onset_date": "onset", "end_date": "end"})
    onsets = onsets.assign(onset=pd.to_datetime(onsets.onset), end=pd.to_datetime(onsets.end))
    found = {b["exposure"]: b for b in before_onset(model_frame(shared_store), onsets)}
    assert DAYS_BEFORE == 28
    assert found["intensity"]["flare_ups"] == len(told) > 5
    assert found["intensity"]["difference"] == pytest.approx((told.intensity_before - told.intensity_usual).median())
    assert found["weekly sets"]["difference"] == pytest.approx((told.sets_before - told.sets_usual).median())
