"""How the cells of a workbook look: fill, colour of the type, bold, italic, struck through. XLSX and ODS.

Only asked for where a sheet's own text says that looks mean something; the reader beneath does not give them.
Sources: ECMA-376 part 1, 18.8 (styles) and 18.8.27 (indexed colours); OpenDocument 1.3, part 3, 16 and 20.
"""

import io
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree

from preflare.reading.text import column_index
from preflare.reading.workbook import sheet_parts

Rgb = tuple[int, int, int]
Place = tuple[int, int]  # row and column, 0-based

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_STYLE = "{urn:oasis:names:tc:opendocument:xmlns:style:1.0}"
_FO = "{urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0}"
_THEME = re.compile(
    r"<a:(?:dk1|lt1|dk2|lt2|accent\d|hlink|folHlink)>.*?(?:lastClr|srgbClr val)=\"([0-9A-Fa-f]{6})\"", re.S
)
# The first 64 indexed colours repeat 8 basic ones; the rest of the default palette is in 18.8.27.
_INDEXED = (
    "000000 FFFFFF FF0000 00FF00 0000FF FFFF00 FF00FF 00FFFF 000000 FFFFFF FF0000 00FF00 0000FF FFFF00 FF00FF 00FFFF "
    "800000 008000 000080 808000 800080 008080 C0C0C0 808080 9999FF 993366 FFFFCC CCFFFF 660066 FF8080 0066CC CCCCFF "
    "000080 FF00FF FFFF00 00FFFF 800080 800000 008080 0000FF 00CCFF CCFFFF CCFFCC FFFF99 99CCFF FF99CC CC99FF FFCC99 "
    "3366FF 33CCCC 99CC00 FFCC00 FF9900 FF6600 666699 969696 003366 339966 003300 333300 993300 993366 333399 333333"
)
_MOST_REPEATED = 2000  # blank columns and rows that a sheet repeats to its edge


@dataclass(frozen=True, slots=True)
class Style:
    """How one cell looks. Colours are None where the sheet sets none."""

    fill: Rgb | None = None
    type: Rgb | None = None
    is_bold: bool = False
    is_italic: bool = False
    is_struck: bool = False


PLAIN = Style()


def cell_styles(content: bytes) -> dict[str, dict[Place, Style]]:
    """Sheet -> place -> style, of cells that do not look plain; {} when the workbook holds no styles to be read."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            names = archive.namelist()
            if "xl/workbook.xml" in names:
                return _of_xlsx(archive)
            return _of_ods(archive) if "content.xml" in names else {}
    except Exception:  # damaged parts: the log itself was read, and its looks then say nothing
        return {}


def _rgb(text: str | None) -> Rgb | None:
    if text is None or not re.fullmatch(r"#?(?:[0-9A-Fa-f]{2})?[0-9A-Fa-f]{6}", text):
        return None
    digits = text[-6:]
    return int(digits[:2], 16), int(digits[2:4], 16), int(digits[4:], 16)


# XLSX -------------------------------------------------------------------------------------------------------------


def _of_xlsx(archive: zipfile.ZipFile) -> dict[str, dict[Place, Style]]:
    styles = _styles_of_xlsx(archive)
    found = {}
    for name, part in sheet_parts(archive).items():
        cells = ElementTree.fromstring(archive.read(part)).iter(f"{_MAIN}c")
        own = {
            place: style for cell in cells if (place := _place(cell)) and (style := _style_of(cell, styles)) != PLAIN
        }
        found[name] = own
    return found


def _place(cell: ElementTree.Element) -> Place | None:
    match = re.fullmatch(r"([A-Z]{1,3})(\d+)", cell.get("r", ""))
    return (int(match[2]) - 1, column_index(match[1])) if match else None


def _style_of(cell: ElementTree.Element, styles: list[Style]) -> Style:
    index = int(cell.get("s", "0"))
    return styles[index] if index < len(styles) else PLAIN


def _styles_of_xlsx(archive: zipfile.ZipFile) -> list[Style]:
    """The style of each cell format (cellXfs)."""
    root = ElementTree.fromstring(archive.read("xl/styles.xml"))
    theme = _theme(archive)
    fonts = [_font(font, theme) for font in root.iterfind(f"{_MAIN}fonts/{_MAIN}font")]
    fills = [_fill(fill, theme) for fill in root.iterfind(f"{_MAIN}fills/{_MAIN}fill")]
    found = []
    for form in root.iterfind(f"{_MAIN}cellXfs/{_MAIN}xf"):
        font, fill = int(form.get("fontId", "0")), int(form.get("fillId", "0"))
        colour, bold, italic, struck = fonts[font] if font < len(fonts) else (None, False, False, False)
        found.append(Style(fills[fill] if fill < len(fills) else None, colour, bold, italic, struck))
    return found


def _theme(archive: zipfile.ZipFile) -> list[str]:
    """The theme's colours in the order that cells count them: light before dark (18.8.3)."""
    part = next((name for name in archive.namelist() if name.startswith("xl/theme/theme")), None)
    colours = _THEME.findall(archive.read(part).decode("utf-8", "replace")) if part else []
    return [colours[1], colours[0], colours[3], colours[2], *colours[4:]] if len(colours) >= 4 else colours


def _colour(element: ElementTree.Element | None, theme: list[str]) -> Rgb | None:
    if element is None:
        return None
    if (rgb := _rgb(element.get("rgb"))) is not None:
        return rgb
    if (index := element.get("indexed")) is not None:
        colours = _INDEXED.split()
        return _rgb(colours[int(index)]) if int(index) < len(colours) else None
    if (number := element.get("theme")) is None or int(number) >= len(theme):
        return None
    rgb, tint = _rgb(theme[int(number)]), float(element.get("tint", "0"))
    return None if rgb is None else _tinted(rgb, tint)


def _tinted(rgb: Rgb, tint: float) -> Rgb:
    """A theme's colour made lighter (tint above 0) or darker (18.8.19, on the channels instead of the luminance)."""
    red, green, blue = (round(c * (1 + tint) if tint < 0 else c + (255 - c) * tint) for c in rgb)
    return red, green, blue


def _font(font: ElementTree.Element, theme: list[str]) -> tuple[Rgb | None, bool, bool, bool]:
    def has(tag: str) -> bool:
        mark = font.find(f"{_MAIN}{tag}")
        return mark is not None and mark.get("val", "1") not in {"0", "false"}

    return _colour(font.find(f"{_MAIN}color"), theme), has("b"), has("i"), has("strike")


def _fill(fill: ElementTree.Element, theme: list[str]) -> Rgb | None:
    pattern = fill.find(f"{_MAIN}patternFill")
    if pattern is None or pattern.get("patternType", "none") in {"none", "gray125"}:
        return None
    return _colour(pattern.find(f"{_MAIN}fgColor"), theme)


# ODS --------------------------------------------------------------------------------------------------------------


def _of_ods(archive: zipfile.ZipFile) -> dict[str, dict[Place, Style]]:
    content = ElementTree.fromstring(archive.read("content.xml"))
    named = ElementTree.fromstring(archive.read("styles.xml")) if "styles.xml" in archive.namelist() else None
    elements = {
        style.get(f"{_STYLE}name", ""): style
        for root in (named, content)
        if root is not None
        for style in root.iter(f"{_STYLE}style")
        if style.get(f"{_STYLE}family") == "table-cell"
    }
    styles = {name: _of_element(name, elements) for name in elements}
    return {table.get(f"{_TABLE}name", ""): dict(_in_table(table, styles)) for table in content.iter(f"{_TABLE}table")}


def _of_element(name: str, elements: dict[str, ElementTree.Element], depth: int = 0) -> Style:
    """A named style with what it takes over from its parent."""
    element = elements.get(name)
    if element is None or depth > 10:
        return PLAIN
    above = _of_element(element.get(f"{_STYLE}parent-style-name", ""), elements, depth + 1)
    cell, text = element.find(f"{_STYLE}table-cell-properties"), element.find(f"{_STYLE}text-properties")
    told = {} if cell is None else cell.attrib
    type_ = {} if text is None else text.attrib
    return Style(
        _rgb(told.get(f"{_FO}background-color")) or above.fill,
        _rgb(type_.get(f"{_FO}color")) or above.type,
        type_.get(f"{_FO}font-weight", "bold" if above.is_bold else "normal") in {"bold", "700", "800", "900"},
        type_.get(f"{_FO}font-style", "italic" if above.is_italic else "normal") in {"italic", "oblique"},
        type_.get(f"{_STYLE}text-line-through-style", "solid" if above.is_struck else "none") != "none",
    )


def _in_table(table: ElementTree.Element, styles: dict[str, Style]) -> Iterator[tuple[Place, Style]]:
    columns = [
        style
        for column in table.iter(f"{_TABLE}table-column")
        for style in [styles.get(column.get(f"{_TABLE}default-cell-style-name", ""), PLAIN)]
        * min(int(column.get(f"{_TABLE}number-columns-repeated", "1")), _MOST_REPEATED)
    ]
    number = 0
    for row in table.iter(f"{_TABLE}table-row"):
        n_rows, at = int(row.get(f"{_TABLE}number-rows-repeated", "1")), 0
        for cell in row:
            n_columns = int(cell.get(f"{_TABLE}number-columns-repeated", "1"))
            own = cell.get(f"{_TABLE}style-name")
            is_edge = n_columns > _MOST_REPEATED or n_rows > _MOST_REPEATED
            for column in range(at, at if is_edge else at + n_columns):
                style = styles.get(own, PLAIN) if own else columns[column] if column < len(columns) else PLAIN
                if style != PLAIN:
                    yield from (((number + k, column), style) for k in range(n_rows))
            at += n_columns
        number += n_rows
