"""Diaries as free text: two or three columns of any name, several lines in one cell, one column of text."""

from datetime import date

import pytest
from openpyxl import Workbook

from preflare.reading.shorthand import parse_work

DAYS = ("2026-03-02", "2026-03-04", "2026-03-06")
TEXT = "Squat 3x5 100\nBench 60x8, 65x6\n{}"
FELT = ("R elbow 2/10 after", "no elbow pain", "slept badly")


def expected(logs):
    assert sorted({one.date for one in logs.sets}) == [date.fromisoformat(day) for day in DAYS]
    assert [one.exercise for one in logs.sets] == (["back squat"] * 3 + ["bench press"] * 2) * 3
    assert [(one.side, one.rating) for one in logs.pain] == [("right", 2), ("unknown", 0)]


@pytest.mark.parametrize(
    "head", [["date", "what i did"], ["Tag", "Zeug"], ["", ""], ["quand", "quoi"], ["fecha", "que hice"], None]
)
def test_two_columns_whatever_their_headings(read, head):
    book = Workbook()
    if head is not None:
        book.active.append(["my lifting"])
        book.active.append(head)
    for day, felt in zip(DAYS, FELT, strict=True):
        book.active.append([day, TEXT.format(felt)])
    expected(read({"Ada Berg.xlsx": book}))


@pytest.mark.parametrize("head", [["date", "what i did", "body stuff"], ["dzień", "co było", "ciało"], ["a", "b", "c"]])
def test_three_columns_whatever_their_headings(read, head):
    book = Workbook()
    book.active.append(head)
    for day, felt in zip(DAYS, FELT, strict=True):
        book.active.append([day, TEXT.format("").strip(), felt])
    expected(read({"Ada Berg.xlsx": book}))


def test_a_day_and_its_lines_in_one_cell(read):
    book = Workbook()
    for day, felt in zip(DAYS, FELT, strict=True):
        book.active.append([f"{day}\n" + TEXT.format(felt)])
    expected(read({"Ada Berg.xlsx": book}))


def test_a_day_and_its_lines_in_one_column(read):
    book = Workbook()
    for day, felt in zip(DAYS, FELT, strict=True):
        for line in (day, *TEXT.format(felt).splitlines()):
            book.active.append([line])
    expected(read({"Ada Berg.xlsx": book}))


def test_days_apart_from_their_lines_in_two_columns(read):
    book = Workbook()
    for day, felt in zip(DAYS, FELT, strict=True):
        for at, line in enumerate(TEXT.format(felt).splitlines()):
            book.active.append([day if at == 0 else None, line])
    expected(read({"Ada Berg.xlsx": book}))


def lines_of(logs):
    return [(one.athlete, one.date.day, one.exercise, one.load_kg, one.reps, one.is_warm_up) for one in logs.sets]


@pytest.mark.parametrize(
    "text",
    ["Mon 5 Jan 2026\nSquat: 60x5 (w), 80x5\n\nWed 7 Jan 2026\nBench 50x5\n",
     "Mon 5 Jan 2026: squat 60x5 (w), 80x5\nWed 7 Jan 2026: bench 50x5\n",
     "5.1.2026 - Kniebeuge 60x5 (Aufwärmen), 80x5\n7.1.2026 - Bankdrücken 50x5\n",
     "lun 5/1/2026\nsquat\n60x5 éch.\n80x5\n\nmer 7/1/2026\ndéveloppé couché\n50x5\n",
     "pon 5.01.2026\nPrzysiad\n60x5 rozgrzewka\n80x5\n\nśr 7.01.2026 Wyciskanie 50x5\n",
     "2026-01-05 squat 60x5 (w), 80x5\n2026-01-07 bench 50x5\n",
     "mån 5/1 2026\nknäböj 60x5 uppv, 80x5\n\nons 7/1 2026\nbänkpress\n50x5\n"],
)  # fmt: skip
def test_days_exercises_and_sets_on_one_line_or_each_on_their_own(read, text):
    assert lines_of(read({"Ada Berg.txt": text})) == [
        ("Ada Berg", 5, "back squat", 60, 5, True), ("Ada Berg", 5, "back squat", 80, 5, False),
        ("Ada Berg", 7, "bench press", 50, 5, False),
    ]  # fmt: skip


def test_a_line_of_sets_whose_name_is_cut_off_by_a_comma_is_one_persons(read):
    text = "2026-01-05\nsquat straight bar, narrow grip 60x5, 80x5\n2026-01-07\nbench 50x5, 55x5, 60x5\n"
    logs = read({"Ada Berg.txt": text})
    assert [(one.exercise, one.bar, one.grip_width) for one in logs.sets] == [
        *[("back squat", "straight", "narrow")] * 2, *[("bench press", None, None)] * 3
    ]  # fmt: skip


def test_sets_of_several_people_under_no_names_are_not_one_persons(read):
    logs = read({"Ada Berg.csv": "2026-01-05\nSquat,3x5 100,3x5 80\nBench,3x5 60,3x5 50\n"})
    assert logs.sets == []


def test_another_persons_line_in_a_diary_of_lines(read):
    text = "2026-01-05\ndeadlift 100x5\nOla: deadlift 140x5\nOla: R knee 2/10 after\nL elbow 1/10 after\n"
    logs = read({"Ada Berg.txt": text})
    assert [(one.athlete, one.load_kg) for one in logs.sets] == [("Ada Berg", 100), ("Ola", 140)]
    assert [(one.athlete, one.site) for one in logs.pain] == [("Ola", "knee"), ("Ada Berg", "elbow")]


def test_the_number_of_a_set_is_no_day_of_september(read):
    logs = read({"Ada Berg.txt": "2026-01-05\nSquat\nSet 1: 60x5\nSet 2: 80x5\n"})
    assert {one.date for one in logs.sets} == {date(2026, 1, 5)}


@pytest.mark.parametrize(
    "text", ["pull ups 8, 7, 6", "Klimmzüge 8, 7, 6", "tractions 8/7/6", "dominadas: 8, 7, 6", "chin-ups 8,7,6"]
)
def test_bare_numbers_behind_what_is_done_with_the_body_are_repetitions(read, text):
    logs = read({"Ada Berg.txt": f"2026-01-05\nsquat 100x5\n{text}\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(100, 5), (None, 8), (None, 7), (None, 6)]


@pytest.mark.parametrize(
    "text",
    ["Set 1: 60x5, Set 2: 80x3", "1) 60x5\n2) 80x3", "S1 60x5 S2 80x3", "1. Satz 60x5\n2. Satz 80x3",
     "série 1 : 60x5 ; série 2 : 80x3", "Serie 1: 60x5, Serie 2: 80x3", "1ª serie: 60x5, 2ª serie: 80x3",
     "#1) 60x5\n#2) 80x3",
     "set 1 60kg x5 set 2 80kg x3"],
)  # fmt: skip
def test_the_number_of_a_set_is_neither_load_nor_repetitions(text, lexicon):
    work = parse_work(f"squat\n{text}", lexicon)
    assert [(one.load, one.reps) for one in work.sets] == [(60, 5), (80, 3)]
    assert not work.problems


@pytest.mark.parametrize("heading", ["ressenti", "RPE", "feeling", "Gefühl", "sensaciones"])
def test_remarks_under_a_heading_for_efforts_are_remarks(read, heading):
    rows = '2026-03-02,"squat 60x5, 80x5",R elbow 2/10 before\n2026-03-04,bench 50x5,slept badly again\n'
    logs = read({"Ada Berg.csv": f"date,what,{heading}\n{rows}2026-03-06,squat 85x5,no elbow pain\n"})
    assert [(one.rating, one.moment) for one in logs.pain] == [(2, "before"), (0, "after")]
    assert not [row for row in logs.rejected if "RPE" in row.reason]


@pytest.mark.parametrize(
    "remark",
    ["Hotel gym, all weights in lb today.", "Hotellgym i jobbet, alla vikter i lb idag.", "Alle Gewichte in Pfund",
     "tutti i pesi in libbre", "todas las cargas en libras", "wszystkie ciężary w funtach"],
)  # fmt: skip
def test_a_remark_below_the_lifts_says_the_unit_of_its_day_alone(read, remark):
    text = f"Ada Berg\n2026-03-02\nSquat 3x5 @135\n{remark}\n2026-03-04\nSquat 3x5 @60\n"
    logs = read({"diary.txt": text})
    assert [(one.date.day, one.load_kg) for one in logs.sets[::3]] == [(2, pytest.approx(61.235)), (4, 60.0)]
    assert "The loads of a day were read as lb" in " ".join(logs.files[0].sheets[0].assumptions)


@pytest.mark.parametrize("remark", ["20 lb plates are missing", "Lost 3 lb this week", "lb = low bar", "all good"])
def test_a_remark_about_something_else_turns_no_loads(read, remark):
    logs = read({"diary.txt": f"Ada Berg\n2026-03-02\nSquat 3x5 @135\n{remark}\n"})
    assert {one.load_kg for one in logs.sets} == {135.0}
