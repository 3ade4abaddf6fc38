"""The bar against the straight bar as each lifter held it: other levels of the same model, by hand, by brute force."""

from typing import Any

import numpy as np
import pandas as pd
import pytest
from scipy.special import expit

from findings.squat_rows import many, sessions
from preflare.findings import review
from preflare.findings.contrasts import FAMILY, levels_as_held
from preflare.findings.effects import contrast_risks, risks_at
from preflare.findings.evidence import Graded
from preflare.models.rows import modelling_rows
from preflare.settings import Settings

CONTRAST = {contrast.id: contrast for contrast in FAMILY}
NAME = "against the straight bar as each lifter held it"
HANDLES: dict[str, Any] = {"bar": "safety", "grip_width": None, "bar_position": None, "grip_applies": False}


def line(found: dict[str, Any], finding: str) -> dict[str, Any]:
    """That line of a finding."""
    lines = next(item for item in found["findings"] if item["id"] == finding)["sensitivity"]
    return next(item for item in lines if item["name"] == NAME)


def test_levels_by_hand() -> None:
    # Ada: 3 of 4 straight sessions narrow, 1 of 4 high. Bea: medium and low throughout. Cy never squats on the straight
    # bar, so the squad's 3 of 8 and 1 of 8 stand for it. On the safety bar nobody holds anything.
    ada = [*many(2, grip_width="narrow"), *many(1, grip_width="narrow", bar_position="high"), *many(1)]
    bea = [*many(4, "Bea Sample"), *many(2, "Bea Sample", **HANDLES)]
    rows = modelling_rows(sessions([*ada, *many(1, **HANDLES), *bea, *many(2, "Cy Invented", **HANDLES)]))
    levels = levels_as_held(CONTRAST["safety"], rows)
    of = {name: rows.group == code for code, name in enumerate(rows.athletes)}
    assert np.unique(levels.at_from["narrow"][of["Ada Example"]]) == pytest.approx([0.75])
    assert np.unique(levels.at_from["high"][of["Ada Example"]]) == pytest.approx([0.25])
    assert np.unique(levels.at_from["narrow"][of["Bea Sample"]]) == pytest.approx([0.0])
    assert np.unique(levels.at_from["narrow"][of["Cy Invented"]]) == pytest.approx([3 / 8])
    assert np.unique(levels.at_from["high"][of["Cy Invented"]]) == pytest.approx([1 / 8])
    for name in ("narrow", "wide", "high"):
        assert not np.any(levels.at_to[name])
    assert (levels.at_from["safety"], levels.at_to["safety"], levels.at_to["cambered"]) == (0.0, 1.0, 0.0)
    assert levels.where.all()


def test_a_bar_with_a_grip_stands_as_it_was_held_itself() -> None:
    # Ada holds the cambered bar wide in 1 of 2 sessions; Bea has none, so hers stands as her straight bar, narrow.
    ada = [*many(2), *many(1, bar="cambered", grip_width="wide"), *many(1, bar="cambered")]
    rows = modelling_rows(sessions([*ada, *many(2, "Bea Sample", grip_width="narrow")]))
    levels = levels_as_held(CONTRAST["cambered"], rows)
    ada_rows = rows.group == rows.athletes.index("Ada Example")
    assert np.unique(levels.at_to["wide"][ada_rows]) == pytest.approx([0.5])
    assert np.unique(levels.at_from["wide"][ada_rows]) == pytest.approx([0.0])
    assert np.unique(levels.at_to["narrow"][~ada_rows]) == pytest.approx([1.0])
    assert np.unique(levels.at_from["narrow"][~ada_rows]) == pytest.approx([1.0])


def test_the_difference_by_brute_force(plant_graded: Graded) -> None:
    # Session by session from the coefficients: what the declared contrast adds, plus what the own hold takes away.
    fitted = plant_graded.fits.main.primary
    rows, design = fitted.design.rows, fitted.design
    levels = levels_as_held(CONTRAST["safety"], rows)
    declared = contrast_risks(fitted, CONTRAST["safety"])
    beta = dict(zip(fitted.fit.names, fitted.fit.coefficients, strict=True))
    modes = np.asarray(fitted.fit.modes)
    eta = design.X @ fitted.fit.coefficients + np.einsum("nq,nq->n", design.Z, modes[rows.group])
    theta = fitted.fit.thresholds[fitted.threshold]
    slope = {
        name: beta[f"within {name}"] + modes[rows.group, 1 + design.slopes.index(name)] / design.scale[name]
        for name in design.exposures
    }
    now = {name: design.X[:, design.column(f"within {name}")] + design.column_mean[design.column(f"within {name}")]
           for name in design.exposures}  # fmt: skip
    other = beta.get("within other", 0.0)
    assert other == 0.0  # the simulated squad has no other bar

    def risk(values: dict[str, Any]) -> float:
        shifted = eta.copy()
        for name in ("safety", "cambered", "narrow", "wide", "high"):
            wanted = values[name] - design.centre[name][rows.group]
            shifted += slope[name] * (wanted - now[name])
        return float(expit(shifted - theta).mean())

    assert risks_at(fitted, levels).difference == pytest.approx(risk(levels.at_to) - risk(levels.at_from), abs=1e-12)
    assert declared.difference == pytest.approx(
        risk({**dict.fromkeys(("cambered", "narrow", "wide", "high"), 0.0), "safety": 1.0})
        - risk(dict.fromkeys(("safety", "cambered", "narrow", "wide", "high"), 0.0)),
        abs=1e-12,
    )


def test_who_holds_every_straight_bar_at_the_reference_changes_nothing(plant_frame: pd.DataFrame) -> None:
    few = plant_frame[plant_frame["athlete"].isin(sorted(plant_frame["athlete"].unique())[:12])]
    held = few["grip_width"].notna()
    same = few.assign(
        grip_width=few["grip_width"].where(~held, "medium"), bar_position=few["bar_position"].where(~held, "low")
    )
    found = review(same.reset_index(drop=True), Settings())
    safety = next(item for item in found["findings"] if item["id"] == "safety")
    for key in ("per_100", "low", "high"):
        assert line(found, "safety")[key] == pytest.approx(safety["effect"][key], abs=1e-9)


def test_a_hold_that_hurts_counts_with_the_straight_bar(plant_frame: pd.DataFrame) -> None:
    # Three points more after every narrow session: lifters who hold the straight bar narrow in part are further from
    # the safety bar as they held it than at medium grip.
    worse = (plant_frame["rating"] + 3).clip(upper=10).where(plant_frame["grip_width"].eq("narrow"))
    found = review(plant_frame.assign(rating=worse.fillna(plant_frame["rating"])), Settings())
    safety = next(item for item in found["findings"] if item["id"] == "safety")
    assert line(found, "safety")["per_100"] < safety["effect"]["per_100"] - 2
    assert "has no grip to hold fixed" in line(found, "safety")["help"]
    assert "each bar stands as each lifter held it" in line(found, "cambered")["help"]
    shown = {item["id"] for item in found["findings"] if NAME in [n["name"] for n in item["sensitivity"]]}
    assert shown == {"safety", "cambered"}
