"""The page's own letters: STIXGeneral, which comes with matplotlib, cut to what a report uses and put into the page."""

import base64
from functools import lru_cache
from io import BytesIO
from pathlib import Path

import matplotlib
from fontTools import subset
from fontTools.ttLib import TTFont

BOX = "\u25a1"  # stands for a letter that no font of the PDF has
_FACES = (
    ("STIXGeneral.ttf", 400, "normal"),
    ("STIXGeneralItalic.ttf", 400, "italic"),
    ("STIXGeneralBol.ttf", 700, "normal"),
    ("STIXGeneralBolIta.ttf", 700, "italic"),
)
_PDF_FONTS = ("STIXGeneral.ttf", "DejaVuSans.ttf")


def font_folder() -> Path:
    """Where the fonts lie."""
    return Path(matplotlib.get_data_path()) / "fonts" / "ttf"


@lru_cache(maxsize=4)
def font_faces(letters: str) -> str:
    """CSS with the four faces embedded, cut to `letters` and the common Latin ones."""
    common = "".join(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x180)))) + "‘’“”„–—…−×→≥≤·•†"
    return "\n".join(_face("".join(sorted(set(letters + common))), *face) for face in _FACES)


def _face(letters: str, file: str, weight: int, style: str) -> str:
    with TTFont(font_folder() / file, recalcTimestamp=False) as font:
        options = subset.Options(layout_features=["kern", "liga"], notdef_outline=True, hinting=False)
        options.drop_tables += ["FFTM"]
        cut = subset.Subsetter(options)
        cut.populate(text=letters)
        cut.subset(font)
        font.flavor = "woff"
        out = BytesIO()
        font.save(out)
    data = base64.b64encode(out.getvalue()).decode("ascii")
    family = f"font-family:STIXGeneral;font-weight:{weight};font-style:{style}"
    return f"@font-face{{{family};src:url(data:font/woff;base64,{data}) format('woff')}}"


@lru_cache(maxsize=1)
def letters_of_the_pdf() -> frozenset[int]:
    """Every letter that the fonts of the PDF can set."""
    found: set[int] = set()
    for file in _PDF_FONTS:
        with TTFont(font_folder() / file, lazy=True) as font:
            found |= set(font.getBestCmap())
    return frozenset(found)


def boxed(text: str) -> str:
    """The text with a box for every letter that the PDF could not set; the PDF standard refuses missing letters."""
    missing = {ord(c) for c in set(text)} - letters_of_the_pdf() - {ord("\n"), ord("\t")}
    return text.translate(dict.fromkeys(missing, BOX)) if missing else text
