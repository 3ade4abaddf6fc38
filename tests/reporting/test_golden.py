"""Every section of the team page and of an athlete's page, word for word, on a tiny invented season.

The texts under golden/ say what the pages say; they are no proof that a figure is right, which test_trace.py and
test_pages.py look after. After a wanted change of wording remake them and read the difference before committing it:

    REMAKE_GOLDEN=1 python -m pytest tests/reporting/test_golden.py
"""

import difflib
import os
from pathlib import Path

import pytest

from preflare.reporting.athlete import athlete_page
from preflare.reporting.material import Material
from preflare.reporting.report import _for_athlete
from preflare.reporting.team import team_page
from preflare.reporting.views import season_of
from preflare.reporting.words import load_words

from .invented import invented_findings, invented_views, people
from .pagetext import page_texts

GOLDEN = Path(__file__).with_name("golden")
TEAM = (
    "head",
    "learned",
    "trust",
    "pain",
    "intensity",
    "bars",
    "before",
    "exploratory",
    "changes",
    "who",
    "break",
    "done",
)
ATHLETE = ("head", "warnings", "season", "flares", "estimates", "screens")
NAMES = [*(("team", section) for section in TEAM), *(("athlete", section) for section in ATHLETE)]


@pytest.fixture(scope="module")
def told():
    """The texts of both pages, by page and section. Three lifters; the page is the first one's."""
    people_ = people(3)
    findings, views = invented_findings(people_), invented_views(people_)
    files = {name: f"lifter-{i}" for i, name in enumerate(people_, start=1)}
    material = Material(findings, views, load_words("en"), season_of(findings, views), files)
    athlete = findings["athletes"][0]
    pages = {"team": team_page(material), "athlete": athlete_page(athlete, _for_athlete(material, athlete))}
    return {(page, section): text for page, made in pages.items() for section, text in page_texts(made).items()}


def test_every_section_has_its_text(told):
    assert list(told) == NAMES
    if not os.environ.get("REMAKE_GOLDEN"):
        assert sorted(path.stem for path in GOLDEN.iterdir()) == sorted("-".join(name) for name in NAMES)


@pytest.mark.parametrize("name", NAMES, ids="-".join)
def test_a_section_says_what_it_said(told, name):
    path = GOLDEN / f"{'-'.join(name)}.txt"
    if os.environ.get("REMAKE_GOLDEN"):
        path.parent.mkdir(exist_ok=True)
        path.write_text(told[name], encoding="utf-8", newline="\n")
    was = path.read_text(encoding="utf-8")
    changed = "".join(
        difflib.unified_diff(was.splitlines(True), told[name].splitlines(True), f"golden/{path.name}", "the page now")
    )
    assert not changed, (
        f"\n{changed}\nIf this is wanted: REMAKE_GOLDEN=1 python -m pytest tests/reporting/test_golden.py"
    )
