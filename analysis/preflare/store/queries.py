"""The SQL files of queries/: their header comments read into records, and the order in which they build on each other.

A file holds one `create table` (queries/tables) or one `select` that becomes the view or table of the file's name.
Its header says what one row is, the key, unit and meaning of every column, what is known when, and what zero,
missing and not applicable mean. Store.verify tests those words against the data.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

from preflare.errors import PreflareError
from preflare.resources import resource

VIEW_ROOMS = ("exposures", "outcomes", "quality")
_REQUIRED = ("name", "label", "one row", "key")
_REQUIRED_OF_VIEWS = ("known", "zero", "missing", "not applicable", "source", "checks")
_ENTRY = re.compile(r"^-- (?P<key>[a-z][a-z ]*?)(?: (?P<column>\w+) \[(?P<unit>[^\]]+)\])?: (?P<text>.*)$")
_CONTINUED = re.compile(r"^--  +(?P<text>.*)$")


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a view: its unit, and what it says."""

    name: str
    unit: str
    meaning: str


@dataclass(frozen=True, slots=True)
class Query:
    """One SQL file. key: the columns that tell its rows apart, () where none do. checks: true of every row."""

    name: str
    room: str
    label: str
    one_row: str
    key: tuple[str, ...]
    columns: tuple[Column, ...]
    known: str
    zero: str
    missing: str
    not_applicable: str
    source: str
    size: float  # what an estimate is per, in the unit of an exploratory column
    checks: tuple[str, ...]
    is_table: bool  # kept: computed once at import; else a view
    is_exploratory: bool  # from the user's own folder
    text: str


def read_query(text: str, file: str, room: str, *, is_exploratory: bool = False) -> Query:
    """The query in `text`. Raises PreflareError naming the file and what its header lacks."""
    entries, columns = _header(text, file)
    required = _REQUIRED if room == "tables" else (*_REQUIRED, *_REQUIRED_OF_VIEWS)
    if lacking := [key for key in required if key not in entries]:
        raise PreflareError(
            f"{file}: the header comment lacks {', '.join(lacking)}. Write each as a line such as "
            f'"-- {lacking[0]}: ..." above the query.'
        )
    if entries["name"] != Path(file).stem:
        raise PreflareError(f'{file}: the header says "name: {entries["name"]}"; name and file must agree.')
    return Query(
        name=entries["name"],
        room=room,
        label=entries["label"],
        one_row=entries["one row"],
        key=() if entries["key"] == "none" else tuple(part.strip() for part in entries["key"].split(",")),
        columns=tuple(columns),
        known=entries.get("known", ""),
        zero=entries.get("zero", ""),
        missing=entries.get("missing", ""),
        not_applicable=entries.get("not applicable", ""),
        source=entries.get("source", ""),
        size=_size(entries.get("size", "1"), file),
        checks=tuple(c.strip() for c in entries.get("checks", "none").split(";") if c.strip() not in ("", "none")),
        is_table=entries.get("kept") == "table",
        is_exploratory=is_exploratory,
        text=text,
    )


def _size(written: str, file: str) -> float:
    """The "-- size:" of a header: a number above 0."""
    try:
        size = float(written)
    except ValueError:
        size = 0.0
    if not 0 < size < float("inf"):
        raise PreflareError(f'{file}: "-- size: {written}" is not a number above 0, such as "-- size: 5".')
    return size


def _header(text: str, file: str) -> tuple[dict[str, str], list[Column]]:
    """The header's entries by key, and its column lines. A line indented after -- carries the entry above it on."""
    entries: dict[str, str] = {}
    columns: list[Column] = []
    lines: list[str] = []
    for line in text.splitlines():
        if not line.startswith("--"):
            break
        if (more := _CONTINUED.match(line)) and lines:
            lines[-1] += " " + more["text"].strip()
        else:
            lines.append(line.rstrip())
    for line in lines:
        entry = _ENTRY.match(line)
        if entry is None:
            raise PreflareError(f'{file}: the header line "{line}" is not of the form "-- key: text".')
        if entry["column"] and entry["key"] == "column":
            columns.append(Column(entry["column"], entry["unit"], entry["text"].strip()))
        else:
            entries[entry["key"]] = entry["text"].strip()
    return entries, columns


def read_folder(folder: Path, room: str, *, is_exploratory: bool = False) -> list[Query]:
    """Every .sql file of a folder, by name."""
    return [
        read_query(path.read_text(encoding="utf-8"), path.name, room, is_exploratory=is_exploratory)
        for path in sorted(folder.glob("*.sql"))
    ]


@cache
def table_queries() -> tuple[Query, ...]:
    """The canonical tables."""
    return tuple(read_folder(resource("queries") / "tables", "tables"))


@cache
def view_queries() -> tuple[Query, ...]:
    """Every view that the program makes, in the order in which they build on each other."""
    found = [query for room in VIEW_ROOMS for query in read_folder(resource("queries") / room, room)]
    return in_order(found)


def in_order(queries: Iterable[Query]) -> tuple[Query, ...]:
    """The queries sorted so that each comes after those that it reads. Raises PreflareError for a circle."""
    by_name = {query.name: query for query in queries}
    try:
        reads = {name: sorted(_read_by(query, by_name)) for name, query in by_name.items()}
        names = list(TopologicalSorter(reads).static_order())
    except CycleError as circle:
        raise PreflareError(f"These queries read each other in a circle: {' -> '.join(circle.args[1])}.") from None
    return tuple(by_name[name] for name in names)


def _read_by(query: Query, known: Mapping[str, Query]) -> set[str]:
    """The known queries that stand after `from` or `join` in a query's text."""
    body = "\n".join(line for line in query.text.splitlines() if not line.lstrip().startswith("--"))
    used = set(re.findall(r"\b(?:from|join)\s+(\w+)", body, flags=re.IGNORECASE))
    return (used & known.keys()) - {query.name}
