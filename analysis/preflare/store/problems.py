"""`preflare check`: what the logs in a store can and cannot answer, and what is wrong with them, place by place."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from preflare.store.store import Store

LISTED = 50  # problems of one kind that are printed one by one; the rest is a number, and the view holds them all

_QUESTIONS = {
    "intensity": "Squat intensity", "safety": "Safety bar against straight bar",
    "cambered": "Cambered bar against straight bar", "narrow": "Narrow grip against medium",
    "wide": "Wide grip against medium", "high": "High bar position against low", "sets": "Weekly squat sets",
}  # fmt: skip
_AMOUNTS = ("intensity", "sets")


def answerable(store: "Store") -> list[str]:
    """One line a question: enough data, or what there is of the least that is needed."""
    ((sessions, reported, athletes, events, event),) = store.rows(
        "select count(*), count(rating), count(distinct athlete), count(*) filter (where rating >= event_rating),"
        " any_value(event_rating) from model_frame cross join setting"
    )
    lines = [
        f"{_counted(athletes, 'lifter')}, {_counted(sessions, 'squat session')}, "
        f"{reported} of them with an arm rating afterwards.",
    ]
    if sessions:
        lines.append(
            f"{_counted(events, 'of these ratings is', 'of these ratings are')} {event:g} or more (30 needed)."
        )
    lines.append("")
    for contrast, n_athletes, exposed, is_enough in store.rows(
        "select contrast, athletes, exposed, is_enough from contrast_data"
    ):
        verdict = "enough to ask" if is_enough else "too little"
        with_both = "" if contrast in _AMOUNTS else " with 3 sessions or more of each"
        counts = (
            f"{_counted(n_athletes, 'lifter')}{with_both} (6 needed), {_counted(exposed, 'rated session')} (30 needed)"
        )
        lines.append(f"{_QUESTIONS[contrast]}: {verdict}. {counts}.")
    for exposure, share in store.rows("select exposure, share from written_share where share < 0.5 order by exposure"):
        lines.append(f"Only {100 * share:.0f} of 100 squat sessions have a known {exposure}.")
    return lines


def problems(store: "Store") -> list[str]:
    """Every problem as a sentence with its place and remedy, kind by kind."""
    kinds = (_refused, _unbalanced, _set_aside, _unknown_words, _double, _unknown_people, _unclear_reports, _gaps)
    found: list[str] = []
    for kind in kinds:
        lines = kind(store)
        found += lines[:LISTED]
        if len(lines) > LISTED:
            found.append(f"... and {len(lines) - LISTED} more of this kind.")
    return found


def _place(file: str, sheet: str, row: int | None = None, column: str = "") -> str:
    parts = [file]
    if sheet:
        parts.append(f'sheet "{sheet}"')
    if row is not None:
        parts.append(f"row {row}")
    if column:
        parts.append(f"column {column}")
    return ", ".join(parts)


def _refused(store: "Store") -> list[str]:
    rows = store.rows("select file, refused from file_read where refused is not null")
    reasons = [(file, reason.removeprefix(f"{file}: ")) for file, reason in rows]
    return [f"{file}: nothing was read. {reason[:1].upper()}{reason[1:]}" for file, reason in reasons]


def _unbalanced(store: "Store") -> list[str]:
    rows = store.rows(
        "select file, sheet, rows_read, rows_stored, rows_rejected, rows_not_data from sheet_read where not is_balanced"
    )
    return [
        f"{_place(file, sheet)}: {read} rows read, but {stored} stored + {rejected} set aside + {other} not data. "
        "This is a fault of the program; please report it."
        for file, sheet, read, stored, rejected, other in rows
    ]


def _set_aside(store: "Store") -> list[str]:
    rows = store.rows('select file, sheet, "row", "column", value, reason, remedy from set_aside')
    return [
        f'{_place(file, sheet, row, column)}: "{_short(value)}": {_sentence(reason)} {_sentence(remedy)}'
        for file, sheet, row, column, value, reason, remedy in rows
    ]


def _unknown_words(store: "Store") -> list[str]:
    rows = store.rows("select file, sheet, kind, written, nearest, n_rows from word_read where understood is null")
    return [
        f'{_place(file, sheet)}: {kind} "{written}" ({_counted(n, "row")}) is not known'
        + (f'; the nearest known word is "{nearest}"' if nearest else "")
        + ". Teach it under [words] in season.toml."
        for file, sheet, kind, written, nearest, n in rows
    ]


def _double(store: "Store") -> list[str]:
    rows = store.rows(
        "select athlete, date, file, other_file, sum(sets) from session_in_two_files"
        " group by all order by athlete, date, file, other_file"
    )
    return [
        f"{athlete}, {date}: the same {sets:.0f} sets stand in {file} and in {other}, and count twice. "
        "Take one of the files away, or name it under [[source]] with ignore = true, and import into a new store."
        for athlete, date, file, other, sets in rows
    ]


def _unknown_people(store: "Store") -> list[str]:
    rows = store.rows(
        "select athlete, 'competition of ' || date from competition_entry where not is_known"
        " union all select athlete, 'change of ' || date from recorded_change where not is_known"
    )
    return [
        f'season.toml: "{name}" ({where}) is nobody in the logs. Check the spelling, or add an alias.'
        for name, where in rows
    ]


def _unclear_reports(store: "Store") -> list[str]:
    ((no_moment, no_site, only_words),) = store.rows(
        "select count(*) filter (where moment = 'unknown' and rating is not null),"
        " count(*) filter (where site = 'unknown'), count(*) filter (where rating is null) from pain_report"
    )
    lines = []
    if no_moment:
        lines.append(
            f"{_counted(no_moment, 'rating')} {'does' if no_moment == 1 else 'do'} not say whether before or after the"
            ' session, and so cannot be the pain after it. Say it under [[source]] in season.toml: filled = "after".'
        )
    if no_site:
        lines.append(
            f"{_counted(no_site, 'pain report')} {'names' if no_site == 1 else 'name'} no site, and so cannot count as"
            " arm pain. If arm pain is meant, write default_site under [season] in season.toml."
        )
    if only_words:
        are = "is a word" if only_words == 1 else "are words"
        lines.append(f"{_counted(only_words, 'pain report')} {are} without a number: kept as written, and no rating.")
    return lines


def _gaps(store: "Store") -> list[str]:
    rows = store.rows("select athlete, first_day, last_day, days from unlogged_gap")
    return [
        f"{athlete}: nothing logged from {first} to {last} ({days} days); these days count as unlogged, not as rest."
        for athlete, first, last, days in rows
    ]


def _counted(n: int, one: str, more: str | None = None) -> str:
    """A count with its noun: 1 row, 2 rows."""
    return f"{n} {one if n == 1 else more or one + 's'}"


def _short(value: str, limit: int = 60) -> str:
    return value if len(value) <= limit else value[: limit - 1] + "…"


def _sentence(text: Any) -> str:
    words = str(text).strip()
    return words[:1].upper() + words[1:] + ("" if words.endswith((".", "?", "!")) else ".")
