"""Opening a store: made when absent, refused in plain words when it is not ours, locked, newer or nowhere."""

import subprocess
import sys

import duckdb
import pytest

from hand_logs import HandLogs
from preflare.errors import PreflareError
from preflare.exposures import finding_context, model_frame, report_views
from preflare.settings import Settings
from preflare.store import Store
from preflare.store.connection import SCHEMA_VERSION
from preflare.store.queries import table_queries, view_queries


def test_new_store_has_every_table_empty(tmp_path):
    with Store.open(tmp_path / "season.duckdb") as store:
        for query in table_queries():
            expected = [(1,)] if query.name == "store_version" else [(0,)]
            assert store.rows(f"select count(*) from {query.name}") == expected


def test_store_stays_readable_after_closing(tmp_path):
    with Store.open(tmp_path / "season.duckdb"):
        pass
    with Store.open(tmp_path / "season.duckdb", read_only=True) as store:
        assert store.rows("select schema_version from store_version") == [(SCHEMA_VERSION,)]


def test_absent_store_cannot_be_read(tmp_path):
    with pytest.raises(PreflareError, match="there is no such store"):
        Store.open(tmp_path / "none.duckdb", read_only=True)
    assert not (tmp_path / "none.duckdb").exists()


def test_folder_is_no_store(tmp_path):
    with pytest.raises(PreflareError, match="is a folder; a store is one file"):
        Store.open(tmp_path)


def test_missing_folder_is_named(tmp_path):
    with pytest.raises(PreflareError, match=r"the folder .* does not exist"):
        Store.open(tmp_path / "none" / "season.duckdb")


def test_spreadsheet_is_no_store_and_is_left_alone(tmp_path):
    path = tmp_path / "march.xlsx"
    path.write_bytes(b"PK" + b"\x00" * 5000)
    with pytest.raises(PreflareError, match="is not a preflare store"):
        Store.open(path)
    assert path.read_bytes() == b"PK" + b"\x00" * 5000


def test_another_programs_database_is_left_alone(tmp_path):
    path = tmp_path / "other.duckdb"
    with duckdb.connect(str(path)) as connection:
        connection.execute("create table invoices (id integer)")
    with pytest.raises(PreflareError, match="is a DuckDB file, but not a preflare store"):
        Store.open(path)


@pytest.mark.parametrize(("version", "words"), [(99, "by a newer preflare"), (0, "by an older preflare")])
def test_other_versions_are_refused_in_words(tmp_path, version, words):
    path = tmp_path / "season.duckdb"
    with Store.open(path):
        pass
    with duckdb.connect(str(path)) as connection:
        connection.execute("update store_version set schema_version = ?", [version])
    with pytest.raises(PreflareError, match=words):
        Store.open(path)


@pytest.mark.parametrize("read_only", [True, False])
def test_store_filled_with_other_queries_is_brought_up_to_date(tmp_path, read_only):
    path = tmp_path / "season.duckdb"
    with Store.open(path) as store:
        store.import_logs(HandLogs().set(0, times=3).set(8).done(), Settings(), "")
    with duckdb.connect(str(path)) as connection:
        connection.execute("drop view contrast_data")
        connection.execute("delete from query_text where name = 'contrast_data'")
        connection.execute("create or replace view sets_7d as select session_id, 99 as sets_7d from squat_session")
        connection.execute("update query_text set text = text || ' ' where name = 'sets_7d'")
    with Store.open(path, read_only=read_only) as store:
        assert store.rows("select sets_7d from sets_7d order by session_id")[1] == (0.0,)
        assert len(store.frame("contrast_data")) == 7
        assert {query.name for query in store.queries()} == {query.name for query in view_queries()}


def test_store_open_elsewhere_is_told_in_words(tmp_path):
    path = tmp_path / "season.duckdb"
    with Store.open(path):
        code = f"from preflare.store import Store; Store.open({str(path)!r}, read_only=True)"
        done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert "PreflareError" in done.stderr
    assert "is open in another program" in done.stderr


def test_reading_while_writing_in_the_same_program_is_told_in_words(tmp_path):
    path = tmp_path / "season.duckdb"
    with Store.open(path), pytest.raises(PreflareError, match="is open in another program"):
        Store.open(path, read_only=True)


def test_sql_in_a_store_reaches_no_other_file(tmp_path):
    (tmp_path / "secret.csv").write_text("a\n1\n")
    with Store.open(tmp_path / "season.duckdb") as store, pytest.raises(duckdb.PermissionException):
        store.rows(f"select * from read_csv('{tmp_path / 'secret.csv'}')")


@pytest.mark.parametrize("ask", [model_frame, finding_context, report_views])
def test_empty_store_says_so(tmp_path, ask):
    with Store.open(tmp_path / "season.duckdb") as store, pytest.raises(PreflareError, match="is empty"):
        ask(store)
