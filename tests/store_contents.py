"""Everything that a store holds, so that a test can compare two states of it."""

from pathlib import Path
from typing import Any

from preflare.store import Store


def contents(path: Path, *, without: tuple[str, ...] = ()) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of every table and view of a store, sorted, by name."""
    with Store.open(path, read_only=True) as store:
        names = [
            name
            for (name,) in store.rows("select table_name from information_schema.tables where table_schema = 'main'")
            if name not in without
        ]
        return {name: sorted(store.rows(f'select * from "{name}"'), key=repr) for name in names}
