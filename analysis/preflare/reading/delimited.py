"""Delimited text (CSV, TSV and kin, RFC 4180 and its looser relatives) to rows of cells with line numbers."""

import csv
import io
import re
from array import array
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Literal

from preflare.reading.coded import CodedRows, code_lines, code_records, is_long, is_plain
from preflare.reading.encodings import likeliest, without_mark
from preflare.reading.quoting import MAX_LINES_IN_A_CELL, SEVERAL, settle_quotes
from preflare.reading.text import Cell, tidy

DELIMITERS = (",", ";", "\t", "|")
_BOMS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe\x00\x00", "utf-32"), (b"\x00\x00\xfe\xff", "utf-32"),
         (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))  # fmt: skip
_MOST_MARKS = 10_000  # more quotation marks are no ditto marks
_MOST_LINES = 20_000  # of a text that may be a diary: forty years of it
_SAMPLE = 1_000_000  # characters; more than 400 lines of any log
csv.field_size_limit(10_000_000)


@dataclass(frozen=True, slots=True)
class Delimited:
    """A text file as rows. line_numbers: the first line of each row, from 1."""

    rows: Sequence[list[Cell]]
    line_numbers: Sequence[int]
    encoding: str
    delimiter: str
    remarks: tuple[str, ...]
    lines: tuple[str, ...] = ()  # the text line by line, of one that is not long


def decode(content: bytes) -> tuple[str, str, str | None]:
    """(text, encoding, remark): byte-order mark, else strict UTF-8, else the likeliest old encoding."""
    for mark, encoding in _BOMS:
        if content.startswith(mark):
            return content.decode(encoding, errors="replace"), encoding.removesuffix("-sig"), None
    if (wide := without_mark(content)) is not None:
        return content.decode(wide, errors="replace"), wide, f"The text encoding was taken for {wide}."
    try:
        return content.decode("utf-8"), "utf-8", None
    except UnicodeDecodeError:
        pass
    marked = sum(byte > 127 for byte in content)
    few = f"; it rests on {marked} accented letters only" if marked < 4 else ""
    encoding = likeliest(content) or _by_statistics(content)
    try:
        text = content.decode(encoding)
    except (UnicodeDecodeError, LookupError):
        encoding, text = "cp1252", content.decode("cp1252", errors="replace")
    return text, encoding, f"The text encoding was taken for {encoding}{few}."


def _by_statistics(content: bytes) -> str:
    """The guess of a library, restricted to a sample: it does not improve beyond it, and a long file would be slow."""
    import chardet

    guess = str(chardet.detect(content[:200_000])["encoding"] or "cp1252")
    return "cp1252" if guess.casefold() in {"ascii", "iso-8859-1", "windows-1252"} else guess


def read_delimited(content: bytes) -> Delimited:
    """Rows of a delimited file. Any bytes are accepted; what looks wrong is said in remarks."""
    text, encoding, remark = decode(content)
    remarks = [remark] if remark else []
    text = text.replace("\x00", "")
    plain = () if text.count("\n") > _MOST_LINES else tuple(text.splitlines())
    delimiter, skip = _declared(text)
    if delimiter is None:
        delimiter = find_delimiter(text)
    is_prose = not is_long(text.count("\n")) and delimiter in ",;" and _writes_prose(text, delimiter)
    if is_prose:
        prose = [[tidy(cell) for cell in _BETWEEN_WORDS.split(line)] for line in text.splitlines()]
        return Delimited(prose, range(1, len(prose) + 1), encoding, delimiter, tuple(remarks), plain)
    if is_settled := _has_marks_alone(text, delimiter):
        text, n_open = settle_quotes(text, delimiter)
        remarks += _of_open_marks(n_open)
    if is_long(text.count("\n")) and is_plain(text):
        coded = code_lines(text.split("\n", 1)[1] if skip else text, delimiter)
        return Delimited(coded, range(1 + skip, len(coded) + 1 + skip), encoding, delimiter, tuple(remarks))
    rows, lines = _split(text, delimiter, csv.QUOTE_MINIMAL)
    if not is_settled and _is_doubtful(text, rows, delimiter):
        text, n_open = settle_quotes(text, delimiter)
        rows, lines = _split(text, delimiter, csv.QUOTE_MINIMAL)
        remarks += _of_open_marks(n_open)
    if _never_closed(rows):
        rows, lines = _split(text, delimiter, csv.QUOTE_NONE)
        remarks.append("A quotation mark is never closed, so quotation marks were read as plain text.")
    if skip:
        rows, lines = rows[1:], lines[1:]
    return Delimited(rows, lines, encoding, delimiter, tuple(remarks), plain)


_BETWEEN_WORDS = re.compile(r",(?!\d)|(?<!\d),")  # a comma that is no decimal mark
_LEAST_COMMAS = 3
_MOST_TIGHT = 0.05  # of the marks in prose: those that no blank follows
_OF_ONE_WIDTH = 0.6  # of the lines that semicolons cut: from here on they are rows of a table
_MOST_CUT = 0.8  # of all lines


def _writes_prose(text: str, delimiter: str) -> bool:
    """Whether the delimiter is a mark of prose: a blank follows it, and commas between two digits are decimal marks.

    Words in quotation marks may stand within a line, no whole cell may.
    """
    if _quotes_cells(text, delimiter):
        return False
    if delimiter == ",":
        commas = _BETWEEN_WORDS.findall(text)
        n_tight = len(re.findall(r",(?!\d)(?!\s|$)|(?<!\d),\d", text))
        return re.search(r"\d,\d", text) is not None and _are_spaced(len(commas), n_tight)
    return not _are_rows(text.splitlines()) and _are_spaced(text.count(";"), len(re.findall(r";(?=\S)", text)))


def _are_rows(lines: list[str]) -> bool:
    """Whether semicolons cut most lines, or those that they cut more than once into equally many pieces."""
    widths = Counter(n for line in lines if (n := line.count(";")))
    n_cut, n_filled = sum(widths.values()), sum(1 for line in lines if line.strip())
    commonest = max(widths, key=lambda n: widths[n], default=0)
    is_of_one_width = commonest > 1 and widths[commonest] >= _OF_ONE_WIDTH * n_cut
    return is_of_one_width or n_cut >= _MOST_CUT * n_filled


def _are_spaced(n_marks: int, n_tight: int) -> bool:
    return n_marks >= _LEAST_COMMAS and n_tight <= _MOST_TIGHT * n_marks


def _quotes_cells(text: str, delimiter: str) -> bool:
    """Whether quotation marks hold whole cells, as in a table."""
    mark = re.escape(delimiter)
    return '"' in text and re.search(rf'(?:^|{mark})[ \t]*"[^"\n]*"[ \t]*(?:{mark}|$)', text, re.M) is not None


def _has_marks_alone(text: str, delimiter: str) -> bool:
    """Whether some cells look to hold a quotation mark and nothing else: it repeats the cell before."""
    mark = re.escape(delimiter)
    alone = rf"(?:\A|(?<=[{mark}\r\n]))[ ]*\"[ ]*(?=[{mark}\r\n]|\Z)"
    return 0 < text.count('"') <= _MOST_MARKS and re.search(alone, text) is not None


def _of_open_marks(n_open: int) -> list[str]:
    return [f"{n_open} quotation mark(s) open a cell and do not close it: read as plain text."] if n_open else []


def _is_doubtful(text: str, rows: Sequence[list[Cell]], delimiter: str) -> bool:
    """Whether some quotation mark may quote nothing: one without a fellow, or cells that hold delimiters at both ends
    or a line break and as many delimiters as a row, as what stands between two such marks does."""
    n_marks = text.count('"')
    if n_marks % 2 or not n_marks:
        return n_marks > 0
    widths = Counter(rows.widths.tolist() if isinstance(rows, CodedRows) else map(len, rows))
    commonest = max((width for width in widths if width > 1), key=lambda width: (widths[width], width), default=0)
    as_a_row = max(SEVERAL, commonest) - 1
    return any(
        cell[0] == cell[-1] == delimiter or (cell.count(delimiter) >= as_a_row and len(cell.splitlines()) > 1)
        for cell in _cells(rows)
        if isinstance(cell, str) and delimiter in cell
    )


def _declared(text: str) -> tuple[str | None, bool]:
    first = text[:20].splitlines()[:1]
    if first and first[0].strip('"').lower().startswith("sep=") and len(first[0].strip('"')) >= 5:
        return first[0].strip('"')[4], True
    return None, False


def find_delimiter(text: str) -> str:
    """The delimiter for which most rows share the commonest width; "," when no row is ever split."""
    sample = "\n".join(text[:_SAMPLE].splitlines()[:400])

    def score(delimiter: str) -> tuple[float, int]:
        widths = Counter(len(row) for row in _rows(sample, delimiter, csv.QUOTE_MINIMAL) if row)
        wide = {width: n for width, n in widths.items() if width > 1}
        if not wide:
            return 0.0, 0
        width = max(wide, key=lambda w: (wide[w], w))
        return wide[width] / sum(widths.values()), width

    return max(DELIMITERS, key=score)


def _rows(text: str, delimiter: str, quoting: Literal[0, 3]) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, quoting=quoting, skipinitialspace=True))


def _split(text: str, delimiter: str, quoting: Literal[0, 3]) -> tuple[Sequence[list[Cell]], Sequence[int]]:
    """The rows of a text, and the first line of each; those of a long one by columns."""
    stream = io.TextIOWrapper(io.BytesIO(text.encode(errors="surrogatepass")), "utf-8", "surrogatepass", newline="")
    reader = csv.reader(stream, delimiter=delimiter, quoting=quoting, skipinitialspace=True)
    lines = array("q")

    def records() -> Iterator[list[str]]:
        last = 0
        for row in reader:
            lines.append(last + 1)
            last = reader.line_num
            yield row

    if is_long(text.count("\n")):
        return code_records(records()), lines
    return [[tidy(cell) for cell in row] for row in records()], lines.tolist()


def _never_closed(rows: Sequence[list[Cell]]) -> bool:
    """Whether some cell has so many lines that its quotation mark can only have been left open."""
    return any(isinstance(cell, str) and cell.count("\n") > MAX_LINES_IN_A_CELL for cell in _cells(rows))


def _cells(rows: Sequence[list[Cell]]) -> Iterator[Cell]:
    """Every cell, or every different one of each column."""
    return (cell for column in rows.columns for cell in column.cells) if isinstance(rows, CodedRows) else chain(*rows)
