"""Logs that others kept, since used for mending, come back no worse than kept_by_others/scores.csv says.

Their truth was written by those who made them. `python tests/reading/score.py --csv FOLDER ...` makes the figures anew.
"""

import csv
from pathlib import Path

import pytest

from reading.score import HEADINGS, figures

KEPT = Path(__file__).parent / "kept_by_others"
with (KEPT / "scores.csv").open(encoding="utf-8") as file:
    SCORES = list(csv.DictReader(file))


def test_every_log_has_its_figures() -> None:
    logs = {f"{path.parent.parent.name}/{path.parent.name}" for path in KEPT.glob("*/*/truth")}
    assert {row["log"] for row in SCORES} == logs
    assert len(logs) == 68


@pytest.mark.parametrize("row", SCORES, ids=lambda row: row["log"])
def test_a_log_is_read_no_worse_than_before(row: dict[str, str]) -> None:
    found = dict(zip(HEADINGS, *figures([KEPT / row["log"]]), strict=True))
    assert (found["sets"], found["reports"]) == (row["sets"], row["reports"])  # the truth itself
    for better in ("sets_right", "reports_right"):
        assert int(found[better]) >= int(row[better]), better
    for worse in ("silent_loads", "reports_invented"):
        assert int(found[worse]) <= int(row[worse]), worse
