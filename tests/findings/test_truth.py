"""Planted differences come back within their intervals, signs right; a season without any carries no clear finding."""

import pandas as pd
import pytest
from scipy.stats import binom

from preflare.findings.evidence import Graded, grade_season
from preflare.findings.grade import CLEAR
from preflare.simulate.frames import world_frame
from preflare.simulate.truth import truth
from preflare.simulate.worlds import simulate_season

SEEDS = range(100, 106)
EXPECTED_COVERAGE = 0.91
"""The lowest that the analysis plan (section 8) allows a contrast in the `plant` world at 24 lifters."""


@pytest.fixture(scope="module")
def planted() -> list[tuple[Graded, dict[str, float]]]:
    made = []
    for seed in SEEDS:
        season = simulate_season("plant", 24, seed)
        true = {name: value.per_100 for name, value in truth(season).items()}
        made.append((grade_season(world_frame(season)), true))
    return made


def test_intervals_hold_the_truth_as_often_as_they_should(planted: list[tuple[Graded, dict[str, float]]]) -> None:
    held = [
        item.effect.difference.low <= true[item.contrast.id] <= item.effect.difference.high
        for graded, true in planted
        for item in graded.evidence
        if item.effect
    ]
    # Six seasons prove no coverage. Fewer than this many would come up once in a thousand at 91 %.
    assert sum(held) >= binom.ppf(0.001, len(held), EXPECTED_COVERAGE)
    assert len(held) >= 35


def test_no_clear_finding_has_the_wrong_sign(planted: list[tuple[Graded, dict[str, float]]]) -> None:
    for graded, true in planted:
        for item in graded.evidence:
            if item.grade == CLEAR and abs(true[item.contrast.id]) > 0.5:
                assert item.effect.difference.value * true[item.contrast.id] > 0, item.contrast.id


def test_the_strong_planted_effects_are_mostly_found(planted: list[tuple[Graded, dict[str, float]]]) -> None:
    # Analysis plan, section 5: clear in 87 % (intensity) and 81 % (sets) of such seasons; 2 of 6 would be rare.
    for name in ("intensity", "sets"):
        clear = sum(
            item.grade == CLEAR for graded, _ in planted for item in graded.evidence if item.contrast.id == name
        )
        assert clear >= binom.ppf(0.001, len(SEEDS), 0.73), name


def test_the_mean_estimate_is_near_the_mean_truth(planted: list[tuple[Graded, dict[str, float]]]) -> None:
    made = pd.DataFrame(
        [(i.contrast.id, i.effect.difference.value - true[i.contrast.id], i.effect.standard_error)
         for graded, true in planted for i in graded.evidence if i.effect],
        columns=["contrast", "error", "se"],
    )  # fmt: skip
    for name, own in made.groupby("contrast"):
        expected = (own["se"] ** 2).sum() ** 0.5 / len(own)
        assert abs(own["error"].mean()) < 3.3 * expected, name


def test_a_reacting_coach_alone_makes_no_clear_finding() -> None:
    for seed in range(3):
        graded = grade_season(world_frame(simulate_season("null", 24, seed)))
        assert not [item.contrast.id for item in graded.evidence if item.grade == CLEAR], seed
