"""Flare-ups, worked by hand: baseline, onset, end, and what belongs to the same one.

The definition is the project's own (no published one): a day's highest arm rating at least 2 above the median of the
last 14 reported days outside a flare-up (5 needed) and at least 4; over after 3 reported days in a row below.
"""

import pandas as pd
import pytest

from hand_logs import HandLogs, on


def days_of(ratings, start=0):
    logs = HandLogs().set(start)
    for day, rating in enumerate(ratings, start=start):
        if rating is not None:
            logs.pain(day, rating)
    return logs


def flares(view, logs, **other):
    found = view(logs, "flare_up", **other)
    ends = [None if pd.isna(end) else (end.date() - on(0)).days for end in found.end_date]
    return [
        ((onset.date() - on(0)).days, end, peak)
        for onset, end, peak in zip(found.onset_date, ends, found.peak, strict=True)
    ]


def test_four_on_a_baseline_of_one_is_an_onset(view):
    # Days 0 to 4: median 1. Day 5: 4 is 3 above and at least 4. Days 6, 7, 8 below: over on day 8.
    assert flares(view, days_of([1, 1, 1, 1, 1, 4, 1, 1, 1, 1])) == [(5, 8, 4.0)]


def test_four_earlier_days_are_too_few_for_a_baseline(view):
    assert flares(view, days_of([1, 1, 1, 1, 8])) == []


def test_three_on_a_baseline_of_zero_is_none_because_a_flare_up_is_at_least_4(view):
    assert flares(view, days_of([0, 0, 0, 0, 0, 3])) == []


def test_five_on_a_baseline_of_four_is_none_because_it_rose_by_one(view):
    assert flares(view, days_of([4, 4, 4, 4, 4, 5])) == []
    assert flares(view, days_of([4, 4, 4, 4, 4, 6])) == [(5, None, 6.0)]


def test_new_rise_before_three_days_below_belongs_to_the_same(view):
    assert flares(view, days_of([0, 0, 0, 0, 0, 5, 0, 0, 7, 0, 0, 0])) == [(5, 11, 7.0)]


def test_after_three_days_below_a_rise_is_a_new_one(view):
    assert flares(view, days_of([0, 0, 0, 0, 0, 5, 0, 0, 0, 7])) == [(5, 8, 5.0), (9, None, 7.0)]


def test_unreported_days_are_stepped_over_not_counted_as_below(view):
    assert flares(view, days_of([0, 0, 0, 0, 0, 5, None, None, None, 0, 0, 0])) == [(5, 11, 5.0)]


def test_days_of_a_flare_up_do_not_raise_the_baseline(view):
    # Were days 5 to 12 to enter, the median would be 6 and the second rise, to 6, none.
    assert flares(view, days_of([0, 0, 0, 0, 0, 6, 6, 6, 6, 6, 6, 6, 6, 0, 0, 0, 6])) == [(5, 15, 6.0), (16, None, 6.0)]


def test_baseline_is_the_median_of_the_last_14_days_only(view):
    # Ten days of 5, then fourteen of 1: the fives have left, the median is 1. With 24 days it would still be 1; so
    # with fourteen of 1 after thirty of 5 only the window tells them apart.
    logs = days_of([5] * 30 + [1] * 14 + [4])
    days = view(logs, "flare_day")
    last = days[(days.rise == 2) & (days.date == pd.Timestamp(on(44)))].iloc[0]
    assert last.baseline == 1.0
    assert last.is_onset


def test_day_takes_its_highest_arm_rating_and_knees_say_nothing(view):
    logs = days_of([0, 0, 0, 0, 0, 1]).pain(5, 5, site="forearm", moment="before").pain(6, 9, site="knee")
    assert flares(view, logs) == [(5, None, 5.0)]


def test_rises_of_one_and_three_are_shown_beside(view):
    found = view(days_of([3, 3, 3, 3, 3, 4, 3, 3, 3, 5, 3, 3, 3, 6, 3, 3, 3]), "flare_up_by_rise")
    assert found.groupby("rise").size().to_dict() == {1.0: 3, 2.0: 2, 3.0: 1}


def test_definition_comes_from_season_toml(view):
    toml = "[flare_up]\nrise = 4\nat_least = 5\nover_after = 1\n"
    assert flares(view, days_of([0, 0, 0, 0, 0, 4, 5, 0]), toml=toml) == [(6, 7, 5.0)]


def test_onset_names_the_squat_session_before_it(view):
    logs = days_of([0, 0, 0, 0, 0, None, None, 5]).set(5)
    found = view(logs, "onset")
    frame = view(days_of([0, 0, 0, 0, 0, None, None, 5]).set(5))
    assert found.session_id.tolist() == [frame.session_id.iloc[1]]
    assert (found.rating.iloc[0], found.baseline.iloc[0]) == (5.0, 0.0)


def test_squads_flare_ups_are_each_athletes_own(view):
    logs = days_of([0, 0, 0, 0, 0, 5])
    for day in range(6):
        logs.pain(day, 5, athlete="Bea")
    assert view(logs, "flare_up").athlete.tolist() == ["Ada"]


@pytest.mark.parametrize("seed", [1, 2])
def test_sql_agrees_with_a_step_by_step_reckoning(view, seed):
    """The same rule in ten plain lines, over a random series."""
    import random
    from statistics import median

    numbers = random.Random(seed)
    ratings = [numbers.choice([0, 0, 1, 1, 2, 3, 4, 5, 7, None]) for _ in range(120)]
    expected, usual, inside, below = [], [], False, 0
    for day, rating in enumerate(ratings):
        if rating is None:
            continue
        high = len(usual) >= 5 and rating >= median(usual[-14:]) + 2 and rating >= 4
        if inside:
            below = 0 if high else below + 1
            expected[-1] = (expected[-1][0], day if below == 3 else None, max(expected[-1][2], float(rating)))
            inside = below < 3
        elif high:
            expected.append((day, None, float(rating)))
            inside, below = True, 0
        else:
            usual.append(rating)
    assert flares(view, days_of(ratings)) == expected
    assert len(expected) >= 2
