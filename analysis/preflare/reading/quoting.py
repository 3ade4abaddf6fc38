"""Quotation marks in delimited text: those that quote (RFC 4180) told from ditto marks, inches and marks left open.

A mark opens a quoted cell only at the start of a cell, and closes it only before a delimiter or the end of a line.
Between two ditto marks that may hold too; there the number of columns of the other rows decides.
"""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

DITTO = "〃"
MAX_LINES_IN_A_CELL = 20  # more than that is an unclosed quote, not a note
SEVERAL = 4  # columns from which a line of a note is hardly ever as wide as a row

_Way = Literal["quotes", "marks", "lines"]  # what goes first where a mark may quote or not: quoting; ditto marks; lines


@dataclass(frozen=True, slots=True)
class _Field:
    """A cell as it stands in the text. kind: "quoted", "ditto", "open" (a mark that quotes nothing) or "plain"."""

    written: str
    kind: str

    @property
    def text(self) -> str:
        """The field so that every reader of RFC 4180 takes it as it was meant."""
        if self.kind == "ditto":
            return self.written.replace('"', DITTO)
        return '"' + self.written.strip().replace('"', '""') + '"' if self.kind == "open" else self.written


@dataclass(frozen=True, slots=True)
class _Record:
    """A row as it stands in the text. end: where its line end begins."""

    fields: list[_Field]
    end: int


class _Grammar:
    """How fields are written between delimiters of one kind."""

    def __init__(self, delimiter: str) -> None:
        mark = re.escape(delimiter)
        ends = rf"(?={mark}|[\r\n]|\Z)"
        self.delimiter = delimiter
        self._quoted = re.compile(rf' *"[^"]*(?:""[^"]*)*" *{ends}')
        self._ditto = re.compile(rf' *" *{ends}')
        self._rest = re.compile(rf"[^{mark}\r\n]*")

    def record(self, text: str, at: int, way: _Way) -> _Record:
        """The row at a place."""
        fields: list[_Field] = []
        while True:
            field = self._field(text, at, way)
            fields.append(field)
            at += len(field.written)
            if not text.startswith(self.delimiter, at):
                return _Record(fields, at)
            at += 1

    def is_bare(self, cell: str) -> bool:
        """Whether what stands between two marks leaves nothing but the mark in the cells at its ends."""
        inside = cell.strip(" ")[1:-1].strip(" ")
        return {inside[:1], inside[-1:]} <= {self.delimiter, "\r", "\n"}

    def _field(self, text: str, at: int, way: _Way) -> _Field:
        quoted, ditto = self._quoted.match(text, at), self._ditto.match(text, at)
        most_breaks = 0 if way == "lines" else MAX_LINES_IN_A_CELL
        is_quoting = way == "quotes" or not ditto or (way == "marks" and quoted and not self.is_bare(quoted[0]))
        if quoted and is_quoting and _n_breaks(quoted[0]) <= most_breaks:
            return _Field(quoted[0], "quoted")
        if ditto:
            return _Field(ditto[0], "ditto")
        written = self._rest.match(text, at)
        assert written is not None  # the pattern matches nothing at all, too
        return _Field(written[0], "open" if written[0].lstrip(" ").startswith('"') else "plain")


def settle_quotes(text: str, delimiter: str) -> tuple[str, int]:
    """The text with a sign of their own for ditto marks and with other marks that quote nothing escaped, and how many
    those others are."""
    grammar = _Grammar(delimiter)
    common = _common_width(text, grammar)
    settled: list[str] = []
    n_open = last = 0
    for start, record in _settled(text, grammar, common):
        settled += text[last:start], delimiter.join(field.text for field in record.fields)
        n_open += sum(field.kind == "open" for field in record.fields)
        last = record.end
    return "".join(settled) + text[last:], n_open


def _settled(text: str, grammar: _Grammar, common: int) -> Iterator[tuple[int, _Record]]:
    """Where the rows with quotation marks start, and how each is to be read."""
    at = 0
    while (mark := text.find('"', at)) >= 0:
        start = max(text.rfind("\n", at, mark), text.rfind("\r", at, mark), at - 1) + 1
        record = _likeliest(text, start, grammar, common)
        yield start, record
        at = record.end


def _likeliest(text: str, start: int, grammar: _Grammar, common: int) -> _Record:
    """The row at a place, its quotation marks read as those of a row of the common width."""
    quoting, marks = grammar.record(text, start, "quotes"), grammar.record(text, start, "marks")
    if quoting != marks:
        return quoting if _is_quoting(text, start, quoting, marks, grammar, common) else marks
    if common < SEVERAL or not any(_n_breaks(field.written) for field in quoting.fields):
        return quoting
    lines = list(_lines(text, start, quoting.end, grammar))
    widths = [len(line.fields) for line in lines]
    return lines[0] if widths[0] == widths[-1] == common and {*widths} <= {1, common} else quoting


def _is_quoting(text: str, start: int, quoting: _Record, marks: _Record, grammar: _Grammar, common: int) -> bool:
    """Whether the quotation marks of a row quote where they might be ditto marks."""
    at, starts = start, []
    for field in quoting.fields:
        at += len(field.written) + 1
        if field.kind == "quoted" and _n_breaks(field.written) and grammar.is_bare(field.written):
            if field.written.strip(" ")[1:].lstrip(" ").startswith(grammar.delimiter):
                return False
            starts.append(max(text.rfind("\n", start, at - 1), text.rfind("\r", start, at - 1)) + 1)
    if not starts:
        return len(quoting.fields) == common
    closing = (grammar.record(text, place, "marks") for place in starts)
    return len(marks.fields) != common or any(len(row.fields) != common for row in closing)


def _lines(text: str, start: int, end: int, grammar: _Grammar) -> Iterator[_Record]:
    """Every line of a part of a text as a row of its own."""
    while start <= end:
        record = grammar.record(text, start, "lines")
        yield record
        start = record.end + (2 if text.startswith("\r\n", record.end) else 1)


def _common_width(text: str, grammar: _Grammar) -> int:
    """The commonest number of columns of the lines that can be read in one way only; 0 without such lines."""
    widths: Counter[int] = Counter()
    for line in re.split(r"\r\n|\r|\n", text):
        record = grammar.record(line, 0, "lines")
        if all(field.kind in {"plain", "quoted"} for field in record.fields):
            widths[len(record.fields)] += 1
    del widths[1]
    return max(widths, key=lambda width: (widths[width], width), default=0)


def _n_breaks(cell: str) -> int:
    return cell.count("\n") or cell.count("\r")
