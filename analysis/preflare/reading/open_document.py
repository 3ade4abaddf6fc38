"""Error cells of an OpenDocument spreadsheet (ISO/IEC 26300), which the reader beneath shows as empty."""

import io
import zipfile
from xml.etree import ElementTree

_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_KIND = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}value-type"
Errors = dict[tuple[int, int], str]


def error_cells(content: bytes) -> dict[str, Errors]:
    """Sheet name -> (row, column) -> error text, 0-based; {} when the file cannot be scanned or has no errors."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            xml = archive.read("content.xml")
        if b'value-type="error"' not in xml:
            return {}
        tables = ElementTree.fromstring(xml).iter(f"{_TABLE}table")
        return {table.get(f"{_TABLE}name", ""): _errors_of(table) for table in tables}
    except Exception:  # damaged archives and XML: the reader beneath will say what is wrong
        return {}


def _errors_of(table: ElementTree.Element) -> Errors:
    errors: Errors = {}
    row_number = 0
    for row in table.iter(f"{_TABLE}table-row"):
        column = 0
        for cell in row:
            if cell.get(_KIND) == "error":
                errors[row_number, column] = "".join(cell.itertext()) or "#ERROR"
            column += int(cell.get(f"{_TABLE}number-columns-repeated", "1"))
        row_number += int(row.get(f"{_TABLE}number-rows-repeated", "1"))
    return errors
