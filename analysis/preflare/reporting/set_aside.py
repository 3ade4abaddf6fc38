"""What was set aside, and why: the reasons first, then every row and cell with its place, value and remedy."""

from typing import Any

from preflare.reporting.material import Material, paragraph, section, table
from preflare.reporting.reasons import by_reason, full_place
from preflare.reporting.records import Section, Span, Table, Text
from preflare.reporting.views import rows, view
from preflare.reporting.words import Words

Row = dict[str, Any]
_LONG = 30  # rows and cells: a longer list stands behind a fold, below its reasons
_WORTH_SUMMING = 6  # rows and cells: fewer are read at a glance

READERS_LANGUAGE = "en"
"""What the reader says of a row or a sheet is stored as it said it, in this language."""


def as_read(told: str | None, words: Words) -> Text:
    """The reader's own sentence, marked as English on a page in another language."""
    return (Span(str(told), language="" if words.language == READERS_LANGUAGE else READERS_LANGUAGE),)


def rejected_section(material: Material) -> Section:
    """What was set aside: the reasons, the commonest first, then every row and cell with its place and value."""
    words = material.words
    found = rows(view(material.views, "rejected_row"))
    if not found:
        return section(words, "logs.rejected", paragraph(words, "logs.rejected.none"))
    reasons = by_reason(found)
    is_long = len(found) > _LONG and len(reasons) < len(found)
    return section(
        words,
        "logs.rejected",
        paragraph(words, "logs.rejected.lead"),
        _reasons(reasons, words) if len(found) >= _WORTH_SUMMING else None,
        _all_set_aside(found, words, is_long),
    )


def _reasons(reasons: list[list[Row]], words: Words) -> Table:
    head = [words.text(f"table.{k}") for k in ("times", "reason", "remedy", "first_place", "value")]
    body = [
        (
            words.count("cells" if not alike[0]["is_whole_row"] else "rows", len(alike)),
            as_read(alike[0]["reason"], words),
            as_read(alike[0]["remedy"], words),
            full_place(alike[0], words),
            alike[0]["value"],
        )
        for alike in reasons
    ]
    return table(words.text("table.reasons"), head, body)


def _all_set_aside(found: list[Row], words: Words, is_folded: bool) -> Table:
    head = [words.text(f"table.{k}") for k in ("place", "value", "reason", "remedy", "kept")]
    body = [
        (
            full_place(r, words),
            r["value"],
            as_read(r["reason"], words),
            as_read(r["remedy"], words),
            words.text("table.whole_row" if r["is_whole_row"] else "table.one_cell"),
        )
        for r in found
    ]
    return table(words.text("table.rejected"), head, body, "rejected_row.csv", folded=is_folded)
