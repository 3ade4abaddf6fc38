"""Marks of warm-ups and misses at sets, usual ones and those of a legend. What is right was told by hand."""

import pytest

from preflare.reading.marks import marks_in
from preflare.reading.notes import pain_in_note

W, F, PLAIN = (True, False), (False, True), (False, False)


def marked(logs):
    return [(one.load_kg, one.reps, (one.is_warm_up, one.is_failed)) for one in logs.sets]


@pytest.mark.parametrize(
    "work", ["w60x5, w80x3, 100x5", "60x5w 80x3w 100x5", "60x5 (w) 80x3 (w) 100x5", "W 60x5 W 80x3 100x5"]
)
def test_a_w_at_a_set_marks_a_warm_up(read, work):
    logs = read({"Ada Berg.csv": f"Date|Exercise|Sets\n2026-03-02|Squat|{work}\n"})
    assert marked(logs) == [(60.0, 5, W), (80.0, 3, W), (100.0, 5, PLAIN)]


@pytest.mark.parametrize(
    ("legend", "work"),
    [
        ("o = warm-up, # = failed", "o60x5 o80x3 100x4#"),
        ("o = Aufwärmen; x = Fehlversuch", "o 60x5, o 80x3, 100x4 x"),
        ("(e) = échauffement | (r) = raté", "60x5 (e) 80x3 (e) 100x4 (r)"),
        ("a = aquecimento; ! = falha", "60x5 a 80x3 a 100x4!"),
        ("[ ] = missed, w = warm-up", "w60x5 w80x3 [100x4]"),
    ],
)
def test_marks_that_a_legend_declares(read, legend, work):
    logs = read({"Ada Berg.csv": f"{legend}\nDate\tExercise\tSets\n2026-03-02\tSquat\t{work}\n"})
    assert marked(logs) == [(60.0, 5, W), (80.0, 3, W), (100.0, 4, F)]


@pytest.mark.parametrize(
    ("legend", "work"),
    [
        ("A davor = Aufwärmsatz", "A 60x5; A 80x3; 100x4x2"),
        ("a before the set = warm-up", "a60x5 a80x3 100x4x2"),
        ("e devant = échauffement", "e 60x5; e 80x3; 100x4x2"),
        ("r davanti = riscaldamento", "r 60x5; r 80x3; 100x4x2"),
        ("o framför = uppvärmning", "o 60x5, o 80x3; 100x4x2"),
        ("uv = uppvärmning", "uv 60x5 80x3 / 100x4x2"),
        ("ew = Aufwärmen", "ew 60x5, 80x3; 100x4x2"),
        ("e = échauffement", "e: 60x5 80x3 / 100x4x2"),
    ],
)
def test_a_mark_said_to_stand_before_its_sets(read, legend, work):
    logs = read({"Ada Berg.csv": f"{legend}\nDate|Exercise|Sets\n2026-03-02|Squat|{work}\n"})
    assert marked(logs) == [(60.0, 5, W), (80.0, 3, W), (100.0, 4, PLAIN), (100.0, 4, PLAIN)]


def test_a_legend_may_say_that_a_star_is_no_miss(read):
    logs = read({"Ada Berg.csv": "* = PR\nDate\tExercise\tSets\n2026-03-02\tSquat\t100x5*\n"})
    assert marked(logs) == [(100.0, 5, PLAIN)]


def test_letters_for_people_and_words_for_other_things_are_no_marks(lexicon):
    assert (
        marks_in(["T = Torben, E = Else", "RIR = reps in reserve", "BW = body weight", "LB = low bar"], lexicon) == {}
    )


def test_kg_in_capitals_behind_a_scheme_is_the_weight_of_the_body_where_one_hangs(read):
    logs = read({"Ada Berg.csv": "Datum;Übung;Sätze\n2.3.2026;Klimmzüge;3x8 KG\n4.3.2026;Dips;3x8 KG+10\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(None, 8)] * 3 + [(10.0, 8)] * 3
    assert len([one for one in logs.rejected if "Körpergewicht" in one.reason]) == 2


def test_a_load_below_any_bar_is_stored_with_a_doubt(read):
    logs = read({"Ada Berg.csv": "Date;Exercise;Sets\n2026-03-02;Squat;3x8 kg\n"})
    assert any("was read as the load" in one.reason for one in logs.rejected)


@pytest.mark.parametrize(
    ("note", "ratings"),
    [
        ("Elbow pain 0-10", []),
        ("elbow pain (0-10): 4", [4.0]),
        ("Dolor codo 0-10: 3", [3.0]),
        ("elbow 0-1", [1.0]),
        ("elbow pain 10", [10.0]),
    ],
)
def test_a_scale_that_a_note_names_is_no_rating(lexicon, note, ratings):
    assert [one.rating for one in pain_in_note(note, lexicon)] == ratings
