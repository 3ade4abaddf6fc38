"""findings.json whole: complete, JSON-ready, and a plain sentence where there is nothing to fit."""

import json
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from preflare.errors import PreflareError
from preflare.findings import review, write_findings
from preflare.findings.contrasts import FAMILY
from preflare.findings.grade import GRADES
from preflare.findings.notes import LIMITS
from preflare.models.rows import modelling_rows
from preflare.settings import Event, Settings

SETTINGS = Settings()
TOP_LEVEL = {
    "schema_version", "made", "season", "definitions", "logs", "findings", "curves", "lags", "exploratory",
    "surveillance",
    "bar_choice", "case_crossover", "before_onset", "athletes", "changes", "notes",
}  # fmt: skip


@pytest.fixture(scope="module")
def found(plant_found: dict[str, Any]) -> dict[str, Any]:
    return plant_found


@pytest.fixture(scope="module")
def half_frame(plant_frame: pd.DataFrame) -> pd.DataFrame:
    """The season of its first twelve lifters."""
    return plant_frame[plant_frame["athlete"].isin(sorted(plant_frame["athlete"].unique())[:12])].reset_index(drop=True)


def sentences(findings: dict[str, Any]) -> list[str]:
    return [finding["sentence"] for finding in findings["findings"]]


def test_every_part_is_there(found: dict[str, Any]) -> None:
    assert set(found) == TOP_LEVEL
    assert [finding["id"] for finding in found["findings"]] == [contrast.id for contrast in FAMILY]
    for finding in found["findings"]:
        assert finding["grade"] in GRADES
        assert finding["sentence"]
        assert set(finding["effect"]) >= {"per_100", "low", "high", "p", "p_adjusted", "odds_ratio", "df"}
        assert set(finding["risks"]) >= {"from_per_100", "to_per_100", "raw_per_100"}
        assert finding["counts"]["athletes"] == 24
        for check in finding["checks"]:
            assert check["outcome"] in {"passed", "failed", "not checked"}
            assert check["help"]


def test_it_is_json_without_a_number_that_is_none(found: dict[str, Any], tmp_path: Path) -> None:
    path = write_findings(tmp_path / "findings.json", found)
    assert json.loads(path.read_text(encoding="utf-8")) == json.loads(json.dumps(found, allow_nan=False))
    assert list(tmp_path.iterdir()) == [path]


def test_the_same_frame_gives_the_same_findings(half_frame: pd.DataFrame) -> None:
    assert review(half_frame, SETTINGS) == review(half_frame, SETTINGS)


def test_an_estimate_lies_in_its_interval_and_between_its_risks(found: dict[str, Any]) -> None:
    for finding in found["findings"]:
        effect, risks = finding["effect"], finding["risks"]
        assert effect["low"] < effect["per_100"] < effect["high"]
        assert effect["per_100"] == pytest.approx(risks["to_per_100"] - risks["from_per_100"])
        for side in ("from", "to"):
            assert 0 < risks[f"{side}_low"] < risks[f"{side}_per_100"] < risks[f"{side}_high"] < 100


def test_the_safety_bars_raw_difference_stands_beside_the_adjusted_one(found: dict[str, Any]) -> None:
    safety = next(finding for finding in found["findings"] if finding["id"] == "safety")
    bars = {record["bar"]: record for record in found["bar_choice"]}
    assert bars["safety"]["raw_per_100"] == pytest.approx(safety["risks"]["raw_per_100"])
    assert bars["safety"]["per_100"] == safety["effect"]["per_100"]
    # Chosen because it hurt: more pain came before it, and the raw difference is pulled towards harm.
    assert bars["safety"]["prior_pain_mean"] > bars["straight"]["prior_pain_mean"]
    assert bars["safety"]["raw_per_100"] > bars["safety"]["per_100"]


def test_every_report_carries_the_limits(found: dict[str, Any]) -> None:
    names = {note["name"] for note in found["notes"]}
    assert {"blind_spot", "unmeasured", "error_rates", "event", "not_a_reason"} <= names
    words = " ".join(note["words"] for note in found["notes"])
    assert "about 30 % of reports carry a false clear finding" in words
    # The plan measured 1 and 9, this program 2 and 4 (tests/reference/calibration/error_rates.txt).
    assert "1 to 2 of 100 reports" in words
    assert "4 to 9 of 100" in words


@pytest.mark.parametrize("part", ["nothing", "unreported", "eleven weeks", "one lifter"])
def test_the_limits_stand_in_every_report_whatever_the_logs_hold(plant_frame: pd.DataFrame, part: str) -> None:
    frame = {
        "nothing": plant_frame.iloc[:0],
        "unreported": plant_frame.assign(rating=float("nan"), last_rating=float("nan"), last_rating_pre=float("nan")),
        "eleven weeks": plant_frame[plant_frame["week"] < 11],
        "one lifter": plant_frame[plant_frame["athlete"].eq(plant_frame["athlete"].iloc[0])],
    }[part]
    words = {note["name"]: note["words"] for note in review(frame, SETTINGS)["notes"]}
    assert set(LIMITS) <= set(words)
    assert "no analysis of the logs alone can see it" in words["blind_spot"]
    assert "A coach who reacts to what no log holds can make a bar look harmful" in words["unmeasured"]


def test_context_is_taken_over(plant_frame: pd.DataFrame) -> None:
    logs = {"rows_read": 7, "rows_stored": 7, "rows_rejected": 0, "rows_not_data": 0}
    context = {
        "logs": logs,
        "season": {"name": "Winter"},
        "definitions": {"first_seen": "2025-09-01"},
        "changes": [{"what": "x"}],
    }
    found = review(plant_frame.iloc[:0], SETTINGS, context)
    assert found["logs"] == logs
    assert found["season"]["name"] == "Winter"
    assert found["definitions"]["first_seen"] == "2025-09-01"
    assert found["definitions"]["hash"] == SETTINGS.definitions_hash()
    assert found["changes"] == [{"what": "x"}]


def no_model(frame: pd.DataFrame) -> list[str]:
    """The sentences of a review that can grade nothing."""
    found = review(frame, SETTINGS)
    assert {finding["grade"] for finding in found["findings"]} == {"too little data"}
    assert {finding["effect"]["per_100"] for finding in found["findings"]} == {None}
    assert found["curves"] == []
    json.dumps(found, allow_nan=False)
    return sentences(found)


def test_logs_without_squats(plant_frame: pd.DataFrame) -> None:
    assert all("No squat session with the bar on the back was read." in s for s in no_model(plant_frame.iloc[:0]))


def test_logs_without_pain_reports(plant_frame: pd.DataFrame) -> None:
    unreported = plant_frame.assign(rating=float("nan"), last_rating=float("nan"), last_rating_pre=float("nan"))
    assert all("No pain rating followed a squat session." in s for s in no_model(unreported))


def test_one_lifter(plant_frame: pd.DataFrame) -> None:
    alone = plant_frame[plant_frame["athlete"].eq(plant_frame["athlete"].iloc[0])]
    assert all("The logs hold one lifter" in s for s in no_model(alone))


def test_under_twelve_weeks_are_only_described(plant_frame: pd.DataFrame) -> None:
    early = plant_frame[plant_frame["week"] < 11]
    assert all("The logs cover 11 weeks" in s for s in no_model(early))
    found = review(early, SETTINGS)
    assert len(found["surveillance"]["weekly"]) == 11
    assert len(found["athletes"]) == 24


def test_ratings_that_never_reach_the_event(half_frame: pd.DataFrame) -> None:
    mild = half_frame.assign(rating=half_frame["rating"].clip(upper=3))
    assert all("No session was followed by a rating of 4 or more" in s for s in no_model(mild))


def test_a_bar_that_always_hurts_leaves_the_others_answerable(plant_frame: pd.DataFrame) -> None:
    hurts = plant_frame["bar"].eq("safety") & plant_frame["rating"].notna()
    found = review(plant_frame.assign(rating=plant_frame["rating"].mask(hurts, 10.0)), SETTINGS)
    by_id = {finding["id"]: finding for finding in found["findings"]}
    assert by_id["safety"]["grade"] == "too little data"
    assert "so its share cannot be estimated" in by_id["safety"]["sentence"]
    assert by_id["intensity"]["effect"]["per_100"] is not None


def test_an_exposure_nobody_writes_down_is_said_to_be_unwritten(half_frame: pd.DataFrame) -> None:
    found = review(half_frame.assign(grip_width=None, grip_applies=False), SETTINGS)
    by_id = {finding["id"]: finding for finding in found["findings"]}
    for name in ("narrow", "wide"):
        assert by_id[name]["grade"] == "too little data"
        assert "Fewer than half of the sessions say which grip width it was." in by_id[name]["sentence"]
    assert by_id["safety"]["effect"]["per_100"] is not None


def test_another_event_rating_moves_every_count(half_frame: pd.DataFrame) -> None:
    milder = review(half_frame, Settings(event=Event(rating=3)))
    events = int((modelling_rows(half_frame).rating >= 3).sum())
    assert {finding["counts"]["events"] for finding in milder["findings"]} == {events}
    assert "arm pain of at least 3" in sentences(milder)[0]


def test_findings_that_cannot_be_written_say_so_in_words(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("here first")
    with pytest.raises(PreflareError, match="cannot be written"):
        write_findings(tmp_path / "file" / "findings.json", {"a": 1})


def test_notes_say_what_the_1rm_and_the_working_sets_rest_on(half_frame: pd.DataFrame) -> None:
    borrowed = half_frame.assign(effort_unmarked_share=0.25)
    borrowed.loc[:9, "intensity_source"] = "squad ratio"
    views = {"set_share": pd.DataFrame([{"season": 0, "squat_sets": 900, "light_sets": 100}])}
    words = {note["name"]: note["words"] for note in review(borrowed, SETTINGS, {"views": views})["notes"]}
    assert words["borrowed_one_rm"].startswith("10 sessions (1 %) take their 1RM from the lifter's straight bar")
    assert words["effort_unmarked"].startswith("25 % of sets carry no effort mark")
    assert words["light_sets"].startswith("100 sets (10 % of squat sets) carry no warm-up mark")
