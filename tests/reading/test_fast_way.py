"""The fast way through a long list of sets gives what the row reader gives, cell for cell and row for row.

Each log is read twice: once row by row, once by columns. What both must agree in is everything: sets, reports,
sessions, rows set aside with their reasons and places, words, people, assumptions and counts.
"""

import csv
import io
from datetime import date, datetime, timedelta
from random import Random

import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as st

from preflare.reading import coded, plain_parts, read_logs
from preflare.settings import parse_settings

TODAY = date(2026, 11, 25)
CELLS = {
    "Athlete": ["Ada Berg"] * 8 + ["Bo Dahl"] * 8 + ["Berg, Ada", "bo  dahl", "", "same", "A. Berg", "Ada", "Bo Dhal"],
    "Date": ["", "same", "05/03/2026", "5.3.26", "yesterday", "1990-03-05", "2099-01-01", "Total", "2026-03-05 18:30"],
    "Exercise": ["squat"] * 4 + ["bench press"] * 4 + ["SSB squat", "row", "", "rest", "a thing nobody knows", '"'],
    "Bar": ["", "straight", "straight", "straight", "SSB", "ox bar", "?"],
    "Grip": ["narrow", "medium", "medium", "", "wide", "thumbs round"],
    "Load (kg)": ["100"] * 4 + ["102,5"] * 3 + [str(load) for load in range(80, 130, 5)] + [
        "60", "62.5", "1025", "12O", "220 lb", "100/105", "100x5", "-20", "", "BW", "0", "7",
    ],
    "Reps": ["5"] * 6 + ["3", "1", "3F", "0", "5,5,4", "many", "", "5-3"],
    "RPE": ["", "8", "8", "8,5", "7-8", "12", "?", "RPE 9"],
    "Elbow pain L": ["", "", "", "", "0", "2", "3-4", "12", "mild", "?", "left 4/10"],
    "Elbow pain R (0-10)": ["", "", "", "", "1", "5"],
    "Notes": [""] * 12 + ["belt", "warm-up", "left elbow sore, 4/10", "no elbow pain", "failed"],
    "Set": ["1", "2", "3", "4", "5", "6", "", "warm-up"],
    "Warm-up": ["", "", "", "yes", "x"],
    "Mood": ["good", "", "squat", "Athlete"],
    "Session RPE": [""] * 9 + ["7", "11"],
}  # fmt: skip
N_TIDY = {"Athlete": 16, "Exercise": 8, "Bar": 4, "Grip": 3, "Load (kg)": 17, "Reps": 8, "RPE": 4, "Set": 6}
ALWAYS = ["Athlete", "Date", "Exercise", "Load (kg)", "Reps"]
LINES = [[], ["Squad means are in another file"], ["Total", "", "", "", "12000"], ["", "", "", ""]]


def _log(draw: Random, untidy: float) -> list[list[str]]:
    """Headings and rows; every cell is untidy with that chance. Rows and runs of rows stand twice here and there."""
    columns = ALWAYS + [name for name in list(CELLS) if name not in ALWAYS and draw.random() < 0.5]
    draw.shuffle(columns)
    rows = []
    for day in range(draw.randint(2, 5)):
        for _ in range(draw.randint(8, 40)):
            rows.append([_cell(draw, name, day, untidy) for name in columns])
            if draw.random() < untidy / 4:
                rows.append(list(draw.choice(LINES)))
    for _ in range(draw.randint(0, 2)):
        start, at = draw.randrange(len(rows)), draw.randrange(len(rows))
        rows[at:at] = [list(row) for row in rows[start : start + draw.randint(1, 5)]]
    return [columns, *rows]


def _cell(draw: Random, name: str, day: int, untidy: float) -> str:
    """An untidy cell with that chance, and now and then by itself; else one that a tidy log would hold."""
    if draw.random() < max(untidy, 0.02):
        return draw.choice(CELLS[name])
    if name == "Date":
        return str(date(2026, 3, 2) + timedelta(days=2 * day))
    return draw.choice(CELLS[name][: N_TIDY.get(name, 1)])


def _as_csv(rows: list[list[str]]) -> bytes:
    text = io.StringIO()
    csv.writer(text, delimiter=";").writerows(rows)
    return text.getvalue().encode()


def _as_workbook(rows: list[list[str]]) -> bytes:
    """The same cells, numbers as numbers and ISO dates as dates."""
    stream = io.BytesIO()
    book = xlsxwriter.Workbook(stream, {"in_memory": True})
    sheet, day_format = book.add_worksheet("log"), book.add_format({"num_format": "yyyy-mm-dd"})
    for at, row in enumerate(rows):
        for column, cell in enumerate(row):
            if cell.replace(".", "", 1).isdecimal():
                sheet.write_number(at, column, float(cell))
            elif cell.startswith("2026-") and len(cell) == 10:
                sheet.write_datetime(at, column, datetime.fromisoformat(cell), day_format)
            elif cell:
                sheet.write_string(at, column, cell)
    book.close()
    return stream.getvalue()


def _read(folder, files, *, fast: bool, never_declines: bool = True, season: str = ""):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(coded, "LONG", 2 if fast else 10**9)
        if never_declines:
            patch.setattr(plain_parts, "MOST_BY_READER", 2.0)
        for name, content in files.items():
            (folder / name).write_bytes(content)
        return read_logs([folder], parse_settings(season), today=TODAY)


def _everything(logs):
    return (
        logs.files, list(logs.sets), logs.sessions, list(logs.pain), logs.screens, logs.rejected, logs.choices,
        logs.people,
    )  # fmt: skip


def _assert_the_same(folder, files, **how):
    slow = _everything(_read(folder, files, fast=False, **how))
    fast = _everything(_read(folder, files, fast=True, **how))
    for by_row, by_column in zip(slow, fast, strict=True):
        assert by_column == by_row
    return fast


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 2**32), untidy=st.sampled_from([0.0, 0.03, 0.1, 0.3]))
def test_columns_and_rows_give_the_same(tmp_path_factory, seed, untidy):
    draw = Random(seed)
    write = draw.choice([_as_csv, _as_workbook])
    suffix = "csv" if write is _as_csv else "xlsx"
    files = {f"log {n}.{suffix}": write(_log(draw, untidy)) for n in range(draw.choice([1, 1, 2]))}
    _assert_the_same(tmp_path_factory.mktemp("logs"), files)
