"""Anything at all under a log's name is read or refused in words, and the rows add up."""

from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from examples import examples
from preflare.reading import read_logs

CELLS = st.sampled_from(
    [
        "Date",
        "Name",
        "Exercise",
        "Load",
        "Reps",
        "Set 1",
        "Week 2",
        "Pain",
        "2026-01-05",
        "5.3.",
        "13/1/26",
        "Ada Berg",
        "squat",
        "140x3",
        "5x3 @140",
        "100",
        "82,5",
        "7/10",
        "?",
        "Total",
        "",
        "left elbow 4/10",
        "Mon",
        "kg",
        "Notes",
        "\x00",
        '"',
        "<script>",
        "=1+1",
        "1e308",
        "∞",
        "-5",
        "00:00",
    ]
)
TABLES = st.lists(st.lists(CELLS, min_size=1, max_size=8), min_size=1, max_size=12)


def adds_up(content: bytes, name: str) -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(content)
        logs = read_logs([path])
    for file in logs.files:
        assert file.refused is None or name in file.refused
        for sheet in file.sheets:
            assert sheet.rows_read == sheet.rows_stored + sheet.rows_rejected + sheet.rows_not_data
    whole = [(r.place.sheet, r.place.row) for r in logs.rejected if r.is_whole_row]
    assert len(whole) == len(set(whole)) == sum(s.rows_rejected for f in logs.files for s in f.sheets)


@pytest.mark.parametrize("suffix", ["csv", "tsv", "xlsx", "xls", "ods"])
@given(content=st.binary(max_size=300))
@settings(max_examples=examples(40), deadline=None)
def test_random_bytes(suffix, content):
    adds_up(content, f"log.{suffix}")


@pytest.mark.parametrize("start", [b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", b"\xff\xfe", b"\xef\xbb\xbf"])
@given(content=st.binary(max_size=200))
@settings(max_examples=examples(25), deadline=None)
def test_random_bytes_behind_a_true_beginning(start, content):
    for suffix in ("csv", "xlsx", "xls", "ods"):
        adds_up(start + content, f"log.{suffix}")


@given(rows=TABLES, delimiter=st.sampled_from(",;\t|"))
@settings(max_examples=examples(150), deadline=None)
def test_tables_of_likely_cells_in_any_order(rows, delimiter):
    adds_up("\n".join(delimiter.join(row) for row in rows).encode(), "log.csv")
