"""Lists of loads, repetitions and efforts, one number a set, some with a mark ("30c/40/45").

Sheets are invented after common ways to keep such logs (common practice, no published source); expectations are
counted by hand.
"""

import pytest

from preflare.reading.marked_lists import pieces_of
from preflare.reading.marks import marks_in

WARM, MISSED, PLAIN = (True, False), (False, True), (False, False)


def told(logs):
    return [(one.load_kg, one.reps, (one.is_warm_up, one.is_failed)) for one in logs.sets]


def log(legend, load, reps="5/5/5", rpe=""):
    return {"Ada Berg.csv": f"{legend}\nDate|Exercise|Load|Reps|RPE\n2026-03-02|Bench press|{load}|{reps}|{rpe}\n"}


@pytest.mark.parametrize(
    ("legend", "load"),
    [
        ("c = warm-up", "40c/60/70"),
        ("The c is warm-up", "40c/60/70"),
        ("La c es calentamiento", "40 c / 60 / 70"),
        ("a steht für Aufwärmen", "40a; 60; 70"),
        ("Aufwärmsätze mit a markiert", "a40/60/70"),
        ("Le e est échauffement", "40(e)/60/70"),
        ("La r è riscaldamento", "(r)40/60/70"),
        ("O a é aquecimento", "40a/60/70"),
        ("o betekent opwarmen", "40o, 60, 70"),
        ("r oznacza rozgrzewkę", "40r/60/70"),
        ("o betyr oppvarming", "40o/60/70"),
        ("o betyder opvarmning", "40o/60/70"),
        ("u betyder uppvärmning", "40u/60/70"),
        ('"*" means warm-up', "40*/60/70"),
        ("Kilos", "40w/60/70"),
        ("Kilos", "40wu/60/70"),
        ("Kilos", "40e/60/70"),  # a letter that begins a word for it, at the first and lightest
    ],
)
def test_a_mark_in_a_list_of_loads_is_its_set_s(read, legend, load):
    logs = read(log(legend, load))
    assert told(logs) == [(40.0, 5, WARM), (60.0, 5, PLAIN), (70.0, 5, PLAIN)]
    assert not logs.rejected


@pytest.mark.parametrize("load", ["40z/60/70", "z40/60/70", "40§/60/70", "40/60e/70", "90e/60/70", "40e/60b/70"])
def test_a_mark_that_nothing_explains_is_told_of_and_its_set_stays_plain(read, load):
    logs = read(log("Kilos", load))
    assert [kind for _, _, kind in told(logs)] == [PLAIN] * 3
    assert [one.reason for one in logs.rejected if "nothing says what" in one.reason]


def test_marks_in_lists_of_repetitions_tell_of_misses(read):
    logs = read(log("x = failed", "60/65/70", "5/5/3x"))
    assert told(logs) == [(60.0, 5, PLAIN), (65.0, 5, PLAIN), (70.0, 3, MISSED)]


def test_body_weight_in_a_list_is_no_mark(read):
    logs = read({"Ada Berg.csv": "Date|Exercise|Load|Reps\n2026-03-02|Pull-ups|BW/BW+5|6/4\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(None, 6), (5.0, 4)]


@pytest.mark.parametrize("text", ["60", "60-70", "kg", "straight/safety", "60x5/70x5", "60 kg", "7/9/2026 bar"])
def test_what_is_no_list(text):
    assert not any(mark for _, mark in pieces_of(text))


@pytest.mark.parametrize(
    "line",
    ["It is a warm-up day", "y es calentamiento", "kg, a to rozgrzewka", "The bar is cold; warm-up with the band"],
)
def test_prose_declares_no_mark(lexicon, line):
    assert marks_in([line], lexicon) == {}


@pytest.mark.parametrize(
    ("rpe", "meant"),
    [
        ("/7,5/8,5", [None, 7.5, 8.5]),
        ("-/7,5/8,5", [None, 7.5, 8.5]),
        ("7,5/8,5", [None, 7.5, 8.5]),  # the working sets
        ("6/7/8", [6, 7, 8]),
        ("6-7-8", [6, 7, 8]),
        ("6; 7; 8", [6, 7, 8]),
        ("7/8/", [7, 8, None]),
        ("8,5", [None, None, 8.5]),  # the heaviest
        ("7-8", [None, None, 7.5]),  # a range
        ("6 7 8", [6, 7, 8]),
        ("8/10", [None, None, 8]),  # of ten, not of two sets
    ],
)
def test_efforts_of_every_set(read, rpe, meant):
    logs = read(log("c = warm-up", "40c/60/70", rpe=rpe))
    assert [one.rpe for one in logs.sets] == meant


def test_two_efforts_at_a_slash_beside_no_list_are_a_range(read):
    text = "Date|Exercise|Load|Reps|Sets|RPE\n2026-03-02|Bench press|70|5|2|7/8\n"
    assert [one.rpe for one in read({"Ada Berg.csv": text}).sets] == [7.5, 7.5]


@pytest.mark.parametrize("rpe", ["7/11", "/7/14", "7/8/9/9"])
def test_efforts_that_fit_no_sets_are_set_aside(read, rpe):
    logs = read(log("c = warm-up", "40c/60/70", rpe=rpe))
    assert [one.rpe for one in logs.sets] == [None] * 3
    assert [one for one in logs.rejected if "no RPE" in one.reason]


def test_one_count_of_a_list_that_nobody_does_is_set_aside(read):
    logs = read(log("Kilos", "60", "6/66/6"))
    assert [one.reps for one in logs.sets] == [6, None, 6]
    assert [one.value for one in logs.rejected] == ["6/66/6"]
    assert [one.reps for one in read(log("Kilos", "BW", "20/31/28")).sets] == [20, 31, 28]


def test_marks_in_loads_over_repetitions_in_rows_of_their_own(read):
    text = "c = warm-up\nDate|2026-09-02|2026-09-05\nSquat load|40c/75/80|40c/80/85\nSquat reps|5/4/4|5/3/3\n"
    logs = read({"Ada Berg.csv": text})
    assert [(one.load_kg, one.reps, one.is_warm_up) for one in logs.sets] == [
        (40, 5, True), (75, 4, False), (80, 4, False), (40, 5, True), (80, 3, False), (85, 3, False),
    ]  # fmt: skip


def test_a_sign_at_every_number_tells_nothing(read):
    logs = read(log("Kilos", "60/65/70", "5x/5x/4x"))
    assert [(one.load_kg, one.reps, one.is_failed) for one in logs.sets] == [
        (60, 5, False), (65, 5, False), (70, 4, False),
    ]  # fmt: skip
    assert not logs.rejected


@pytest.mark.parametrize("load", ["60 SSB/70 SSB/80 SSB", "60 SSB/70/80", "60/70 qwerty/80"])
def test_a_word_in_a_list_is_more_than_a_mark(read, load):
    logs = read(log("Kilos", load))
    assert [one.load_kg for one in logs.sets] == [None] * 3
    assert [one.value for one in logs.rejected] == [load]


@pytest.mark.parametrize("reps", ["8w/5/5", "8(w)/5/5", "8 wu/5/5"])
def test_a_w_marks_a_warm_up_in_repetitions_too(read, reps):
    logs = read(log("Kilos", "40/60/70", reps))
    assert told(logs) == [(40.0, 8, WARM), (60.0, 5, PLAIN), (70.0, 5, PLAIN)]
    assert not logs.rejected
