"""The language files: complete, and kept to the voice that the reports promise."""

import re
import string
from collections import Counter

import pytest

import preflare
from preflare.errors import PreflareError
from preflare.reporting.words import load_words
from preflare.resources import resource

from .language_files import entries

WORDS = load_words("en")
LANGUAGES = sorted(path.stem for path in (resource("reports") / "words").glob("*.toml"))


def _texts(table):
    """Every text of a language file with its dotted key."""
    return ((key, text) for key, value in entries(table) for text in (value if isinstance(value, list) else [value]))


def _keys_in_the_code():
    """Dotted keys that the code of the room asks for by name."""
    from pathlib import Path

    room = Path(preflare.__file__).parent / "reporting"
    for path in room.rglob("*.py"):
        for call in re.finditer(r'words\.(?:text|spans|get)\(\s*"([a-z_0-9.]+)"', path.read_text(encoding="utf-8")):
            yield call[1]
        for call in re.finditer(
            r'(?:section|paragraph)\(\s*words,\s*"([a-z_0-9.]+)"', path.read_text(encoding="utf-8")
        ):
            yield call[1]


def test_every_key_that_the_code_asks_for_is_written():
    keys = set(_keys_in_the_code())
    assert len(keys) > 60
    for key in keys:
        WORDS.get(key)


def _fields(text):
    """The places of a template. "To" is "to" at the start of a sentence: a language may need the one or the other."""
    texts = text if isinstance(text, list) else [text]
    return {name.lower() for told in texts for _, name, _, _ in string.Formatter().parse(told) if name}


def _differences(tables, english):
    """What a language file lacks, has too much, or fills otherwise than the English one, by dotted key."""
    told, wanted = (dict(entries(t)) for t in (tables, english))
    found = {f"{key}: missing" for key in wanted.keys() - told} | {
        f"{key}: not asked for" for key in told.keys() - wanted
    }
    for key in told.keys() & wanted:
        if _fields(told[key]) != _fields(wanted[key]):
            found.add(f"{key}: has {sorted(_fields(told[key]))}, needs {sorted(_fields(wanted[key]))}")
        if isinstance(wanted[key], list) and len(told[key]) != len(wanted[key]):
            found.add(f"{key}: has {len(told[key])} entries, needs {len(wanted[key])}")
        if "" in (told[key] if isinstance(told[key], list) else [told[key]]):
            found.add(f"{key}: empty")
    return found


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_has_the_same_keys_and_the_same_fields(language):
    assert len(dict(entries(WORDS.tables))) > 900
    assert _differences(load_words(language).tables, WORDS.tables) == set()


def test_what_a_language_lacks_or_fills_otherwise_is_named():
    english = {"a": {"b": "{n} of {m}", "c": ["x", "y"], "d": "{To} x"}, "e": "told"}
    other = {"a": {"b": "{n} von {k}", "c": ["x"], "d": "x {to}"}, "f": ""}
    assert _differences(other, english) == {
        "a.b: has ['k', 'n'], needs ['m', 'n']", "a.c: has 1 entries, needs 2", "e: missing", "f: not asked for",
    }  # fmt: skip
    assert _differences({"a": ""}, {"a": "x"}) == {"a: empty"}


def _figures(text, tables):
    """The figures that a text itself holds, counted; 1,000 and 1.000 alike."""
    bare = re.sub(r"\{\w*\}", "", " ".join(text) if isinstance(text, list) else text)
    thousands = re.escape(tables["number"]["thousands"])
    return Counter(re.findall(r"\d+", re.sub(rf"(?<=\d){thousands}(?=\d{{3}})", "", bare)))


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_figure_of_an_english_text_stands_in_its_translation(language):
    # Error rates, days and limits are written out in sentences: a figure that changes must change in every language.
    tables = load_words(language).tables
    told, wanted = dict(entries(tables)), dict(entries(WORDS.tables))
    assert sum(bool(_figures(text, WORDS.tables)) for text in wanted.values()) > 40
    lacking = {key for key in wanted if _figures(wanted[key], WORDS.tables) - _figures(told[key], tables)}
    assert lacking == set()


def test_no_sentence_promises_causes_or_safety():
    # The house rule of the reports: "was followed by" and "went with", no cause, no praise, no orders.
    promise = r"\b(caus\w+|prevent\w+|safe|safer|safely|significant\w*|risk zone|dangerous)\b"
    texts = list(_texts(WORDS.tables))
    assert len(texts) > 300
    for key, text in texts:
        assert not re.search(promise, str(text), re.I), key
        assert not re.search(r"\btrain(ing)? on through\b(?! pain)", str(text)), key


def test_a_missing_key_and_a_missing_language_are_named():
    with pytest.raises(PreflareError, match=r'"en\.toml" has no words for "team\.nothing"'):
        WORDS.get("team.nothing")
    with pytest.raises(PreflareError, match=r"Known here:.*en"):
        load_words("xx")
