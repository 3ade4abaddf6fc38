"""Seasons with little in them: every page is still written, reads well and says nothing untrue."""

import re

import pytest

from preflare.reporting import views_needed, write_reports
from preflare.reporting.html import html_page
from preflare.reporting.material import Material
from preflare.reporting.records import figures
from preflare.reporting.team import team_page
from preflare.reporting.views import season_of
from preflare.reporting.words import load_words

from .invented import invented_findings, invented_views, people


def _written(tmp_path, findings, views):
    paths = write_reports(findings, views, tmp_path)
    assert all(path.is_file() and path.stat().st_size for path in paths)
    return {p.relative_to(tmp_path).as_posix(): p.read_text(encoding="utf-8") for p in paths if p.suffix == ".html"}


def _words(html):
    body = html.split("</style>", 1)[1].split("<script>", 1)[0]
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", body))


def test_no_pain_report_at_all_is_missing_and_not_painless(tmp_path):
    names = people(3)
    pages = _written(tmp_path, invented_findings(names, pain=False), invented_views(names, pain=False))
    team = _words(pages["team.html"])
    assert "No pain rating was read" in team
    assert "No rating does not mean no pain" in team
    assert "too little data" in team
    assert "Of 2,435 squat sessions, none was followed by a pain rating." in team
    assert "not known of 100" not in team
    assert "Was the bar chosen" not in team
    assert "When the logs end" not in team
    assert not re.search(r"\bnan\b|None|NaN", team)
    athlete = _words(pages["athletes/agnes-holt.html"])
    assert "missing, not painless" in athlete
    assert "Not known: no rating" in athlete


def test_only_the_straight_bar_asks_no_question_about_bars(tmp_path):
    names = people(3)
    findings = invented_findings(names, bars=("straight",))
    pages = _written(tmp_path, findings, invented_views(names, bars=("straight",)))
    assert "Was the bar chosen" not in pages["team.html"]


def test_one_lifter_is_written_about(tmp_path):
    pages = _written(tmp_path, invented_findings(people(1)), invented_views(people(1)))
    assert "1 lifter," in _words(pages["team.html"])
    assert len(pages) == 3


def test_sixty_lifters_stand_in_order_on_one_page():
    names = people(60)
    findings, views = invented_findings(names), invented_views(names)
    files = {name: f"p{i}" for i, name in enumerate(names)}
    page = team_page(Material(findings, views, load_words("en"), season_of(findings, views), files))
    html = html_page(page, "")
    people_in_order = re.findall(r'<h3><a href="athletes/[^"]+">([^<]+)</a></h3>', html)
    assert people_in_order == sorted(names)
    assert len(html) < 3_000_000
    response = next(chart for chart in figures(page) if chart.name == "response")
    assert all(name in response.wide and name in response.narrow for name in names)


def test_no_squats_and_nothing_else_still_makes_pages(tmp_path):
    names = people(2)
    findings = invented_findings(names, pain=False) | {"findings": [], "bar_choice": []}
    views = invented_views(names, squats=False, pain=False)
    pages = _written(tmp_path, findings, views)
    assert "What came before the arm pain" in pages["team.html"]
    assert "This says what came first in these logs" in pages["team.html"]


def test_views_that_are_absent_are_nothing_to_show(tmp_path):
    findings = {
        "findings": [],
        "athletes": [],
        "notes": [{"words": "No squat session with the bar on the back was read."}],
    }
    pages = _written(tmp_path, findings, {})
    assert "No squat session with the bar on the back was read." in _words(pages["team.html"])
    assert "Who?" not in pages["team.html"]


def test_a_view_without_a_needed_column_is_named(tmp_path):
    views = invented_views(people(1))
    views["screen"] = views["screen"].drop(columns="unit")
    with pytest.raises(KeyError, match="the view screen lacks the column unit"):
        write_reports(invented_findings(people(1)), views, tmp_path)


def test_the_invented_views_are_the_views_that_are_asked_for():
    views = invented_views(people(2))
    for name, columns in views_needed().items():
        assert set(columns) <= set(views[name].columns), name


@pytest.mark.parametrize("naming", ["initials", "codes"])
def test_no_name_is_left_where_people_are_disguised(tmp_path, naming):
    names = [*people(2), "Zoë O'Neil-Ågren"]
    findings, views = invented_findings(names), invented_views(names)
    findings["findings"][0]["checks"][0]["help"] = f"most of it rests on one lifter, {names[2]}"
    views["source_sheet"] = views["source_sheet"].assign(sheet="Agnes_Holt block 1")
    views["rejected_row"] = views["rejected_row"].assign(value="Agnes Holt | told Bilal about it | 12O")
    write_reports(findings, views, tmp_path, names=naming)
    parts = [part for name in names for part in re.split(r"\W+", name) if len(part) > 2]
    for path in tmp_path.rglob("*"):
        if path.suffix in (".html", ".csv"):
            text = re.sub(r"base64,[^)]*", "", path.read_text(encoding="utf-8"))
            assert not [part for part in parts if re.search(rf"\b{part}\b", text, re.I)], path
        assert not [part for part in parts if part.lower() in path.name.lower()]


def test_a_second_run_removes_only_its_own_pages_that_are_out_of_date(tmp_path):
    names = people(2)
    write_reports(invented_findings(names), invented_views(names), tmp_path)
    note = tmp_path / "athletes" / "my notes.html"
    note.write_text("mine", encoding="utf-8")
    write_reports(invented_findings(names[:1]), invented_views(names[:1]), tmp_path)
    left = sorted(path.name for path in (tmp_path / "athletes").iterdir())
    assert left == ["agnes-holt.html", "agnes-holt.pdf", "my notes.html"]
