"""Quotation marks in delimited text: those that quote (RFC 4180) told from ditto marks, inches and marks left open.

A mark opens a quoted cell only at the start of a cell, and closes it only before a delimiter or the end of a line.
Between two ditto marks that may hold too; there the number of columns of the other rows decides.
"""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

DITTO = "〃"
MAX_LINES_IN_A_CELL = 20  # more than that is an unclosed quote, not a note
SEVERAL = 4  # columns from which a line of a note is hardly ever as wide as a row


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

    def record(self, text: str, at: int, *, across: bool) -> _Record:
        """The row at a place. across: quoted cells may hold line breaks, and go before ditto marks."""
        fields: list[_Field] = []
        while True:
            field = self._field(text, at, across)
            fields.append(field)
            at += len(field.written)
            if not text.startswith(self.delimiter, at):
                return _Record(fields, at)
            at += 1

    def _field(self, text: str, at: int, across: bool) -> _Field:
        quoted, ditto = self._quoted.match(text, at), self._ditto.match(text, at)
        if quoted and (_n_breaks(quoted[0]) <= MAX_LINES_IN_A_CELL if across else not (ditto or _n_breaks(quoted[0]))):
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
        across, by_line = (grammar.record(text, start, across=across) for across in (True, False))
        record = across
        if across != by_line and not _is_quoting(text, start, across, by_line, grammar, common):
            record = by_line
        yield start, record
        at = record.end


def _is_quoting(text: str, start: int, across: _Record, by_line: _Record, grammar: _Grammar, common: int) -> bool:
    """Whether the quotation marks of a row quote, where its first line could also be a row with marks."""
    inside = [field.written.strip(" ")[1:-1].strip(" ") for field in across.fields if field.kind == "quoted"]
    edges = [(cell[:1], cell[-1:]) for cell in inside if _n_breaks(cell) or across.end <= by_line.end]
    is_between = (grammar.delimiter,) * 2 in edges
    if across.end <= by_line.end:
        fits, fits_by_line = len(across.fields) == common, len(by_line.fields) == common
        return fits if fits != fits_by_line else not is_between
    if is_between:
        return False
    widths = [len(row.fields) for row in _lines(text, start, across.end, grammar)]
    if widths[0] != common or widths[-1] != common:
        return True
    is_bare = any({*both} <= {grammar.delimiter, "\r", "\n"} for both in edges)
    return not is_bare and (common < SEVERAL or any(width not in {1, common} for width in widths))


def _lines(text: str, start: int, end: int, grammar: _Grammar) -> Iterator[_Record]:
    """Every line of a part of a text as a row of its own."""
    while start <= end:
        record = grammar.record(text, start, across=False)
        yield record
        start = record.end + (2 if text.startswith("\r\n", record.end) else 1)


def _common_width(text: str, grammar: _Grammar) -> int:
    """The commonest number of columns of the lines that can be read in one way only; 0 without such lines."""
    widths: Counter[int] = Counter()
    for line in re.split(r"\r\n|\r|\n", text):
        record = grammar.record(line, 0, across=False)
        if all(field.kind in {"plain", "quoted"} for field in record.fields):
            widths[len(record.fields)] += 1
    del widths[1]
    return max(widths, key=lambda width: (widths[width], width), default=0)


def _n_breaks(cell: str) -> int:
    return cell.count("\n") or cell.count("\r")
