"""The PDFs: tagged, fonts embedded, letters boxed where the fonts lack them, nothing else needed to read them."""

import re
import subprocess
from pathlib import Path

import pytest

from preflare.reporting import write_reports
from preflare.reporting.athlete import athlete_page
from preflare.reporting.fonts import BOX, boxed
from preflare.reporting.material import Material
from preflare.reporting.pdf import pdf_page
from preflare.reporting.views import season_of
from preflare.reporting.words import load_words

from .invented import invented_findings, invented_views, people

pytestmark = pytest.mark.pdf


def _run(poppler, program, *arguments):
    done = subprocess.run([Path(poppler) / program, *map(str, arguments)], capture_output=True, text=True, check=True)
    return done.stdout


@pytest.fixture(scope="module")
def pdfs(report):
    return sorted(report.rglob("*.pdf"))


def test_every_page_but_the_logs_has_a_pdf(report, pdfs):
    assert {p.relative_to(report).with_suffix("").as_posix() for p in pdfs} == {
        p.relative_to(report).with_suffix("").as_posix() for p in report.rglob("*.html")
    } - {"logs"}


def test_pdfs_are_tagged_and_have_a_title(poppler, pdfs):
    # PDF/UA-1 itself is enforced by the writer (typst refuses to write otherwise); pdfinfo is the second opinion.
    for path in pdfs:
        info = _run(poppler, "pdfinfo", path)
        assert re.search(r"Tagged:\s+yes", info), path
        assert re.search(r"Title:\s+\S", info), path
        assert re.search(r"Page size:.*A4", info), path


def test_pdfs_name_their_language(pdfs):
    # PDF 32000-1:2008, 14.9.2: the natural language of the document stands in its catalogue as /Lang.
    for path in pdfs:
        assert re.search(rb"/Lang\s*\(en\)", path.read_bytes()), path


def test_pdfs_say_that_they_are_pdf_ua(pdfs):
    # ISO 14289-1: the identification schema pdfuaid:part with the value 1.
    for path in pdfs:
        assert b"pdfuaid:part" in path.read_bytes()


def test_all_fonts_are_embedded_and_map_to_unicode(poppler, pdfs):
    for path in pdfs:
        lines = _run(poppler, "pdffonts", path).splitlines()[2:]
        assert lines
        for line in lines:
            embedded, subset, unicode = line.split()[-5:-2]
            assert (embedded, subset, unicode) == ("yes", "yes", "yes"), line


def test_an_athletes_page_fits_two_sheets(poppler, report):
    for path in sorted((report / "athletes").glob("*.pdf")):
        assert int(re.search(r"Pages:\s+(\d+)", _run(poppler, "pdfinfo", path))[1]) <= 2


def test_the_pdf_says_what_the_page_says(poppler, report):
    text = re.sub(r"\s+", " ", _run(poppler, "pdftotext", "-layout", report / "team.pdf", "-"))
    for told in ("What came before the arm pain", "not a diagnosis", "contradicted by a check", "9,412 rows read",
                 "emergency care", "health data", "<script>alert(1)</script>"):  # fmt: skip
        assert told in text


def test_letters_that_no_font_has_become_a_box_and_the_others_stay(poppler, tmp_path):
    name = "Žofia 李雷 محمد 🏋"
    note = "杯 " * 100
    findings, views = invented_findings([name]), invented_views([name])
    views["note_report"] = views["note_report"].assign(evidence=note)
    findings["athletes"][0]["warnings"][0]["words"] = "numb 手 🖐 " + "x" * 200
    write_reports(findings, views, tmp_path)
    (path,) = (tmp_path / "athletes").glob("*.pdf")
    text = _run(poppler, "pdftotext", path, "-")
    assert "Žofia" in text
    assert BOX in text
    assert "李" not in text
    html = path.with_suffix(".html").read_text(encoding="utf-8")
    assert name in html
    assert note.strip() in (tmp_path / "logs.html").read_text(encoding="utf-8")


def test_a_long_word_is_broken_before_it_runs_off_the_sheet(poppler, tmp_path):
    name = "Ada " + "Longname" * 20
    findings, views = invented_findings([name]), invented_views([name])
    views["change"] = views["change"].assign(why="x" * 200)
    findings["athletes"][0]["warnings"][0]["words"] = "numb " + "x" * 200
    write_reports(findings, views, tmp_path)
    for path in tmp_path.rglob("*.pdf"):
        places = _run(poppler, "pdftotext", "-bbox", path, "-")
        ends = [float(end) for end in re.findall(r'xMax="([0-9.]+)"', places)]
        assert len(ends) > 200
        assert max(ends) <= 595.3 - 45 + 1  # A4 is 595.3 points wide (ISO 216), the margin 16 mm


def test_the_same_findings_give_the_same_pdf_at_any_hour():
    names = people(1)
    findings, views = invented_findings(names), invented_views(names)
    findings["made"]["when"] = "2026-06-08T09:00:00+00:00"
    material = Material(findings, views, load_words("en"), season_of(findings, views), {names[0]: "a"})
    one, other = (pdf_page(athlete_page(findings["athletes"][0], material)) for _ in range(2))
    assert one == other
    assert b"D:20260608" in one


def test_boxes_stand_only_for_what_is_missing():
    assert boxed("Åßđж α → 3–4 “ok”\n") == "Åßđж α → 3–4 “ok”\n"
    assert boxed("a\x00b🏋") == f"a{BOX}b{BOX}"
