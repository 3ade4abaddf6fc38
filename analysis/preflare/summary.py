"""The closing words of a command, for a terminal: what was read, what was found, where the reports lie."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from preflare.reporting.numbers import of_100, signed, whole
from preflare.reporting.reasons import by_reason, full_place
from preflare.reporting.words import Words, load_words
from preflare.store import ImportSummary

_OFTEN = 5  # times that one reason set something aside, at least, to be told on the terminal
_MUCH = 0.02  # of the rows that were read


def closing_summary(
    findings: dict[str, Any],
    imported: ImportSummary,
    out: Path,
    names: str = "full",
    language: str = "en",
    set_aside: Sequence[dict[str, Any]] = (),
) -> list[str]:
    """About a dozen lines that a coach understands, from findings.json and the import's accounting.

    set_aside: the rows of the view of that name, whose commonest reason is told. names: how people appear on the pages;
    other than "full", no reason is told, as it may name somebody, and a line says which files still hold full names.
    """
    words = load_words(language)
    response, season = findings["logs"]["response"], findings["season"]
    lines = [
        words.text(
            "summary.season",
            season=season["name"] or words.text("page.no_season_name"),
            lifters=words.count("lifters", season["athletes"]),
            sessions=words.count("squat_sessions", response["sessions"]),
            reported=whole(response["reported"], words),
        ),
        *_accounting(imported, set_aside if names == "full" else (), words),
    ]
    if findings["findings"]:
        event = findings["definitions"]["values"]["event"]["rating"]
        lines += ["", words.text("summary.heading", event=event)]
        lines += [_finding(finding, words) for finding in findings["findings"]]
    lines += ["", words.text("summary.caution")]
    if names != "full":
        lines.append(words.text("summary.full_names"))
    return [
        *lines,
        words.text("summary.reports", team=out / "team.html", athletes=out / "athletes", logs=out / "logs.html"),
    ]


def import_summary(
    imported: ImportSummary, sheets: list[dict[str, Any]], set_aside: Sequence[dict[str, Any]], language: str = "en"
) -> list[str]:
    """What an import did: how each sheet was read, what was stored, the accounting, and every change.

    sheets, set_aside: the rows of the views sheet_read and set_aside.
    """
    words = load_words(language)
    assumed = [line for sheet in sheets for line in _assumed(sheet, words)]
    stored = words.text(
        "summary.stored",
        sets=whole(imported.sets, words),
        reports=whole(imported.reports, words),
        lifters=words.count("lifters", imported.athletes),
        new=imported.files_new,
        replaced=imported.files_replaced,
        unchanged=imported.files_unchanged,
    )
    changes = [f"  {change}" for change in imported.changes]
    heading = [words.text("summary.changes", n=len(changes))] if changes else []
    return [*assumed, stored, *heading, *changes, *_accounting(imported, set_aside, words)]


def what_is_missing(findings: dict[str, Any], language: str = "en") -> str | None:
    """Why the main question could not be asked of these logs at all; None when it could."""
    words = load_words(language)
    response = findings["logs"]["response"]
    if response["sessions"] == 0:
        return words.text("summary.no_squats")
    if response["reported"] == 0:
        return words.text("summary.no_reports")
    return None


def _assumed(sheet: dict[str, Any], words: Words) -> list[str]:
    """How one sheet was read: its layout, date order and unit, then each assumption on a line of its own."""
    name = f'{sheet["file"]}, "{sheet["sheet"]}"' if sheet["sheet"] else sheet["file"]
    settled = [sheet[key] for key in ("layout", "date_order", "unit") if sheet[key] and sheet[key] != "none"]
    first = words.text(
        "summary.read_as", sheet=name, how=", ".join(settled), rows=words.count("rows", sheet["rows_read"])
    )
    return [first, *(f"  {assumption}" for assumption in sheet["assumptions"])]


def _accounting(imported: ImportSummary, set_aside: Sequence[dict[str, Any]], words: Words) -> list[str]:
    names = ("rows_read", "rows_stored", "rows_rejected", "rows_not_data", "cells_set_aside")
    counts = {name: whole(getattr(imported, name), words) for name in names}
    refused = [
        words.text("summary.refused", file=file, reason=reason.removeprefix(f"{file}: "))
        for file, reason in imported.files_refused
    ]
    return [words.text("summary.rows", **counts), *_commonest_reason(set_aside, imported.rows_read, words), *refused]


def _commonest_reason(set_aside: Sequence[dict[str, Any]], rows_read: int, words: Words) -> list[str]:
    """Why most was set aside and where it began, where that is often enough to look there first."""
    first, *_ = by_reason(set_aside) or [[]]
    if len(first) < max(_OFTEN, _MUCH * rows_read):
        return []
    of_what = words.count("rows" if first[0]["is_whole_row"] else "cells", len(first))
    place = full_place(first[0], words)
    return [words.text("summary.commonest", reason=first[0]["reason"], of_what=of_what, place=place)]


def _finding(finding: dict[str, Any], words: Words) -> str:
    """One contrast in a line: what, its grade, both counts per 100, and the interval of the difference."""
    effect, risks = finding["effect"], finding["risks"]
    label = words.text(f"summary.contrast.{finding['id']}")
    grade = words.word("grade", finding["grade"])
    if effect["per_100"] is None or effect["low"] is None:
        return f"  {label:<42} {grade}"
    counts = words.text(
        "summary.counts",
        to=of_100(risks["to_per_100"], words),
        from_=of_100(risks["from_per_100"], words),
        low=signed(effect["low"], words),
        high=signed(effect["high"], words),
    )
    return f"  {label:<42} {grade:<24} {counts}"
