"""The SQL against the same definitions written in numpy by another hand (the simulated seasons' own frames)."""

import itertools
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from hand_logs import HandLogs
from preflare.exposures import model_frame
from preflare.settings import Settings
from preflare.simulate.draws import Draws
from preflare.simulate.estimated import estimated_intensity
from preflare.simulate.frames import world_frame
from preflare.simulate.lifting import LIFTING, sessions_done
from preflare.simulate.worlds import simulate_season
from preflare.store import Store

SAME = [
    "rating", "n_reports", "session_sets", "last_rating", "last_rating_age", "second_last_rating", "recent_rating",
    "any_event_7d", "last_rating_pre", "last_rating_pre_age", "second_last_rating_pre", "recent_rating_pre",
    "any_event_8_14d", "older_sets", "past_safety", "past_cambered", "past_other", "past_narrow", "past_wide",
    "past_high", "lead_safety", "lead_cambered", "lead_narrow", "lead_wide", "lead_high",
]  # fmt: skip


def logs_of(frame):
    """The frame's sessions as logs: the sets of each session in one row, its rating on the evening of the day."""
    logs = HandLogs()
    row = logs.set(0).logs.sets.pop()
    for session in frame.itertuples():
        day = {"athlete": session.athlete, "date": session.date.date()}
        place = replace(row.place, row=2 + len(logs.logs.sets))
        written = {
            name: value if isinstance(value := getattr(session, name), str) else None
            for name in ("bar", "grip_width", "bar_position")
        }
        for number in range(1, int(session.session_sets) + 1):
            logs.logs.sets.append(replace(row, **day, **written, place=place, set_number=number))
        if not np.isnan(session.rating):
            logs.pain(0, session.rating, **day)
    return logs.done()


@pytest.fixture(scope="module")
def frames(tmp_path_factory):
    expected = world_frame(simulate_season("plant", 8, 11))
    with Store.open(tmp_path_factory.mktemp("store") / "season.duckdb") as store:
        store.import_logs(logs_of(expected), Settings(), "")
        found = model_frame(store)
    assert len(found) == len(expected) > 500
    assert found.date.tolist() == expected.date.tolist()
    return found, expected


@pytest.mark.parametrize("column", SAME)
def test_column_agrees_with_the_numpy_definition(frames, column):
    found, expected = frames
    np.testing.assert_allclose(found[column].to_numpy(float), expected[column].to_numpy(float), rtol=1e-9, atol=1e-12)


@pytest.mark.parametrize(("column", "days"), [("sets_7d", range(-7, 0)), ("lead_sets", range(1, 8))])
def test_window_sums_agree_wherever_both_hold_the_window_logged(frames, column, days):
    # The worlds log everybody from the first day to the last; a store knows only an athlete's own entries.
    found, expected = frames
    both = found[column].notna() & expected[column].notna()
    assert both.mean() > 0.9
    np.testing.assert_array_equal(found[column][both], expected[column][both])
    own = {name: set(rows.date) for name, rows in found.groupby("athlete")}
    first, last = ({name: pick(dates) for name, dates in own.items()} for pick in (min, max))
    for session in found[found[column].isna()].itertuples():
        window = [session.date + timedelta(days=day) for day in days]
        outside = any(not first[session.athlete] <= day <= last[session.athlete] for day in window)
        assert outside or _in_long_gap(window, sorted(own[session.athlete]))


def _in_long_gap(window, entries):
    gaps = [(a, b) for a, b in itertools.pairwise(entries) if (b - a).days > 11]
    return any(a < day < b for a, b in gaps for day in window)


def test_intensity_agrees_with_the_second_rule_for_the_1rm(tmp_path):
    # Rows that borrow the squad's ratio may differ by what a week has taught: SQL learns it weekly, numpy daily.
    season = simulate_season("plant", 10, 12)
    logs = HandLogs()
    row = logs.set(0).logs.sets.pop()
    for session in sessions_done(season, ["kg"] * 10, Draws(season.seed, LIFTING)):
        place = replace(row.place, row=2 + len(logs.logs.sets))
        for number, lifted in enumerate(session.squats, start=1):
            logs.logs.sets.append(
                replace(
                    row, athlete=f"Lifter {session.lifter + 1:02d}", date=session.date, bar=session.bar, place=place,
                    set_number=number, load_kg=lifted.load, reps=lifted.reps, rpe=lifted.rpe,
                    is_warm_up=lifted.is_warm_up, is_failed=lifted.is_failed,
                )
            )  # fmt: skip
    with Store.open(tmp_path / "season.duckdb") as store:
        store.import_logs(logs.done(), Settings(), "")
        found = model_frame(store)
    expected = estimated_intensity(season)[season.trained]
    assert len(found) == len(expected) > 700
    learnt = found.intensity_source == "squad ratio"
    np.testing.assert_allclose(found.intensity[~learnt], expected[~learnt], rtol=1e-9)
    assert learnt.sum() > 10
    np.testing.assert_allclose(found.intensity[learnt], expected[learnt], rtol=0.05)
