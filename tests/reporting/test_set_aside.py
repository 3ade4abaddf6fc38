"""What was set aside: the same reason told once with its number, every place in the list below it."""

import subprocess
import sys
from types import SimpleNamespace

import pandas as pd
import pytest

from preflare.reporting.logs import said_of_all
from preflare.reporting.material import Material
from preflare.reporting.reasons import by_reason
from preflare.reporting.records import Table
from preflare.reporting.set_aside import rejected_section
from preflare.reporting.words import load_words
from preflare.summary import closing_summary, import_summary

WORDS = load_words("en")


def aside(row: int, reason: str, *, is_whole_row: bool = False) -> dict:
    return {
        "file": "autumn.csv", "sheet": "", "row": row, "column": "" if is_whole_row else "C", "value": f"{row} SSB",
        "reason": reason, "remedy": "correct the cell and import again", "is_whole_row": is_whole_row,
    }  # fmt: skip


def tables(found: list[dict]) -> list[Table]:
    section = rejected_section(Material({}, {"rejected_row": pd.DataFrame(found)}, WORDS, None))
    return [block for block in section.blocks if isinstance(block, Table)]


def test_reasons_that_differ_in_numbers_and_quoted_words_are_one_reason():
    loads = [aside(n, f"the load of {800 + n} kg is more than anyone lifts") for n in range(3)]
    words = [aside(n, f'"{word}" is not known') for n, word in enumerate(("entf.", "krank"))]
    assert [len(alike) for alike in by_reason([*words, *loads])] == [3, 2]


def test_a_row_and_a_cell_set_aside_for_one_reason_are_counted_apart():
    found = [aside(1, "no number"), aside(2, "no number", is_whole_row=True), aside(3, "no number")]
    assert [(len(alike), alike[0]["is_whole_row"]) for alike in by_reason(found)] == [(2, False), (1, True)]


def test_few_problems_are_a_list_and_no_summary():
    [listed] = tables([aside(n, "the load is not a number") for n in range(1, 4)])
    assert len(listed.rows) == 3
    assert not listed.is_folded


def test_many_problems_begin_with_their_reasons_and_every_place_stands_below():
    found = [aside(n, "the load is not a number") for n in range(1, 41)] + [
        aside(99, "the rating lies outside 0 to 10")
    ]
    reasons, listed = tables(found)
    told = ["".join(span.text for span in cell) for cell in reasons.rows[0]]
    assert told[:2] == ["40 cells", "the load is not a number"]
    assert told[3] == "autumn.csv, row 1, column C"
    assert len(reasons.rows) == 2
    assert len(listed.rows) == 41
    assert listed.is_folded


def imported(rows_read: int) -> SimpleNamespace:
    counts = dict.fromkeys(("sets", "reports", "athletes", "files_new", "files_replaced", "files_unchanged",
                            "rows_stored", "rows_rejected", "rows_not_data", "cells_set_aside"), 1)  # fmt: skip
    return SimpleNamespace(**counts, rows_read=rows_read, changes=(), files_refused=())


def test_the_terminal_names_the_commonest_reason_and_where_it_began():
    found = [aside(n, "the load is not a number") for n in range(4, 14)]
    told = "\n".join(import_summary(imported(100), [], found))
    assert "Set aside most often (10 cells, first at autumn.csv, row 4, column C): the load is not a number." in told


def test_the_terminal_is_silent_on_reasons_that_are_rare():
    found = [aside(n, "the load is not a number") for n in range(4, 14)]
    assert "most often" not in "\n".join(import_summary(imported(10_000), [], found))


def findings() -> dict:
    response = {"sessions": 0, "reported": 0}
    return {"logs": {"response": response}, "season": {"name": "Quay", "athletes": 1}, "findings": []}


@pytest.mark.parametrize(("names", "is_told"), [("full", True), ("codes", False), ("initials", False)])
def test_the_closing_words_tell_a_reason_only_where_names_may_be_shown(tmp_path, names, is_told):
    found = [aside(n, "the session of Ada Berg stands in another file already") for n in range(4, 14)]
    told = "\n".join(closing_summary(findings(), imported(100), tmp_path, names, set_aside=found))
    assert ("Ada Berg" in told) is is_told


def test_the_closing_words_need_no_charts():
    code = "import preflare.summary, sys; print('matplotlib' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_what_holds_for_every_sheet_of_a_file_is_told_once_for_the_file():
    said = [["dates are day first", "kg"], ["kg", "Week 1 was 2026-01-05"], ["kg"]]
    assert said_of_all([{"assumptions": one} for one in said]) == ["kg"]
    assert said_of_all([{"assumptions": said[0]}]) == []
    assert said_of_all([]) == []
