"""The marks, drawn the same way everywhere: strokes, intervals, the ruler of one hundred, bars, hands, grades.

Each function draws on an axes `ax` in data units; marks that must not stretch are drawn in points around a data point.
"""

from collections.abc import Iterable, Sequence
from typing import Any, Literal, cast

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch, Rectangle
from matplotlib.path import Path
from matplotlib.transforms import Affine2D, Affine2DBase, ScaledTranslation, Transform

from preflare.reporting.charts.palette import (
    BACKING,
    BRASS,
    BRASS_FILL,
    BROKEN,
    BRUISE,
    BRUISE_EDGE,
    BRUISE_FILL,
    DOTTED,
    GROUND,
    HAIR,
    INK,
    IRON,
    SMALL,
    STEEL,
    STRONG,
)

Hue = Literal["pain", "work"]
Style = Any  # a matplotlib line style

_BARS: dict[str, list[list[tuple[float, float]]]] = {
    "straight": [[(-9, 0), (9, 0)]],
    "safety": [[(-9, 1), (9, 1)], [(-3, 1), (-3, -4)], [(3, 1), (3, -4)]],
    "cambered": [[(-9, -4), (-9, 1.5), (9, 1.5), (9, -4)]],
    "other": [[(-9, 0), (-5, 0)], [(-2, 0), (2, 0)], [(5, 0), (9, 0)]],
}
_HANDS = {"narrow": 2.6, "medium": 5.0, "wide": 7.6}


def segments(
    ax: Axes,
    lines: Iterable[Sequence[tuple[float, float]]],
    colour: str,
    width: float,
    style: Style = "solid",
    z: float = 3,
    clip: bool = True,
    transform: Transform | None = None,
) -> None:
    """Many strokes as one mark: each line is a sequence of points. One path keeps the page light."""
    points: list[tuple[float, float]] = []
    codes: list[Any] = []
    for line in lines:
        points += line
        codes += [Path.MOVETO, *[Path.LINETO] * (len(line) - 1)]
    if points:
        patch = PathPatch(
            Path(points, codes), fc="none", ec=colour, lw=width, ls=style, zorder=z, capstyle="butt", clip_on=clip
        )
        patch.set_transform(transform or ax.transData)
        ax.add_artist(patch)
        patch.set_clip_on(clip)


def strokes(
    ax: Axes,
    xs: Any,
    bottom: Any,
    top: Any,
    colour: str,
    width: float = 1.6,
    style: Style = "solid",
    z: float = 3,
    clip: bool = True,
    transform: Transform | None = None,
) -> None:
    """Upright strokes at xs from bottom to top (numbers, or one a stroke)."""
    xs = np.atleast_1d(np.asarray(xs, dtype=float))
    low, high = np.broadcast_to(bottom, xs.shape), np.broadcast_to(top, xs.shape)
    lines = [((float(x), float(a)), (float(x), float(b))) for x, a, b in zip(xs, low, high, strict=True)]
    segments(ax, lines, colour, width, style, z, clip, transform)


def blocks(
    ax: Axes,
    boxes: Iterable[tuple[float, float, float, float]],
    fill: str,
    edge: str = "none",
    width: float = 0,
    z: float = 2,
    clip: bool = True,
) -> None:
    """Many boxes (x, y, width, height) as one mark."""
    points: list[tuple[float, float]] = []
    codes: list[Any] = []
    for x, y, w, h in boxes:
        points += [(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]
        codes += [Path.MOVETO, Path.LINETO, Path.LINETO, Path.LINETO, Path.CLOSEPOLY]
    if points:
        ax.add_artist(PathPatch(Path(points, codes), fc=fill, ec=edge, lw=width, zorder=z, clip_on=clip))


def note(ax: Axes, x: float, y: float, text: str, colour: str = INK, **kw: Any) -> None:
    """Words on the mark, flat, at a data point."""
    settings: dict[str, Any] = {"ha": "left", "va": "center", "fontsize": SMALL, "zorder": 6} | kw
    ax.text(x, y, text, color=colour, **settings)


def rings(ax: Axes, xs: Any, ys: Any, size: float = 4, filled: bool = False, clip: bool = False) -> None:
    """Violet rings (no pain) or discs (pain)."""
    ax.plot(
        xs, ys, "o", ms=size, mfc=BRUISE if filled else GROUND, mec=BRUISE, mew=1.0, ls="none", zorder=5, clip_on=clip
    )


def interval(
    ax: Axes,
    low: float,
    estimate: float,
    high: float,
    at: float,
    half: float,
    *,
    hue: Hue = "pain",
    upright: bool = True,
    raw: bool = False,
) -> None:
    """A slab of tint closed by two thin strokes, a heavy stroke at the estimate. Raw: dashed, empty, thin."""
    dark, edge, fill = (BRUISE, BRUISE_EDGE, BRUISE_FILL) if hue == "pain" else (BRASS, BRASS, BRASS_FILL)
    box = (at - half, low, 2 * half, high - low) if upright else (low, at - half, high - low, 2 * half)
    slab = Rectangle(
        box[:2],
        box[2],
        box[3],
        fc="none" if raw else fill,
        ec=edge if raw else "none",
        lw=0.8,
        ls=BROKEN if raw else "solid",
        zorder=2,
    )
    ax.add_artist(slab)
    segments(ax, [_across(end, at, half, upright) for end in (low, high)], edge, 1, z=3)
    segments(ax, [_across(estimate, at, half * 1.7, upright)], dark, 1.2 if raw else 2.6, z=4)


def _across(value: float, at: float, half: float, upright: bool) -> list[tuple[float, float]]:
    """A stroke across the slab at `value`."""
    ends = ((at - half, value), (at + half, value))
    return list(ends) if upright else [(y, x) for x, y in ends]


def hundred(ax: Axes, y: float, low: int, estimate: int, high: int, words: tuple[str, str]) -> None:
    """One hundred sessions as one hundred strokes on a ruler: followed by pain, could have been, and the rest.

    low, estimate, high: whole counts of 100. words: the estimate and its interval as printed beside it.
    """
    k = np.arange(1, 101)
    pitch = ax.get_position().width * cast(Figure, ax.figure).get_figwidth() * 72 / 101  # points between two strokes
    rest = k[k > high]
    strokes(ax, rest, y, y + np.where(rest % 10 == 0, 0.30, 0.17), STEEL, min(0.8, 0.22 * pitch))
    strokes(ax, k[k <= low], y, y + 0.62, BRUISE, min(1.7, 0.48 * pitch))
    strokes(ax, k[(k > low) & (k <= high)], y, y + 0.40, BRUISE_EDGE, min(1.1, 0.34 * pitch))
    strokes(ax, [max(estimate, 0.4)], y, y + 0.86, BRUISE, min(2.4, max(1.6, 0.75 * pitch)), z=5)
    _beside_the_strokes(ax, max(high, estimate), y + 0.62, words)


def _beside_the_strokes(ax: Axes, x: float, y: float, words: tuple[str, str]) -> None:
    """The estimate and its interval to the right of the strokes; near the ruler's end to the left of its top."""
    first = 6 if x <= 74 else -112
    x = x if x <= 74 else 100
    ax.annotate(
        words[0],
        (x, y),
        (first, 0),
        textcoords="offset points",
        va="center",
        style="italic",
        weight="bold",
        fontsize=STRONG,
        zorder=6,
        bbox=BACKING,
    )
    shift = first + 7 + 6.2 * max(len(words[0]), 1)
    ax.annotate(
        words[1],
        (x, y),
        (shift, 0),
        textcoords="offset points",
        va="center",
        style="italic",
        color=IRON,
        fontsize=SMALL,
        zorder=6,
        bbox=BACKING,
    )


def _in_points(ax: Axes, x: float, y: float, size: float, shift: float = 0) -> Transform:
    """Draws in points around a data point, `shift` points to its right."""
    scale = ax.figure.dpi_scale_trans
    base = Affine2D().scale(size / 72) + scale
    return base + ScaledTranslation(shift / 72, 0, scale) + ScaledTranslation(x, y, cast(Affine2DBase, ax.transData))


def bar_mark(ax: Axes, x: float, y: float, bar: str, size: float = 1.0, shift: float = 0) -> None:
    """The bar's own outline, seen from behind. Drawn in points, so it never stretches."""
    segments(ax, _BARS.get(bar, []), INK, 1.5 * size, z=6, clip=False, transform=_in_points(ax, x, y, size, shift))


def hands_mark(ax: Axes, x: float, y: float, grip: str, size: float = 1.0, shift: float = 0) -> None:
    """Two dots on a pale bar, as far apart as the hands."""
    half = _HANDS.get(grip)
    if half is None:
        return
    px = _in_points(ax, x, y, size, shift)
    segments(ax, [[(-9, 0), (9, 0)]], HAIR, 1.2, z=5, clip=False, transform=px)
    ax.plot(
        [-half, half], [0, 0], ls="none", marker="o", ms=3.4 * size, color=INK, transform=px, clip_on=False, zorder=7
    )


def link(ax: Axes, start: tuple[float, float], end: tuple[float, float], grade: str) -> None:
    """The line between two estimates, drawn as sure as its grade: solid, dashed, dotted, crossed out, or none."""
    styles: dict[str, tuple[float, Style]] = {
        "clear": (1.6, "solid"),
        "leaning": (1.1, (0, (3, 1.6))),
        "too little data": (1.3, DOTTED),
        "contradicted by a check": (0.8, "solid"),
    }
    if grade in styles:
        width, style = styles[grade]
        segments(ax, [[start, end]], INK, width, style, z=4)
    if grade == "contradicted by a check":
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        ax.plot(*middle, "x", ms=8, mew=1.6, color=INK, zorder=7)
