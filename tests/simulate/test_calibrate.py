"""The calibration counts rightly, fails on a broken bound, goes on where it was stopped; a short one passes."""

import json
from functools import partial

import numpy as np
import pytest

from preflare.simulate import calibrate, error_rates
from preflare.simulate.bounds import RUNS, Bound, bounds, verdicts
from preflare.simulate.constants import world_names
from preflare.simulate.outcomes import Answer, Outcome, outcome_from
from preflare.simulate.tables import calibration_table


def _answer(name, truth, per_100, half_width, grade="no clear difference", without_lead=None):
    return Answer(
        id=name, truth=truth, per_100=per_100, low=per_100 - half_width, high=per_100 + half_width,
        standard_error=half_width / 2, p=0.5, grade=grade, grade_without_lead=without_lead or grade, contributing=12,
    )  # fmt: skip


def _outcomes(*answers, world="plant", n=24):
    """Seasons of one contrast each; the other contrasts are true zeros that were estimated as such."""
    others = [name for name in error_rates.IDS if name != answers[0].id]
    quiet = tuple(_answer(name, 0.0, 0.0, 1.0) for name in others)
    return [Outcome(world, n, index, True, (answer, *quiet)) for index, answer in enumerate(answers)]


def test_coverage_and_bias_by_hand():
    # Truth 4; estimates 5 and 1, each -+ 2: the first interval holds 4, the second ends at 3. Bias (1 - 3) / 2 = -1.
    outcomes = _outcomes(_answer("intensity", 4.0, 5.0, 2.0), _answer("intensity", 4.0, 1.0, 2.0))
    assert error_rates.coverage(outcomes, "intensity").value == 50.0
    assert error_rates.bias(outcomes, "intensity").value == -1.0
    assert error_rates.bias_share(outcomes, "intensity").value == -25.0
    # Two differences, 1 and -3: sample SD 2.828, over root 2: 2.
    assert error_rates.bias(outcomes, "intensity").error == pytest.approx(2.0)


def test_interval_that_ends_on_the_truth_covers_it():
    assert _answer("safety", 3.0, 1.0, 2.0).covers
    assert not _answer("safety", 3.01, 1.0, 2.0).covers


def test_season_without_an_interval_counts_in_grades_but_not_in_coverage():
    blank = Answer("wide", -2.0, None, None, None, None, None, "too little data", "too little data", 2)
    outcomes = [
        Outcome("plant", 8, 0, True, (blank,)),
        Outcome("plant", 8, 1, True, (_answer("wide", -2.0, -2.0, 1.0),)),
    ]
    assert error_rates.coverage(outcomes, "wide").n == 1
    assert error_rates.graded(outcomes, "wide", "too little data").value == 50.0


def test_clear_is_false_where_nothing_is_true_and_wrong_where_the_sign_is():
    right = _answer("safety", -4.0, -6.0, 2.0, "clear")
    wrong = _answer("safety", -4.0, 6.0, 2.0, "clear")
    outcomes = _outcomes(right, wrong)
    assert error_rates.wrong_sign_clear(outcomes).value == 50.0
    assert error_rates.false_clear(outcomes).value == 0.0
    nothing = _outcomes(_answer("safety", 0.0, 6.0, 2.0, "clear"), _answer("safety", 0.0, 1.0, 2.0))
    assert error_rates.false_clear(nothing).value == 50.0
    assert error_rates.wrong_sign_clear(nothing).value == 0.0


def test_lead_check_is_credited_with_what_it_vetoed():
    vetoed = _answer("intensity", 0.0, 5.0, 2.0, "contradicted by a check", without_lead="clear")
    outcomes = _outcomes(vetoed, _answer("intensity", 0.0, 5.0, 2.0, "clear"), world="nullstrong")
    assert error_rates.false_clear(outcomes).value == 50.0
    assert error_rates.false_clear(outcomes, with_lead=False).value == 100.0
    left = next(b for b in bounds() if "without lead" in b.name).measure(outcomes)
    assert left.value == 50.0


def test_failed_checks_are_counted_whatever_the_grade():
    failed = Answer("sets", 2.0, 3.0, 1.0, 5.0, 1.0, 0.2, "leaning", "leaning", 12, vetoed_by=("event_cut",))
    outcomes = _outcomes(failed, _answer("sets", 2.0, 3.0, 2.0))
    assert error_rates.vetoed(outcomes, "sets", "event_cut").value == 50.0
    assert error_rates.vetoed(outcomes, "sets", "lead").value == 0.0


def test_monte_carlo_error_is_binomial_and_never_zero():
    # The analysis plan gives 1.1 points for 95 % of 400 seasons, 1.5 for 200, 2.0 for 120 and 0.9 for 600.
    for n, points in ((400, 1.1), (200, 1.5), (120, 2.0), (600, 0.9)):
        missed = round(0.05 * n)
        assert round(error_rates.share([True] * (n - missed) + [False] * missed).error, 1) in (points, points + 0.1)
    assert error_rates.share([False] * 50).error > 1


def _verdict_of(value, n_seasons, monkeypatch):
    bound = Bound("share", ("null", 24), partial(lambda o: error_rates.Figure(value, 1.0, len(o))), 93, 100)
    monkeypatch.setattr("preflare.simulate.bounds.bounds", lambda: [bound])
    return verdicts({("null", 24): _outcomes(*[_answer("sets", 0.0, 0.0, 1.0)] * n_seasons, world="null")})[0].outcome


def test_full_run_gets_no_slack_and_a_short_one_two_errors(monkeypatch):
    full = RUNS["null", 24]
    assert _verdict_of(92.9, full, monkeypatch) == "broken"
    assert _verdict_of(93.0, full, monkeypatch) == "within"
    assert _verdict_of(91.5, 40, monkeypatch) == "within"
    assert _verdict_of(90.9, 40, monkeypatch) == "broken"


def test_every_bound_belongs_to_a_run_and_every_run_to_a_world():
    assert {bound.run for bound in bounds()} <= set(RUNS)
    assert {world for world, _ in RUNS} <= set(world_names())


def test_outcome_survives_being_written_down():
    outcome = _outcomes(_answer("high", 0.1, 0.3, 2.0))[0]
    assert outcome_from(json.loads(json.dumps(outcome.record()))) == outcome


def test_stopped_run_goes_on_where_it_stopped(tmp_path, monkeypatch):
    made = []

    def one(world, n, index, seed):
        made.append((world, index))
        return Outcome(world, n, index, True, (_answer("intensity", 0.0, 0.0, 1.0),))

    monkeypatch.setattr(calibrate, "season_outcome", one)
    kept = calibrate.outcomes_file(tmp_path, calibrate.SEED)
    first = list(calibrate.calibrate({("null", 8): 3}))
    kept.write_text("".join(json.dumps(o.record()) + "\n" for o in first) + '{"world": "nu', encoding="utf-8")
    made.clear()
    again = list(calibrate.calibrate({("null", 8): 5}, done=calibrate.read_outcomes(kept)))
    assert made == [("null", 3), ("null", 4)]
    assert [outcome.index for outcome in again] == [3, 4]


def test_seasons_of_a_run_have_seeds_of_their_own():
    states = {
        tuple(calibrate.season_seed(1, run, index).generate_state(2))
        for run in (("null", 24), ("null", 8), ("plant", 24))
        for index in range(20)
    }
    assert len(states) == 60


def test_broken_bound_leaves_with_1(tmp_path, monkeypatch, capsys):
    def one(world, n, index, seed):
        answers = tuple(_answer(name, 0.0, 9.0, 1.0, "clear") for name in error_rates.IDS)
        return Outcome(world, n, index, True, answers)

    monkeypatch.setattr(calibrate, "season_outcome", one)
    given = ["--world", "null", "--lifters", "24", "--seasons", "30", "--out", str(tmp_path)]
    assert calibrate.main(given) == 1
    printed = capsys.readouterr().out
    assert "broken" in printed
    assert printed == (tmp_path / calibrate.TABLE_FILE).read_text(encoding="utf-8")


def test_short_calibration_stays_within_the_bounds():
    """Five seasons each: with so few, only what lies beyond two Monte Carlo errors is broken."""
    outcomes = list(calibrate.calibrate({("null", 24): 5, ("plant", 24): 5}))
    results = calibrate.by_run(outcomes)
    found = verdicts(results)
    assert [one.bound.name for one in found if one.outcome == "broken"] == []
    assert all(outcome.converged for outcome in outcomes)
    planted = results["plant", 24]
    assert np.mean([a.per_100 > 0 for a in error_rates.answers_to(planted, "intensity")]) == 1
    assert "plant, 24 lifters, 5 seasons" in calibration_table(results)
