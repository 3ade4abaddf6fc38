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
    of_store = connection.execute("select view_name from duckdb_views() where not internal").fetchall()
    views = {name for (name,) in of_store}
    for name in sorted(made):
        connection.execute(f'drop {"view" if name in views else "table"} if exists "{name}"')
    connection.execute("delete from query_text")


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
