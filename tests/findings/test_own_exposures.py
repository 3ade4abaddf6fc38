"""A squad's own exposures: what a planted one shows, what noise shows, and what is said where nothing can be."""

from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

from hand_logs import HandLogs
from preflare.errors import PreflareError
from preflare.exposures import finding_context, model_frame, own_queries
from preflare.findings import review
from preflare.findings.evidence import Graded
from preflare.findings.fitting import fit_ordinal
from preflare.findings.own_exposures import design_with, own_exposures
from preflare.models.design import primary_design
from preflare.models.rows import keep_rows, modelling_rows
from preflare.settings import Settings
from preflare.store import Store


def declared(name: str, unit: str = "hours", size: float = 1.0) -> dict[str, Any]:
    return {"name": name, "label": name.replace("_", " "), "unit": unit, "size": size,
            "meaning": "of the squad's own", "known": "before the session"}  # fmt: skip


@pytest.fixture(scope="module")
def records(plant_frame: pd.DataFrame) -> dict[str, dict[str, Any]]:
    """sleep_debt moves the rating, two hours by a point; coin is noise; stiff and colour are of other kinds."""
    rng = np.random.default_rng(11)
    sleep = rng.integers(0, 5, len(plant_frame)).astype(float)
    moved = (plant_frame["rating"] + (sleep - 2) / 2).round().clip(0, 10)
    stiff = (rng.random(len(plant_frame)) < 0.3).astype(float)
    stiff[:100] = np.nan
    rare = np.full(len(plant_frame), np.nan)
    rare[40:60] = rng.normal(size=20)
    frame = plant_frame.assign(
        rating=moved, sleep_debt=sleep, coin=rng.normal(size=len(plant_frame)), stiff=stiff, colour="red", rare=rare
    )
    asked = [
        declared("sleep_debt", size=4), declared("coin", "points"), declared("stiff", "yes/no"),
        declared("colour", "word"), declared("rare"), declared("not_in_the_frame"),
    ]  # fmt: skip
    return {record["id"]: record for record in own_exposures(frame, modelling_rows(frame), asked, 4, True)}


def test_a_planted_exposure_shows_per_its_declared_size(records: dict[str, dict[str, Any]]) -> None:
    found = records["sleep_debt"]
    assert 0 < found["low"] < found["per_100"] < found["high"]
    assert (found["size"], found["unit"]) == (4, "hours")
    assert found["sentence"].startswith("sleep debt: with 4 hours more than the same lifter otherwise had, ")
    assert "Not declared beforehand, so a question and no finding." in found["sentence"]


def test_noise_takes_in_no_difference(records: dict[str, dict[str, Any]]) -> None:
    assert records["coin"]["low"] < 0 < records["coin"]["high"]
    assert records["coin"]["contributing"] == records["coin"]["athletes"] == 24


def test_yes_against_no_without_the_sessions_that_say_neither(records: dict[str, dict[str, Any]]) -> None:
    found = records["stiff"]
    assert found["low"] < 0 < found["high"]
    assert found["missing"] > 0
    assert found["sessions"] + found["missing"] == records["coin"]["sessions"]
    assert "against the same lifter's sessions without it" in found["sentence"]


def test_nothing_is_graded(records: dict[str, dict[str, Any]]) -> None:
    assert {(record["grade"], record["exploratory"]) for record in records.values()} == {(None, True)}


def test_what_cannot_be_estimated_says_why(records: dict[str, dict[str, Any]]) -> None:
    assert records["colour"]["per_100"] is None
    assert records["colour"]["sentence"] == "colour: it is no number and no yes or no, so it is not estimated."
    assert records["rare"]["per_100"] is None
    assert "30 sessions and 3 lifters are needed" in records["rare"]["sentence"]
    assert "not_in_the_frame" not in records


def test_the_term_stands_beside_the_primary_models_own(plant_graded: Graded) -> None:
    # Noise beside the primary terms moves none of them by more than a little, and has a slope of its own.
    rng = np.random.default_rng(3)
    rows = plant_graded.rows
    with_noise = keep_rows(rows, np.ones(len(rows.group), dtype=bool))
    with_noise.frame["noise"] = rng.normal(size=len(rows.group))
    design = design_with(with_noise, "noise", 4)
    plain = primary_design(rows, 4)
    assert set(design.names) - set(plain.names) == {"within noise"}
    assert design.slopes[-1] == "noise"
    assert design.Z.shape[1] == plain.Z.shape[1] + 1
    fitted, primary = fit_ordinal(design, 4), plant_graded.fits.main.primary
    for name in ("intensity", "safety"):
        estimate, se = primary.log_odds(name)
        assert fitted.log_odds(name)[0] == pytest.approx(estimate, abs=0.2 * se)


def test_an_own_exposure_that_another_term_already_says(plant_frame: pd.DataFrame) -> None:
    frame = plant_frame.assign(again=plant_frame["intensity"] / 10)
    (record,) = own_exposures(frame, modelling_rows(frame), [declared("again", "tenths")], 4, True)
    assert record["per_100"] is None
    assert "other terms of the model already say it" in record["sentence"]


OWN_SQL = """-- name: evening
-- label: session in the evening
-- one row: squat session
-- key: session_id
-- known: before the session's day
-- column evening [yes/no]: an even day of the month stands for an evening here
-- size: 1
-- zero: the morning
-- missing: the 5th of the month
-- not applicable: sessions without a back squat
-- source: the squad's own question
-- checks: none
select session_id, case when day(date) != 5 then day(date) % 2 = 0 end as evening from squat_session
"""


def test_from_the_squads_own_file_to_the_findings(tmp_path: Path) -> None:
    (tmp_path / "own").mkdir()
    (tmp_path / "own" / "evening.sql").write_text(OWN_SQL)
    with Store.open(tmp_path / "season.duckdb") as store:
        logs = HandLogs().set(0).set(1).set(2).set(3).set(4).pain(0, 0).done()
        store.import_logs(logs, Settings(), "", own_queries=own_queries(tmp_path / "own"))
        frame, context = model_frame(store), finding_context(store)
    days = pd.to_datetime(frame["date"]).dt.day
    expected = [float("nan") if day == 5 else float(day % 2 == 0) for day in days]
    assert frame["evening"].tolist() == pytest.approx(expected, nan_ok=True)
    assert 5 in set(days)
    found = review(frame, Settings(), context)
    assert [(item["id"], item["label"], item["per_100"]) for item in found["exploratory"]] == [
        ("evening", "session in the evening", None)
    ]
    assert "these logs allow no model" in found["exploratory"][0]["sentence"]


def test_a_size_that_is_no_amount_is_refused(tmp_path: Path) -> None:
    (tmp_path / "evening.sql").write_text(OWN_SQL.replace("size: 1", "size: a lot"))
    with pytest.raises(PreflareError, match=r'evening.sql: "-- size: a lot" is not a number above 0'):
        own_queries(tmp_path)
