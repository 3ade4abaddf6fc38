"""What colours and type mean in a sheet, where its own legend or title says so: "yellow = warm-up", "rot: misslungen".

Without such words nothing is read from how cells look.
"""

import colorsys
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

from preflare.reading import vocabulary
from preflare.reading.cell_styles import PLAIN, Place, Rgb, Style, cell_styles
from preflare.reading.coded import CodedRows
from preflare.reading.lexicon import Lexicon, Phrases, names_total
from preflare.reading.text import Cell, as_text, words_of
from preflare.reading.workbook import Sheet

Meaning = Literal["warm_up", "failed", "total"]

# Hues in degrees that a word for a colour covers; they overlap, as people's words do. From memory, no published source.
_HUES = {"red": (325, 22), "orange": (12, 48), "yellow": (38, 75), "green": (70, 175), "blue": (170, 262),
         "purple": (250, 318), "pink": (285, 20)}  # fmt: skip
_PIECES = re.compile(r"[;,|\n]|\s/\s|\s(?:and|und|et|y|e|i|og|och)\s", re.I)
_LEGEND = frozenset(
    {"legend", "key", "legende", "leyenda", "legenda", "colours", "colors", "farben", "couleurs", "colores", "colori"}
    | {"cores", "kleuren", "kolory", "farger", "farver", "teckenforklaring", "tegnforklaring", "zeichen"}
)


@dataclass(frozen=True, slots=True)
class Look:
    """One entry of a legend. colour and type are words of styles.toml; own: how the legend's cell itself looks."""

    meaning: Meaning
    colour: str | None
    type: str | None
    own: Style
    text: str

    def fits(self, style: Style) -> bool:
        """Whether a cell looks so."""
        if self.type is not None:
            return {"bold": style.is_bold, "italic": style.is_italic, "struck": style.is_struck}[self.type]
        for colour, own in ((style.fill, self.own.fill), (style.type, self.own.type)):
            if colour is None:
                continue
            if own is not None and (self.colour is None or is_called(own, self.colour)):
                if colour == own:
                    return True
            elif self.colour is not None and is_called(colour, self.colour):
                return True
        return False


def is_called(rgb: Rgb, word: str) -> bool:
    """Whether people may call a colour by this word of styles.toml."""
    hue, light, full = colorsys.rgb_to_hls(*(channel / 255 for channel in rgb))
    spread = (max(rgb) - min(rgb)) / 255
    if word == "grey":
        return spread < 0.12 and 0.2 < light < 0.97
    if spread < 0.08 or full < 0.15:
        return False
    low, high = _HUES[word]
    degrees = hue * 360
    return low <= degrees <= high if low < high else degrees >= low or degrees <= high


@cache
def _words() -> Phrases:
    phrases = Phrases()
    for subject, table in vocabulary.load("styles").items():
        for name, by_language in table.items():
            for language, words in by_language.items():
                phrases.add(f"{subject}:{name}", words, language)
    return phrases


def legend_of(rows: Iterable[tuple[int, Sequence[Cell]]], styles: dict[Place, Style], lexicon: Lexicon) -> list[Look]:
    """The looks that rows outside of the tables explain. rows: (number, cells); styles: {} while not known.

    A cell of a legend may name colour and meaning, two cells side by side may, or a coloured cell only the meaning.
    """
    rows = list(rows)
    has_legend = any(_LEGEND & set(words_of(as_text(cell))) for _, cells in rows for cell in cells if cell is not None)
    found: list[Look] = []
    for row, cells in rows:
        waiting: tuple[str | None, str | None, Style] | None = None
        for column, cell in enumerate(cells):
            own = styles.get((row, column), PLAIN)
            if cell is None or not isinstance(cell, str):
                swatch = own if own.fill is not None else None
                waiting = (None, None, swatch) if swatch and has_legend else waiting
                continue
            for piece in _pieces(cell):
                colour, type_ = _look_in(piece)
                meaning = _meaning(piece, lexicon)
                if meaning and (colour or type_):
                    found.append(Look(meaning, colour, type_, own, piece.strip()))
                    waiting = None
                elif meaning and waiting is not None:
                    found.append(Look(meaning, *waiting, piece.strip()))
                    waiting = None
                elif meaning and has_legend and own.fill is not None and len(words_of(piece)) <= 3:
                    found.append(Look(meaning, None, None, Style(fill=own.fill), piece.strip()))
                elif colour or type_:
                    waiting = colour, type_, own
    return found


def _pieces(text: str) -> list[str]:
    """A text cut so that each piece explains one look; Dutch "en" (and) cuts only between two of them."""
    pieces = _PIECES.split(text)
    return [
        part
        for piece in pieces
        for part in (re.split(r"\sen\s", piece) if len(list(_words().find(words_of(piece)))) > 1 else [piece])
    ]


def _look_in(text: str) -> tuple[str | None, str | None]:
    hits = dict(hit.split(":", 1) for _, _, hit in _words().find(words_of(text)))
    return hits.get("colour"), hits.get("look")


def _meaning(text: str, lexicon: Lexicon) -> Meaning | None:
    words = words_of(text)
    hits = {hit for start, end, hit in lexicon.work.find(words) if len(" ".join(words[start:end])) > 2}
    told = hits & {"warm_up", "failed"}
    if len(told) == 1:
        return "warm_up" if told == {"warm_up"} else "failed"
    return "total" if not told and any(names_total(word) for word in words) else None


def rows_beside(sheet: Sheet, not_data: dict[int, str]) -> Iterator[tuple[int, list[Cell]]]:
    """The rows of a sheet in which a legend may stand: outside of the tables, or a line or two of text within them."""
    if isinstance(sheet.rows, CodedRows):
        yield from ((row, sheet.rows[row]) for row in sorted(not_data))
        return
    for row, cells in enumerate(sheet.rows):
        filled = {cell for cell in cells if cell is not None}
        is_line = len(filled) <= 2 and all(isinstance(cell, str) for cell in filled)
        if "heading" not in not_data.get(row, "") and (row in not_data or is_line):
            yield row, cells


def marked_cells(looks: Sequence[Look], styles: dict[Place, Style]) -> dict[Place, Meaning]:
    """Every cell of a sheet whose look the legend explains; one that fits two meanings is left alone."""
    marked: dict[Place, Meaning] = {}
    for place, style in styles.items():
        meanings = {look.meaning for look in looks if look.fits(style)}
        if len(meanings) == 1:
            marked[place] = meanings.pop()
    return marked


@dataclass(frozen=True, slots=True)
class LooksOfFile:
    """sheet -> cells that a legend explains; what to say of it, if anything."""

    marked: dict[str, dict[Place, Meaning]]
    said: str | None = None


def looks_of_file(
    content: Callable[[], bytes], sheets: Sequence[tuple[Sheet, dict[int, str]]], lexicon: Lexicon
) -> LooksOfFile:
    """What the looks of a file's cells mean. content: gives the workbook's bytes, asked for only where a legend is.

    sheets: each with its rows outside of tables. Files that keep no looks, or whose looks are not read (XLS), say so.
    """
    rows = [(sheet, list(rows_beside(sheet, not_data))) for sheet, not_data in sheets]
    if not any(_speaks_of_looks(own, lexicon) for _, own in rows):
        return LooksOfFile({})
    styles = cell_styles(content())
    looks = [look for sheet, own in rows for look in legend_of(own, styles.get(sheet.name, {}), lexicon)]
    if not looks:
        return LooksOfFile({})
    entries = ", ".join(dict.fromkeys(f'"{" ".join(look.text.split())}"' for look in looks))
    if not any(styles.values()):
        lost = "but this kind of file does not show them: sets marked only so were read as work sets"
        return LooksOfFile({}, f"A legend gives looks of cells a meaning ({entries}), {lost}.")
    marked = {name: marked_cells(looks, own) for name, own in styles.items()}
    return LooksOfFile(marked, f"Cells were read by their looks as the legend says: {entries}.")


def _speaks_of_looks(rows: Sequence[tuple[int, Sequence[Cell]]], lexicon: Lexicon) -> bool:
    cells = [cell for _, own in rows for cell in own if isinstance(cell, str)]
    return bool(legend_of(rows, {}, lexicon)) or any(_LEGEND & set(words_of(cell)) for cell in cells)
