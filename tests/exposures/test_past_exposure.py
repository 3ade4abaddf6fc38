"""Exponentially weighted means of earlier sessions, against pandas and against the closed form."""

import math

import pandas as pd
import pytest

from hand_logs import HandLogs, on

DAYS = [0, 2, 5, 6, 13, 14, 21]
BARS = ["straight", "safety", "safety", "cambered", "straight", "other", "safety"]


def _logs():
    logs = HandLogs()
    for day, bar in zip(DAYS, BARS, strict=True):
        logs.set(day, 100, 1, rpe=10, bar=bar)
    return logs


def test_share_of_the_safety_bar_agrees_with_pandas_half_life_mean(view):
    # pandas: ewm(halflife, times) with adjust=True is sum(0.5^(age/halflife) x) / sum(0.5^(age/halflife)).
    frame = view(_logs())
    is_safety = pd.Series([float(bar == "safety") for bar in BARS])
    expected = is_safety.ewm(halflife="7 days", times=pd.to_datetime([on(d) for d in DAYS])).mean().shift(1)
    assert frame.past_safety.tolist() == pytest.approx(expected.tolist(), rel=1e-12, nan_ok=True)


def test_first_session_has_no_past(view):
    frame = view(_logs())
    assert frame.loc[0, ["past_intensity", "past_safety", "past_narrow", "past_high"]].isna().all()
    assert frame.past_cambered.iloc[1] == 0.0


def test_session_a_half_life_older_weighs_half(view):
    # Day 7 weighs 1, day 0 a half: narrow 1 on day 0, 0 on day 7: 0.5 / 1.5.
    frame = view(HandLogs().set(0, grip_width="narrow").set(7, grip_width="wide").set(7, ordinal=2))
    assert frame.past_narrow.iloc[2] == pytest.approx(1 / 3)
    assert frame.past_wide.iloc[2] == pytest.approx(2 / 3)


def test_unwritten_grip_is_stepped_over_not_taken_for_medium(view):
    frame = view(HandLogs().set(0, grip_width="narrow").set(7).set(14))
    assert frame.past_narrow.tolist()[1:] == [1.0, 1.0]


def test_intensity_without_a_1rm_is_stepped_over(view):
    # Day 0 has no 1RM; day 3 is 80 % of 100 kg. On day 6 the only earlier intensity is 80.
    frame = view(HandLogs().set(0, 100, 1, rpe=10).set(3, 80, 1).set(6, 80, 1))
    assert math.isnan(frame.past_intensity.iloc[1])
    assert frame.past_intensity.iloc[2] == pytest.approx(80.0)


def test_long_histories_do_not_overflow(view):
    # 14 years apart: 2 to the power of 730 is still a number; the newer session carries all the weight.
    frame = view(HandLogs().set(0, bar="safety").set(5110).set(5117))
    assert frame.past_safety.iloc[2] == pytest.approx(0.0, abs=1e-200)
