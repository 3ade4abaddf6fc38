"""A matplotlib figure as SVG that can stand inside a page: no foreign style, ids of its own, text kept as text."""

import re
import warnings
from collections.abc import Callable
from functools import lru_cache
from io import BytesIO
from typing import Any

import matplotlib
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure

from preflare.resources import resource

_NAMESPACES = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
_COMMENT = re.compile(r"<!--.*?-->", re.S)
_METADATA = re.compile(r"<metadata>.*?</metadata>", re.S)
_STYLE = re.compile(r"<defs>\s*<style.*?</style>\s*</defs>", re.S)
_EMPTY = re.compile(r"<defs/>|<g id=\"[^\"]*\">\s*</g>")
_SPACE = re.compile(r">\s+<")
_TAG = re.compile(r"<[^>]*>")
_LONG_NUMBER = re.compile(r"(-?\d+\.\d{2})\d+")
_HEAD = re.compile(r"<svg [^>]*?viewBox=\"([^\"]*)\"[^>]*>")


@lru_cache(maxsize=1)
def style() -> Any:
    """The style file's settings for matplotlib."""
    return matplotlib.rc_params_from_file(resource("reports") / "preflare.mplstyle", use_default_template=False)


def drawn(draw: Callable[[], Figure], prefix: str) -> str:
    """The figure that `draw` makes, as SVG whose ids start with `prefix`, so that many fit into one page.

    A letter that the fonts lack draws no warning: it stays text, and the reader's own fonts show it.
    """
    with matplotlib.rc_context(style()), warnings.catch_warnings():
        warnings.filterwarnings("ignore", message=r"Glyph .* missing from")
        figure = draw()
        out = BytesIO()
        canvas: Any = FigureCanvasSVG(figure)
        canvas.print_svg(out, metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    return _tidy(out.getvalue().decode("utf-8"), prefix)


def _tidy(text: str, prefix: str) -> str:
    text = text[text.index("<svg") :]
    for pattern in (_COMMENT, _METADATA, _STYLE):
        text = pattern.sub("", text)
    text = _SPACE.sub("><", text)
    text = _EMPTY.sub("", text)
    text = re.sub(
        r' id="(?:figure|axes|patch|text|line2d|matplotlib\.axis|xtick|ytick|PathCollection|LineCollection)_\d+"',
        "",
        text,
    )
    text = re.sub(r'\bid="([^"]+)"', rf'id="{prefix}-\1"', text)
    text = re.sub(r'(url\(#|href="#)', rf"\g<1>{prefix}-", text)
    text = _TAG.sub(lambda tag: _LONG_NUMBER.sub(r"\1", tag[0]), text)  # coordinates alone, no printed number
    head = _HEAD.search(text)
    assert head is not None
    root = f'<svg {_NAMESPACES} viewBox="{head[1]}" stroke-linejoin="round" stroke-linecap="butt">'
    return root + text[head.end() :].strip()
