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
