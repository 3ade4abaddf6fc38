"""The SQL files: every header is complete and true, every view is described, names and files agree."""

import pytest

from hand_logs import random_season
from preflare.errors import PreflareError
from preflare.exposures import MODEL_FRAME, REPORT_VIEWS, model_frame, reference_table
from preflare.resources import resource
from preflare.settings import parse_settings
from preflare.store import Store
from preflare.store.queries import in_order, read_query, table_queries, view_queries

HEADER = """-- name: grip_changes
-- label: changes of grip
-- one row: squat session
-- key: session_id
-- known: before the session
-- column grip_changes [count]: how often the grip changed
-- zero: never
-- missing: never
-- not applicable: never
-- source: the club's own
--     rule book
-- checks: grip_changes >= 0; grip_changes < 100
select session_id, 0 as grip_changes from squat_session
"""


@pytest.mark.parametrize("seed", [1, 2])
def test_every_headers_key_columns_and_checks_hold_on_random_seasons(tmp_path, seed):
    toml = "[[competition]]\ndate = 2026-03-01\n[[change]]\ndate = 2026-02-01\nwhat = 'safety bar'\n"
    with Store.open(tmp_path / "season.duckdb") as store:
        store.import_logs(random_season(seed).done(), parse_settings(toml), toml)
        assert store.verify() == []
        assert len(store.queries()) == len(view_queries())
        frame = model_frame(store)
        assert len(frame) > 30
        assert frame.rating.notna().sum() > 10


def test_every_column_of_every_view_is_described(tmp_path):
    ids = {"session_id", "athlete_id", "date", "season", "athlete", "sheet", "ordinal"}  # say what they are by name
    working = {
        "back_squat_set",
        "squat_session",
        "own_one_rm",
        "arm_report",
        "known_rating",
    }  # steps on the way to a frame
    with Store.open(tmp_path / "season.duckdb") as store:
        store.import_logs(random_season(1).done(), parse_settings(""), "")
        for query in view_queries():
            if query.room == "quality" or query.name in working:
                continue
            given = set(store.frame(query.name).columns)
            described = {column.name for column in query.columns} | set(query.key) | ids
            assert given <= described, (query.name, given - described)


def test_model_frame_has_exactly_the_columns_that_it_documents(tmp_path):
    with Store.open(tmp_path / "season.duckdb") as store:
        store.import_logs(random_season(1).done(), parse_settings(""), "")
        frame = model_frame(store)
    assert list(frame.columns) == [column.name for column in MODEL_FRAME]
    types = {column.name: str(frame[column.name].dtype) for column in MODEL_FRAME}
    for column in MODEL_FRAME:
        if column.unit in ("word", "name"):
            assert types[column.name] == "str"
        elif column.unit == "yes/no":
            assert types[column.name] == "bool"
        elif column.name not in ("session_id", "date", "season", "day", "n_reports"):
            assert types[column.name] == "float64"


def test_report_views_all_exist():
    assert set(REPORT_VIEWS.values()) <= {query.name for query in view_queries()}


def test_names_of_tables_and_views_are_unique():
    names = [query.name for query in (*table_queries(), *view_queries())]
    assert len(names) == len(set(names))


def test_sql_is_lower_case_and_short_enough_to_read_at_once():
    for query in view_queries():
        body = [line for line in query.text.splitlines() if not line.startswith("--")]
        assert not [line for line in body if "SELECT" in line or "FROM" in line], query.name
        assert max(len(line) for line in query.text.splitlines()) <= 120, query.name
        assert len(body) <= 120, (query.name, len(body))


def test_header_is_read_whole():
    query = read_query(HEADER, "grip_changes.sql", "exposures")
    assert query.label == "changes of grip"
    assert query.key == ("session_id",)
    assert query.source == "the club's own rule book"
    assert query.checks == ("grip_changes >= 0", "grip_changes < 100")
    assert (query.columns[0].name, query.columns[0].unit) == ("grip_changes", "count")


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("-- zero: never\n", "", "lacks zero"),
        ("-- source: the club's own\n--     rule book\n", "", "lacks source"),
        ("name: grip_changes", "name: grips", "name and file must agree"),
        ("-- label: changes of grip", "-- changes of grip", 'is not of the form "-- key: text"'),
    ],
)
def test_incomplete_header_is_named(before, after, words):
    with pytest.raises(PreflareError, match=f"grip_changes.sql.*{words}"):
        read_query(HEADER.replace(before, after), "grip_changes.sql", "exposures")


def test_queries_come_after_those_that_they_read():
    first = read_query(HEADER, "grip_changes.sql", "exposures")
    second = read_query(
        HEADER.replace("grip_changes", "again").replace("squat_session", "grip_changes"), "again.sql", "exposures"
    )
    assert [query.name for query in in_order([second, first])] == ["grip_changes", "again"]


def test_queries_that_read_each_other_are_refused():
    one = read_query(HEADER.replace("squat_session", "two").replace("grip_changes", "one"), "one.sql", "exposures")
    two = read_query(HEADER.replace("squat_session", "one").replace("grip_changes", "two"), "two.sql", "exposures")
    with pytest.raises(PreflareError, match="in a circle"):
        in_order([one, two])


def test_the_page_beside_the_queries_says_what_their_headers_say():
    page = (resource("queries") / "README.md").read_text(encoding="utf-8")
    assert page == reference_table(), "make queries/README.md anew; the command stands at its top"


def test_reference_names_every_exposure_and_outcome_with_its_unit():
    text = reference_table()
    for query in view_queries():
        assert (f"### `{query.name}`" in text) == (query.room in ("exposures", "outcomes"))
    assert "| `sets_7d` | sets | working back-squat sets on the 7 days before" in text
