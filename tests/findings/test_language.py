"""The findings' language: every sentence from one file a language, none written down in the code."""

import ast
import re
import tomllib
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

import preflare.findings
from preflare.errors import PreflareError
from preflare.findings import review, words
from preflare.findings.notes import _term
from preflare.models import design
from preflare.models.rows import QUESTIONS, modelling_rows
from preflare.resources import resource
from preflare.settings import Season, Settings

FOLDER = Path(preflare.findings.__file__).parent
WRITTEN = tomllib.loads((resource("reports") / "words" / "en.toml").read_text(encoding="utf-8"))
NAMES = ("reading_name", "rate_name", "rate_unit", "described", "described_unit")
"""Tables in which the reports have the words for identifiers of findings.json."""


def marked(entry: Any) -> Any:
    """A language of its own: every text of the English one, marked, with its fields as they are."""
    if isinstance(entry, dict):
        return {key: marked(item) for key, item in entry.items()}
    return entry if entry in ("small", "as written") else f"¿{entry}?"


@pytest.fixture
def marked_language(monkeypatch: pytest.MonkeyPatch) -> str:
    """The language "qaa" (ISO 639-3's range for private use), made from the English file."""
    made = {name: marked(WRITTEN[name]) for name in words.TABLES}
    read = words.tables
    monkeypatch.setattr(words, "tables", lambda language="en": made if language == "qaa" else read(language))
    return "qaa"


def told(found: dict[str, Any]) -> list[str]:
    """Everything in findings.json that is a sentence."""
    checks = [check["help"] for finding in found["findings"] for check in finding["checks"]]
    warnings = [warning["words"] for athlete in found["athletes"] for warning in athlete["warnings"]]
    rates = [rate["how"] for rate in found["surveillance"]["rates"]]
    sentences = [finding["sentence"] for finding in found["findings"]]
    return [*sentences, *checks, *warnings, *rates, *(note["words"] for note in found["notes"])]


def test_every_sentence_is_in_the_language_that_was_asked_for(plant_frame: pd.DataFrame, marked_language: str) -> None:
    found = review(plant_frame, Settings(), language=marked_language)
    sentences = told(found)
    assert len(sentences) > 60
    assert [text for text in sentences if not (text.startswith("¿") and text.endswith("?"))] == []
    # Nothing stays behind: the next review is in English again.
    assert not any("¿" in text for text in told(review(plant_frame.iloc[:0], Settings())))


def test_a_language_changes_no_number(plant_frame: pd.DataFrame, marked_language: str) -> None:
    few = plant_frame[plant_frame["athlete"].isin(sorted(plant_frame["athlete"].unique())[:8])].reset_index(drop=True)
    for one, other in zip(
        review(few, Settings())["findings"], review(few, Settings(), language=marked_language)["findings"], strict=True
    ):
        assert one["effect"] == other["effect"]
        assert (one["id"], one["grade"], one["question"]) == (other["id"], other["grade"], other["question"])
        assert [line["name"] for line in one["sensitivity"]] == [line["name"] for line in other["sensitivity"]]


def test_the_language_is_the_settings_where_none_is_given(
    plant_frame: pd.DataFrame, marked_language: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings = Settings(season=Season.model_construct(language=marked_language))
    assert all(text.startswith("¿") for text in told(review(plant_frame.iloc[:0], settings)))
    assert review(plant_frame.iloc[:0], settings, language="en") == review(plant_frame.iloc[:0], Settings())


def test_a_language_that_is_not_there_is_named(plant_frame: pd.DataFrame) -> None:
    with pytest.raises(PreflareError, match=r'no findings in the language "xx". Known here: .*en'):
        review(plant_frame.iloc[:0], Settings(), language="xx")


def test_a_check_keeps_its_capital_inside_a_sentence_where_the_language_wants_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from preflare.findings.sentences import _inside

    assert _inside("Most of it.") == "most of it."
    monkeypatch.setitem(words.tables("en")["finding"], "check_begins", "as written")
    assert _inside("Most of it.") == "Most of it."


def _strings(path: Path) -> list[str]:
    """String constants of a module that are neither docstrings nor part of an error."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    left_out = {
        id(part)
        for node in ast.walk(tree)
        if isinstance(node, ast.Raise | ast.Expr)
        for part in ast.walk(node)
        if isinstance(node, ast.Raise) or (isinstance(node, ast.Expr) and part is node.value)
    }
    return [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in left_out
    ]


IDENTIFIERS = {name for table in NAMES for name in WRITTEN[table]}


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.py")), ids=lambda path: path.name)
def test_no_sentence_is_written_down_in_the_code(path: Path) -> None:
    # Four words or more in a row, or an end of a sentence, that no table of names holds: that is a sentence.
    sentence = re.compile(r"(?:[A-Za-z]{2,}[ ,;]+){3}[A-Za-z]{2,}| [a-z]+\.(?: |$)")
    long = [text for text in _strings(path) if sentence.search(text)]
    allowed = IDENTIFIERS | {
        "one more working set that many days before",  # unit of the lags
        "working squat sets in the 7 days before",  # unit of a curve
        " or more after the session",  # the question's outcome
        "flare-up days, rise of ",  # a reading, by rise
        "squat sets of the 28 days before",  # a term of the formula
        "age of last rating",  # another
    }
    assert [text for text in long if text not in allowed] == []


def test_the_scan_sees_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "bad.py").write_text('"""Docstring of five words here."""\nx = "The bar was never used."\n')
    with pytest.raises(AssertionError):
        test_no_sentence_is_written_down_in_the_code(tmp_path / "bad.py")


def test_every_name_that_a_finding_shows_has_its_words(plant_found: dict[str, Any]) -> None:
    found = plant_found
    lines = {line["name"] for finding in found["findings"] for line in finding["sensitivity"]}
    assert lines <= set(WRITTEN["reading_name"])
    assert {rate["name"] for rate in found["surveillance"]["rates"]} <= set(WRITTEN["rate_name"])
    assert {rate["unit"] for rate in found["surveillance"]["rates"]} <= set(WRITTEN["rate_unit"])
    assert {record["exposure"] for record in found["before_onset"]} <= set(WRITTEN["described"])
    assert {check["name"] for finding in found["findings"] for check in finding["checks"]} <= set(WRITTEN["check_name"])


def test_every_reason_for_leaving_a_session_out_has_its_words() -> None:
    reasons = set(WRITTEN["note"]["dropped_reason"])
    bars = ("straight", "safety", "cambered", "other", "unnamed")
    assert reasons == {
        "first 14 days", "no earlier rating", "no rating before the 7-day window", "no rating from this athlete",
        *(f"{question} not written" for question in QUESTIONS if question != "intensity"),
        *(f"no estimated 1RM, {bar} bar" for bar in bars),
    }  # fmt: skip
    assert set(QUESTIONS) <= set(WRITTEN["finding"]["exposure_name"])


def test_every_column_of_the_design_is_named_by_words(plant_frame: pd.DataFrame) -> None:
    rows = modelling_rows(plant_frame)
    columns = {*design.primary_design(rows, 4).names, *design.sets_design(rows, 4).names}
    told = {column: _term(column) for column in columns | {"week 3, season 2", "season 2", "pulling in 7 days"}}
    assert len(told) > 30
    assert set(WRITTEN["note"]["term_exposure"]) >= {c.partition(" ")[2] for c in columns if c.startswith("within ")}
    terms = WRITTEN["note"]["term"]
    groups = {terms[key] for key in ("competition", "calendar", "older_sets", "other_lifts", "ratings")}
    exposures = WRITTEN["note"]["term_exposure"].values()
    each = {terms[part].format(exposure=name) for part in ("within", "between", "past") for name in exposures}
    assert groups <= set(told.values()) <= groups | each
    assert told["past intensity"] == "intensity in earlier sessions"
    assert told["pulling in 7 days"] == "pressing, pulling and elbow flexion"
    assert told["last rating x age"] == "earlier ratings"
