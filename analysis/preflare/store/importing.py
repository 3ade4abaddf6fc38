"""Logs into the store: in one transaction, so that a killed import leaves the store as it was."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from typing import Any

import duckdb
import polars as pl

from preflare import __version__
from preflare.errors import PreflareError
from preflare.reading.rows import Logs
from preflare.reading.vocabulary import exercises, warning_words
from preflare.resources import resource
from preflare.settings import Settings
from preflare.store.queries import Query
from preflare.store.rows import frames
from preflare.store.season_file import write_settings
from preflare.store.views import build_views


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that a corrected file changed. was None: new; is_now None: gone."""

    path: str
    sheet: str
    source_row: int
    athlete: str
    date: Any
    what: str
    was: str | None
    is_now: str | None

    def __str__(self) -> str:
        sheet = f', sheet "{self.sheet}"' if self.sheet else ""
        where = f"{self.path}{sheet}, row {self.source_row}: {self.athlete}, {self.date}, {self.what}"
        if self.was is None:
            return f"{where}: new, {self.is_now}"
        if self.is_now is None:
            return f"{where}: gone, was {self.was}"
        return f"{where}: {self.is_now}, was {self.was}"


@dataclass(frozen=True, slots=True)
class ImportSummary:
    """What one import did. rows_read = rows_stored + rows_rejected + rows_not_data."""

    files_new: int
    files_replaced: int
    files_unchanged: int
    files_moved: int
    files_refused: tuple[tuple[str, str], ...]  # path, reason
    rows_read: int
    rows_stored: int
    rows_rejected: int
    rows_not_data: int
    cells_set_aside: int
    sets: int
    sessions: int
    reports: int
    screens: int
    athletes: int
    changes: tuple[Difference, ...]


@cache
def _statement(name: str) -> str:
    return (resource("queries") / "import" / f"{name}.sql").read_text(encoding="utf-8")


def import_into(
    connection: duckdb.DuckDBPyConnection,
    logs: Logs,
    settings: Settings,
    settings_text: str,
    views: Iterable[Query],
) -> ImportSummary:
    """Everything of one import, or nothing of it. Raises PreflareError when the logs contradict themselves."""
    connection.execute("begin")
    try:
        _stage(connection, frames(logs))
        _refuse_orphans(connection)
        for name in ("files", "words", "repeats", "differences"):
            connection.execute(_statement(name))
        differences = _differences(connection)
        _write_vocabulary(connection)
        connection.execute(_statement("replace"))
        write_settings(connection, settings, settings_text)
        build_views(connection, views)
        summary = _summary(connection, logs, differences)
        _record_run(connection, summary, settings, settings_text)
        connection.execute("commit")
    except BaseException:
        connection.execute("rollback")
        raise
    return summary


def _stage(connection: duckdb.DuckDBPyConnection, tables: Mapping[str, Iterable[pl.DataFrame]]) -> None:
    """The incoming rows as temporary tables, chunk by chunk."""
    for name, chunks in tables.items():
        is_first = True
        for chunk in chunks:
            connection.register("chunk", chunk)
            verb = f"create or replace temp table {name} as" if is_first else f"insert into {name}"
            connection.execute(f"{verb} select * from chunk")
            connection.unregister("chunk")
            is_first = False


def _refuse_orphans(connection: duckdb.DuckDBPyConnection) -> None:
    """Rows of a file that the reading does not list would be lost in silence: a fault of the reader, so refuse."""
    for name in ("set", "session", "pain", "screen", "rejected", "choice", "sheet"):
        orphans = connection.execute(
            f"select distinct path from incoming_{name} where path not in (select path from incoming_file)"
        ).fetchall()
        if orphans:
            file = orphans[0][0]
            raise PreflareError(f"{file}: rows came without their file. Nothing was stored; please report it.")


def _differences(connection: duckdb.DuckDBPyConnection) -> tuple[Difference, ...]:
    rows = connection.execute(
        "select path, sheet, source_row, athlete, date, what, was, is_now from incoming_difference"
        " order by path, sheet, source_row, what, athlete, date"
    ).fetchall()
    return tuple(Difference(*row) for row in rows)


def _write_vocabulary(connection: duckdb.DuckDBPyConnection) -> None:
    """The canonical exercises and the warning words. An exercise that the vocabulary does not know counts as other."""
    known = [(e.name, e.family, e.is_back_squat, e.forearm_position, e.shoulder_position) for e in exercises()]
    names = ["exercise", "family", "is_back_squat", "forearm_position", "shoulder_position"]
    _refill(connection, "exercise", pl.DataFrame(known, orient="row", schema=names))
    words = sorted({(kind, word) for word, kind in warning_words()})
    _refill(connection, "warning_word", pl.DataFrame(words, orient="row", schema=["kind", "word"]))
    connection.execute(
        "insert into exercise select distinct exercise, 'other', false, null, null from"
        " (select exercise from incoming_set union select exercise from lift_set)"
        " where exercise not in (select exercise from exercise) order by 1"
    )


def _refill(connection: duckdb.DuckDBPyConnection, table: str, frame: pl.DataFrame) -> None:
    connection.register("chunk", frame)
    connection.execute(f"delete from {table}")
    connection.execute(f"insert into {table} select * from chunk order by all")
    connection.unregister("chunk")


def _summary(connection: duckdb.DuckDBPyConnection, logs: Logs, differences: tuple[Difference, ...]) -> ImportSummary:
    """Counts of what was staged, after repeats of earlier imports were set aside."""
    status = dict(connection.execute("select status, count(*) from incoming_status group by status").fetchall())
    ((read, stored, rejected, not_data),) = connection.execute(
        "select coalesce(sum(rows_read), 0)::bigint, coalesce(sum(rows_stored), 0)::bigint,"
        " coalesce(sum(rows_rejected), 0)::bigint, coalesce(sum(rows_not_data), 0)::bigint from incoming_sheet"
    ).fetchall()
    return ImportSummary(
        files_new=status.get("new", 0),
        files_replaced=status.get("replaced", 0),
        files_unchanged=status.get("unchanged", 0),
        files_moved=status.get("moved", 0),
        files_refused=tuple((file.file, file.refused) for file in logs.files if file.refused),
        rows_read=read,
        rows_stored=stored,
        rows_rejected=rejected,
        rows_not_data=not_data,
        cells_set_aside=_count(connection, "select 1 from incoming_rejected where not is_whole_row"),
        sets=_count(connection, "select 1 from incoming_set"),
        sessions=_count(
            connection,
            "select athlete, date, ordinal from incoming_set union select athlete, date, ordinal from incoming_session",
        ),
        reports=_count(connection, "select 1 from incoming_pain"),
        screens=_count(connection, "select 1 from incoming_screen"),
        athletes=_count(connection, "select 1 from athlete"),
        changes=differences,
    )


def _count(connection: duckdb.DuckDBPyConnection, sql: str) -> int:
    ((count,),) = connection.execute(f"select count(*) from ({sql})").fetchall()
    return int(count)


def _record_run(
    connection: duckdb.DuckDBPyConnection, summary: ImportSummary, settings: Settings, settings_text: str
) -> None:
    (run_id,) = connection.execute("select coalesce(max(run_id), 0) + 1 from import_run").fetchall()[0]
    connection.execute(
        "insert into import_run values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        [
            run_id, datetime.now(UTC).replace(tzinfo=None), __version__, settings.definitions_hash(), settings_text,
            summary.files_new, summary.files_replaced, summary.files_unchanged + summary.files_moved,
            summary.rows_read, summary.rows_stored, summary.rows_rejected, summary.rows_not_data,
        ],
    )  # fmt: skip
    connection.execute(
        "insert into import_change select ?, path, sheet, source_row, athlete, date, what, was, is_now"
        " from incoming_difference order by path, sheet, source_row, what",
        [run_id],
    )
