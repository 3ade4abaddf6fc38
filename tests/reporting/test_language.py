"""The language is a parameter: no word that a reader sees is written in the code, a template or a chart."""

import re
import subprocess
from html.parser import HTMLParser
from pathlib import Path

import pytest

from preflare.reading import vocabulary
from preflare.reading.roles import ROLE_WORDS
from preflare.reporting.athlete import athlete_page
from preflare.reporting.html import html_page
from preflare.reporting.logs import logs_page
from preflare.reporting.material import Material
from preflare.reporting.pdf import pdf_page
from preflare.reporting.team import team_page
from preflare.reporting.views import season_of
from preflare.reporting.words import load_words

from .invented import invented_findings, invented_views, people
from .pseudo import CYRILLIC, greek_findings, greek_views, pseudo_words

SPOKEN = ("aria-label", "alt", "title", "placeholder", "aria-description")
LATIN = re.compile(r"[A-Za-z]+")
# Outside any language: the program's name, kinds of files, the hash, a cell's column, letters of recorded changes, and
# what is typed into season.toml.
LATIN_AGAIN = {new: old for old, new in CYRILLIC.items()}
OUTSIDE = re.compile(r"\b(?:preflare|csv|utf-8|189200d86231|F|A|B)\b|\[words\] [a-z_]+\.[a-z]+ = ")


class _Visible(HTMLParser):
    """Collects what a reader sees or hears: text outside style and script, and the attributes that are read aloud."""

    def __init__(self) -> None:
        super().__init__()
        self.told: list[str] = []
        self.language = ""
        self._silent = 0

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        if tag == "html":
            self.language = found["lang"]
        self._silent += tag in ("style", "script")
        self.told += [found[name] for name in SPOKEN if found.get(name)]

    def handle_endtag(self, tag):
        self._silent -= tag in ("style", "script")

    def handle_data(self, data):
        if not self._silent and data.strip():
            self.told.append(data.strip())


def _visible(html: str) -> _Visible:
    parser = _Visible()
    parser.feed(html)
    return parser


def _latin(texts):
    return sorted({(word, text[:70]) for text in texts for word in LATIN.findall(OUTSIDE.sub("", text))})


@pytest.fixture(scope="module")
def material():
    names = people(3)
    findings = greek_findings(invented_findings(names))
    views = greek_views(invented_views(names))
    files = {a["name"]: f"{i}" for i, a in enumerate(findings["athletes"])}
    return Material(findings, views, pseudo_words(), season_of(findings, views), files)


@pytest.fixture(scope="module")
def made_pages(material):
    return {
        "team": team_page(material),
        "athlete": athlete_page(material.findings["athletes"][0], material),
        "logs": logs_page(material),
    }


@pytest.mark.parametrize("page", ["team", "athlete", "logs"])
def test_no_word_on_a_page_is_written_outside_the_language_file(made_pages, page):
    seen = _visible(html_page(made_pages[page], ""))
    assert len(seen.told) > 60
    assert _latin(seen.told) == []
    assert seen.language == "ru"


@pytest.mark.pdf
@pytest.mark.parametrize("page", ["team", "athlete"])
def test_no_word_in_a_pdf_is_written_outside_the_language_file(made_pages, page, poppler, tmp_path):
    path = tmp_path / "page.pdf"
    path.write_bytes(pdf_page(made_pages[page]))
    told = subprocess.run(
        [Path(poppler) / "pdftotext", path, "-"], capture_output=True, check=True, encoding="utf-8"
    ).stdout
    assert len(told) > 1000
    assert _latin(told.splitlines()) == []


def test_the_check_finds_a_word_that_code_would_write():
    assert _latin(_visible('<html lang="ru"><p>Страница <b aria-label="the team">т</b></p></html>').told) == [
        ("team", "the team"), ("the", "the team"),
    ]  # fmt: skip


def test_every_canonical_word_of_the_reader_has_its_word_in_the_language_file():
    words, pain = load_words("en").tables, vocabulary.load("pain")
    canonical = {
        "exercise": [exercise.name for exercise in vocabulary.exercises()],
        "bar": vocabulary.load("bars"),
        "grip": vocabulary.load("grips")["width"],
        "position": vocabulary.load("grips")["position"],
        "test": [test["name"] for test in vocabulary.load("screens")["test"]],
        "unit": ["kg", "lb", *(test["unit"] for test in vocabulary.load("screens")["test"])],
        "column": [ROLE_WORDS.get(role, role) for role in (*vocabulary.load("headings"), *ROLE_WORDS)],
        "language": vocabulary.LANGUAGES,
        "pain_kind": (*pain["kind"], *vocabulary.load("warnings")),
        **{table: pain[table] for table in ("site", "side", "moment", "severity")},
    }
    missing = {(table, name) for table, names in canonical.items() for name in names if name not in words[table]}
    assert sum(map(len, canonical.values())) > 120
    assert missing == set()


def test_canonical_words_in_a_row_are_each_worded():
    words = pseudo_words()
    assert words.phrase("pain, elbow, left, next morning, set 2").translate(LATIN_AGAIN) == (
        "pain, elbow, left, next morning, set 2"
    )
    assert words.phrase("none", "severity") == words.get("severity.none")
    assert load_words("en").phrase("test result, grip strength, kg") == "test result, grip strength, kg"


def test_what_the_reader_said_is_marked_as_english_on_a_page_in_another_language(made_pages):
    # WCAG 2.2, 3.1.2 Language of Parts.
    html = html_page(made_pages["logs"], "")
    assert html.count('<span lang="en">') >= 4
    names = people(1)
    findings, views = invented_findings(names), invented_views(names)
    english = Material(findings, views, load_words("en"), season_of(findings, views), {})
    assert "<span lang=" not in html_page(logs_page(english), "")


def test_the_page_on_the_logs_says_that_the_reader_speaks_english_where_the_page_does_not(made_pages):
    words = pseudo_words()
    assert words.text("logs.as_stored") in _plain(made_pages["logs"].lead)
    names = people(1)
    findings, views = invented_findings(names), invented_views(names)
    english = Material(findings, views, load_words("en"), season_of(findings, views), {})
    assert _plain(logs_page(english).lead) == load_words("en").text("logs.lead")


def _plain(text):
    return "".join(span.text for span in text)
