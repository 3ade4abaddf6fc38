"""The invented club's season, as shipped: every word known, every person joined, every row accounted for."""

import pytest

from preflare.reading import read_logs
from preflare.resources import resource
from preflare.settings import load_settings

DEMO = resource("demo_logs")


@pytest.fixture(scope="module")
def demo():
    return read_logs([DEMO], load_settings(DEMO / "season.toml"))


def test_no_word_of_the_demo_season_stays_unknown(demo):
    assert [choice for choice in demo.choices if choice.how == "not known"] == []


def test_its_24_lifters_are_24_people_however_they_sign(demo):
    # demo_logs/README.md: 24 lifters, several of whom are written in three or more ways.
    assert len(demo.people) == 24
    assert max(len(written) for written in demo.people.values()) >= 3


def test_hardly_a_row_of_it_is_rejected_and_all_are_accounted_for(demo):
    sheets = [sheet for file in demo.files for sheet in file.sheets]
    read = sum(sheet.rows_read for sheet in sheets)
    assert read == sum(sheet.rows_stored + sheet.rows_rejected + sheet.rows_not_data for sheet in sheets)
    assert sum(sheet.rows_rejected for sheet in sheets) < 0.001 * read
