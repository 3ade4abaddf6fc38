"""Loads with a colon before the repetitions of their sets, blocks of people in diaries, and sided ratings by person.

The logs are invented after common ways to keep them (common practice, no published source), and read by eye.
"""

from datetime import date

import pytest
from openpyxl import Workbook

from preflare.reading.loads_led import has_loads_led, tells_efforts_in_brackets, with_sets_written_out
from preflare.reading.marks import with_words_for_marks
from preflare.reading.shorthand import parse_work
from reading.shorthand_sets import LEXICON, noted

LED = """
130: 5(7) 5(8) 5(8.5) | 130x5@7 130x5@8 130x5@8.5
130 kg: 5 (7), 5 (8,5) | 130x5@7 130x5@8.5
150: 3(6), 170: 3(7.5) 3(8) | 150x3@6 170x3@7.5 170x3@8
100: 5@7 5@8 | 100x5@7 100x5@8
+5: 8 7 6 | +5x8 +5x7 +5x6
25lb: 12 11 | 25lbx12 25lbx11
90kg: 6/6/5; 80kg: 8/8 | 2*90x6 90x5 2*80x8
82,5 kg: 5, 5, 4 | 2*82.5x5 82.5x4
"""
NOT_LED = ["18: 30", "L elbow 10: 3 2", "Tue 8 Sept 18: 5 4", "left elbow 3: 4/10", "elbow 10: 2/10 4/10", "17:30 5 4"]
TOLD = [
    "Number in brackets = RPE", "Zahl in Klammern = RPE", "entre parenthèses : RPE", "entre paréntesis, el RPE",
    "tra parentesi RPE", "entre parênteses o RPE", "tussen haakjes RPE", "w nawiasie RPE", "i parentes RPE",
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), [line.rsplit("|", 1) for line in LED.strip().splitlines()])
def test_a_load_with_a_colon_holds_for_the_repetitions_behind_it(text, expected):
    assert has_loads_led(text)
    assert noted(parse_work(text.strip(), LEXICON).sets) == expected.strip()


@pytest.mark.parametrize("text", NOT_LED)
def test_times_and_ratings_are_no_loads(text):
    assert not has_loads_led(text)
    assert with_sets_written_out(text) == text


def test_whole_numbers_in_brackets_are_efforts_only_where_the_log_says_so():
    assert with_sets_written_out("100: 6(8) 6(8)") == "100x6 (8), 100x6 (8)"
    assert with_sets_written_out("100: 6(8) 6(8)", has_efforts=True) == "100x6 @8, 100x6 @8"
    assert with_sets_written_out("155: 3(10, failed 4th)", has_efforts=True) == "155x3 @10 (failed 4th)"


@pytest.mark.parametrize("line", TOLD)
def test_a_line_says_that_efforts_stand_in_brackets(line):
    assert tells_efforts_in_brackets(["kg", line])
    assert not tells_efforts_in_brackets([line.replace("RPE", "reps")])


@pytest.mark.parametrize("dash", ["-", "–"])
def test_a_mark_of_warm_ups_may_stand_behind_a_dash(dash):
    text = with_words_for_marks(f"Deadlift {dash} w 40x5, 60x5", {"w": "warm_up"})
    assert [one.is_warm_up for one in parse_work(text, LEXICON).sets] == [True, False]


DIARY = """Training diary 2026 (Ottar)

K = me, N = Nella.
load: reps reps, number in brackets = RPE. w = warm-up.
{default}

Tue 8 Sept
K
  Squat low, wide hands - w 60x5, 130: 5(7) 5(8)
  Bench - 90: 6(7) 5(8)
N
  Squat high, narrow hands - w 20x8, 40: 8(6) 8(7)
{behind}
"""
DEFAULTS = [
    "Squat without anything else about the bar is the straight bar.",
    "Squat with nothing about the bar is the straight bar.",
    "Squat with no word about the bar is the straight bar.",
]


def _of_diary(read, behind="", default=""):
    return read({"barn.txt": DIARY.format(behind=behind, default=default)})


def test_a_diary_of_two_with_gear_behind_a_comma_and_the_writers_letter(read):
    sets = _of_diary(read).sets
    squats = [one for one in sets if one.exercise == "back squat"]
    found = [(one.athlete, one.load_kg, one.reps, one.rpe, one.is_warm_up) for one in squats]
    ottar = [("Ottar", 60, 5, None, True), ("Ottar", 130, 5, 7, False), ("Ottar", 130, 5, 8, False)]
    assert found == [*ottar, ("Nella", 20, 8, None, True), ("Nella", 40, 8, 6, False), ("Nella", 40, 8, 7, False)]
    assert [(one.bar_position, one.grip_width) for one in squats] == [("low", "wide")] * 3 + [("high", "narrow")] * 3


@pytest.mark.parametrize("default", DEFAULTS)
def test_the_bar_where_nothing_is_said_about_it(read, default):
    assert {one.bar for one in _of_diary(read, default=default).sets if one.exercise == "back squat"} == {"straight"}


def test_a_line_behind_the_blocks_of_several_is_the_writers(read):
    logs = _of_diary(read, "L elbow 3/10 after.\nN: R wrist 2/10 after.")
    found = {(one.athlete, one.site, one.side, one.rating) for one in logs.pain}
    assert found == {("Ottar", "elbow", "left", 3), ("Nella", "wrist", "right", 2)}


def test_lines_behind_each_block_stay_with_it(read):
    text = DIARY.format(behind="L elbow 3/10 after.", default="").replace("\nN\n", "\nL elbow 1/10 after.\nN\n")
    found = {(one.athlete, one.rating) for one in read({"barn.txt": text}).pain}
    assert found == {("Ottar", 1), ("Nella", 3)}


def test_sets_that_a_remark_may_put_right_are_pointed_to(read):
    more = "\nThu 10 Sept\nK\n  Bench - 95: 5(7) 5(8)\n(Tuesday's second squat was 125 not 130.) L elbow 1/10."
    logs = _of_diary(read, more)
    assert any("125 not 130" in one.reason for one in logs.rejected)
    assert [one.rating for one in logs.pain] == [1]


SIDED = [
    ("Ont 0-10", "efter", "nästa morgon", "h3", "v1 h2", "h 2"),
    ("Schmerz 0-10", "nachher", "am nächsten Morgen", "re 3", "li 1 re 2", "re 2"),
    ("Pain 0-10", "after", "next morning", "R3", "L1 R2", "R 2"),
    ("Douleur 0-10", "après", "lendemain matin", "D3", "G1 D2", "D 2"),
]  # fmt: skip


@pytest.mark.parametrize("words", SIDED, ids=lambda words: words[0])
def test_ratings_with_sides_in_a_column_for_each_person(read, words):
    title, after, morning, first, both, spaced = words
    book = Workbook()
    rows = [
        [title],
        ["Date", "When", "Malwin", "Ossian"],
        ["2026-08-10", after, first, 0],
        ["2026-08-10", morning, spaced, None],
    ]
    for row in [*rows, ["2026-08-17", after, both, first], ["2026-08-17", morning, None, spaced]]:
        book.active.append(row)
    logs = read({"pain.xlsx": book}, '[season]\ndefault_site = "elbow"\n')
    found = [(one.athlete, one.date, one.side, one.rating) for one in logs.pain if one.moment == "after"]
    expected = [("Malwin", 10, "right", 3), ("Malwin", 17, "left", 1), ("Malwin", 17, "right", 2)]
    expected += [("Ossian", 10, "unknown", 0), ("Ossian", 17, "right", 3)]
    assert sorted(found, key=str) == sorted(((who, date(2026, 8, d), s, n) for who, d, s, n in expected), key=str)
    assert sum(one.moment == "next morning" and one.rating == 2 for one in logs.pain) == 2
