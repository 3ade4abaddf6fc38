"""The tidy rows of a reading as columns: one polars frame a table, in chunks, so that memory stays bounded."""

from collections.abc import Iterator, Sequence
from typing import Any

import polars as pl

from preflare.reading.framed import PLACE, FramedRows
from preflare.reading.rows import Choice, FileReading, Logs, PainRow, RejectedRow, ScreenRow, SessionRow, SetRow

CHUNK = 200_000  # rows; a chunk of sets takes about 100 MB on its way into the store

Schema = dict[str, Any]  # column -> polars type

_PLACE: Schema = {"path": pl.String, "sheet": pl.String, "source_row": pl.Int32, "source_column": pl.String}
_WHO: Schema = {"athlete": pl.String, "date": pl.Date}
SETS: Schema = {
    **_WHO, "ordinal": pl.Int32, "set_number": pl.Int32, "exercise": pl.String, "exercise_written": pl.String,
    "bar": pl.String, "bar_written": pl.String, "bar_position": pl.String, "grip_width": pl.String,
    "grip_style": pl.String, "grip_written": pl.String, "load_kg": pl.Float64, "reps": pl.Int32, "rpe": pl.Float64,
    "rir": pl.Float64, "is_warm_up": pl.Boolean, "is_failed": pl.Boolean, "note": pl.String, **_PLACE,
}  # fmt: skip
SESSIONS: Schema = {
    **_WHO, "ordinal": pl.Int32, "session_rpe": pl.Float64, "duration_min": pl.Float64,
    "started_at": pl.Datetime("us"), "note": pl.String, **_PLACE,
}  # fmt: skip
PAIN: Schema = {
    **_WHO, "reported_at": pl.Datetime("us"), "rating": pl.Float64, "severity_word": pl.String, "site": pl.String,
    "side": pl.String, "moment": pl.String, "kind": pl.String, "origin": pl.String, "evidence": pl.String, **_PLACE,
}  # fmt: skip
SCREENS: Schema = {
    **_WHO, "test": pl.String, "side": pl.String, "value": pl.Float64, "unit": pl.String, **_PLACE,
}  # fmt: skip
REJECTED: Schema = {**_PLACE, "value": pl.String, "reason": pl.String, "remedy": pl.String, "is_whole_row": pl.Boolean}
CHOICES: Schema = {
    "path": pl.String, "sheet": pl.String, "kind": pl.String, "written": pl.String, "understood": pl.String,
    "how": pl.String, "nearest": pl.String, "n_rows": pl.Int32,
}  # fmt: skip
FILES: Schema = {
    "path": pl.String, "sha256": pl.String, "format": pl.String, "encoding": pl.String, "refused": pl.String,
}  # fmt: skip
SHEETS: Schema = {
    "path": pl.String, "sheet": pl.String, "layout": pl.String, "headings": pl.List(pl.String),
    "meanings": pl.List(pl.String), "date_order": pl.String, "unit": pl.String, "language": pl.String,
    "is_hidden": pl.Boolean, "rows_read": pl.Int32, "rows_stored": pl.Int32, "rows_rejected": pl.Int32,
    "rows_not_data": pl.Int32, "assumptions": pl.List(pl.String),
}  # fmt: skip

Placed = SetRow | SessionRow | PainRow | ScreenRow | RejectedRow


def _of_rows(rows: Sequence[Placed], schema: Schema) -> Iterator[pl.DataFrame]:
    """Rows with a place as frames of at most CHUNK rows."""
    if isinstance(rows, FramedRows):
        named = rows.frame.rename(dict(zip(PLACE, _PLACE, strict=True)))
        yield from (chunk.select(list(schema)) for chunk in named.iter_slices(CHUNK))
        return
    own = [name for name in schema if name not in _PLACE]
    for start in range(0, max(len(rows), 1), CHUNK):
        part = rows[start : start + CHUNK]
        columns: dict[str, list[Any]] = {name: [getattr(row, name) for row in part] for name in own}
        places = [row.place for row in part]
        columns["path"] = [place.file for place in places]
        columns["sheet"] = [place.sheet for place in places]
        columns["source_row"] = [place.row for place in places]
        columns["source_column"] = [place.column for place in places]
        yield pl.DataFrame(columns, schema_overrides=schema).select(list(schema)).cast(pl.Schema(schema))


def _of_files(files: Sequence[FileReading]) -> pl.DataFrame:
    return pl.DataFrame(
        {"path": [f.file for f in files], **{name: [getattr(f, name) for f in files] for name in list(FILES)[1:]}},
        schema=FILES,
    )


def _of_sheets(files: Sequence[FileReading]) -> pl.DataFrame:
    sheets = [sheet for file in files for sheet in file.sheets]
    special = {"path", "headings", "meanings", "assumptions"}
    columns: dict[str, list[Any]] = {n: [getattr(s, n) for s in sheets] for n in SHEETS if n not in special}
    columns["path"] = [s.file for s in sheets]
    columns["headings"] = [list(s.columns) for s in sheets]
    columns["meanings"] = [list(s.columns.values()) for s in sheets]
    columns["assumptions"] = [list(s.assumptions) for s in sheets]
    return pl.DataFrame({name: columns[name] for name in SHEETS}, schema=SHEETS)


def _of_choices(choices: Sequence[Choice]) -> pl.DataFrame:
    columns = {name: [getattr(choice, name) for choice in choices] for name in CHOICES if name != "path"}
    return pl.DataFrame({"path": [choice.file for choice in choices], **columns}, schema=CHOICES)


def _of_people(people: dict[str, tuple[str, ...]]) -> pl.DataFrame:
    return pl.DataFrame(
        {"athlete": list(people), "aliases": [sorted(set(ways)) for ways in people.values()]},
        schema={"athlete": pl.String, "aliases": pl.List(pl.String)},
    )


def frames(logs: Logs) -> dict[str, Iterator[pl.DataFrame]]:
    """Logs as staging tables: name -> its frames, each with the same columns."""
    return {
        "incoming_file": iter([_of_files(logs.files)]),
        "incoming_sheet": iter([_of_sheets(logs.files)]),
        "incoming_set": _of_rows(logs.sets, SETS),
        "incoming_session": _of_rows(logs.sessions, SESSIONS),
        "incoming_pain": _of_rows(logs.pain, PAIN),
        "incoming_screen": _of_rows(logs.screens, SCREENS),
        "incoming_rejected": _of_rows(logs.rejected, REJECTED),
        "incoming_choice": iter([_of_choices(logs.choices)]),
        "incoming_person": iter([_of_people(logs.people)]),
    }
