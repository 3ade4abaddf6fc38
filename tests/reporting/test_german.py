"""The pages in German: no English left on them, numbers and dates as German writes them, the cautions complete.

English function words: the commonest of any English word list, less those that are German words too ("was", "in",
"so", "will", "an", "am"). Numbers and dates: DIN 5008 and Duden (from memory): comma for decimals, full stop for
thousands, "3. März 2026".
The cautions' list is design's own (numbness, weakness, a pop, ...), common practice, no published source.
"""

import json
import re
import subprocess
from datetime import date, timedelta
from html.parser import HTMLParser
from pathlib import Path

import pytest

from preflare.reporting.athlete import athlete_page
from preflare.reporting.html import html_page
from preflare.reporting.logs import logs_page
from preflare.reporting.material import Material
from preflare.reporting.numbers import day, decimal, p_value, scientific, short_day, span_of_days, whole
from preflare.reporting.pdf import pdf_page
from preflare.reporting.team import team_page
from preflare.reporting.views import season_of
from preflare.reporting.words import load_words
from preflare.season import review_logs

from .invented import invented_findings, invented_views, people
from .language_files import entries
from .pseudo import greek_findings, greek_views

GERMAN = load_words("de")
ENGLISH = re.compile(
    r"\b(the|of|and|with|is|are|were|for|from|to|by|on|or|that|this|these|than|each|which|who|when|where|how|what|why|"
    r"without|not|no|it|its|if|but|be|been|has|have|had|more|less|fewer|after|before|between|sessions?|lifters?|rating)\b"
)
SPOKEN = ("aria-label", "alt", "title")
VOID = {"meta", "link", "br", "img", "input", "hr"}
SIGNS = ("Schwäche", "Taubheit", "Knall", "Schnappen", "Schwellung", "Fieber", "Verformung", "Brustschmerz")
AT_ONCE = ("Knall", "Schwäche", "Form des Arms", "Gelenk", "Fieber", "Sturz", "Brustschmerz", "sofort", "Notruf")


class _German(HTMLParser):
    """What a page tells in its own language: no style, no script, nothing that is marked as English."""

    def __init__(self) -> None:
        super().__init__()
        self.told: list[str] = []
        self.marked: list[str] = []
        self.in_charts: list[str] = []
        self.alternatives: list[str] = []
        self.languages: list[str] = []
        self._open: list[tuple[str, str]] = []

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        self.languages += [found["lang"]] if "lang" in found else []
        if tag not in VOID:
            self._open.append((tag, found.get("lang", self._open[-1][1] if self._open else "")))
        self.told += [found[name] for name in SPOKEN if found.get(name)]
        self.alternatives += [found["aria-label"]] if tag == "svg" and found.get("aria-label") else []

    def handle_endtag(self, tag):
        while tag not in VOID and self._open and self._open.pop()[0] != tag:
            pass

    def handle_data(self, data):
        tags = {tag for tag, _ in self._open}
        if not data.strip() or tags & {"style", "script"}:
            return
        (self.told if self._open[-1][1] == "de" else self.marked).append(data.strip())
        if "text" in tags:
            self.in_charts.append(data.strip())


def _read(html: str) -> _German:
    parser = _German()
    parser.feed(html)
    return parser


def _english(texts):
    return sorted({(word, text[:80]) for text in texts for word in ENGLISH.findall(text)})


def _texts(table):
    return ((key, " ".join(value) if isinstance(value, list) else value) for key, value in entries(table))


@pytest.fixture(scope="module")
def pages():
    """Each page with every section, in German; what people wrote, and the words of findings.json, in Greek letters."""
    names = people(3)
    findings, views = greek_findings(invented_findings(names)), greek_views(invented_views(names))
    files = {a["name"]: f"{i}" for i, a in enumerate(findings["athletes"])}
    material = Material(findings, views, GERMAN, season_of(findings, views), files)
    athlete = athlete_page(findings["athletes"][0], material)
    return {"team": team_page(material), "athlete": athlete, "logs": logs_page(material)}


@pytest.fixture(scope="module")
def review(tmp_path_factory):
    """A small log of one lifter, reviewed in the language of its season.toml."""
    logs, out = tmp_path_factory.mktemp("logs"), tmp_path_factory.mktemp("review")
    lines = ["Datum,Name,Übung,Stange,Griff,Last (kg),Wdh,RPE,Ellenbogenschmerz (0-10),Notiz"]
    for n in range(32):
        note = "kleiner Finger taub" if n == 20 else ""
        load = "oo" if n == 9 else 100 + n % 7 * 5
        when = date(2025, 9, 1) + timedelta(days=7 * (n // 2) + 3 * (n % 2))
        lines.append(f"{when},Ada Beispiel,Kniebeuge,gerade,eng,{load},{5 + n % 3},8,{n % 6},{note}")
    (logs / "log.csv").write_text("\n".join(lines), encoding="utf-8")
    (logs / "season.toml").write_text('[season]\nlanguage = "de"\n', encoding="utf-8")
    result = review_logs([logs], out)
    assert result.problem is None
    return out, result


def _bare(template):
    """A template without its places."""
    return re.sub(r"\{\w*\}", "", template)


def test_no_text_of_the_german_file_is_english():
    texts = dict(_texts(GERMAN.tables))
    assert len(texts) > 900
    # check_begins is said to the program, not to a reader.
    assert _english(_bare(v) for k, v in texts.items() if k != "finding.check_begins") == []
    assert len(_english(_bare(v) for _, v in _texts(load_words("en").tables))) > 500


@pytest.mark.parametrize("page", ["team", "athlete", "logs"])
def test_a_german_page_holds_no_english_but_what_is_marked_so(pages, page):
    seen = _read(html_page(pages[page], ""))
    assert seen.languages[0] == "de"
    assert len(seen.told) > 60
    assert _english(seen.told) == []
    assert set(seen.languages) <= {"de", "en"}


def test_charts_and_their_alternative_texts_are_german_too(pages):
    team, athlete = (_read(html_page(pages[name], "")) for name in ("team", "athlete"))
    for told in ("von 100 Kniebeuge-Einheiten", "gleich", "Schmerz folgte", "Safety", "Stange, Einheiten"):
        assert told in " ".join(team.in_charts)
    for told in ("Armschmerz", "Griff", "Schwerster Satz", "Kniebeugesätze", "Schübe", "Gruppe"):
        assert told in " ".join(athlete.in_charts)
    assert len(team.alternatives) > 10
    assert any("Einheiten mit Armschmerz danach" in text for text in team.alternatives)
    assert any("höchster Schmerzwert" in text for text in athlete.alternatives)


@pytest.mark.pdf
@pytest.mark.parametrize("page", ["team", "athlete"])
def test_a_german_pdf_names_its_language_and_holds_no_english(pages, page, poppler, tmp_path):
    path = tmp_path / "page.pdf"
    path.write_bytes(pdf_page(pages[page]))
    # PDF 32000-1:2008, 14.9.2: the natural language of the document stands in its catalogue as /Lang.
    assert re.search(rb"/Lang\s*\(de\)", path.read_bytes())
    done = subprocess.run([Path(poppler) / "pdftotext", path, "-"], capture_output=True, check=True, encoding="utf-8")
    assert "Kniebeuge-Einheiten" in done.stdout
    assert _english(done.stdout.splitlines()) == []


def test_a_review_of_german_logs_is_german_from_the_first_row_to_the_last_sentence(review):
    out, result = review
    for file in ("team.html", "logs.html", "athletes/ada-beispiel.html"):
        seen = _read((out / file).read_text(encoding="utf-8"))
        assert seen.languages[0] == "de"
        assert _english(seen.told) == [], file
        assert bool(seen.marked) == (file == "logs.html")  # what the reader said of rows and sheets
    found = json.loads((out / "findings.json").read_text(encoding="utf-8"))
    said = [f["sentence"] for f in found["findings"]] + [n["words"] for n in found["notes"]]
    assert _english([*said, *result.summary[:-1]]) == []  # the last line names paths
    assert all("zu wenig Daten" in finding["sentence"] for finding in found["findings"])


def test_a_warning_word_brings_the_whole_caution(review):
    text = (review[0] / "athletes" / "ada-beispiel.html").read_text(encoding="utf-8")
    assert "kleiner Finger taub" in text
    assert GERMAN.text("athlete.warnings.caution") in text
    for line in GERMAN.get("caution.whole"):
        assert line in text


def test_no_caution_is_softened():
    short, whole_text = GERMAN.text("caution.short"), " ".join(GERMAN.get("caution.whole"))
    warning, closing = GERMAN.text("athlete.warnings.caution"), GERMAN.text("summary.caution").replace("\n", " ")
    for told in (short, whole_text, warning, closing):
        assert [sign for sign in (*SIGNS, "ärztlich abgeklärt") if sign not in told] == []
        assert "zunimmt" in told
        assert "anhält" in told
        assert re.search(r"nachts weckt|Nachtschmerz", told)
    for told in (whole_text, warning):
        assert [sign for sign in AT_ONCE if sign not in told] == []
    for told in (short, whole_text, closing):
        assert "keine Diagnose" in told
    for told in (short, whole_text, GERMAN.text("note.not_a_reason")):
        assert re.search(r"kein Rat, trotz Schmerzen zu trainieren|ein Rat, trotz Schmerzen zu trainieren", told)
    assert "Regeln vor Ort" in whole_text
    assert "behandelnde Fachperson" in whole_text
    assert "Gesundheitsdaten" in GERMAN.text("caution.privacy")


def test_german_promises_neither_causes_nor_safety_and_addresses_nobody():
    promise = (
        r"(?i)\b(verursach\w*|verhinder\w*|bewirkt|sicher\w*|ungefährlich\w*|signifikant\w*|risiko\w*|auslös\w*)\b"
    )
    address = r"\b(du|dir|dich|dein\w*|euch|euer|Ihnen|Ihr\w*|bitte)\b|(?<![.:!?] )(?<!^)(?<!„)\bSie\b"
    for key, text in _texts(GERMAN.tables):
        assert not re.search(promise, text), key
        assert not re.search(address, text), key


def test_numbers_and_dates_are_written_as_german_writes_them():
    assert whole(18086, GERMAN) == "18.086"
    assert decimal(-2.54, 2, GERMAN) == "\u22122,54"
    assert decimal(1234.5, 1, GERMAN) == "1.234,5"
    assert scientific(8.5e-9, GERMAN) == "8,5 × 10⁻⁹"
    assert p_value(0.0004, GERMAN) == "unter 0,001"
    assert day("2026-03-03", GERMAN) == "3.\u00a0März 2026"
    assert str(short_day("2026-03-03", GERMAN)) == "3.\u00a0März"
    assert span_of_days("2025-09-01", "2026-06-07", GERMAN) == "1.\u00a0September 2025 bis 7.\u00a0Juni 2026"
    assert GERMAN.count("squat_sessions", 1) == "1 Kniebeuge-Einheit"
    assert GERMAN.count("squat_sessions", 2217) == "2.217 Kniebeuge-Einheiten"


def test_the_check_for_english_finds_english():
    assert _english(["Von 100 sessions folgte auf 4"]) == [("sessions", "Von 100 sessions folgte auf 4")]
    seen = _read('<html lang="de"><p>eins <span lang="en">the row</span> zwei <b title="of it">x</b></p></html>')
    assert seen.marked == ["the row"]
    assert _english(seen.told) == [("it", "of it"), ("of", "of it")]
