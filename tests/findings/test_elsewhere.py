"""The negative-control outcome on a season without its fault, on one with it, and where it cannot be looked at."""

from dataclasses import replace
from typing import Any

import numpy as np
import pandas as pd
import pytest

from preflare.findings import review
from preflare.findings.checks import Check
from preflare.findings.contrasts import FAMILY
from preflare.findings.elsewhere import elsewhere_check, fit_elsewhere, rows_elsewhere
from preflare.findings.evidence import Graded
from preflare.findings.fitting import fit_ordinal
from preflare.models.design import primary_design
from preflare.settings import Settings


def checked(graded: Graded, elsewhere: pd.Series) -> dict[str, Check]:
    """The check of every contrast, with `elsewhere` (by session_id) as the ratings of knee, hip and back."""
    rows = graded.rows
    frame = rows.frame.assign(rating_elsewhere=rows.frame["session_id"].map(elsewhere))
    fits = replace(graded.fits, rows=replace(rows, frame=frame))
    fitted = fit_elsewhere(fits)
    return {contrast.id: elsewhere_check(contrast, fitted) for contrast in FAMILY}


@pytest.fixture(scope="module")
def knees(plant_frame: pd.DataFrame) -> pd.Series:
    """Knee ratings that nothing of the season moves, where the arm was reported."""
    rng = np.random.default_rng(8)
    rating = pd.Series(rng.binomial(6, 0.2, len(plant_frame)).astype(float), index=plant_frame["session_id"])
    return rating.where(plant_frame.set_index("session_id")["rating"].notna())


def test_knees_that_nothing_moves_pass(plant_graded: Graded, knees: pd.Series) -> None:
    made = checked(plant_graded, knees)
    for name in ("intensity", "safety", "narrow", "sets"):
        assert made[name].outcome == "passed", name
        assert abs(made[name].value) < made[name].limit
    assert not any(check.vetoes for check in made.values())


def test_knees_that_follow_the_load_fail_for_the_load(plant_graded: Graded, plant_frame: pd.DataFrame) -> None:
    # The fault: something behind both. Knees hurt by the same heavy sessions as arms.
    rng = np.random.default_rng(8)
    load = plant_frame["intensity"] - plant_frame.groupby("athlete")["intensity"].transform("mean")
    rating = np.clip(np.round(1 + load.to_numpy() / 5 + rng.normal(0, 1, len(load))), 0, 10)
    made = checked(plant_graded, pd.Series(rating, index=plant_frame["session_id"]))
    assert made["intensity"].outcome == "failed"
    assert made["intensity"].value > made["intensity"].limit > 1.96
    assert "went with it too" in made["intensity"].help
    assert made["narrow"].outcome == "passed"


def test_the_model_is_the_primary_one_with_another_outcome(plant_graded: Graded) -> None:
    # With the arm's own ratings in the place of the knee's, the fit is the primary fit, coefficient by coefficient.
    rows = plant_graded.rows
    own = replace(rows, frame=rows.frame.assign(rating_elsewhere=rows.frame["rating"]))
    fitted = fit_ordinal(primary_design(rows_elsewhere(own), 4), 4)
    primary = plant_graded.fits.main.primary
    assert fitted.fit.names == primary.fit.names
    assert np.allclose(fitted.fit.coefficients, primary.fit.coefficients, atol=1e-12)


def test_few_ratings_or_none_are_not_checked(plant_graded: Graded, knees: pd.Series) -> None:
    for elsewhere in (knees.where(knees.index < 100), knees * 0, pd.Series(np.nan, index=knees.index)):
        made = checked(plant_graded, elsewhere)
        assert {(check.outcome, check.value) for check in made.values()} == {("not checked", None)}
        assert "too few ratings of knee, hip or back" in made["safety"].help


def test_no_grade_moves_with_it_and_a_frame_without_it_is_not_checked(plant_frame: pd.DataFrame) -> None:
    few = plant_frame[plant_frame["athlete"].isin(sorted(plant_frame["athlete"].unique())[:10])].reset_index(drop=True)
    before = review(few.drop(columns="rating_elsewhere"), Settings())["findings"]
    after = review(few.assign(rating_elsewhere=few["rating"]), Settings())["findings"]
    assert [(f["grade"], f["effect"]) for f in before] == [(f["grade"], f["effect"]) for f in after]

    def outcomes(findings: list[dict[str, Any]]) -> set[str]:
        return {c["outcome"] for f in findings for c in f["checks"] if c["name"] == "elsewhere"}

    assert outcomes(before) == {"not checked"}
    assert outcomes(after) - {"not checked"}
