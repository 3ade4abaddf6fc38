"""What the statistics hand over reaches the page: limits in every report, own questions, why a reading differs."""

import pandas as pd
import pytest

from preflare.findings import review
from preflare.reporting.checks import checks_section
from preflare.reporting.exploratory import exploratory_section
from preflare.reporting.finding import finding_block
from preflare.reporting.material import Material
from preflare.reporting.records import Section
from preflare.reporting.words import load_words
from preflare.settings import Settings
from preflare.simulate.frames import world_frame
from preflare.simulate.worlds import simulate_season

from .pagetext import _section

OWN = {"name": "evening", "label": "session in the evening", "unit": "yes/no", "size": 1.0, "meaning": "as logged",
       "known": "before the session"}  # fmt: skip


def said(section: Section | None) -> str:
    assert section is not None
    return "\n".join(_section(section))


@pytest.fixture(scope="module")
def season():
    """Twelve lifters whose coach reacts to pain and nothing else is true, with a column of the squad's own."""
    frame = world_frame(simulate_season("nullstrong", 12, 101))
    return frame.assign(evening=(frame["session_id"] % 2).astype(float))


def material(frame: pd.DataFrame) -> Material:
    return Material(review(frame, Settings(), {"exploratory": [OWN]}), {}, load_words("en"), None)


@pytest.fixture(scope="module")
def whole(season):
    return material(season)


@pytest.mark.parametrize("part", ["the season", "nothing", "eleven weeks"])
def test_skipped_reports_and_unmeasured_reaction_stand_on_every_team_page(season, whole, part):
    frames = {"nothing": season.iloc[:0], "eleven weeks": season[season["week"] < 11]}
    text = said(checks_section(material(frames[part]) if part in frames else whole))
    assert "where reports are skipped on painful days of one bar only" in text
    assert "A report after every session is the only cure." in text
    assert "A coach who reacts to what no log holds can make a bar look harmful or a load look harmless," in text


def test_load_that_was_changed_after_pain_is_said(whole):
    assert "Load was changed after pain (" in said(checks_section(whole))


def test_the_squads_own_question_stands_among_the_exploratory_ones(whole):
    text = said(exploratory_section(whole))
    assert "session in the evening: against the same lifter's sessions without it, " in text
    assert "Not declared beforehand, so a question and no finding." in text


def test_the_straight_bar_as_each_lifter_held_it_says_why_it_differs(whole):
    safety = next(finding for finding in whole.findings["findings"] if finding["id"] == "safety")
    section = Section("one", "One finding", (finding_block(safety, whole),))
    text = said(section)
    assert "against the straight bar as each lifter held it, not at medium grip and low position" in text
    assert "the safety bar has no grip to hold fixed" in text
