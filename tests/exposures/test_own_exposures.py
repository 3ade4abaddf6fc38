"""A user's own exposure: one .sql file in a folder of the squad's own."""

import math

import pytest

from hand_logs import HandLogs
from preflare.errors import PreflareError, UsageError
from preflare.exposures import exploratory_columns, model_frame, own_queries, reference_table
from preflare.settings import Settings
from preflare.store import Store

BACK_OFF = """-- name: days_since_curls
-- label: days since the last curl
-- one row: squat session
-- key: session_id
-- known: before the session's day
-- column days_since_curls [days]: days since the last day with a curl
-- zero: never
-- missing: no curl before
-- not applicable: sessions without a back squat
-- source: the squad's own question
-- checks: days_since_curls >= 1
with curls as (
    select athlete_id, date from training_day where elbow_flexion_sets > 0
)

select squat_session.session_id, squat_session.date - curls.date as days_since_curls
from squat_session
asof left join curls on squat_session.athlete_id = curls.athlete_id and squat_session.date > curls.date
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "own").mkdir()
    return tmp_path / "own"


def test_own_exposure_becomes_an_exploratory_column(tmp_path, folder):
    (folder / "days_since_curls.sql").write_text(BACK_OFF)
    own = own_queries(folder)
    with Store.open(tmp_path / "season.duckdb") as store:
        logs = HandLogs().set(0).set(1, exercise="curl").set(4).done()
        store.import_logs(logs, Settings(), "", own_queries=own)
        assert store.verify() == []
        frame = model_frame(store)
        assert math.isnan(frame.days_since_curls.iloc[0])
        assert frame.days_since_curls.iloc[1] == 3.0
        assert [(column.name, column.unit) for column in exploratory_columns(store)] == [("days_since_curls", "days")]
        assert "days since the last day with a curl" in reference_table(store.queries())
        store.import_logs(logs, Settings(), "")
        assert "days_since_curls" not in model_frame(store)


def test_own_check_that_fails_is_told(tmp_path, folder):
    (folder / "days_since_curls.sql").write_text(BACK_OFF.replace("days_since_curls >= 1", "days_since_curls >= 9"))
    with Store.open(tmp_path / "season.duckdb") as store:
        logs = HandLogs().set(1, exercise="curl").set(4).done()
        store.import_logs(logs, Settings(), "", own_queries=own_queries(folder))
        assert store.verify() == ["days_since_curls: days_since_curls >= 9 does not hold in 1 rows"]


def test_error_in_own_sql_names_the_file_and_stores_nothing(tmp_path, folder):
    (folder / "days_since_curls.sql").write_text(BACK_OFF.replace("elbow_flexion_sets", "elbow_sets"))
    with Store.open(tmp_path / "season.duckdb") as store:
        with pytest.raises(PreflareError, match=r"days_since_curls\.sql: .*elbow_sets"):
            store.import_logs(HandLogs().set(0).done(), Settings(), "", own_queries=own_queries(folder))
        assert store.rows("select count(*) from lift_set") == [(0,)]


def test_name_of_the_programs_own_is_refused(folder):
    (folder / "sets_7d.sql").write_text(BACK_OFF.replace("days_since_curls", "sets_7d"))
    with pytest.raises(UsageError, match="preflare has a sets_7d of its own"):
        own_queries(folder)


def test_other_grain_is_refused(folder):
    (folder / "days_since_curls.sql").write_text(BACK_OFF.replace("key: session_id", "key: athlete_id"))
    with pytest.raises(UsageError, match="an exposure has"):
        own_queries(folder)


def test_absent_folder_is_named(tmp_path):
    with pytest.raises(UsageError, match="there is no such folder"):
        own_queries(tmp_path / "none")


def test_own_query_with_two_rows_a_session_is_refused(tmp_path, folder):
    doubled = BACK_OFF.replace("asof left join curls", "left join curls")
    (folder / "days_since_curls.sql").write_text(doubled)
    logs = HandLogs().set(0, exercise="curl").set(1, exercise="curl").set(4).done()
    with (
        Store.open(tmp_path / "season.duckdb") as store,
        pytest.raises(PreflareError, match="an exposure has one row a session; here 1 of them"),
    ):
        store.import_logs(logs, Settings(), "", own_queries=own_queries(folder))


def test_own_file_with_two_statements_changes_nothing(tmp_path, folder):
    (folder / "days_since_curls.sql").write_text(BACK_OFF + ";\ndelete from lift_set")
    with Store.open(tmp_path / "season.duckdb") as store:
        store.import_logs(HandLogs().set(0).done(), Settings(), "")
        with pytest.raises(PreflareError, match="write one query in a file"):
            store.import_logs(HandLogs().set(0).done(), Settings(), "", own_queries=own_queries(folder))
        assert store.rows("select count(*) from lift_set") == [(1,)]
