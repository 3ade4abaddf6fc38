"""A dose-response curve with its band, and a rug of where the sessions are. Nothing is drawn where there are none."""

from collections import Counter
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from preflare.reporting.charts.frame import canvas, rules, width_of
from preflare.reporting.charts.marks import segments, strokes
from preflare.reporting.charts.palette import BRUISE, BRUISE_EDGE, BRUISE_FILL, IRON, SMALL, STEEL
from preflare.reporting.numbers import short_decimal
from preflare.reporting.words import Words


@dataclass(frozen=True)
class Curve:
    """x in the exposure's unit; estimate, low, high as counts of 100; rugs: the sessions with and without pain."""

    x: list[float]
    estimate: list[float]
    low: list[float]
    high: list[float]
    rug_pain: list[float]
    rug_none: list[float]


def curve(data: Curve, axis_words: str, words: Words, narrow: bool) -> Figure:
    """The estimate as a line inside its band, two rows of rug below: pain followed, none followed."""
    figure, ax = canvas(
        width_of(narrow), 3.6 if narrow else 3.5, 0.4, 0.14 if narrow else 1.05, 0.34, 1.15 if narrow else 0.95
    )
    pad = 0.02 * (data.x[-1] - data.x[0])
    ax.set_xlim(data.x[0] - pad, data.x[-1] + pad)
    top = next(t for t in (20, 40, 60, 80, 100) if max(data.high) <= t or t == 100)
    ax.set_ylim(0, top)
    rules(ax, list(range(0, top + 1, 5 if top == 20 else 10 if top == 40 else 20)))
    ax.fill_between(data.x, data.low, data.high, color=BRUISE_FILL, lw=0, zorder=1)
    segments(ax, [list(zip(data.x, edge, strict=True)) for edge in (data.low, data.high)], BRUISE_EDGE, 0.9)
    ax.plot(data.x, data.estimate, color=BRUISE, lw=2.2, zorder=4)
    _rugs(ax, data, words, narrow)
    _axis(ax, axis_words, words)
    ax.annotate(
        words.text("chart.of_100_sessions_pain"),
        (0, 1),
        (-24, 8),
        xycoords="axes fraction",
        textcoords="offset points",
        fontsize=SMALL,
        color=IRON,
        style="italic",
    )
    return figure


def _rugs(ax: Axes, data: Curve, words: Words, narrow: bool) -> None:
    below = ax.get_xaxis_transform()
    left, right = ax.get_xlim()
    rows = (
        (data.rug_pain, -0.03, -0.085, BRUISE, 0.9, "rug_pain"),
        (data.rug_none, -0.095, -0.15, STEEL, 0.6, "rug_none"),
    )
    for values, high, low, colour, width, key in rows:
        inside = side_by_side([v for v in values if left <= v <= right])
        strokes(ax, inside, low, high, colour, width, clip=False, transform=below)
        if not narrow:
            ax.annotate(
                words.text(f"chart.{key}"),
                (1, (low + high) / 2),
                (5, 0),
                xycoords="axes fraction",
                va="center",
                textcoords="offset points",
                fontsize=SMALL,
                color=BRUISE if key == "rug_pain" else IRON,
            )


def side_by_side(values: list[float]) -> list[float]:
    """Equal whole values spread within their own place, so that each stroke of a rug stays one session."""
    if not values or any(v != round(v) for v in values):
        return values
    counts = Counter(values)
    return [v + 0.7 * ((i + 0.5) / n - 0.5) for v, n in sorted(counts.items()) for i in range(n)]


def _axis(ax: Axes, axis_words: str, words: Words) -> None:
    ax.spines["bottom"].set_visible(False)
    left, right = ax.get_xlim()
    step = next(s for s in (0.5, 1, 2, 5, 10, 20, 50, 100) if (right - left) / s <= 6 or s == 100)
    ticks = np.arange(np.ceil(left / step) * step, right, step)
    ax.set_xticks(ticks, [short_decimal(float(v), words) for v in ticks])
    ax.tick_params(axis="x", pad=30, length=0)
    ax.annotate(
        axis_words,
        (0.5, 0),
        (0, -52),
        xycoords="axes fraction",
        textcoords="offset points",
        ha="center",
        va="top",
        fontsize=11,
    )
