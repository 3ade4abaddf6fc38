"""Short remarks on pain: several moments of one place, words of severity, slips of the pen. Common practice."""

import pytest

from preflare.reading.notes import pain_in_note


def said(text, lexicon):
    return [(r.site, r.side, r.rating, r.severity, r.moment) for r in pain_in_note(text, lexicon)]


@pytest.mark.parametrize(
    "text",
    ["right elbow 4 during squats, 3 after", "R elbow 4 during, 3 after, ugh", "elbow R 4/10 during, 3 after. low bar?",
     "Ellbogen re 4 während, 3 nachher", "coude D 4 pendant, 3 après", "codo der 4 durante, 3 después",
     "gomito dx 4 durante, 3 dopo", "cotovelo D 4 durante, 3 depois", "re elleboog 4 tijdens, 3 erna",
     "prawy łokieć 4 podczas, 3 po", "høyre albue 4 under, 3 etter", "höger armbåge 4 under, 3 efter"],
)  # fmt: skip
def test_a_number_with_a_moment_is_about_the_place_before(text, lexicon):
    assert said(text, lexicon) == [
        ("elbow", "right", 4, None, "during"), ("elbow", "right", 3, None, "after")
    ]  # fmt: skip


@pytest.mark.parametrize(
    "text", ["left elbow 3, 5 sets after", "L elbow 3, 2 after that felt fine maybe", "left elbow 3, 3x5 after"]
)
def test_other_numbers_behind_a_rating_are_none(text, lexicon):
    assert [one[2] for one in said(text, lexicon)] == [3]


@pytest.mark.parametrize(
    "text",
    ["r wrist mild during fronts", "wrist (R) mild during front squats", "rechtes Handgelenk leicht beim Training",
     "poignet D léger pendant les squats", "muñeca derecha leve durante la sentadilla",
     "pulso D leve durante o agachamento",
     "re pols licht tijdens", "prawy nadgarstek lekki podczas"],
)  # fmt: skip
def test_a_word_of_severity_beside_place_and_moment_is_a_report(text, lexicon):
    assert said(text, lexicon) == [("wrist", "right", None, "mild", "during")]


@pytest.mark.parametrize(
    "text", ["elbows high during fronts", "Knie leicht nach innen", "left knee slightly in at the bottom", "elbows low"]
)
def test_words_about_technique_are_no_reports(text, lexicon):
    assert said(text, lexicon) == []


@pytest.mark.parametrize("text", ["right elobw 2 after", "right elbwo 2/10 after", "right ellbow 2 after"])
def test_one_slip_in_a_place_beside_side_and_rating_is_read(text, lexicon):
    assert said(text, lexicon) == [("elbow", "right", 2, None, "after")]


@pytest.mark.parametrize("text", ["right should be 4", "right below 2", "left unknown 3"])
def test_other_words_are_no_slips(text, lexicon):
    assert said(text, lexicon) == []


@pytest.mark.parametrize(
    "text", ["hamstrings sore 5/10", "Muskelkater Beine 6", "spierpijn benen 7", "agujetas en las piernas 5"]
)
def test_sore_legs_are_no_complaint(text, lexicon):
    assert said(text, lexicon) == []


def test_either_side_is_both(lexicon):
    assert said("no pain in either elbow", lexicon) == [("elbow", "both", 0, None, None)]


@pytest.mark.parametrize("none", ["no pain", "none", "keine", "sem dor", "0"])
def test_no_pain_at_one_moment_stands_beside_a_rating_at_another(read, none):
    head = "Date,Name,Elbow pain before,Elbow pain after\n"
    logs = read({"form.csv": f"{head}2026-03-05,Ada Berg,{none},2\n"})
    assert [(one.moment, one.rating) for one in logs.pain] == [("before", 0), ("after", 2)]
