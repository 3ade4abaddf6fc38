"""Diaries as free text: two or three columns of any name, several lines in one cell, one column of text."""

from datetime import date

import pytest
from openpyxl import Workbook

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
