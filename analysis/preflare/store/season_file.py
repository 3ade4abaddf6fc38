"""season.toml in the store: what counts, the meets, the recorded changes, and when each definition was first seen."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from itertools import pairwise
from typing import Any

import duckdb

from preflare.settings import Settings


@dataclass(frozen=True, slots=True)
class DefinitionChange:
    """One definition that changed after it was first seen."""

    seen: date
    key: str  # such as "event.rating"
    before: Any
    after: Any


@dataclass(frozen=True, slots=True)
class Definitions:
    """What counts, since when, and what changed on the way here."""

    values: dict[str, Any]
    hash: str
    first_seen: date
    changed: tuple[DefinitionChange, ...]


def write_settings(connection: duckdb.DuckDBPyConnection, settings: Settings, text: str) -> None:
    """Replace what the store holds of season.toml; a definition not met before is noted with today's date."""
    for table in ("setting", "outcome_site", "competition", "change"):
        connection.execute(f"delete from {table}")
    season, flare_up = settings.season, settings.flare_up
    connection.execute(
        "insert into setting values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        [
            season.name, season.from_, season.to, settings.event.rating, flare_up.rise, flare_up.at_least,
            flare_up.baseline_days, flare_up.over_after, season.seed, settings.definitions_hash(), text,
        ],
    )  # fmt: skip
    for site in sorted(set(settings.event.sites)):
        connection.execute("insert into outcome_site values (?)", [site])
    people = _athlete_ids(connection, settings)
    for competition in settings.competition:
        for name, is_for_all, athlete_id in _concerned(competition.athletes, people):
            values = [competition.date, competition.name, competition.priority, is_for_all, athlete_id, name]
            connection.execute("insert into competition values (?, ?, ?, ?, ?, ?)", values)
    for change in settings.change:
        for name, is_for_all, athlete_id in _concerned(change.athletes, people):
            values = [change.date, change.what, change.why, is_for_all, athlete_id, name]
            connection.execute("insert into change values (?, ?, ?, ?, ?, ?)", values)
    connection.execute(
        "insert into definition_seen select ?, ?, ?"
        " where not exists (select 1 from definition_seen where definitions_hash = ?)",
        [
            settings.definitions_hash(), datetime.now(UTC).date(),
            json.dumps(settings.definitions(), sort_keys=True), settings.definitions_hash(),
        ],
    )  # fmt: skip


def _athlete_ids(connection: duckdb.DuckDBPyConnection, settings: Settings) -> dict[str, int]:
    """Every way in which a stored athlete is named -> athlete_id. Letter case does not count."""
    rows = connection.execute("select athlete_id, display_name, aliases from athlete order by athlete_id").fetchall()
    ids: dict[str, int] = {}
    for athlete_id, _, aliases in rows:
        for alias in aliases:
            ids.setdefault(alias.casefold(), athlete_id)
    ids |= {name.casefold(): athlete_id for athlete_id, name, _ in rows}
    for athlete in settings.athlete:
        if athlete.name.casefold() in ids:
            for alias in athlete.aliases:
                ids.setdefault(alias.casefold(), ids[athlete.name.casefold()])
    return ids


def _concerned(names: Sequence[str] | None, people: dict[str, int]) -> list[tuple[str | None, bool, int | None]]:
    """(name as written, is for all, athlete_id) for each person concerned; one row for everybody when names is None."""
    if names is None:
        return [(None, True, None)]
    return [(name, False, people.get(name.casefold())) for name in names]


def read_definitions(connection: duckdb.DuckDBPyConnection) -> Definitions:
    """The definitions in force, the day they were first seen, and every change from one import to the next.

    First seen: when the store first met definitions that agree with those in force on everything that they held.
    """
    seen = {
        hash_: (first, json.loads(text))
        for hash_, first, text in connection.execute(
            "select definitions_hash, first_seen, definitions from definition_seen"
        ).fetchall()
    }
    runs = connection.execute("select definitions_hash, ran_at::date from import_run order by run_id").fetchall()
    changed: list[DefinitionChange] = []
    for (before, _), (after, on) in pairwise(runs):
        if before != after:
            changed += _changes(_flat(seen[before][1]), _flat(seen[after][1]), on)
    current = runs[-1][0]
    values = seen[current][1]
    first_seen = min(first for first, known in seen.values() if not _changes(_flat(known), _flat(values), first))
    return Definitions(values=values, hash=current, first_seen=first_seen, changed=tuple(changed))


def _flat(values: dict[str, Any], prefix: str = "") -> dict[str, Any]:
    flat: dict[str, Any] = {}
    for key, value in values.items():
        flat |= _flat(value, f"{prefix}{key}.") if isinstance(value, dict) else {f"{prefix}{key}": value}
    return flat


def _changes(before: dict[str, Any], after: dict[str, Any], on: date) -> list[DefinitionChange]:
    """What differs. A key that one side lacks is no change: an earlier version of the program did not write it down."""
    keys = sorted(before.keys() & after.keys())
    return [DefinitionChange(on, k, before.get(k), after.get(k)) for k in keys if before.get(k) != after.get(k)]
