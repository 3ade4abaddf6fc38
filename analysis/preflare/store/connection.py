"""Opening the store's file: one writer at a time, nothing loaded from outside, and plain words when it cannot be."""

from pathlib import Path

import duckdb

from preflare.errors import PreflareError
from preflare.store.queries import table_queries

SCHEMA_VERSION = 1
# Nothing is fetched while the program runs, and SQL from a user's folder can reach no file but the store.
CONFIG: dict[str, str | bool | int | float | list[str]] = {
    "autoinstall_known_extensions": False,
    "autoload_known_extensions": False,
    "enable_external_access": False,
    "memory_limit": "60%",  # above it, sorts and joins spill into a folder beside the store
}


def connect(path: Path, *, read_only: bool) -> duckdb.DuckDBPyConnection:
    """A connection to the store at `path`; made when absent, unless read_only. Raises PreflareError in plain words."""
    if read_only and not path.exists():
        raise PreflareError(f'{path}: there is no such store. Make it with "preflare import LOGS --store {path}".')
    if path.is_dir():
        raise PreflareError(f"{path} is a folder; a store is one file. Name it, such as {path / 'season.duckdb'}.")
    if not path.parent.is_dir():
        raise PreflareError(f"{path}: the folder {path.parent} does not exist. Make it first, or choose another place.")
    try:
        connection = duckdb.connect(str(path), read_only=read_only, config=CONFIG)
    except duckdb.Error as problem:
        raise PreflareError(_in_words(path, str(problem))) from None
    try:
        _check_version(connection, path, read_only=read_only)
    except BaseException:
        connection.close()
        raise
    return connection


def _in_words(path: Path, problem: str) -> str:
    """Why DuckDB refused a file, as a sentence with a remedy."""
    lower = problem.lower()
    if "lock" in lower or "different configuration" in lower or "being used by another process" in lower:
        return f"{path} is open in another program, which keeps it to itself. Close that program and try again."
    if "version number" in lower or "newer version" in lower:
        return f"{path} was written by another version of DuckDB. Update preflare, or import the logs into a new store."
    if "not a valid duckdb" in lower:
        return f"{path} is not a preflare store. Name another file; this one is left as it is."
    if "permission" in lower or "read-only file system" in lower:
        return f"{path} cannot be opened: no permission. Choose another place, or change the file's rights."
    return f"{path} cannot be opened as a store: {problem.splitlines()[0]}"


def _check_version(connection: duckdb.DuckDBPyConnection, path: Path, *, read_only: bool) -> None:
    """Make the tables in a new file; refuse a file that is not ours, or newer than this program."""
    tables = {name for (name,) in connection.execute("select table_name from duckdb_tables()").fetchall()}
    if not tables and not read_only:
        _make_tables(connection)
        return
    if "store_version" not in tables:
        raise PreflareError(f"{path} is a DuckDB file, but not a preflare store. Name another; it is left as it is.")
    (version,) = connection.execute("select max(schema_version) from store_version").fetchall()[0]
    if version > SCHEMA_VERSION:
        raise PreflareError(f"{path} was made by a newer preflare (tables of version {version}). Update preflare.")
    if version < SCHEMA_VERSION:
        raise PreflareError(
            f"{path} was made by an older preflare (tables of version {version}, now {SCHEMA_VERSION}). "
            f"Import the logs again into a new store; the logs are unchanged."
        )


def _make_tables(connection: duckdb.DuckDBPyConnection) -> None:
    """All canonical tables, empty, in one transaction: a kill leaves an empty file, which counts as new."""
    connection.execute("begin")
    for query in table_queries():
        connection.execute(query.text)
    connection.execute("insert into store_version values (?)", [SCHEMA_VERSION])
    connection.execute("commit")
