"""Where something stood in the logs, in words, and why things were set aside: the same reason told once."""

import re
from collections.abc import Sequence
from typing import Any

from preflare.reporting.words import Words

Row = dict[str, Any]
_OWN_DETAIL = re.compile(r'"[^"]*"|\d+(?:[.,:-]\d+)*')  # what the same reason names of each place


def place_of(row: Row) -> str:
    """File and sheet in words."""
    return f"{row['file']}, {row['sheet']}" if row.get("sheet") else str(row["file"])


def full_place(row: Row, words: Words) -> str:
    """File, sheet, row and column in words."""
    column = words.text("logs.column", column=row["column"]) if row.get("column") else ""
    return words.text("logs.row", place=place_of(row), row=row["row"], column=column)


def by_reason(found: Sequence[Row]) -> list[list[Row]]:
    """Rows and cells that were set aside for the same reason, the commonest first.

    Reasons are the same when they differ in numbers and quoted words alone.
    """
    alike: dict[tuple[str, str, bool], list[Row]] = {}
    for one in found:
        alike.setdefault((_OWN_DETAIL.sub("...", one["reason"]), one["remedy"], one["is_whole_row"]), []).append(one)
    return sorted(alike.values(), key=len, reverse=True)
