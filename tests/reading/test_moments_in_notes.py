"""Moments that a sentence begins with hold for all of it. Common practice, no published source."""

import pytest

from preflare.reading.notes import pain_in_note


@pytest.mark.parametrize(
    ("note", "moments"),
    [
        ("Next a.m. R elbow 6, L elbow 1.", ["next morning", "next morning"]),
        ("next morning right elbow 4, left wrist 2; shoulder 1", ["next morning", "next morning", None]),
        ("Am nächsten Morgen Ellbogen re 4, Unterarm re 2", ["next morning", "next morning"]),
        ("le lendemain coude D 4, poignet D 2", ["next morning", "next morning"]),
        ("R elbow 5 after, L elbow 1", ["after", None]),
        ("next morning R elbow 5, L elbow 1 during", ["next morning", "during"]),
        ("Lower back 3 during the good mornings.", ["during"]),
    ],
)
def test_a_moment_at_the_head_of_a_sentence_holds_for_its_clauses(lexicon, note, moments):
    assert [one.moment for one in pain_in_note(note, lexicon)] == moments


@pytest.mark.parametrize(
    "note",
    [
        "the day after, in the morning: left elbow 2",
        "morgens danach Ellbogen links 2",
        "am nächsten Tag in der Früh Ellbogen links 2",
        "le lendemain au matin : coude gauche 2",
        "al día siguiente por la mañana: codo izq 2",
        "il giorno dopo al mattino: gomito sx 2",
        "no dia seguinte de manhã: cotovelo esq 2",
        "de dag erna 's ochtends: elleboog links 2",
        "nast. rano łokieć lewy 2",
        "dagen etter om morgenen: albue venstre 2",
        "dagen efter om morgenen: albue venstre 2",
        "dagen efter på morgonen: armbåge vä 2",
    ],
)
def test_the_morning_of_the_day_after(lexicon, note):
    found = [(one.site, one.side, one.rating, one.moment) for one in pain_in_note(note, lexicon)]
    assert found == [("elbow", "left", 2.0, "next morning")]


@pytest.mark.parametrize(
    ("note", "site"),
    [
        ("heut kein Ellbogenschmerz", "elbow"),
        ("keine Handgelenkschmerzen", "wrist"),
        ("geen onderarmpijn", "forearm"),
        ("ingen albuesmerte", "elbow"),
        ("ingen handledssmärta", "wrist"),
    ],
)
def test_one_word_for_a_site_and_its_pain(lexicon, note, site):
    assert [(one.site, one.rating) for one in pain_in_note(note, lexicon)] == [(site, 0.0)]
