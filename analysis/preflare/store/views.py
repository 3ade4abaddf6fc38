"""The queries built into a store: views, and the few tables that are computed once at import."""

from collections.abc import Iterable

import duckdb
import polars as pl

from preflare.errors import PreflareError
from preflare.store.queries import Query, in_order, read_query, view_queries


def build_views(connection: duckdb.DuckDBPyConnection, queries: Iterable[Query]) -> None:
    """Make every query a view (or a kept table) of its name, in the order given, and note the SQL it was made with.

    Views whose SQL is as it was stay; kept tables are computed anew. Raises PreflareError for a user's own query that
    does not run, or does not give one row a session.
    """
    queries = tuple(queries)
    texts = dict(connection.execute("select name, text from query_text").fetchall())
    is_as_before = texts == {query.name: query.text for query in queries}
    if not is_as_before:
        _drop_made(connection, texts)
    for query in queries:
        if query.is_exploratory:
            _build_own(connection, query)
        elif query.is_table:
            connection.execute(f'create or replace table "{query.name}" as {query.text}')
        elif not is_as_before:
            connection.execute(f'create view "{query.name}" as {query.text}')
    if not is_as_before:
        connection.execute("delete from query_text")
        made = [(query.name, query.room, query.is_exploratory, query.text) for query in queries]
        connection.register("made", pl.DataFrame(made, orient="row", schema=["name", "room", "is_exploratory", "text"]))
        connection.execute("insert into query_text select * from made")
        connection.unregister("made")


def stored_queries(connection: duckdb.DuckDBPyConnection) -> list[Query]:
    """The queries that a store was made with."""
    rows = connection.execute("select text, name, room, is_exploratory from query_text order by name").fetchall()
    return [read_query(text, f"{name}.sql", room, is_exploratory=own) for text, name, room, own in rows]


def is_current(connection: duckdb.DuckDBPyConnection) -> bool:
    """Whether a store's views are those of this program; true of a store that nothing was imported into."""
    stored = dict(connection.execute("select name, text from query_text where not is_exploratory").fetchall())
    return not stored or stored == {query.name: query.text for query in view_queries()}


def refresh(connection: duckdb.DuckDBPyConnection) -> None:
    """Make the views of an older or newer program anew, from the tables as they are; the user's own stay."""
    own = [query for query in stored_queries(connection) if query.is_exploratory]
    connection.execute("begin")
    try:
        build_views(connection, in_order([*view_queries(), *own]))
        connection.execute("commit")
    except BaseException:
        connection.execute("rollback")
        connection.close()
        raise


def _build_own(connection: duckdb.DuckDBPyConnection, query: Query) -> None:
    """A view from the user's own folder: one statement, that runs, with one row a session."""
    file = f"{query.name}.sql"
    try:
        if len(connection.extract_statements(query.text)) != 1:
            raise PreflareError(f"{file}: write one query in a file, without a semicolon in its midst.")
        connection.execute(f'create or replace view "{query.name}" as {query.text}')
        doubles = connection.execute(f'select session_id from "{query.name}" group by 1 having count(*) > 1').fetchall()
        connection.execute(f'select count("{query.name}") from "{query.name}"').fetchall()
    except duckdb.Error as problem:
        raise PreflareError(f"{file}: {str(problem).splitlines()[0]}") from None
    if doubles:
        raise PreflareError(f"{file}: an exposure has one row a session; here {len(doubles)} of them have more.")


def _drop_made(connection: duckdb.DuckDBPyConnection, made: Iterable[str]) -> None:
    """Remove what an earlier import built."""
    of_store = connection.execute("select view_name from duckdb_views() where not internal").fetchall()
    views = {name for (name,) in of_store}
    for name in sorted(made):
        connection.execute(f'drop {"view" if name in views else "table"} if exists "{name}"')


def verify(connection: duckdb.DuckDBPyConnection, queries: Iterable[Query]) -> list[str]:
    """Where the data contradict a query's header, one sentence each; [] when all of it holds."""
    return [sentence for query in queries for sentence in _contradictions(connection, query)]


def _contradictions(connection: duckdb.DuckDBPyConnection, query: Query) -> list[str]:
    """One look at a view: columns that its header describes are there, its key is unique, its checks hold."""
    given = {row[0] for row in connection.execute(f'describe "{query.name}"').fetchall()}
    missing = [column.name for column in query.columns if column.name not in given]
    if missing:
        return [f"{query.name}: the header describes {name}, which the query does not give" for name in missing]
    keys = f"count(distinct ({', '.join(query.key)}))" if query.key else "count(*)"
    nulls = " or ".join(f"{column} is null" for column in query.key) or "false"
    failed = "".join(f", count(*) filter (where not ({check}))" for check in query.checks)
    ((n_rows, n_keys, n_null, *failures),) = connection.execute(
        f'select count(*), {keys}, count(*) filter (where {nulls}){failed} from "{query.name}"'
    ).fetchall()
    found = []
    if n_keys != n_rows or n_null:
        found.append(f"{query.name}: the key {', '.join(query.key)} does not tell its {n_rows} rows apart")
    return found + [
        f"{query.name}: {check} does not hold in {n} rows" for check, n in zip(query.checks, failures, strict=True) if n
    ]
