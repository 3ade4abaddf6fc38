"""What was read, and what was not: by file and sheet, down to every row that was set aside."""

import json
from collections.abc import Mapping
from typing import Any

from preflare.reporting.material import Material, framed, paragraph, section, table
from preflare.reporting.names import alphabetical
from preflare.reporting.numbers import short_decimal, table_day, whole
from preflare.reporting.reasons import full_place, place_of
from preflare.reporting.records import Items, Page, Paragraph, Part, Section, Span, Table, Text
from preflare.reporting.set_aside import READERS_LANGUAGE, as_read, rejected_section
from preflare.reporting.views import rows, view
from preflare.reporting.words import Words

Row = dict[str, Any]
_LONG = 30  # rows: a longer table that is no list of problems stands behind a fold


def logs_page(material: Material) -> Page:
    """The page on the logs as a page record."""
    words = material.words
    sections = [
        accounting_section(material),
        rejected_section(material),
        unknown_section(material),
        people_section(material),
        files_section(material),
        choices_section(material),
        notes_section(material),
    ]
    return framed(
        material,
        "logs",
        title=words.text("logs.title"),
        sections=[s for s in sections if s is not None],
        home="team.html",
        lead=_lead(words),
        facts=(),
    )


def _lead(words: Words) -> Text:
    """What the page holds; on a page in another language, that the reader's own sentences stand in English."""
    lead = words.spans("logs.lead")
    return lead if words.language == READERS_LANGUAGE else (*lead, Span(" "), *words.spans("logs.as_stored"))


def accounting_section(material: Material) -> Section:
    """Rows read = stored + rejected + not data, for every sheet and in all."""
    words, logs = material.words, material.findings.get("logs") or {}
    sheets = rows(view(material.views, "source_sheet"))
    counts = ("rows_read", "rows_stored", "rows_rejected", "rows_not_data")
    body = [(place_of(s), *(whole(s[c], words) for c in counts)) for s in sheets]
    body.append((words.text("table.in_all"), *(whole(logs.get(c), words) for c in counts)))
    told = {c.removeprefix("rows_"): whole(logs.get(c), words) for c in counts}
    head = [words.text(f"table.{key}") for key in ("file", *counts)]
    return section(
        words,
        "logs.accounting",
        paragraph(words, "logs.accounting.identity", **told, cells=whole(logs.get("cells_set_aside") or 0, words)),
        table(words.text("table.accounting"), head, body, "source_sheet.csv"),
    )


def files_section(material: Material) -> Section | None:
    """Each file and sheet: how it was read and what was assumed."""
    words = material.words
    sheets = rows(view(material.views, "source_sheet"))
    parts = []
    for file in rows(view(material.views, "source_file")):
        own = [s for s in sheets if s["file"] == file["file"]]
        parts.append(_file(file, own, words))
    return section(words, "logs.files", *parts) if parts else None


def _file(file: Row, sheets: list[Row], words: Words) -> Part:
    if file["refused"]:
        return Part(
            str(file["file"]), (paragraph(words, "logs.files.refused", reason=as_read(file["refused"], words)),)
        )
    encoding = words.text("logs.files.encoding", encoding=file["encoding"]) if file["encoding"] else ""
    intro = paragraph(words, "logs.files.format", format=words.word("format", file["format"]), encoding=encoding)
    of_file = said_of_all(sheets)
    assumed = (Items(tuple(as_read(sentence, words) for sentence in of_file)),) if of_file else ()
    blocks = (block for sheet in sheets for block in _sheet(sheet, of_file, words))
    return Part(str(file["file"]), (intro, *assumed, *blocks))


def said_of_all(sheets: list[Row]) -> list[str]:
    """What was assumed of every sheet of a file alike, which is then said once; nothing for a single sheet."""
    told = [_as_list(sheet["assumptions"]) for sheet in sheets]
    return [sentence for sentence in told[0] if all(sentence in other for other in told)] if len(told) > 1 else []


def _sheet(sheet: Row, of_file: list[str], words: Words) -> list[Paragraph | Items | Table]:
    hidden = words.text("logs.files.hidden") if sheet["is_hidden"] else ""
    name = words.text("logs.files.sheet", sheet=sheet["sheet"]) if sheet["sheet"] else words.text("logs.files.no_sheet")
    blocks: list[Paragraph | Items | Table] = [_how(sheet, name, hidden, words)]
    assumed = [sentence for sentence in _as_list(sheet["assumptions"]) if sentence not in of_file]
    if assumed:
        blocks.append(Items(tuple(as_read(sentence, words) for sentence in assumed)))
    columns = _as_mapping(sheet["columns"])
    if columns:
        head = (words.text("table.heading"), words.text("table.taken_for"))
        body = [(written, words.phrase(taken)) for written, taken in columns.items()]
        blocks.append(table(words.text("logs.files.columns", place=place_of(sheet)), head, body, folded=True))
    return blocks


def _how(sheet: Row, name: str, hidden: str, words: Words) -> Paragraph:
    """The layout of a sheet and how its dates and loads were read; the layout alone where no row was stored."""
    told = {"sheet": name, "hidden": hidden, "layout": _layout(sheet["layout"], words)}
    if not sheet["rows_stored"]:
        return paragraph(words, "logs.files.no_rows", **told)
    told |= {
        "dates": words.word("date_order", sheet["date_order"]),
        "unit": words.word("load_unit", sheet["unit"]),
        "language": words.word("language", sheet["language"]),
    }
    return paragraph(words, "logs.files.how", **told)


def _layout(told: str, words: Words) -> str:
    """A sheet's layout; several tables of one sheet one after another."""
    then = words.text("logs.files.then")
    return then.join(words.word("layout", layout) for layout in told.split(", then "))


def _as_list(value: Any) -> list[str]:
    if value is None:
        return []
    return json.loads(value) if isinstance(value, str) else [str(v) for v in value]


def _as_mapping(value: Any) -> dict[str, str]:
    """Headings and what they were taken for, whether the view gives a mapping, pairs or JSON."""
    if value is None:
        return {}
    if isinstance(value, str):
        value = json.loads(value)
    pairs = value.items() if isinstance(value, Mapping) else value
    return {str(key): str(taken) for key, taken in pairs}


def unknown_section(material: Material) -> Section | None:
    """Words that the reader did not know, with the nearest known word and how to teach it."""
    words = material.words
    unknown = [c for c in rows(view(material.views, "vocabulary_choice")) if c["understood"] is None]
    if not unknown:
        return None
    head = [words.text(f"table.{k}") for k in ("written", "kind", "place", "rows", "nearest", "teach")]
    body = [
        (
            c["written"],
            words.word("choice_kind", c["kind"]),
            place_of(c),
            whole(c["n_rows"], words),
            words.phrase(c["nearest"], *_KIND_TABLE.get(c["kind"], ())) if c["nearest"] else words.text("number.none"),
            _teach(c, words),
        )
        for c in unknown
    ]
    return section(
        words,
        "logs.unknown",
        paragraph(words, "logs.unknown.lead"),
        table(words.text("table.unknown"), head, body, "vocabulary_choice.csv"),
    )


_KIND_TABLE = {
    "exercise": ("exercise",),
    "bar": ("bar",),
    "bar position": ("position",),
    "grip": ("grip",),
    "site": ("site",),
    "moment": ("moment",),
    "severity": ("severity",),
}
"""Which table of canonical words a choice of that kind is worded by first."""

_TAUGHT_IN_WORDS = {
    "exercise": "exercise",
    "bar": "bar",
    "bar position": "bar_position",
    "grip": "grip_width",
    "site": "site",
}


def _teach(choice: Row, words: Words) -> str:
    """The line of season.toml that teaches the word, with the nearest known word as the guess."""
    if choice["kind"] == "person":
        return words.text("logs.unknown.teach_person", written=choice["written"])
    table_name = _TAUGHT_IN_WORDS.get(choice["kind"])
    if table_name is None:
        return words.text("logs.unknown.teach_source", written=choice["written"])
    nearest = choice["nearest"] or words.text("logs.unknown.your_word")
    quoted = f'"{nearest}"' if " " in nearest or not nearest.isascii() else nearest
    return f'[words] {table_name}.{quoted} = ["{choice["written"]}"]'


def choices_section(material: Material) -> Section | None:
    """What words were taken for, where that took more than knowing the word."""
    words = material.words
    rows_of: dict[tuple[str, str, str, str], list[int]] = {}
    for c in rows(view(material.views, "vocabulary_choice")):
        if c["understood"] is not None and c["how"] != "exact" and c["kind"] != "person":
            rows_of.setdefault((c["written"], c["kind"], c["understood"], c["how"]), []).append(int(c["n_rows"]))
    if not rows_of:
        return None
    head = [words.text(f"table.{k}") for k in ("written", "kind", "understood", "how", "rows", "sheets")]
    body = [
        (
            written,
            words.word("choice_kind", kind),
            words.phrase(understood, *_KIND_TABLE.get(kind, ())),
            words.word("choice_how", how),
            whole(sum(n), words),
            whole(len(n), words),
        )
        for (written, kind, understood, how), n in sorted(
            rows_of.items(), key=lambda item: (item[0][1], item[0][0].casefold())
        )
    ]
    long = len(body) > _LONG
    return section(
        words,
        "logs.choices",
        paragraph(words, "logs.choices.lead", n=whole(len(body), words)),
        table(words.text("table.choices"), head, body, "vocabulary_choice.csv", folded=long),
    )


def people_section(material: Material) -> Section | None:
    """Who is who: people whose name was written in more than one way."""
    words = material.words
    joined = [
        (p["name"], [w for w in _as_list(p["written"]) if w != p["name"]]) for p in rows(view(material.views, "person"))
    ]
    body = [(name, ", ".join(written)) for name, written in sorted(joined, key=lambda p: alphabetical(p[0])) if written]
    if not body:
        return None
    head = (words.text("table.lifter"), words.text("table.also_written"))
    return section(
        words, "logs.people", paragraph(words, "logs.people.lead"), table(words.text("table.people"), head, body)
    )


def notes_section(material: Material) -> Section | None:
    """Notes in free text that became pain reports, with the words that led to each."""
    words = material.words
    found = rows(view(material.views, "note_report"))
    if not found:
        return None
    head = [words.text(f"table.{k}") for k in ("lifter", "date", "evidence", "read_as", "place")]
    body = [
        (
            r["athlete"],
            table_day(r["date"], words),
            r["evidence"],
            _read_as(r, words),
            full_place({**r, "column": ""}, words),
        )
        for r in found
    ]
    return section(
        words,
        "logs.notes",
        paragraph(words, "logs.notes.lead", n=whole(len(body), words)),
        table(words.text("table.notes"), head, body, "note_report.csv", folded=len(body) > _LONG),
    )


def _read_as(row: Row, words: Words) -> str:
    rating = (
        short_decimal(row["rating"], words)
        if row["rating"] is not None
        else words.word("severity", row["severity_word"] or "") or words.text("table.no_number")
    )
    return words.text(
        "logs.notes.read_as",
        kind=words.word("pain_kind", row["kind"]),
        rating=rating,
        site=words.word("site", row["site"]),
        side=words.word("side", row["side"]),
    )
