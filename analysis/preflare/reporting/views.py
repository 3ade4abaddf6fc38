"""What the reports read from the store: the views with their columns, and the charts' data made from them.

Nothing is estimated here. A view that is absent or empty means that there is nothing to show.
"""

from collections.abc import Mapping
from datetime import date
from typing import Any

import pandas as pd

from preflare.reporting.charts.frame import Moment, Season, cut
from preflare.reporting.charts.season import AthleteSeason, Flare, SquatDay, TrainingWeek

Views = Mapping[str, pd.DataFrame]

AMOUNTS_BEFORE = ("sets", "intensity", "curls")
BARS_BEFORE = ("straight", "safety", "cambered", "other")

_NEEDED: dict[str, tuple[str, ...]] = {
    "model_frame": ("athlete", "date", "bar", "grip_width", "intensity", "rating"),
    "rating_day": ("athlete", "date", "rating"),
    "athlete_day": ("athlete", "date", "is_logged"),
    "athlete_week": ("athlete", "week_start", "squat_sets", "pressing_sets", "pulling_sets", "elbow_flexion_sets"),
    "flare_up_before": (
        "athlete",
        "number",
        "sessions_before",
        "sessions_usual",
        *(f"{what}_{when}" for what in (*AMOUNTS_BEFORE, *BARS_BEFORE) for when in ("before", "usual")),
    ),
    "response_week": ("athlete", "week_start", "state", "sessions", "reported"),
    "screen": ("athlete", "date", "test", "side", "value", "unit"),
    "competition": ("athlete", "date", "name"),
    "change": ("athlete", "date", "what", "why"),
    "source_file": ("file", "format", "encoding", "refused"),
    "source_sheet": (
        "file",
        "sheet",
        "layout",
        "columns",
        "date_order",
        "unit",
        "language",
        "is_hidden",
        "rows_read",
        "rows_stored",
        "rows_rejected",
        "rows_not_data",
        "assumptions",
    ),
    "rejected_row": ("file", "sheet", "row", "column", "value", "reason", "remedy", "is_whole_row"),
    "vocabulary_choice": ("file", "sheet", "kind", "written", "understood", "how", "nearest", "n_rows"),
    "person": ("name", "written"),
    "note_report": (
        "file",
        "sheet",
        "row",
        "athlete",
        "date",
        "rating",
        "severity_word",
        "site",
        "side",
        "kind",
        "evidence",
    ),
}


_OF_ONE = (
    "model_frame", "rating_day", "athlete_day", "athlete_week", "flare_up_before", "screen", "competition", "change",
)  # fmt: skip


def views_needed() -> dict[str, tuple[str, ...]]:
    """The views that write_reports reads, by name, with the columns it reads from each.

    athlete is a display name; in competition and change it is null for the whole squad. date and week_start (a Monday)
    are dates. rating is 0 to 10. athlete_day has one row a day of the season; is_logged is false in a gap without any
    entry. The sets of an unlogged week are null. state is "reported", "unreported" or "no log". columns maps headings
    to what they were taken for; assumptions and written are lists of words.
    """
    return dict(_NEEDED)


def view(views: Views, name: str) -> pd.DataFrame:
    """One view; without rows when it is absent. Raises KeyError naming a column that the view should have."""
    frame = views.get(name)
    if frame is None:
        return pd.DataFrame(columns=list(_NEEDED[name]))
    missing = [column for column in _NEEDED[name] if column not in frame.columns]
    if missing:
        raise KeyError(f"the view {name} lacks the column {', '.join(missing)}")
    return frame


def of_athlete(views: Views, athlete: str) -> dict[str, pd.DataFrame]:
    """The views of one athlete's page, with the rows of that athlete and of the whole squad alone."""
    chosen = {}
    for name in _OF_ONE:
        frame = view(views, name)
        mine = frame["athlete"] == athlete
        chosen[name] = frame[mine | frame["athlete"].isna()] if name in ("competition", "change") else frame[mine]
    return chosen


def rows(frame: pd.DataFrame) -> list[dict[str, Any]]:
    """A frame's rows as dictionaries with None for what is missing and plain dates."""
    columns = {str(name): _plain_column(frame[name]) for name in frame.columns}
    return [dict(zip(columns, values, strict=True)) for values in zip(*columns.values(), strict=True)]


def _plain_column(column: "pd.Series[Any]") -> list[Any]:
    """A column's values; whole columns of days and of numbers at once, which is most of them."""
    if pd.api.types.is_datetime64_any_dtype(column):
        return [None if pd.isna(value) else value.date() for value in column]
    if pd.api.types.is_numeric_dtype(column):
        return column.astype(object).where(column.notna(), None).tolist()  # type: ignore[no-any-return]
    return [_plain(value) for value in column]


def _plain(value: Any) -> Any:
    if isinstance(value, pd.Timestamp):
        return None if pd.isna(value) else value.date()
    if isinstance(value, list | dict | tuple | str) or hasattr(value, "tolist"):
        return value.tolist() if hasattr(value, "tolist") else value
    return None if pd.isna(value) else value


def season_of(findings: dict[str, Any], views: Views, *, with_changes: bool = True) -> Season | None:
    """The time axis: first and last day, the meets, the recorded changes lettered in order. None without any date."""
    told = findings.get("season") or {}
    days = [d for name in ("athlete_day", "model_frame") for d in pd.to_datetime(view(views, name)["date"])]
    first = date.fromisoformat(str(told["from"])[:10]) if told.get("from") else min(days).date() if days else None
    last = date.fromisoformat(str(told["to"])[:10]) if told.get("to") else max(days).date() if days else None
    if first is None or last is None or last < first:
        return None
    meets = {
        (row["date"], str(row["name"])) for row in rows(view(views, "competition")) if first <= row["date"] <= last
    }
    changes = recorded_changes(views, first, last) if with_changes else []
    return Season(
        first,
        last,
        tuple(Moment(day, cut(name, 22)) for day, name in sorted(meets)),
        tuple(Moment(change["date"], change["letter"]) for change in changes),
    )


def recorded_changes(views: Views, first: date, last: date) -> list[dict[str, Any]]:
    """Each recorded change of the season once, with its letter and the athletes it concerns (none: all)."""
    found: dict[tuple[date, str], dict[str, Any]] = {}
    for row in rows(view(views, "change")):
        if not first <= row["date"] <= last:
            continue
        change = found.setdefault((row["date"], row["what"]), {**row, "athletes": []})
        if row["athlete"]:
            change["athletes"].append(row["athlete"])
    ordered = [found[key] for key in sorted(found)]
    return [{**change, "letter": _letter(i)} for i, change in enumerate(ordered)]


def _letter(i: int) -> str:
    return chr(ord("A") + i) if i < 26 else f"{chr(ord('A') + i // 26 - 1)}{chr(ord('A') + i % 26)}"


def athlete_season(views: Views, flares: list[dict[str, Any]]) -> AthleteSeason:
    """What the season chart draws, from the views of one athlete and the flare-ups of findings.json."""
    sessions = tuple(
        SquatDay(row["date"], row["bar"], row["grip_width"], row["intensity"], row["rating"] is not None)
        for row in rows(view(views, "model_frame").sort_values("date"))
    )
    ratings = tuple(
        (row["date"], float(row["rating"])) for row in rows(view(views, "rating_day")) if row["rating"] is not None
    )
    weeks = tuple(
        TrainingWeek(
            row["week_start"],
            row["squat_sets"],
            row["elbow_flexion_sets"],
            row["pressing_sets"],
            row["pulling_sets"],
        )
        for row in rows(view(views, "athlete_week").sort_values("week_start"))
    )
    logged = logged_runs(view(views, "athlete_day"))
    last = logged[-1][1] if logged else None
    return AthleteSeason(ratings, sessions, weeks, logged, tuple(_flare(flare, last) for flare in flares))


def _flare(flare: dict[str, Any], last_day: date | None) -> Flare:
    """One flare-up; one that is not over lasts to the end of the log."""
    onset = date.fromisoformat(str(flare["onset"])[:10])
    end = date.fromisoformat(str(flare["end"])[:10]) if flare.get("end") else max(onset, last_day or onset)
    return Flare(int(flare["number"]), onset, end)


def logged_runs(days: pd.DataFrame) -> tuple[tuple[date, date], ...]:
    """Runs of days with a log, as (first day, last day)."""
    runs: list[tuple[date, date]] = []
    for row in rows(days.sort_values("date")):
        if not row["is_logged"]:
            continue
        if runs and (row["date"] - runs[-1][1]).days == 1:
            runs[-1] = (runs[-1][0], row["date"])
        else:
            runs.append((row["date"], row["date"]))
    return tuple(runs)
