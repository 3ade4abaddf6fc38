"""The weeks before a flare-up: told with intervals, never graded, not asked about where there was no flare-up."""

import re

import pytest

from preflare.reporting.before import before_section
from preflare.reporting.material import Material
from preflare.reporting.numbers import signed_amount
from preflare.reporting.records import Figure, plain
from preflare.reporting.words import load_words

from .invented import invented_findings, people

WORDS = load_words("en")


def _section(records):
    return before_section(Material({"before_onset": records}, {}, WORDS, None))


def _parts(records):
    """The chart of the section and the table behind it."""
    chart = next(b for b in _section(records).blocks if isinstance(b, Figure))
    return chart, chart.table


@pytest.fixture(scope="module")
def records():
    return invented_findings(people(3))["before_onset"]


def test_the_table_prints_each_difference_with_its_interval(records):
    chart, table = _parts(records)
    rows = {plain(row[0]): [plain(cell) for cell in row[1:]] for row in table.rows}
    assert rows["Squat intensity"] == [
        "0.4 more (1.7 fewer to 2.4 more)", "points of %1RM, median", "37 (8)"]  # fmt: skip
    assert rows["Safety bar"][0] == "17 fewer (29 fewer to 6 fewer)"
    assert rows["Weekly sets"][0] == "0.4 fewer (1.5 fewer to none more)"
    assert "17 fewer (29 fewer to 6 fewer) of 100 squat sessions" in chart.alternative


def test_an_estimate_without_an_interval_is_not_printed(records):
    chart, table = _parts(records)
    row = next(row for row in table.rows if plain(row[0]) == "Wide grip")
    assert plain(row[1]) == "not estimated"
    for svg in (chart.wide, chart.narrow):
        texts = " ".join(re.findall(r"<text[^>]*>([^<]*)</text>", svg))
        assert "too few flare-ups" in texts
        assert "12 more" not in texts


def test_a_bar_that_nobody_ever_used_is_not_told_about(records):
    chart, table = _parts(records)
    assert "Cambered bar" not in [plain(row[0]) for row in table.rows]
    assert "Cambered bar" not in chart.alternative


@pytest.mark.parametrize(
    ("kept", "told"),
    [
        (
            ("intensity", "safety bar"),
            "stood out against ordinary days: the safety bar, 17 fewer (29 fewer to 6 fewer) of 100 squat sessions.",
        ),
        (("intensity", "weekly sets"), "Nothing here stood out"),
        (("wide grip",), "too few flare-ups for an interval"),
    ],
)
def test_what_stood_out_is_said_in_words(records, kept, told):
    blocks = _section([r for r in records if r["exposure"] in kept]).blocks
    assert told in plain(blocks[1].text)
    assert "no grade" in plain(blocks[-1].text)


@pytest.mark.parametrize("flare_ups", [None, 0])
def test_no_heading_where_no_flare_up_could_be_looked_at(records, flare_ups):
    unknown = {"flare_ups": 0, "athletes": 0, "difference": None, "low": None, "high": None}
    empty = [] if flare_ups is None else [r | unknown for r in records]
    assert _section(empty) is None


def test_an_amount_that_rounds_to_nothing_has_no_direction():
    assert [signed_amount(v, WORDS) for v in (-0.04, 0.04, -0.06, 1.25)] == [
        "none more", "none more", "0.1 fewer", "1.2 more"]  # fmt: skip
