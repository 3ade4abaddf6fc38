"""The frame that every model works on, and the views that findings and reports read: `queries/`, run.

A user's own exposures are .sql files in a folder of their own, headed as those in queries/exposures; each becomes a
column of the model frame, named as its file, and is exploratory.
"""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from preflare.errors import PreflareError, UsageError
from preflare.store import Column, Query, Store
from preflare.store.queries import read_query, table_queries, view_queries

if TYPE_CHECKING:
    import pandas

# What the reports read: the name they know it by -> the view of the store that answers.
REPORT_VIEWS = {
    "rating_day": "rating_day", "athlete_day": "athlete_day", "athlete_week": "athlete_week",
    "response_week": "response_week", "weekly_pain": "weekly_pain", "flare_up": "flare_up",
    "flare_up_by_rise": "flare_up_by_rise", "onset": "onset", "site": "pain_site", "warning": "warning",
    "surveillance_count": "surveillance_count", "set_share": "set_share", "screen": "screen_result",
    "any_moment": "session_rating_any_moment", "flare_up_before": "flare_up_before",
    "competition": "competition_entry", "change": "recorded_change", "source_file": "file_read",
    "source_sheet": "sheet_read", "rejected_row": "set_aside", "vocabulary_choice": "word_read", "person": "person",
    "note_report": "note_report",
}  # fmt: skip
_FINDING_VIEWS = (
    "flare_up", "flare_up_by_rise", "site", "warning", "weekly_pain", "surveillance_count", "set_share", "any_moment",
)  # fmt: skip
_INTEGERS = ("session_id", "season", "day", "n_reports")
_TEXT_UNITS = ("word", "name")


def __getattr__(name: str) -> Any:
    """MODEL_FRAME: name, unit and meaning of every column, read from the header of its query when first asked for."""
    if name == "MODEL_FRAME":
        return next(query for query in view_queries() if query.name == "model_frame").columns
    raise AttributeError(f"preflare.exposures has no {name}")


def model_frame(store: Store) -> "pandas.DataFrame":
    """One row per squat session, sorted by athlete, date, ordinal; columns as MODEL_FRAME says.

    Numbers are float64 with NaN for missing, words are text with NaN for not written. The user's own exposures follow
    as columns under their own names (exploratory_columns lists them).
    """
    _refuse_empty(store)
    own = exploratory_columns(store)
    joins = "".join(f' left join "{c.name}" on model_frame.session_id = "{c.name}".session_id' for c in own)
    picked = "".join(f', "{c.name}"."{c.name}"' for c in own)
    frame = store.frame(f"select model_frame.*{picked} from model_frame{joins} order by athlete, date, session_id")
    return _typed(_yes_and_no_as_numbers(frame, own), [*__getattr__("MODEL_FRAME"), *own])


def _yes_and_no_as_numbers(frame: "pandas.DataFrame", own: Iterable[Column]) -> "pandas.DataFrame":
    """The user's own yes and no as 1 and 0, so that what is missing stays missing."""
    answers = [column.name for column in own if column.unit == "yes/no"]
    return frame.assign(**{name: frame[name].astype("boolean").astype("Float64") for name in answers})


def _typed(frame: "pandas.DataFrame", columns: Iterable[Column]) -> "pandas.DataFrame":
    """Each column in the type that its unit asks for, whatever DuckDB made of it (an all-missing one, say)."""
    for column in columns:
        if column.unit == "yes/no" and frame[column.name].dtype != "Float64":
            frame[column.name] = frame[column.name].astype(bool)
        elif column.name in _INTEGERS:
            frame[column.name] = frame[column.name].astype("int64")
        elif column.unit in _TEXT_UNITS:
            frame[column.name] = frame[column.name].astype("str")
        elif column.unit != "date":
            frame[column.name] = frame[column.name].astype("float64")
    return frame


def _refuse_empty(store: Store) -> None:
    if not store.has("model_frame"):
        raise PreflareError(f'{store.path} is empty. Fill it first: preflare import LOGS --store "{store.path}".')


def own_queries(folder: Path) -> tuple[Query, ...]:
    """The exposures in a user's own folder. Raises UsageError naming the file and what is wrong with it."""
    if not folder.is_dir():
        raise UsageError(f"{folder}: there is no such folder; season.toml names it under [season] exposures.")
    taken = {query.name for query in (*table_queries(), *view_queries())}
    found = []
    for path in sorted(folder.glob("*.sql")):
        query = read_query(path.read_text(encoding="utf-8-sig"), path.name, "exposures", is_exploratory=True)
        if query.name in taken or query.name in {column.name for column in __getattr__("MODEL_FRAME")}:
            raise UsageError(f"{path}: preflare has a {query.name} of its own; give the file another name.")
        if query.key != ("session_id",) or [column.name for column in query.columns] != [query.name]:
            raise UsageError(
                f'{path}: an exposure has "-- key: session_id" and one column named as the file: '
                f'"-- column {query.name} [unit]: what it says".'
            )
        found.append(query)
    return tuple(found)


def exploratory_columns(store: Store) -> tuple[Column, ...]:
    """The user's own exposures in this store."""
    return tuple(query.columns[0] for query in store.queries() if query.is_exploratory)


def report_views(store: Store, frame: "pandas.DataFrame | None" = None) -> "dict[str, pandas.DataFrame]":
    """Every view that the reports read, by the name they know it by, and the model frame (made when not given)."""
    _refuse_empty(store)
    frame = model_frame(store) if frame is None else frame
    return {"model_frame": frame} | {name: store.frame(view) for name, view in REPORT_VIEWS.items()}


def finding_context(store: Store) -> dict[str, Any]:
    """What findings cannot know from the frame: accounting by file, definitions' history, changes, views."""
    _refuse_empty(store)
    return {
        "definitions": _definitions(store),
        "logs": _logs(store),
        "changes": _changes(store),
        "exploratory": _exploratory(store),
        "views": {name: store.frame(REPORT_VIEWS[name]) for name in _FINDING_VIEWS},
    }


def _exploratory(store: Store) -> list[dict[str, Any]]:
    """The user's own exposures as their headers declare them, in words that the findings can show."""
    own = [query for query in store.queries() if query.is_exploratory]
    return [{"name": query.name, "label": query.label, "unit": query.columns[0].unit, "size": query.size,
             "meaning": query.columns[0].meaning, "known": query.known} for query in own]  # fmt: skip


def _definitions(store: Store) -> dict[str, Any]:
    known = store.definitions()
    changed = [
        {"date": change.seen.isoformat(), "key": change.key, "before": change.before, "after": change.after}
        for change in known.changed
    ]
    return {"first_seen": known.first_seen.isoformat(), "changed": changed}


def _logs(store: Store) -> dict[str, Any]:
    """The accounting of all sheets, file by file, and how many squat sessions were reported."""
    counts = ("rows_read", "rows_stored", "rows_rejected", "rows_not_data", "cells_set_aside")
    rows = store.rows(f"select file, refused, {', '.join(counts)} from file_accounting")
    files = [{"file": file, "refused": refused, **dict(zip(counts, n, strict=True))} for file, refused, *n in rows]
    ((sessions, reported),) = store.rows("select count(*), count(rating) from model_frame")
    totals = {count: sum(file[count] for file in files) for count in counts}
    return {**totals, "files": files, "response": {"sessions": sessions, "reported": reported}}


def _changes(store: Store) -> list[dict[str, Any]]:
    rows = store.rows("select date, what, why, athletes from change_concerned")
    return [
        {"date": date.isoformat(), "what": what, "why": why, "athletes": athletes} for date, what, why, athletes in rows
    ]


def log_problems(store: Store) -> tuple[list[str], bool]:
    """What these logs can and cannot answer, and their problems by place; whether there is any problem."""
    from preflare.store.problems import answerable, problems

    _refuse_empty(store)
    found = problems(store)
    return [*answerable(store), "", *(found or ["No problem found in these logs."])], bool(found)


_REFERENCE = """# Exposures and outcomes

Each is one SQL file, and this page is made from their header comments; a test keeps the two alike. Make it anew with
`python -c "from preflare.exposures import reference_table; print(reference_table(), end='')" > queries/README.md`.

Three things are never confused: zero (a rest day, a report of no pain), missing (no log, no report) and not applicable
(did not squat). Day d is the session's day; d-7 is seven days before it.
"""


def reference_table(queries: Iterable[Query] | None = None) -> str:
    """Every exposure and outcome as Markdown: definition, unit, what is known when, zero, missing, source."""
    chosen = [query for query in (queries or view_queries()) if query.room in ("exposures", "outcomes")]
    ordered = sorted(chosen, key=lambda query: (query.is_exploratory, query.room, query.name))
    return "\n".join([_REFERENCE, *(part for query in ordered for part in _entry(query))]).rstrip() + "\n"


def _entry(query: Query) -> list[str]:
    told = {"One row": query.one_row, "Known": query.known, "Zero": query.zero, "Missing": query.missing,
            "Not applicable": query.not_applicable, "Source": query.source}  # fmt: skip
    folder = "your own folder" if query.is_exploratory else f"queries/{query.room}"
    columns = [f"| `{c.name}` | {c.unit} | {c.meaning.replace('|', '/')} |" for c in query.columns]
    table = ["| column | unit | meaning |", "|---|---|---|", *columns, ""] if columns else []
    return [f"### `{query.name}`: {query.label}", "", f"{folder}/{query.name}.sql", "", *table,
            *(f"- {name}: {text}" for name, text in told.items()), ""]  # fmt: skip
