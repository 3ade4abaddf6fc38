"""Seasons in which the coach reacts to pain and nothing else is true: no sentence tells a coach something false."""

import re

import pytest

from preflare.findings.notes import LIMITS
from preflare.simulate.sentences import main, season_findings, spoken


@pytest.fixture(scope="module", params=[("null", 101), ("nullstrong", 103)], ids=["null", "nullstrong"])
def found(request):
    """Two of the seasons that the command prints; the second one leans in three questions."""
    return season_findings(*request.param)


def test_a_direction_stands_only_as_a_question_or_under_a_failed_check(found):
    for finding in found["findings"]:
        said = re.search(r"followed by arm pain of at least 4 (more|less) often", finding["sentence"])
        if not said:
            continue
        assert finding["grade"] in ("leaning", "contradicted by a check")
        if finding["grade"] == "leaning":
            assert finding["sentence"].startswith("Were ")
            assert "do not settle it" in finding["sentence"]


def test_a_lean_that_the_coachs_reaction_makes_says_so(found):
    for finding in found["findings"]:
        lead = [c for c in finding["checks"] if c["name"] == "lead" and c["outcome"] == "failed"]
        if lead and finding["grade"] == "leaning":
            assert "And it is in doubt: what came the week after" in finding["sentence"]


def test_it_says_that_load_was_changed_after_pain_and_that_this_may_not_all_be_allowed_for(found):
    words = {note["name"]: note["words"] for note in found["notes"]}
    assert words["reacted"].startswith("Load was changed after pain (")
    assert "can make a bar look harmful" in words["unmeasured"]
    assert "reports are skipped on painful days of one bar only" in words["blind_spot"]
    assert set(LIMITS) <= set(words)


def test_the_command_prints_every_sentence(capsys):
    assert main(["--world", "null", "--seeds", "1", "--lifters", "8"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "null, seed 101"
    assert lines[1:-1] == list(spoken(season_findings("null", 101, 8)))
