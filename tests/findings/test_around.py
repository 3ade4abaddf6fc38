"""What stands around the findings: surveillance, bar choice, before an onset, curves, athletes, other choices."""

import numpy as np
import pandas as pd
import pytest

from findings.squat_rows import sessions
from preflare.findings import athletes as athlete_pages
from preflare.findings import own as own_estimates
from preflare.findings.bar_choice import clustered_mean, prior_pain
from preflare.findings.before_onset import before_onset
from preflare.findings.contrasts import FAMILY
from preflare.findings.curves import curvature_check, curve_record, fit_curve
from preflare.findings.evidence import Graded
from preflare.findings.fitting import linear_risk
from preflare.findings.flare_ups import squad_flare_ups
from preflare.findings.raw import clustered_slope, raw_difference
from preflare.findings.residuals import lag_one, quantile_residuals, residual_checks
from preflare.findings.sensitivity import TILTS, filled_risks, fit_other_choices, sensitivity_lines, worst_cases
from preflare.findings.surveillance import rates, sites, totals, weekly_pain
from preflare.findings.weights import safety_bar_weights
from preflare.models.rows import modelling_rows
from preflare.settings import FlareUp

CONTRAST = {contrast.id: contrast for contrast in FAMILY}
NAN = float("nan")


# --- surveillance ------------------------------------------------------------------------------------------------


def test_a_week_counts_lifters_not_sessions_and_missing_is_not_none() -> None:
    frame = sessions([
        {"athlete": "Ada", "day": 0, "rating": 0.0}, {"athlete": "Ada", "day": 2, "rating": 3.0},
        {"athlete": "Bo", "day": 2, "rating": 0.0}, {"athlete": "Cy", "day": 2, "rating": NAN},
        {"athlete": "Ada", "day": 7, "rating": NAN},
    ])  # fmt: skip
    first, second = weekly_pain(frame)
    assert first["week_start"] == pd.Timestamp("2025-09-01")
    assert (first["athletes"], first["reporting"], first["with_pain"]) == (3, 2, 1)
    assert first["share"] == 0.5
    assert (second["athletes"], second["reporting"], second["with_pain"]) == (1, 0, 0)
    assert np.isnan(second["share"])


def test_rates_by_hand() -> None:
    # 6 flare-ups and 42 days in 1,500 h: 4 per 1000 h (arithmetic of the definitions, Bahr et al. 2020).
    view = pd.DataFrame([{
        "season": 0, "onsets": 6, "squat_sets": 3000, "squat_sessions": 600, "reported_sessions": 450,
        "event_sessions": 45, "flare_days": 42, "hours": 1500.0, "days_with_duration": 90, "training_days": 100,
    }])  # fmt: skip
    counted = totals(sessions([{}]), squad_flare_ups(sessions([{}]), FlareUp()), 4, view)
    by_name = {(rate["name"], rate["unit"]): rate["value"] for rate in rates(counted, [])}
    assert by_name["flare-ups", "per 1000 hours of training"] == pytest.approx(4.0)
    assert by_name["flare-ups", "per 1000 working squat sets"] == pytest.approx(2.0)
    assert by_name["days in a flare-up", "per 1000 working squat sets"] == pytest.approx(14.0)
    assert by_name["sessions followed by pain", "of 100 reported squat sessions"] == pytest.approx(10.0)
    assert by_name["sessions with a rating", "of 100 squat sessions"] == pytest.approx(75.0)


def test_hours_are_no_denominator_where_most_days_lack_a_duration() -> None:
    view = pd.DataFrame([{
        "onsets": 6, "squat_sets": 3000, "squat_sessions": 600, "reported_sessions": 450, "event_sessions": 45,
        "flare_days": 42, "hours": 1500.0, "days_with_duration": 70, "training_days": 100,
    }])  # fmt: skip
    assert np.isnan(totals(sessions([{}]), squad_flare_ups(sessions([{}]), FlareUp()), 4, view).hours)


def test_sites_come_from_the_store_or_not_at_all() -> None:
    view = pd.DataFrame([{"site": "elbow", "side": "left", "reports": 9, "athletes": 3, "is_outcome_site": True}])
    assert sites(view) == [{"site": "elbow", "side": "left", "reports": 9, "athletes": 3}]
    assert sites(None) == []


# --- raw figures -------------------------------------------------------------------------------------------------


def test_a_raw_difference_is_that_of_the_two_shares() -> None:
    straight = [{"rating": 5.0}] * 2 + [{"rating": 0.0}] * 8
    safety = [{"bar": "safety", "rating": 5.0}] * 4 + [{"bar": "safety", "rating": 0.0}] * 4
    other = [{"bar": "cambered", "rating": 9.0}] * 5
    rows = modelling_rows(sessions([*straight, *safety, *other]))
    assert raw_difference(CONTRAST["safety"], rows, 4).value == pytest.approx(50 - 20)


def test_a_raw_amount_is_the_pooled_slope_times_its_size() -> None:
    rows = modelling_rows(sessions([{"intensity": 70.0 + i, "rating": 5.0 if i >= 10 else 0.0} for i in range(20)]))
    slope = np.polyfit(np.arange(20.0), np.repeat([0.0, 100.0], 10), 1)[0]
    assert raw_difference(CONTRAST["intensity"], rows, 4).value == pytest.approx(10 * slope)


def test_clustered_slope_has_the_textbook_cluster_variance() -> None:
    # Liang K-Y, Zeger SL. Biometrika 1986;73:13-22: sum over clusters of the squared score sums, with G / (G - 1).
    rng = np.random.default_rng(8)
    group = np.repeat(np.arange(6), 10)
    x, y = rng.normal(size=60), rng.normal(size=60) + 0.5 * group
    X = np.column_stack([np.ones(60), x])
    bread = np.linalg.inv(X.T @ X)
    residual = y - X @ (bread @ X.T @ y)
    scores = np.stack([X[group == g].T @ residual[group == g] for g in range(6)])
    variance = (bread @ (scores.T @ scores) @ bread)[1, 1] * 6 / 5
    interval = clustered_slope(x, y, group)
    # 2.570582: t quantile at 5 degrees of freedom (handbook tables).
    assert interval.high - interval.value == pytest.approx(2.570582 * variance**0.5, rel=1e-6)


@pytest.mark.parametrize("amount", [0.0, 2.0, 0.4, 0.1 + 0.2])
def test_an_amount_that_never_changes_has_no_raw_difference(amount: float) -> None:
    # The mean of equal numbers may differ from them by rounding (0.4, 28 times), and a slope over that is no slope.
    x = np.full(28, amount)
    y = np.where(np.arange(28) % 3 == 0, 100.0, 0.0)
    assert np.isnan(clustered_slope(x, y, np.arange(28) // 7).value)
    x[::2] = np.nextafter(x[::2], amount + amount)
    assert np.isnan(clustered_slope(x, y, np.arange(28) // 7).value)
    assert np.isfinite(clustered_slope(x + np.arange(28), y, np.arange(28) // 7).value)


def test_prior_pain_is_the_mean_of_the_fourteen_days_before() -> None:
    frame = sessions([
        {"day": 0, "rating": 9.0}, {"day": 10, "rating": 2.0}, {"day": 12, "rating": NAN}, {"day": 14, "rating": 4.0},
        {"day": 15, "rating": 0.0}, {"athlete": "Bo", "day": 15, "rating": 0.0},
    ])  # fmt: skip
    found = prior_pain(frame)
    # Day 15 looks back to day 1: ratings 2 and 4. Day 14 looks back to day 0: 9 and 2. The first day has nothing.
    assert found.tolist() == pytest.approx([NAN, 9, 5.5, 5.5, 3, NAN], nan_ok=True)


def test_one_athletes_mean_has_no_interval() -> None:
    interval = clustered_mean(pd.Series([1.0, 3.0]), pd.Series(["Ada", "Ada"]))
    assert interval.value == 2
    assert np.isnan(interval.low)


# --- before an onset ---------------------------------------------------------------------------------------------


def test_the_weeks_before_an_onset_against_the_own_ordinary_days() -> None:
    ordinary = [{"day": 3 * i, "intensity": 80.0, "rating": 0.0} for i in range(20)]
    heavy = [{"day": 60 + 3 * i, "intensity": 90.0, "rating": 0.0} for i in range(8)]
    flare = [{"day": 87, "intensity": 90.0, "rating": 7.0}]
    after = [{"day": 90 + 3 * i, "intensity": 70.0, "rating": 0.0} for i in range(3)]
    frame = sessions([*ordinary, *heavy, *flare, *after])
    found = before_onset(frame, squad_flare_ups(frame, FlareUp()))
    intensity = next(record for record in found if record["exposure"] == "intensity")
    # Onset on day 87; days 59 to 86 hold the eight heavy sessions. Ordinary: days 0 to 57; the flare-up's own days not.
    assert intensity["flare_ups"] == 1
    assert intensity["difference"] == pytest.approx(10.0)
    assert (intensity["low"], intensity["high"]) == (None, None)


def test_no_flare_up_rests_on_nothing() -> None:
    frame = sessions([{"day": 3 * i} for i in range(10)])
    assert {record["flare_ups"] for record in before_onset(frame, squad_flare_ups(frame, FlareUp()))} == {0}


# --- curves ------------------------------------------------------------------------------------------------------


def test_a_curve_stays_where_the_data_are_and_is_never_graded(plant_graded: Graded) -> None:
    curve = fit_curve(plant_graded.rows, "intensity", 4)
    record = curve_record(curve, 4)
    seen = plant_graded.rows.frame.loc[plant_graded.rows.reported, "intensity"]
    assert record["points"][0]["x"] == pytest.approx(seen.quantile(0.02))
    assert record["points"][-1]["x"] == pytest.approx(seen.quantile(0.98))
    assert all(0 < point["low"] < point["per_100"] < point["high"] < 100 for point in record["points"])
    assert len(record["rug"]["pain"]) + len(record["rug"]["none"]) == int(plant_graded.rows.reported.sum())
    assert (record["grade"], record["exploratory"]) == (None, True)


def test_a_planted_slope_rises_along_the_curve(plant_graded: Graded) -> None:
    points = curve_record(fit_curve(plant_graded.rows, "intensity", 4), 4)["points"]
    assert points[-1]["per_100"] > points[0]["per_100"]


def test_a_bend_is_noted_and_a_straight_slope_is_not(plant_frame: pd.DataFrame) -> None:
    # The fault: pain only above 88 % of 1RM.
    rng = np.random.default_rng(9)
    heavy = (plant_frame["intensity"] > 88) & plant_frame["rating"].notna()
    light = ~heavy & plant_frame["rating"].notna()
    bent = plant_frame.copy()
    bent.loc[heavy, "rating"] = rng.integers(3, 9, int(heavy.sum())).astype(float)
    bent.loc[light, "rating"] = rng.integers(0, 5, int(light.sum())).astype(float)
    assert curvature_check(fit_curve(modelling_rows(bent), "intensity", 4)).outcome == "failed"
    straight = plant_frame.copy()
    level = 0.08 * (straight["intensity"] - 78) + rng.logistic(size=len(straight)) + 2
    straight["rating"] = level.round().clip(0, 10).where(straight["rating"].notna())
    assert curvature_check(fit_curve(modelling_rows(straight), "intensity", 4)).outcome == "passed"


def test_an_unfitted_curve_is_not_checked() -> None:
    assert curvature_check(None).outcome == "not checked"


# --- other choices -----------------------------------------------------------------------------------------------


def test_tilts_fill_only_what_was_not_reported(plant_graded: Graded) -> None:
    design = plant_graded.fits.main.primary.design
    filled = filled_risks(design, 4)
    reported = design.rows.reported
    for values in filled.values():
        assert values[reported] == pytest.approx(100.0 * (design.rows.rating >= 4))
    alike, three = filled["unreported alike"][~reported], filled["unreported three times as painful"][~reported]
    odds = lambda p: p / (100 - p)  # noqa: E731
    assert odds(three) == pytest.approx(3 * odds(alike))
    assert set(filled) == set(TILTS)


def test_the_worst_case_holds_every_tilt(plant_graded: Graded) -> None:
    models = plant_graded.fits.main
    other = fit_other_choices(models, 4, {}, weigh=False)
    worst = worst_cases(models.primary.design, 4)
    assert set(worst) == set(models.primary.design.exposures)
    for name, (low, high) in worst.items():
        for risk in other.tilts.values():
            assert low < risk.estimate[name] < high, name


def test_the_worst_case_is_linear_risk_with_the_unreported_filled_by_hand(plant_graded: Graded) -> None:
    design = plant_graded.fits.main.primary.design
    rows = design.rows
    own_mean = pd.Series(rows.values["intensity"].where(rows.reported)).groupby(rows.group).transform("mean")
    above = rows.values["intensity"].to_numpy() > own_mean.to_numpy()
    event = rows.frame["rating"].to_numpy() >= 4
    everything = np.ones(len(rows.group), dtype=bool)
    by_hand = [
        linear_risk(design, everything, 100.0 * np.where(rows.reported, event, side)).estimate["intensity"]
        for side in (~above, above)
    ]
    assert worst_cases(design, 4)["intensity"] == pytest.approx(by_hand, abs=1e-12)


def test_sensitivity_lines_say_what_they_are(plant_graded: Graded) -> None:
    n = len(plant_graded.rows.group)
    flare_days = np.where(plant_graded.rows.reported, plant_graded.rows.frame["rating"] >= 6, np.nan)
    other = fit_other_choices(plant_graded.fits.main, 4, {2: flare_days}, weigh=True)
    names = [line["name"] for line in sensitivity_lines(CONTRAST["safety"], other, 12)]
    assert names == [
        *TILTS,
        "worst case of unreported sessions",
        "weighted for why the safety bar was chosen",
        "against the straight bar as each lifter held it",
        "flare-up days, rise of 2",
    ]
    assert len(flare_days) == n
    assert sensitivity_lines(CONTRAST["safety"], None, 12) == []


def test_first_reports_make_a_line_where_a_session_has_several(plant_graded: Graded) -> None:
    rows = plant_graded.rows
    frame = rows.frame.assign(rating_first=(rows.frame["rating"] - (rows.frame["rating"] > 5)).clip(lower=0))
    other = fit_other_choices(_with_frame(plant_graded, frame), 4, {}, weigh=False)
    names = [line["name"] for line in sensitivity_lines(CONTRAST["intensity"], other, 24)]
    assert "first report of each session only" in names


def _with_frame(graded: Graded, frame: pd.DataFrame):
    """The main models with another frame behind the same rows."""
    from dataclasses import replace

    primary = graded.fits.main.primary
    design = replace(primary.design, rows=replace(primary.design.rows, frame=frame))
    return replace(graded.fits.main, primary=replace(primary, design=design))


def test_weights_for_the_bar_average_one_and_balance_prior_pain(plant_graded: Graded) -> None:
    design = plant_graded.fits.main.primary.design
    weights = safety_bar_weights(design)
    chosen = design.rows.values["safety"].to_numpy() > 0
    prior = design.X[:, design.column("recent ratings")]
    assert weights.mean() == pytest.approx(1.0)
    assert weights.min() > 0
    raw = prior[chosen].mean() - prior[~chosen].mean()
    weighted = np.average(prior[chosen], weights=weights[chosen]) - np.average(prior[~chosen], weights=weights[~chosen])
    assert abs(weighted) < abs(raw)


# --- residuals ---------------------------------------------------------------------------------------------------


def test_residuals_of_a_fitted_season_are_even(plant_graded: Graded) -> None:
    fitted = plant_graded.fits.main.primary
    residuals = quantile_residuals(fitted, np.random.default_rng(1))
    assert ((residuals >= 0) & (residuals <= 1)).all()
    outcomes = {check.name: check.outcome for check in residual_checks(fitted, np.random.default_rng(1))}
    assert outcomes["residuals"] == "passed"


def test_ratings_from_another_model_leave_uneven_residuals(plant_graded: Graded) -> None:
    from dataclasses import replace

    fitted = plant_graded.fits.main.primary
    # The fault: the fit is told that its highest categories never came up.
    faulty = replace(fitted, codes=np.minimum(fitted.codes, 1))
    outcomes = {check.name: check.outcome for check in residual_checks(faulty, np.random.default_rng(1))}
    assert outcomes["residuals"] == "failed"


def test_left_over_that_lingers_is_noted() -> None:
    rng = np.random.default_rng(2)
    group = np.repeat(np.arange(20), 50)
    independent = rng.random(1000)
    assert abs(lag_one(independent, group)) < 0.1
    lingering = np.repeat(rng.random(250), 4)
    assert lag_one(lingering, group) > 0.5


# --- athletes ----------------------------------------------------------------------------------------------------


def test_own_differences_are_pulled_towards_the_squads(plant_graded: Graded) -> None:
    fitted = plant_graded.fits.main.primary
    own = own_estimates.own_pulled(fitted, CONTRAST["intensity"], 23.0)
    slopes = fitted.fit.modes[:, 1 + fitted.design.slopes.index("intensity")]
    assert all(interval.low < interval.value < interval.high for interval in own)
    if fitted.fit.random_sd[1 + fitted.design.slopes.index("intensity")] == 0:
        assert np.ptp(slopes) == 0


def test_averaged_over_their_sessions_own_differences_make_the_squads(plant_graded: Graded) -> None:
    fitted = plant_graded.fits.main.primary
    own = [interval.value for interval in own_estimates.own_pulled(fitted, CONTRAST["intensity"], 23.0)]
    sessions_each = np.bincount(plant_graded.rows.group)
    squad = next(item for item in plant_graded.evidence if item.contrast.id == "intensity").effect.difference.value
    assert np.average(own, weights=sessions_each) == pytest.approx(squad)


def test_own_estimates_alone_need_thirty_reported_and_ten_at_each_level() -> None:
    rng = np.random.default_rng(5)

    def rows(n: int, n_safety: int):
        return modelling_rows(sessions([
            {"day": 14 + 3 * i, "bar": "safety" if i < n_safety else "straight", "intensity": rng.normal(80, 4),
             "sets_7d": float(rng.integers(8, 15)), "rating": float(rng.integers(0, 8))}
            for i in rng.permutation(n)
        ]))  # fmt: skip

    assert own_estimates.own_alone(rows(29, 12), np.arange(29), 4) == {}
    assert set(own_estimates.own_alone(rows(30, 10), np.arange(30), 4)) == {"intensity", "safety", "sets"}
    assert set(own_estimates.own_alone(rows(30, 9), np.arange(30), 4)) == {"intensity", "sets"}


def test_hc3_against_statsmodels() -> None:
    from statsmodels.regression.linear_model import OLS

    rng = np.random.default_rng(6)
    X = np.column_stack([np.ones(40), rng.normal(size=(40, 3))])
    y = rng.normal(size=40) * (1 + np.abs(X[:, 1]))
    estimate, se, df = own_estimates._hc3(X, y)
    reference = OLS(y, X).fit(cov_type="HC3")
    assert estimate == pytest.approx(reference.params)
    assert se == pytest.approx(reference.bse)
    assert df == 36


def test_slugs_are_file_names_and_distinct() -> None:
    slugs = athlete_pages._slugs(["Ada Łukasz-Example", "Ada Lukasz Example", "Ångström Bo", "李"])
    assert slugs["Ada Łukasz-Example"] == "ada-lukasz-example"
    assert slugs["Ada Lukasz Example"] == "ada-lukasz-example-2"
    assert len(set(slugs.values())) == 4
    assert all(slug.isascii() and slug.replace("-", "").isalnum() for slug in slugs.values())


def test_the_share_of_a_bar_before_onsets_is_a_mean_over_flare_ups() -> None:
    # Two lifters alike: none of the ordinary sessions on the safety bar, four of eight before the onset.
    one = [{"day": 3 * i, "rating": 0.0} for i in range(20)]
    one += [{"day": 60 + 3 * i, "bar": "safety" if i % 2 else "straight", "rating": 0.0} for i in range(8)]
    one += [{"day": 87, "rating": 7.0}]
    frame = sessions([{**row, "athlete": name} for name in ("Ada", "Bo") for row in one])
    found = before_onset(frame, squad_flare_ups(frame, FlareUp()))
    bar = next(record for record in found if record["exposure"] == "safety bar")
    assert (bar["statistic"], bar["flare_ups"], bar["athletes"]) == ("mean", 2, 2)
    # Days 59 to 86 hold eight sessions from day 60 on, every other one on the safety bar.
    assert bar["difference"] == pytest.approx(50.0)
