"""What stands on the pages, read as a reader would: text without its setting."""

import re

import pytest

from preflare.reporting import report as report_module
from preflare.reporting import write_reports
from preflare.reporting.headline import headlines
from preflare.reporting.material import Material
from preflare.reporting.records import FindingBlock, figures, plain
from preflare.reporting.report import share_of_this_process
from preflare.reporting.team import team_page
from preflare.reporting.views import season_of
from preflare.reporting.words import load_words

from .invented import GRADES, invented_findings, invented_views, people

WORDS = load_words("en")


def material(n=9, **kw) -> Material:
    names = people(n)
    findings, views = invented_findings(names, **kw), invented_views(names)
    return Material(findings, views, WORDS, season_of(findings, views), {name: f"p{i}" for i, name in enumerate(names)})


@pytest.fixture(scope="module")
def page():
    return team_page(material())


def test_every_primary_finding_is_shown_with_grade_counts_and_checks(page):
    blocks = [b for b in page.sections[0].blocks if isinstance(b, FindingBlock)]
    assert [b.id for b in blocks] == list(GRADES)
    assert [b.grade_word for b in blocks] == list(GRADES.values())
    for block in blocks:
        assert any("with a rating" in plain(line) for line in block.small)
        assert any("Checks" in plain(line) for line in block.small)
        if block.grade != "too little data":
            assert block.figure is not None
            assert "odds ratio 1.7 (1.2 to 2.4)" in plain(block.small[0]).lower()


def test_a_bar_shows_its_raw_difference_beside_the_adjusted_one(page):
    safety = next(b for b in page.sections[0].blocks if isinstance(b, FindingBlock) and b.id == "safety")
    told = " ".join(plain(line) for line in safety.small)
    assert "raw 3 fewer of 100 (7 fewer to 2 more)" in told
    assert "adjusted 7 more of 100 (1 more to 13 more)" in told


@pytest.mark.parametrize(
    "grades",
    [
        GRADES,
        dict.fromkeys(GRADES, "clear"),
        dict.fromkeys(GRADES, "too little data"),
        dict.fromkeys(GRADES, "no clear difference"),
        dict(
            zip(
                GRADES,
                [
                    "clear",
                    "clear",
                    "leaning",
                    "leaning",
                    "contradicted by a check",
                    "no clear difference",
                    "too little data",
                ],
                strict=True,
            )
        ),
    ],
)
def test_the_short_answer_has_at_most_five_sentences_and_names_every_question(grades):
    lines = headlines(material(grades=grades))
    assert 2 <= len(lines) <= 5
    assert plain(lines[-1].sentence).startswith("What these logs cannot say")
    led_to = {s.href for line in lines for told in (line.sentence, *line.lines) for s in told if s.href}
    missing = {f"#finding-{q}" for q in grades} - led_to
    assert not missing


def test_the_text_alternative_of_a_pair_says_what_is_seen(page):
    pair = next(f for f in figures(page) if f.name == "pair-safety")
    assert pair.alternative == (
        "Safety bar. straight: 8 of 100 (4 to 13) sessions followed by arm pain. "
        "safety: 15 of 100 (9 to 25). Grade: leaning."
    )


def test_every_chart_has_a_text_alternative_and_its_numbers(page):
    for chart in figures(page):
        assert len(chart.alternative) > 20
        if not chart.name.startswith(("strip-", "pair-")):
            assert chart.table is not None
    for block in page.sections[0].blocks:
        if isinstance(block, FindingBlock) and block.figure:
            assert block.behind


def test_people_stand_in_alphabetical_order(page):
    who = next(s for s in page.sections if s.id == "who")
    names = [b.name for b in who.blocks if b.kind == "person"]
    assert names == sorted(people(9))


def test_the_response_map_counts_weeks_by_state(page):
    chart = next(f for f in figures(page) if f.name == "response")
    weeks = invented_views(people(9))["response_week"]
    for name, reported, *_ in chart.table.rows:
        own = weeks[weeks["athlete"] == plain(name)]
        k, n = (own["state"] == "reported").sum(), (own["state"] != "no log").sum()
        assert plain(reported) == f"{k} of {n}"


def test_changes_have_a_heading_only_where_some_were_recorded():
    some = material(2)
    views = {k: v for k, v in some.views.items() if k != "change"}
    none = Material(some.findings, views, WORDS, season_of(dict(some.findings), views), some.files)
    assert any(s.id == "changes" for s in team_page(some).sections)
    assert not any(s.id == "changes" for s in team_page(none).sections)


def test_no_heading_stands_without_an_answer(pages):
    pattern = r"<section[^>]*>\s*<h2[^>]*>(.*?)</h2>\s*<div class=.answer.>(.*?)</section>"
    for name, html in pages.items():
        for heading, answer in re.findall(pattern, html, re.S):
            assert len(re.sub(r"<[^>]*>|\s", "", answer)) > 10, (name, heading)


def test_no_page_asks_what_this_issue_does_not_answer(pages):
    for html in pages.values():
        for heading in re.findall(r"<h[1-4][^>]*>(.*?)</h[1-4]>", html, re.S):
            assert not re.search(r"next block|did it help", heading, re.I)


def test_warnings_bring_the_caution_with_them(pages):
    name, html = next((n, h) for n, h in pages.items() if n.startswith("athletes/"))
    warned = re.search(r'<section id="warnings".*?</section>', html, re.S)
    assert warned is not None, name
    assert "A rating of 7 was logged" in warned[0]
    assert "emergency care" in warned[0]


def test_the_page_on_the_logs_lists_every_rejected_row_with_its_remedy(pages):
    logs = pages["logs.html"]
    for told in ("autumn.csv, row 41, column F", "12O", "is not a number", "Correct the cell and import again.",
                 "9,412 rows read = 9,180 stored + 57 set aside + 175 not data", "this is a picture, not a table",
                 "left elbow 3/10 after squats", "safety"):  # fmt: skip
        assert told in logs
    assert re.search(r"\[words\] bar\.safety = \[(&#34;|&quot;)yoke thing(&#34;|&quot;)\]", logs)


@pytest.mark.parametrize(("athletes", "cores"), [(24, 1), (24, 2), (24, 8), (1, 2), (0, 4), (60, 2), (100, 64)])
def test_the_work_is_shared_so_that_no_process_waits_long(athletes, cores):
    # In athletes' pages: this process also writes the team page (6), each other one first starts (5).
    mine = share_of_this_process(athletes, cores)
    assert 0 <= mine <= athletes
    theirs = athletes - mine
    if cores == 1:
        assert theirs == 0
    elif mine and theirs:
        assert abs((mine + 6) - (theirs / (cores - 1) + 5)) <= 1.1


def test_pages_are_the_same_whether_written_by_one_process_or_by_two(tmp_path, monkeypatch):
    names = people(3)
    findings, views = invented_findings(names), invented_views(names)
    findings["made"]["when"] = "2026-06-08T09:00:00+00:00"
    folders = {}
    for cores in (1, 2):
        monkeypatch.setattr(report_module.joblib, "cpu_count", lambda cores=cores: cores)
        monkeypatch.setattr(report_module, "share_of_this_process", lambda n, cores: n if cores == 1 else 1)
        folders[cores] = tmp_path / str(cores)
        write_reports(findings, views, folders[cores])
    files = {p.relative_to(folders[1]) for p in folders[1].rglob("*") if p.is_file()}
    assert len(files) > 20
    assert files == {p.relative_to(folders[2]) for p in folders[2].rglob("*") if p.is_file()}
    for file in files:
        assert (folders[1] / file).read_bytes() == (folders[2] / file).read_bytes(), file
