"""Error cells of an XLS workbook, which the reader beneath shows as empty.

An XLS file is a compound file (MS-CFB) whose stream "Workbook" is a run of records (MS-XLS): BoundSheet8 (2.4.28) gives
each sheet's name and place, BoolErr (2.4.24) and Formula (2.4.127) hold error values, BErr (2.5.10) their codes.
"""

import struct
from collections.abc import Iterator

Errors = dict[tuple[int, int], str]

_BOUND_SHEET, _BOOL_ERR, _FORMULA, _END = 0x0085, 0x0205, 0x0006, 0x000A
_NAMES = {0x00: "#NULL!", 0x07: "#DIV/0!", 0x0F: "#VALUE!", 0x17: "#REF!", 0x1D: "#NAME?", 0x24: "#NUM!", 0x2A: "#N/A"}
_NO_SECTOR = 0xFFFFFFFA  # this and above: end of chain, free, or a sector of tables
_HEADER = 512


def error_cells_of_xls(content: bytes) -> dict[str, Errors]:
    """Sheet name -> (row, column) -> error text, 0-based; {} when the file cannot be scanned or has no errors."""
    try:
        stream = _workbook_stream(content)
        return {name: found for name, start in _sheets(stream) if (found := _errors_from(stream, start))}
    except (struct.error, IndexError, ValueError, UnicodeDecodeError):
        return {}  # damaged: the reader beneath will say what is wrong


def _records(stream: bytes, start: int) -> Iterator[tuple[int, bytes]]:
    """(kind, data) of each record from `start` to the end of its substream."""
    while start + 4 <= len(stream):
        kind, length = struct.unpack_from("<HH", stream, start)
        yield kind, stream[start + 4 : start + 4 + length]
        if kind == _END:
            return
        start += 4 + length


def _sheets(stream: bytes) -> Iterator[tuple[str, int]]:
    for kind, data in _records(stream, 0):
        if kind == _BOUND_SHEET:
            length, is_wide = data[6], data[7] & 1
            name = data[8 : 8 + length * (2 if is_wide else 1)]
            yield name.decode("utf-16-le" if is_wide else "latin-1"), struct.unpack_from("<I", data)[0]


def _errors_from(stream: bytes, start: int) -> Errors:
    errors: Errors = {}
    for kind, data in _records(stream, start):
        code = None
        if kind == _BOOL_ERR and len(data) >= 8 and data[7] == 1:
            code = data[6]
        elif kind == _FORMULA and len(data) >= 14 and data[12:14] == b"\xff\xff" and data[6] == 2:
            code = data[8]
        if code is not None:
            row, column = struct.unpack_from("<HH", data)
            errors[row, column] = _NAMES.get(code, "#ERROR")
    return errors


def _workbook_stream(content: bytes) -> bytes:
    """The stream "Workbook" of a compound file; a stream below 4096 bytes lies in the small sectors of the root."""
    size = 1 << struct.unpack_from("<H", content, 30)[0]
    small_size = 1 << struct.unpack_from("<H", content, 32)[0]
    directory_start, small_limit, small_start = struct.unpack_from("<I4xII", content, 48)
    if not 128 <= size <= 65536 or not 16 <= small_size <= size:
        raise ValueError("not a compound file")
    table = _allocation(content, size)
    directory = _chain(content, table, directory_start, size, _HEADER)
    entries = [directory[at : at + 128] for at in range(0, len(directory) - 127, 128)]
    entry = next((entry for entry in entries if _name(entry) in {"Workbook", "Book"}), None)
    if entry is None:
        raise ValueError("no workbook in it")
    start, length = struct.unpack_from("<II", entry, 116)
    if length >= small_limit:
        return _chain(content, table, start, size, _HEADER)[:length]
    small_table = _numbers(_chain(content, table, small_start, size, _HEADER))
    small = _chain(content, table, struct.unpack_from("<I", entries[0], 116)[0], size, _HEADER)
    return _chain(small, small_table, start, small_size, 0)[:length]


def _name(entry: bytes) -> str:
    return entry[: max(struct.unpack_from("<H", entry, 64)[0] - 2, 0)].decode("utf-16-le")


def _numbers(data: bytes) -> tuple[int, ...]:
    return struct.unpack(f"<{len(data) // 4}I", data[: len(data) // 4 * 4])


def _allocation(content: bytes, size: int) -> tuple[int, ...]:
    """Sector -> the next of its chain. The header names the first 109 sectors of this table; the rest is chained."""
    sectors = list(struct.unpack_from("<109I", content, 76))
    more, n_more = struct.unpack_from("<II", content, 68)
    for _ in range(min(n_more, len(content) // size + 1)):
        block = _numbers(content[_HEADER + more * size : _HEADER + (more + 1) * size])
        sectors += block[:-1]
        more = block[-1]
    parts = [content[_HEADER + s * size : _HEADER + (s + 1) * size] for s in sectors if s < _NO_SECTOR]
    return _numbers(b"".join(parts))


def _chain(data: bytes, table: tuple[int, ...], sector: int, size: int, offset: int) -> bytes:
    """All sectors of a chain, one after another. Raises ValueError for a chain that runs in a circle."""
    parts: list[bytes] = []
    while sector < _NO_SECTOR:
        if len(parts) > len(table):
            raise ValueError("a chain of sectors runs in a circle")
        parts.append(data[offset + sector * size : offset + (sector + 1) * size])
        sector = table[sector]
    return b"".join(parts)
