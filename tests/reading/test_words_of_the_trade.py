"""Words of the trade in eleven languages, written down apart from the vocabulary files, are read as what they mean.

words_of_the_trade.csv: language, kind of word, the phrase as a coach would write it, its meaning. From memory and
common practice in gyms and clubs, no published source, save for what test_published_names checks.
"""

import csv
from pathlib import Path

import pytest

from preflare.reading import vocabulary
from preflare.reading.headings import parse_heading
from preflare.reading.lexicon import make_lexicon, names_total
from preflare.reading.words import WordReader

LIST = Path(__file__).with_name("words_of_the_trade.csv")


def phrases():
    with LIST.open(encoding="utf-8", newline="") as stream:
        return [(row["language"], row["kind"], row["phrase"], row["meaning"]) for row in csv.DictReader(stream)]


def read(reader, kind, phrase):
    """What the reader takes a phrase for, as the list writes it."""
    lexicon = reader.lexicon
    if kind == "exercise":
        return reader.exercise(phrase).exercise
    if kind in {"bar", "position", "grip"}:
        gear, unknown = reader.gear(phrase, kind)
        found = {"bar": gear.bar, "position": gear.position, "grip": gear.width}[kind]
        return f"{found}, and {unknown!r} is not known" if unknown else found
    if kind == "heading":
        heading = parse_heading(phrase, lexicon)
        return heading and heading.roles[0]
    if kind == "total":
        return "total" if names_total(phrase) else None
    if kind in {"month", "weekday"}:
        return getattr(lexicon, kind).exact(phrase.rstrip("."))
    if kind in {"warm_up", "failed", "bodyweight"}:
        return lexicon.work.exact(phrase)
    return kind if lexicon.sheet_word(phrase, kind) else None


def test_the_list_is_long_and_has_every_language_and_kind():
    found = phrases()
    assert len(found) == len(set(found)) >= 900
    assert {language for language, *_ in found} == set(vocabulary.LANGUAGES)
    for language in vocabulary.LANGUAGES:
        assert sum(one[0] == language and one[1] == "exercise" for one in found) >= 24, language
        assert len({one[1] for one in found if one[0] == language}) >= 12, language


@pytest.mark.parametrize("language", vocabulary.LANGUAGES)
def test_each_phrase_is_read_as_what_it_means(language):
    reader = WordReader(make_lexicon())
    wrong = [
        (phrase, meaning, found)
        for own, kind, phrase, meaning in phrases()
        if own == language and (found := read(reader, kind, phrase)) != meaning
    ]
    assert wrong == []
