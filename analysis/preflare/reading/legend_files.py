"""Which files and sheets explain a log, and the legend and vocabulary with which one file is read."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path, PurePosixPath

from preflare.reading.formats import TEXT_SUFFIXES, RawFile, read_file
from preflare.reading.legend import Legend, lexicon_with, read_legend
from preflare.reading.legend_lines import Line, is_legend_sheet, legend_lines, names_legend
from preflare.reading.legend_series import Shared
from preflare.reading.lexicon import Lexicon
from preflare.reading.rosters import people_by_letter
from preflare.reading.tables import SheetTables
from preflare.reading.text import as_text
from preflare.reading.words import WordReader
from preflare.reading.workbook import Sheet

_LARGEST = 100_000  # bytes of a text file that only explains
_OF_ALL = " | "


def lines_by_folder(files: Sequence[tuple[Path, str]], lexicon: Lexicon) -> dict[str, list[Line]]:
    """Folder -> the lines of the text files in it that only explain its logs."""
    found: dict[str, list[Line]] = {}
    for path, name in files:
        is_text = path.suffix.casefold() in TEXT_SUFFIXES and names_legend(PurePosixPath(name).stem)
        if not is_text or path.stat().st_size > _LARGEST:
            continue
        for sheet in read_file(path, name).sheets:
            if is_legend_sheet(sheet, name, lexicon):
                found.setdefault(PurePosixPath(name).parent.as_posix(), []).extend(legend_lines(sheet, name, lexicon))
    return found


def legend_of(raw: RawFile, near: dict[str, list[Line]], series: Shared, words: WordReader) -> Legend:
    """What a file explains of itself, with what files of its folder or series explain. near: lines by folder."""
    lexicon = words.lexicon
    lines = [line for sheet in raw.sheets for line in legend_lines(sheet, raw.name, lexicon)]
    for line in near.get(PurePosixPath(raw.name).parent.as_posix(), []):
        if line not in lines:
            lines.append(line)
    shared_from, shared = series.get(raw.name, ("", []))
    lines += [line for line in shared if line not in lines]
    if not lines:
        return Legend()
    legend = read_legend(lines, words, people_by_letter([line.text for line in lines], lexicon))
    return replace(legend, shared_from=shared_from) if shared_from else legend


def words_of_file(legend: Legend, words: WordReader) -> tuple[Lexicon, WordReader]:
    """The vocabulary of a file whose legend is known; the general one where that adds nothing."""
    own = lexicon_with(legend.terms, dict(legend.people), words.lexicon)
    return (own, words) if own is words.lexicon else (own, WordReader(own))


def as_legend(sheet: Sheet) -> SheetTables:
    """A sheet that only explains: no table, every line told."""
    filled = {row: cells for row, cells in enumerate(sheet.rows) if any(cell is not None for cell in cells)}
    titles = [_OF_ALL.join(as_text(cell) for cell in cells if cell is not None) for cells in filled.values()]
    return SheetTables([], dict.fromkeys(filled, "legend"), titles)
