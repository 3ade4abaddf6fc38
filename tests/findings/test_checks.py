"""Each check on a season without its fault and on one with it."""

import math
from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from preflare.findings.checks import (
    Check,
    calendar_check,
    event_cut_check,
    event_cut_z,
    lead_check,
    most_carrying_athlete,
    risk_sign_check,
    without_one_check,
)
from preflare.findings.contrasts import FAMILY
from preflare.findings.effects import effect
from preflare.findings.evidence import Graded, grade_season
from preflare.findings.fitting import Fitted, fit_all, fit_ordinal, fit_without_athlete
from preflare.findings.residuals import residual_checks
from preflare.findings.sensitivity import fit_other_choices, missing_report_checks
from preflare.models.design import primary_design
from preflare.models.rows import keep_rows, modelling_rows
from preflare.simulate.frames import world_frame
from preflare.simulate.worlds import simulate_season

CONTRAST = {contrast.id: contrast for contrast in FAMILY}


def log_odds(graded: Graded, name: str) -> float:
    return graded.fits.models(name).primary.log_odds(name)[0]


# --- lead --------------------------------------------------------------------------------------------------------


def test_a_coach_who_reacts_to_pain_does_not_fail_the_lead_check(plant_graded: Graded) -> None:
    # Planted: pain is followed by the safety bar, so next week's safety bar goes with more pain today, while the bar
    # itself goes with less. That is flagged ("load was changed after pain") and vetoes nothing.
    check, flagged = lead_check(plant_graded.fits, CONTRAST["safety"], log_odds(plant_graded, "safety"))
    assert check.outcome == "passed"
    assert check.value > 0
    assert flagged == (abs(check.value) > 1.96)


def test_next_weeks_load_in_the_findings_direction_fails_the_lead_check(plant_frame: pd.DataFrame) -> None:
    # The fault: heavier weeks come after pain, as if today's pain came from next week's load.
    rng = np.random.default_rng(6)
    rating = plant_frame["rating"].fillna(0)
    fault = plant_frame.assign(lead_intensity=plant_frame["lead_intensity"] + 2 * rating + rng.normal(size=len(rating)))
    fits = fit_all(modelling_rows(fault), 4)
    estimate = fits.main.primary.log_odds("intensity")[0]
    assert estimate > 0
    check, flagged = lead_check(fits, CONTRAST["intensity"], estimate)
    assert check.outcome == "failed"
    assert flagged
    opposite, _ = lead_check(fits, CONTRAST["intensity"], -estimate)
    assert opposite.outcome == "passed"


def test_without_a_logged_week_after_the_lead_is_not_checked(plant_frame: pd.DataFrame) -> None:
    fits = fit_all(modelling_rows(plant_frame.assign(lead_sets=float("nan"))), 4)
    check, flagged = lead_check(fits, CONTRAST["intensity"], 1.0)
    assert (check.outcome, check.value, flagged) == ("not checked", None, False)


# --- leave one athlete out ---------------------------------------------------------------------------------------


def test_a_difference_that_all_share_stands_without_any_one(plant_graded: Graded) -> None:
    check = without_one_check(plant_graded.fits.main.primary, CONTRAST["safety"])
    assert check.outcome == "passed"
    assert check.value > 1


def test_a_difference_that_rests_on_one_athlete_fails() -> None:
    frame = world_frame(simulate_season("null", 12, 7))
    one = frame["athlete"].eq(frame["athlete"].iloc[0])
    heavy = frame["intensity"] > frame.loc[one, "intensity"].mean()
    frame.loc[one & frame["rating"].notna(), "rating"] = np.where(heavy[one & frame["rating"].notna()], 9.0, 0.0)
    rows = modelling_rows(frame)
    fitted = fit_ordinal(primary_design(rows, slopes=False), 4)
    check = without_one_check(fitted, CONTRAST["intensity"])
    assert fitted.log_odds("intensity")[0] / fitted.log_odds("intensity")[1] > 2
    assert check.outcome == "failed"
    assert frame["athlete"].iloc[0] in check.help


def test_one_step_agrees_with_refitting_without_that_athlete(plant_graded: Graded) -> None:
    fitted = plant_graded.fits.main.primary
    check = without_one_check(fitted, CONTRAST["safety"])
    left_out = next(i for i, name in enumerate(plant_graded.rows.athletes) if name in check.help)
    subset = keep_rows(plant_graded.rows, plant_graded.rows.group != left_out)
    estimate, _ = fit_ordinal(primary_design(subset), 4).log_odds("safety")
    exact = math.copysign(1, fitted.log_odds("safety")[0]) * estimate / fitted.log_odds("safety")[1]
    assert check.value == pytest.approx(exact, abs=0.25)  # one step of Newton's method; a t of 0.25 decides nothing


def test_a_refit_without_that_athlete_replaces_the_one_step(plant_graded: Graded) -> None:
    fitted = plant_graded.fits.main.primary
    athlete, one_step = most_carrying_athlete(fitted, CONTRAST["safety"])
    refit = fit_without_athlete(plant_graded.fits, "safety", athlete)
    check = without_one_check(fitted, CONTRAST["safety"], refit)
    sign = math.copysign(1, fitted.log_odds("safety")[0])
    assert check.value == pytest.approx(sign * refit.log_odds("safety")[0] / fitted.log_odds("safety")[1])
    assert check.value != one_step
    assert plant_graded.rows.athletes[athlete] in check.help


def test_only_what_one_step_leaves_in_doubt_is_refitted(plant_graded: Graded) -> None:
    fits = plant_graded.fits
    for item in plant_graded.evidence:
        if not item.p_adjusted <= 0.05:
            continue
        fitted = fits.models(item.contrast.id).primary
        athlete, one_step = most_carrying_athlete(fitted, item.contrast)
        shown = next(check for check in item.checks if check.name == "leave_one_out")
        if one_step > 2:
            assert shown.value == one_step
        else:
            refit = fit_without_athlete(fits, item.contrast.id, athlete)
            assert shown == without_one_check(fitted, item.contrast, refit)


# --- linear risk -------------------------------------------------------------------------------------------------


def test_linear_risk_of_the_other_sign_fails(plant_graded: Graded) -> None:
    fits = plant_graded.fits
    estimate = log_odds(plant_graded, "safety")
    assert risk_sign_check(fits, CONTRAST["safety"], estimate).outcome == "passed"
    turned = replace(fits.main.risk, estimate={**fits.main.risk.estimate, "safety": 3.0})
    faulty = replace(fits, main=replace(fits.main, risk=turned))
    assert risk_sign_check(faulty, CONTRAST["safety"], estimate).outcome == "failed"


def test_without_linear_risk_the_sign_is_not_checked(plant_graded: Graded) -> None:
    fits = replace(plant_graded.fits, main=replace(plant_graded.fits.main, risk=None))
    assert risk_sign_check(fits, CONTRAST["safety"], -1.0).outcome == "not checked"


def test_a_season_in_which_severe_and_mild_ratings_go_apart_turns_the_sign(plant_frame: pd.DataFrame) -> None:
    # The fault: on the safety bar nothing is painless and nothing is severe, so all ratings together rise, events fall.
    safety = plant_frame["bar"].eq("safety") & plant_frame["rating"].notna()
    fault = plant_frame.assign(rating=plant_frame["rating"].mask(safety, plant_frame["rating"].clip(2, 3)))
    fits = fit_all(modelling_rows(fault), 5)
    estimate = fits.main.primary.log_odds("safety")[0]
    check = risk_sign_check(fits, CONTRAST["safety"], estimate)
    assert estimate > 0
    assert check.value < 0
    assert check.outcome == "failed"


# --- event cut ---------------------------------------------------------------------------------------------------


def test_event_cut_by_hand() -> None:
    # Variances 0.25 - 0.16 = 0.09: z = (0.2 - 0.8) / 0.3. Where the difference is smaller, 0.3 SE stands in.
    assert event_cut_z(0.2, 0.5, 0.8, 0.4) == pytest.approx(-2.0)
    assert event_cut_z(0.2, 0.5, 0.5, 0.5) == pytest.approx(-2.0)


def test_an_effect_on_all_ratings_passes_the_event_cut(plant_graded: Graded) -> None:
    for name in ("intensity", "safety"):
        assert event_cut_check(plant_graded.fits, CONTRAST[name]).outcome == "passed", name


def test_an_effect_on_mild_ratings_alone_fails_the_event_cut() -> None:
    graded = grade_season(world_frame(simulate_season("mildonly", 24, 3)))
    failed = [item for item in graded.evidence if event_cut_check(graded.fits, item.contrast).outcome == "failed"]
    assert failed
    for item in failed:
        assert item.family == "logistic"
        assert item.grade != "clear"
        models, n = graded.fits.models(item.contrast.id), item.counts.contributing
        told, other = effect(models.binary, item.contrast, n), effect(models.primary, item.contrast, n)
        shown = item.effect.difference
        assert shown.value == told.difference.value
        assert shown.low == min(told.difference.low, other.difference.low)
        assert shown.high == max(told.difference.high, other.difference.high)


# --- calendar ----------------------------------------------------------------------------------------------------


def test_an_exposure_that_everybody_changed_in_the_same_weeks_is_noted(plant_frame: pd.DataFrame) -> None:
    rows = modelling_rows(plant_frame)
    fits = fit_all(rows, 4)
    assert calendar_check(fits, CONTRAST["safety"]).outcome == "passed"
    together = plant_frame.assign(intensity=60 + 0.6 * plant_frame["week"] + 0.01 * plant_frame["intensity"])
    check = calendar_check(fit_all(modelling_rows(together), 4), CONTRAST["intensity"])
    assert check.outcome == "failed"
    assert check.value > 0.8
    assert not check.vetoes


# --- missing reports ---------------------------------------------------------------------------------------------


def missing(frame: pd.DataFrame, name: str) -> dict[str, Check]:
    """The two notes on missing reports of one contrast."""
    fits = fit_all(modelling_rows(frame), 4)
    other = fit_other_choices(fits.main, 4, {}, weigh=False)
    return {check.name: check for check in missing_report_checks(CONTRAST[name], other)}


def test_where_every_session_is_reported_no_missing_report_can_turn_anything() -> None:
    season = simulate_season("plant", 12, 9)
    frame = world_frame(replace(season, reported=season.trained))
    made = missing(frame, "intensity")
    assert made["missing_reports"].outcome == made["missing_tilt"].outcome == "passed"
    assert made["missing_reports"].value == pytest.approx(0, abs=1e-9)
    assert not any(check.vetoes for check in made.values())


def test_reports_that_are_skipped_after_heavy_sessions_can_turn_the_direction() -> None:
    # The fault: nineteen of twenty heavy sessions go unreported, so what those felt like decides.
    frame = world_frame(simulate_season("null", 12, 9))
    heavy = frame["intensity"] > frame.groupby("athlete")["intensity"].transform("median")
    skipped = heavy & (frame["session_id"] % 20 > 0)
    frame["rating"] = frame["rating"].mask(skipped)
    made = missing(frame, "intensity")
    assert made["missing_reports"].outcome == made["missing_tilt"].outcome == "failed"
    assert "a report after every session can" in made["missing_reports"].help
    assert "the direction turns" in made["missing_tilt"].help


# --- residuals ---------------------------------------------------------------------------------------------------


def test_ratings_that_linger_beyond_the_model_fail_and_the_worlds_own_pass(plant_graded: Graded) -> None:
    def lingering(fitted: Fitted) -> Check:
        return residual_checks(fitted, np.random.default_rng(1))[1]

    assert lingering(plant_graded.fits.main.primary).outcome == "passed"
    # The fault: a mood of each lifter that drifts from week to week, which no term of the model knows.
    rows = plant_graded.rows
    week, rng = rows.frame["week"].to_numpy(int), np.random.default_rng(4)
    mood = np.cumsum(rng.normal(0, 1.0, (len(rows.athletes), week.max() + 1)), axis=1)
    mood -= mood.mean(axis=1, keepdims=True)
    rating = np.clip(np.round(3 + mood[rows.group, week]), 0, 10)
    frame = rows.frame.assign(rating=np.where(rows.reported, rating, np.nan))
    frame = frame.assign(last_rating=3.0, second_last_rating=3.0, recent_rating=3.0, any_event_7d=0.0)
    check = lingering(fit_ordinal(primary_design(replace(rows, frame=frame)), 4))
    assert check.outcome == "failed"
    assert check.value > 0.1
    assert not check.vetoes


# Curvature and even residuals have theirs in test_around.py, pain elsewhere in test_elsewhere.py.


# --- which may veto ----------------------------------------------------------------------------------------------


def test_a_check_that_failed_where_there_is_no_difference_has_nothing_to_speak_against(plant_graded: Graded) -> None:
    for item in plant_graded.evidence:
        if item.grade in ("no clear difference", "too little data"):
            assert not [c.name for c in item.checks if c.vetoes and c.outcome == "failed" and c.name != "event_cut"]


def test_only_four_checks_may_veto(plant_graded: Graded) -> None:
    for item in plant_graded.evidence:
        vetoing = {check.name for check in item.checks if check.vetoes}
        assert vetoing == {"lead", "leave_one_out", "linear_risk_sign", "event_cut"}
