"""The vocabulary files: complete, of one mind, and free of words that say two things."""

import re

import pytest

from preflare.reading import vocabulary
from preflare.reading.lexicon import Phrases, make_lexicon
from preflare.reading.text import fold
from preflare.reading.words import WordReader

FAMILIES = {"squat", "press", "pull", "hinge", "elbow flexion", "other"}
ONE_MEANING = ["exercise", "bar", "site", "position", "width", "month"]


def test_every_exercise_has_a_family_and_curls_have_a_forearm():
    for exercise in vocabulary.exercises():
        assert exercise.family in FAMILIES, exercise
        assert (exercise.forearm_position is not None) == (exercise.family == "elbow flexion"), exercise
        assert not exercise.is_back_squat or exercise.family == "squat"


def test_the_bar_lies_on_the_back_in_three_exercises():
    assert {e.name for e in vocabulary.exercises() if e.is_back_squat} == {"back squat", "pause squat", "box squat"}


def test_names_are_unique_and_unknown_is_among_them():
    names = [exercise.name for exercise in vocabulary.exercises()]
    assert len(names) == len(set(names))
    assert "unknown" in names


@pytest.mark.parametrize("language", vocabulary.LANGUAGES)
def test_every_exercise_and_pain_word_is_there_in_every_language(language):
    for entry in vocabulary.load("exercises")["exercise"]:
        assert entry["words"].get(language), (entry["name"], language)
    for table in vocabulary.load("pain").values():
        for canonical, words in table.items():
            assert words.get(language), (canonical, language)
    for canonical, words in vocabulary.load("bars").items():
        assert words.get(language), (canonical, language)


def test_no_word_stands_for_two_exercises_bars_or_sites_in_one_language():
    clashes = []
    for name in ("bars",):
        clashes += _clashes(vocabulary.load(name))
    pain = vocabulary.load("pain")
    for table in ("site", "side", "moment"):
        clashes += _clashes(pain[table])
    clashes += _clashes({entry["name"]: entry["words"] for entry in vocabulary.load("exercises")["exercise"]})
    assert clashes == []


def _clashes(tables):
    """(word, language, meanings) for words that two canonical words share within a language."""
    meanings = {}
    for canonical, by_language in tables.items():
        for language, words in by_language.items():
            for word in words:
                meanings.setdefault((fold(word), language), set()).add(canonical)
    return [(*key, sorted(found)) for key, found in meanings.items() if len(found) > 1]


def test_every_exercise_word_is_read_as_its_exercise():
    # A word may belong to two languages; what matters is that the reader takes each for the exercise it stands under.
    reader = WordReader(make_lexicon())
    wrong = [
        (word, entry["name"], found)
        for entry in vocabulary.load("exercises")["exercise"]
        for words in entry["words"].values()
        for word in words
        if (found := reader.exercise(word).exercise) != entry["name"]
    ]
    assert wrong == []


def test_twelve_months_and_seven_days_in_order(lexicon):
    assert set(lexicon.month.known.values()) == {str(n) for n in range(1, 13)}
    assert set(lexicon.weekday.known.values()) == {str(n) for n in range(1, 8)}


def test_warning_words_cover_what_a_clinician_must_hear_about():
    # The list of the project's cautions: night pain, numbness, weakness, a pop, swelling, fever, deformity, chest pain.
    kinds = {kind for _, kind in vocabulary.warning_words()}
    assert kinds == {"numbness", "weakness", "pop", "swelling", "night", "fever", "deformity", "chest pain"}
    assert all(re.search(r"\w", word) for word, _ in vocabulary.warning_words())


def test_the_longest_phrase_wins():
    phrases = Phrases()
    phrases.add("a", ["squat"])
    phrases.add("b", ["front squat"])
    assert [hit for _, _, hit in phrases.find(["front", "squat", "squat"])] == ["b", "a"]
