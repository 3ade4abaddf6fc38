"""The store: one DuckDB file that holds a squad's logs, where each value came from, and the queries over them."""

from collections.abc import Sequence
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any

import duckdb

from preflare.errors import PreflareError
from preflare.reading.rows import Logs
from preflare.settings import Settings, parse_settings
from preflare.store.connection import connect
from preflare.store.importing import ImportSummary, import_into
from preflare.store.queries import Query, in_order, view_queries
from preflare.store.season_file import Definitions, read_definitions
from preflare.store.views import is_current, refresh, stored_queries, verify

if TYPE_CHECKING:
    import pandas


class Store:
    """An open store. Use `with Store.open(path) as store`; frames are pandas, arithmetic stays in SQL."""

    def __init__(self, path: Path, connection: duckdb.DuckDBPyConnection) -> None:
        self.path = path
        self._connection = connection

    @classmethod
    def open(cls, path: Path | str, read_only: bool = False) -> "Store":
        """The store at `path`, made when absent unless read_only.

        A store that was filled with other queries than this program's has its views made anew first. Raises
        PreflareError when it is locked, not a store, of another version, or may not be written.
        """
        path = Path(path)
        connection = connect(path, read_only=read_only)
        if is_current(connection):
            return cls(path, connection)
        if read_only:
            connection.close()
            cls.open(path).close()
            return cls(path, connect(path, read_only=True))
        refresh(connection)
        return cls(path, connection)

    def close(self) -> None:
        """Let go of the file, so that others may open it."""
        self._connection.close()

    def __enter__(self) -> "Store":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def import_logs(
        self,
        logs: Logs,
        settings: Settings,
        settings_text: str,
        own_queries: Sequence[Query] = (),
    ) -> ImportSummary:
        """Store what was read, atomically. The same import twice changes nothing but import_run.

        own_queries: the user's own exposures, see exposures.own_queries.
        """
        views = in_order([*view_queries(), *own_queries])
        return import_into(self._connection, logs, settings, settings_text, views)

    def rows(self, sql: str, parameters: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        """Every row that a query answers, as tuples."""
        return self._connection.execute(sql, list(parameters)).fetchall()

    def frame(self, sql_or_view: str, parameters: Sequence[Any] = ()) -> "pandas.DataFrame":
        """A query's answer, or a whole view or table by its name, as a frame."""
        is_name = sql_or_view.replace("_", "").isalnum()
        sql = f'select * from "{sql_or_view}"' if is_name else sql_or_view
        try:
            return self._connection.execute(sql, list(parameters)).df()
        except duckdb.CatalogException:
            if not is_name or self.has(sql_or_view):
                raise
            problem = f"{self.path} holds no {sql_or_view}; import the logs again with this preflare."
            raise PreflareError(problem) from None

    def has(self, name: str) -> bool:
        """Whether the store holds a table or view of this name."""
        return bool(
            self.rows("select 1 from information_schema.tables where table_schema = 'main' and table_name = ?", [name])
        )

    def queries(self) -> tuple[Query, ...]:
        """The queries that this store was made with, the user's own included."""
        return in_order(stored_queries(self._connection))

    def settings(self) -> Settings:
        """season.toml as it stood at the last import; every default when there was none."""
        stored = self.rows("select settings_text from setting")
        return parse_settings(stored[0][0]) if stored else Settings()

    def verify(self, *names: str) -> list[str]:
        """Where the data contradict a query's header: a key that is not unique, a check that does not hold.

        names: the queries to look at; all when none is given.
        """
        return verify(self._connection, [q for q in self.queries() if not names or q.name in names])

    def definitions(self) -> Definitions:
        """The definitions in force, when they were first seen, and what changed since."""
        if not self.rows("select 1 from import_run limit 1"):
            raise PreflareError(f"{self.path} is empty. Import logs into it first.")
        return read_definitions(self._connection)
