"""The main job on the demo season: every row accounted for, the same store the second time, every question answered.

What was planted in the demo logs is written in demo_logs/README.md; the worlds' truth is exact over the logistic noise
(simulate/truth.py), so it is an outside reference for the whole way from an untidy cell to a finding.
"""

import json
import re
from pathlib import Path

import pytest

from preflare.findings.contrasts import FAMILY
from preflare.resources import resource
from preflare.season import Season, find_season_file, review_logs

GRADES = {"clear", "leaning", "no clear difference", "too little data", "contradicted by a check"}


@pytest.fixture(scope="session")
def reviewed(tmp_path_factory):
    """The demo season reviewed once: (output folder, result)."""
    out = tmp_path_factory.mktemp("review")
    return out, review_logs([resource("demo_logs")], out)


@pytest.fixture(scope="session")
def findings(reviewed):
    return json.loads((reviewed[0] / "findings.json").read_text(encoding="utf-8"))


def planted() -> dict[str, float]:
    """What is true in the demo season, in counts per 100, from the table in its README."""
    text = (resource("demo_logs") / "README.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| ([^|]+) \| [\d.]+ \| ([+-][\d.]+) \|$", text, re.M)
    assert len(rows) == len(FAMILY)
    order = ("intensity", "safety", "cambered", "narrow", "wide", "high", "sets")
    return {name: float(value) for name, (_, value) in zip(order, rows, strict=True)}


def test_every_row_is_stored_set_aside_or_not_data(reviewed, findings):
    logs = findings["logs"]
    assert logs["rows_read"] == logs["rows_stored"] + logs["rows_rejected"] + logs["rows_not_data"]
    assert logs["rows_read"] > 10_000
    with Season.open(reviewed[0] / "season.duckdb", read_only=True) as season:
        assert season.store.frame("sheet_read")["is_balanced"].all()


def test_everything_that_the_readme_promises_comes_out(reviewed, findings):
    out, result = reviewed
    assert result.problem is None
    for name in ("season.duckdb", "findings.json", "team.html", "team.pdf", "logs.html"):
        assert (out / name).stat().st_size > 1_000
    pages = {path.stem for path in (out / "athletes").glob("*.html")}
    assert pages == {path.stem for path in (out / "athletes").glob("*.pdf")}
    assert len(pages) == len(findings["athletes"]) == 24
    assert list((out / "tables").glob("*.csv"))
    assert 8 <= len(result.summary) <= 20


def test_the_same_logs_again_change_nothing_but_the_list_of_imports(reviewed, tmp_path):
    import shutil

    again = tmp_path / "again.duckdb"
    shutil.copy(reviewed[0] / "season.duckdb", again)
    with Season.open(again) as season:
        tables = [name for (name,) in season.store.rows(
            "select table_name from information_schema.tables where table_type = 'BASE TABLE'")]  # fmt: skip
        before = {name: season.store.rows(f'select * from "{name}" order by all') for name in tables}
        summary = season.import_logs([resource("demo_logs")])
        after = {name: season.store.rows(f'select * from "{name}" order by all') for name in tables}
    assert summary.files_new == summary.files_replaced == 0
    assert {name for name in tables if before[name] != after[name]} == {"import_run"}


def test_each_primary_question_has_a_whole_finding(findings):
    by_id = {finding["id"]: finding for finding in findings["findings"]}
    assert list(by_id) == [contrast.id for contrast in FAMILY]
    for finding in by_id.values():
        assert finding["grade"] in GRADES
        assert finding["sentence"]
        assert finding["counts"]["sessions"] > 0
        if finding["grade"] != "too little data":
            assert finding["effect"]["low"] < finding["effect"]["per_100"] < finding["effect"]["high"]
            assert 0 <= finding["risks"]["from_per_100"] <= 100
            assert {check["name"] for check in finding["checks"] if check["vetoes"]}
    for answered in ("intensity", "safety", "narrow", "sets"):
        assert by_id[answered]["effect"]["per_100"] is not None


def test_no_clear_finding_about_a_planted_cause_has_the_wrong_sign(findings):
    """Bar position is the decoy: nothing was planted on it, so that it has no right sign to miss."""
    truth = planted()
    for finding in findings["findings"]:
        if finding["grade"] == "clear" and finding["id"] != "high":
            assert finding["effect"]["per_100"] * truth[finding["id"]] > 0


def test_the_safety_bars_raw_difference_stands_beside_the_adjusted_one(findings):
    """The coach of the demo club reaches for the safety bar after pain, so the raw figure leans towards harm."""
    (safety,) = [finding for finding in findings["findings"] if finding["id"] == "safety"]
    assert safety["risks"]["raw_per_100"] > safety["effect"]["per_100"]
    (chosen,) = [bar for bar in findings["bar_choice"] if bar["bar"] == "safety"]
    assert chosen["raw_per_100"] == pytest.approx(safety["risks"]["raw_per_100"])


def test_a_notebook_gets_the_same_findings_from_the_store(reviewed, findings):
    with Season.open(reviewed[0] / "season.duckdb", read_only=True) as season:
        again = season.findings()
    assert again["findings"] == findings["findings"]


def test_season_toml_is_found_beside_the_logs(tmp_path):
    assert find_season_file([resource("demo_logs")]) == resource("demo_logs") / "season.toml"
    assert find_season_file([resource("demo_logs") / "squad_sets.csv"]) == resource("demo_logs") / "season.toml"
    assert find_season_file([tmp_path]) is None


def test_the_readme_shows_what_the_demo_season_says(reviewed, findings):
    out, result = reviewed
    readme = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
    for line in "\n".join(result.summary).replace(str(out), "review").splitlines():
        assert line.rstrip() in readme
    for finding in findings["findings"]:
        effect = finding["effect"]
        estimate = f"{effect['per_100']:+.1f} ({effect['low']:+.1f} to {effect['high']:+.1f}) | {finding['grade']} |"
        assert f"| {planted()[finding['id']]:+.1f} | {finding['risks']['raw_per_100']:+.1f} | {estimate}" in readme
