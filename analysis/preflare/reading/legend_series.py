"""A log kept in a series of files ("group_september.txt", "group_october.txt") that explains itself in one of them.

Whoever opens a new file each month writes the legend once. It holds for the files of the same name but for month and
number: for all where one file alone explains anything, else for those after it.
"""

import re
from collections.abc import Iterable, Sequence
from pathlib import Path, PurePosixPath

from preflare.reading.formats import TEXT_SUFFIXES, read_file
from preflare.reading.legend import read_legend
from preflare.reading.legend_lines import Line, legend_lines, names_legend
from preflare.reading.rosters import people_by_letter
from preflare.reading.text import words_of
from preflare.reading.words import WordReader

_LARGEST = 100_000  # bytes of a file that is looked into for its legend
_MOST_FILES = 40  # of a series

Shared = dict[str, tuple[str, list[Line]]]  # file -> (the file that explains it, the lines there)


def legends_of_series(files: Sequence[tuple[Path, str]], words: WordReader) -> Shared:
    """For each file of a series without it, the legend of the last file before it that has one, or of the only one."""
    series: dict[tuple[str, ...], list[tuple[tuple[int, ...], Path, str]]] = {}
    for path, name in files:
        stem, order = _named(name, words)
        is_small = path.suffix.casefold() in TEXT_SUFFIXES and path.stat().st_size <= _LARGEST
        if is_small and order and not names_legend(PurePosixPath(name).stem):
            series.setdefault(stem, []).append((order, path, name))
    found: Shared = {}
    for members in series.values():
        if 1 < len(members) <= _MOST_FILES:
            found |= _shared(sorted(members), words)
    return found


def _named(name: str, words: WordReader) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """(folder, ending and words of a file's name, its months and numbers in order)."""
    path = PurePosixPath(name)
    parts = [part for word in words_of(path.stem.replace("_", " ")) for part in re.findall(r"\d+|\D+", word)]
    numbers = [int(part) if part.isdecimal() else words.lexicon.month.exact(part) for part in parts]
    plain = [part for part, number in zip(parts, numbers, strict=True) if number is None]
    return (path.parent.as_posix(), path.suffix, *plain), tuple(int(one) for one in numbers if one is not None)


def _shared(members: Iterable[tuple[tuple[int, ...], Path, str]], words: WordReader) -> Shared:
    """The legends that the files of one series give to others, which are in order."""
    lines = {name: _lines(path, name, words) for _, path, name in members}
    explaining = [name for name, own in lines.items() if own]
    found: Shared = {}
    last = explaining[0] if len(explaining) == 1 else None
    for name, own in lines.items():
        if not own and last is not None:
            found[name] = (last, lines[last])
        last = name if own else last
    return found


def _lines(path: Path, name: str, words: WordReader) -> list[Line]:
    """The sure lines of a file whose legend explains something; none of one that explains nothing."""
    sheets = read_file(path, name).sheets
    lines = [line for sheet in sheets for line in legend_lines(sheet, name, words.lexicon) if line.is_sure]
    legend = read_legend(lines, words, people_by_letter([line.text for line in lines], words.lexicon))
    return lines if legend.terms or legend.defaults or legend.people or legend.unit or legend.pain else []
