"""The queries built into a store: views, and the few tables that are computed once at import."""

from collections.abc import Iterable

import duckdb

from preflare.errors import PreflareError
from preflare.store.queries import Query


def build_views(connection: duckdb.DuckDBPyConnection, queries: Iterable[Query]) -> None:
    """Make every query a view (or a kept table) of its name, in the order given, and note the SQL it was made with."""
    queries = tuple(queries)
    _drop_made(connection)
    for query in queries:
        kind = "table" if query.is_table else "view"
        try:
            connection.execute(f'create {kind} "{query.name}" as {query.text}')
        except duckdb.Error as problem:
            if not query.is_exploratory:
                raise
            raise PreflareError(f"{query.name}.sql: {str(problem).splitlines()[0]}") from None
    for query in queries:
        values = [query.name, query.room, query.is_exploratory, query.text]
        connection.execute("insert into query_text values (?, ?, ?, ?)", values)


def _drop_made(connection: duckdb.DuckDBPyConnection) -> None:
    """Remove what an earlier import built. Views first: a table may stand behind one."""
    made = {name for (name,) in connection.execute("select name from query_text").fetchall()}
    views = {name for (name,) in connection.execute("select view_name from duckdb_views() where not internal").fetchall()}
    for name in sorted(made):
        connection.execute(f'drop {"view" if name in views else "table"} if exists "{name}"')
    connection.execute("delete from query_text")
