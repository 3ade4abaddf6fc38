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
from hypothesis import example, given, settings
from hypothesis import strategies as st

from examples import examples
from preflare.reading import coded, plain_parts, read_logs
from preflare.reading.framed import FramedRows
from preflare.settings import parse_settings
from preflare.store import Store

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
N_TIDY = {"Athlete": 16, "Exercise": 8, "Bar": 4, "Grip": 3, "Load (kg)": 17, "Reps": 8, "RPE": 4, "Set": 6,
          "Sets": 3, "RIR": 3, "%": 2, "Failed": 3, "Bar position": 3}  # fmt: skip
ALWAYS = ["Athlete", "Date", "Exercise", "Load (kg)", "Reps"]
MORE_CELLS = CELLS | {
    "Sets": ["1", "1", "1", "3", "2-3", "many", ""],
    "RIR": ["", "2", "2", "1-2", "?"],
    "%": ["", "", "75", "0.8", "75%", "x"],
    "Failed": ["", "", "", "x", "no"],
    "Bar position": ["", "high", "low", "?"],
    "Load (kg)": [*CELLS["Load (kg)"], "100*", "w100", "102.5 (F)", "30.0"],
    "Reps": [*CELLS["Reps"], "5*", "3x", "5 f"],
}
LINES = [[], ["Squad means are in another file"], ["Total", "", "", "", "12000"], ["", "", "", ""]]
MORE_LINES = [*LINES, ["* = warm-up, x = missed"], ["", "", '"']]


def _log(draw: Random, untidy: float, has_more: bool) -> list[list[str]]:
    """Headings and rows; every cell is untidy with that chance. Rows and runs of rows stand twice here and there."""
    cells, lines = (MORE_CELLS, MORE_LINES) if has_more else (CELLS, LINES)
    columns = ALWAYS + [name for name in cells if name not in ALWAYS and draw.random() < 0.5]
    draw.shuffle(columns)
    rows = []
    for day in range(draw.randint(2, 5)):
        for _ in range(draw.randint(8, 40)):
            rows.append([_cell(draw, name, cells[name], day, untidy) for name in columns])
            if draw.random() < untidy / 4:
                rows.append(list(draw.choice(lines)))
    for _ in range(draw.randint(0, 2)):
        start, at = draw.randrange(len(rows)), draw.randrange(len(rows))
        rows[at:at] = [list(row) for row in rows[start : start + draw.randint(1, 5)]]
    return [columns, *rows]


def _cell(draw: Random, name: str, cells: list[str], day: int, untidy: float) -> str:
    """An untidy cell with that chance, and now and then by itself; else one that a tidy log would hold."""
    if draw.random() < max(untidy, 0.02):
        return draw.choice(cells)
    if name == "Date":
        return str(date(2026, 3, 2) + timedelta(days=2 * day))
    return draw.choice(cells[: N_TIDY.get(name, 1)])


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


@settings(max_examples=examples(60), deadline=None)
@given(
    seed=st.integers(0, 2**32),
    untidy=st.sampled_from([0.0, 0.03, 0.1, 0.3]),
    has_more=st.booleans(),
    never_declines=st.booleans(),
)
@example(seed=198, untidy=0.03, has_more=False, never_declines=False)  # a short row among dates out of order
@example(seed=251, untidy=0.3, has_more=False, never_declines=True)  # two files with runs that stand twice
def test_columns_and_rows_give_the_same(tmp_path_factory, seed, untidy, has_more, never_declines):
    draw = Random(seed)
    write = draw.choice([_as_csv, _as_workbook])
    suffix = "csv" if write is _as_csv else "xlsx"
    files = {f"log {n}.{suffix}": write(_log(draw, untidy, has_more)) for n in range(draw.choice([1, 1, 2]))}
    _assert_the_same(tmp_path_factory.mktemp("logs"), files, never_declines=never_declines)


# A tidy log of 480 sets, and what may be wrong with it here and there. ---------------------------------------------

TIDY_HEADINGS = ["Athlete", "Date", "Exercise", "Bar", "Load (kg)", "Reps", "RPE", "Elbow pain (0-10)"]


def _tidy() -> list[list[str]]:
    rows = []
    for day in range(20):
        for who, best in (("Ada Berg", 110), ("Bo Dahl", 150)):
            for nth in range(12):
                exercise, bar = ("squat", "SSB" if day % 3 else "straight") if nth < 6 else ("bench press", "")
                pain = str((day + nth) % 4) if nth == 0 else ""
                when = str(date(2026, 1, 5) + timedelta(days=2 * day))
                rows.append([who, when, exercise, bar, str(best - 5 * (nth % 6)), str(3 + nth % 3), "8", pain])
    return rows


def _slip_of_the_decimal_mark(rows):
    rows[300][4] = rows[310][4] = rows[420][4] = "1050"


def _birthday(rows):
    rows[217][1] = "1998-05-04"


def _run_that_stands_twice(rows):
    rows[252:252] = [list(row) for row in rows[96:108]]


def _partners_by_turns(rows):
    rows.sort(key=lambda row: row[1])
    rows[:] = [row for day in range(20) for pair in zip(*[iter(rows[24 * day : 24 * day + 24])] * 12, strict=True)
               for row in sorted(pair, key=lambda row: row[4])]  # fmt: skip


def _name_spelt_otherwise(rows):
    for row in rows[::7]:
        row[0] = {"Ada Berg": "berg, ada", "Bo Dahl": "Bo  DAHL"}[row[0]]


def _blanks_that_take_over(rows):
    for row in rows[60:72]:
        row[0], row[1] = "", ""
    for row in rows[400:403]:
        row[2] = ""


def _figures_that_are_none(rows):
    rows[30][4], rows[31][5], rows[32][6], rows[33][7], rows[34][1] = "11O", "many", "12", "often", "2027-02-30"


def _times_of_day(rows):
    for row in rows[120:240]:
        row[1] += " 18:30"


def _nothing(rows):
    pass


SLIPS = [_nothing, _slip_of_the_decimal_mark, _birthday, _run_that_stands_twice, _partners_by_turns,
         _name_spelt_otherwise, _blanks_that_take_over, _figures_that_are_none, _times_of_day]  # fmt: skip
SET_ASIDE = {_slip_of_the_decimal_mark: 3, _birthday: 1, _run_that_stands_twice: 12, _figures_that_are_none: 5}


@pytest.mark.parametrize("write", [_as_csv, _as_workbook])
@pytest.mark.parametrize("slip", SLIPS)
def test_a_long_list_is_read_by_columns_and_rules_over_the_whole_file_hold(tmp_path, slip, write):
    rows = _tidy()
    slip(rows)
    name = "log.csv" if write is _as_csv else "log.xlsx"
    fast = _read(tmp_path, {name: write([TIDY_HEADINGS, *rows])}, fast=True, never_declines=False)
    slow = _read(tmp_path, {}, fast=False)
    assert isinstance(fast.sets, FramedRows)  # so at least half of the rows were never read one by one
    assert isinstance(slow.sets, list)
    assert _everything(fast) == _everything(slow)
    assert len(fast.rejected) == SET_ASIDE.get(slip, 0)


def test_a_numbered_set_that_stands_twice_is_set_aside(tmp_path):
    rows = [[*row, str(k % 6 + 1)] for k, row in enumerate(_tidy())]
    rows[200:200] = [list(row) for row in (rows[100], rows[111], rows[199])]
    logs = _assert_the_same(tmp_path, {"log.csv": _as_csv([[*TIDY_HEADINGS, "Set"], *rows])}, never_declines=False)
    assert [one.reason for one in logs[5]] == [f"the row repeats row {line}" for line in (102, 113, 201)]


def test_marks_from_several_columns_add_up_and_work_in_short_takes_none_from_beside_it(tmp_path):
    rows = [[*row, "", str(k % 6 + 1), ""] for k, row in enumerate(_tidy())]
    for k, row in enumerate(rows[:400]):
        row[8], row[9], row[10] = (
            ("yes" if k % 5 == 0 else ""),
            ("warm-up" if k % 12 == 6 else row[9]),
            "x" * (k % 11 == 0),
        )
        row[4], row[5] = ("100x5", "5") if k % 13 == 0 else (row[4], "3F" if k % 17 == 0 else row[5])
    log = [[*TIDY_HEADINGS, "Warm-up", "Set", "Failed"], *rows]
    logs = _assert_the_same(tmp_path, {"log.csv": _as_csv(log)})
    marks = {(one.is_warm_up, one.is_failed) for one in logs[1]}
    assert marks == {(True, True), (True, False), (False, True), (False, False)}


def test_loads_that_look_like_pounds_are_doubted_either_way(tmp_path):
    ladder = ["135", "185", "225", "155", "205", "145"]
    log = [[*TIDY_HEADINGS[:4], "Load", *TIDY_HEADINGS[5:]]]
    log += [[*row[:4], ladder[k % 6], *row[5:]] for k, row in enumerate(_tidy())]
    logs = _assert_the_same(tmp_path, {"log.csv": _as_csv(log)}, never_declines=False)
    assert any("look like pounds (135, 185, 225)" in one.reason for one in logs[5])


def test_the_same_sessions_in_two_long_files_count_once(tmp_path):
    rows = _tidy()
    files = {"a.csv": _as_csv([TIDY_HEADINGS, *rows]), "b.csv": _as_csv([TIDY_HEADINGS, *rows[120:240]])}
    logs = _assert_the_same(tmp_path, files, never_declines=False)
    assert len(logs[1]) == len(rows)
    assert sum("stands in a.csv already" in one.reason for one in logs[5]) == 120


def test_runs_that_stand_twice_are_set_aside_in_the_order_of_files_however_each_is_read(tmp_path):
    rows = _tidy()
    _run_that_stands_twice(rows)
    by_row = [[*TIDY_HEADINGS, "Session"], *([*row, "1"] for row in rows)]
    files = {
        "a.csv": _as_csv(by_row).replace(b"Ada Berg", b"Cy Ek").replace(b"Bo Dahl", b"Di Fors"),
        "b.csv": _as_csv([TIDY_HEADINGS, *rows]),
        "c.csv": _as_csv(by_row).replace(b"Ada Berg", b"Eli Gran").replace(b"Bo Dahl", b"Fay Holm"),
    }
    logs = _assert_the_same(tmp_path, files, never_declines=False)
    aside = [one.place.file for one in logs[5] if "stand here a second time" in one.reason]
    assert aside == ["a.csv"] * 12 + ["b.csv"] * 12 + ["c.csv"] * 12


STORED = ["athlete", "session", "lift_set", "pain_report", "rejected_row", "vocabulary_choice", "source_sheet"]


def test_the_store_holds_the_same_of_a_log_read_either_way(tmp_path):
    rows = _tidy()
    for slip in SLIPS[1:]:
        slip(rows)
    (tmp_path / "logs").mkdir()
    tables = []
    for fast in (False, True):
        logs = _read(tmp_path / "logs", {"log.csv": _as_csv([TIDY_HEADINGS, *rows])}, fast=fast)
        with Store.open(tmp_path / f"{fast}.duckdb") as store:
            store.import_logs(logs, parse_settings(""), "")
            tables.append([store.rows(f"from {name} order by all") for name in STORED])
    assert tables[0] == tables[1]
    assert [len(table) > 0 for table in tables[1]] == [True] * len(STORED)


def _with_column(heading: str, cell: str):
    return [[*TIDY_HEADINGS, heading], *([*row, cell] for row in _tidy())]


@pytest.mark.parametrize(
    "rows",
    [
        pytest.param(_with_column("Timestamp", "2026-03-05 18:30"), id="a time stamp"),
        pytest.param(_with_column("Session", "2"), id="numbered sessions"),
        pytest.param(_with_column("Site", "elbow"), id="sites beside the ratings"),
        pytest.param([TIDY_HEADINGS, *_tidy()[:240], [], TIDY_HEADINGS, *_tidy()[240:]], id="two tables"),
        pytest.param([["Date", "Athlete", "Work"], *([row[1], row[0], "3x5 @100"] for row in _tidy())], id="in short"),
        pytest.param([["Date", "Name", "Elbow pain"], *([row[1], row[0], "3"] for row in _tidy())], id="a form"),
        pytest.param([["some", "text"], *_tidy()], id="no headings"),
        pytest.param(
            [
                ["Ada Berg 2026"],
                ["Exercise", "5.1", "7.1", "9.1"],
                *(["squat", f"{load}x5", "105x3", ""] for load in range(60, 120)),
            ],
            id="dates across",
        ),
        pytest.param(
            [TIDY_HEADINGS, *([*row[:4], str(k), *row[5:]] for k, row in enumerate(_tidy()))], id="no repeats"
        ),
    ],
)
def test_any_other_layout_goes_row_by_row(tmp_path, rows):
    fast = _read(tmp_path, {"log.csv": _as_csv(rows)}, fast=True, never_declines=False)
    assert isinstance(fast.sets, list)
    assert _everything(fast) == _everything(_read(tmp_path, {}, fast=False))


def test_rows_of_a_frame_are_a_sequence(tmp_path):
    logs = _read(tmp_path, {"log.csv": _as_csv([TIDY_HEADINGS, *_tidy()])}, fast=True)
    assert logs.sets[0] == next(iter(logs.sets))
    assert list(logs.sets[3:5]) == [logs.sets[3], logs.sets[4]]
    assert len(logs.sets) == 480


@pytest.mark.parametrize(
    "legend",
    [
        ["Bar: O straight, Y safety bar, C cambered", "Squat is always straight bar, wide grip, unless written"],
        ["Grip: N narrow, M medium, W wide", "With the safety bar no grip and no high/low"],
        ["blank bar = straight", "blank grip = same as last time"],
        ["SQX = back squat, BNX = bench press", "all loads in lb"],
    ],
)
def test_what_a_legend_says_holds_either_way(tmp_path, legend):
    head = ["Date", "Athlete", "Exercise", "Bar", "Grip", "Load (kg)" if "lb" not in legend[1] else "Load", "Reps"]
    lifts = ["squat", "squat low bar", "bench press", "SQX", "BNX", "front squat"]
    bars, grips = ["", "O", "Y", "safety", "ox bar"], ["", "N", "wide", "", "M", "thumbs round"]
    start = date(2026, 1, 5)
    rows = [
        [
            str(start + timedelta(days=i // 8)),
            "Ada Berg",
            lifts[i % 6],
            bars[i // 6 % 5],
            grips[i // 7 % 6],
            str(60 + i % 50),
            "5",
        ]
        for i in range(160)
    ]
    files = {"log.csv": _as_csv([*([line] for line in legend), head, *rows])}
    _assert_the_same(tmp_path, files)
