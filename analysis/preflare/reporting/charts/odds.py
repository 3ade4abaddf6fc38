"""Odds ratios with their intervals on one axis of equal ratios: one row an exposure, the line at 1 is "same"."""

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from preflare.reporting.charts.bar_choice import Triple
from preflare.reporting.charts.frame import width_of
from preflare.reporting.charts.marks import interval
from preflare.reporting.charts.palette import BACKING, INK, IRON, NAME, SMALL
from preflare.reporting.numbers import short_decimal
from preflare.reporting.words import Words

_HEAD, _FOOT, _PITCH = 0.3, 0.36, 0.29  # inches above and below the axis, and a row
_REACHES = (2, 4, 10, 100)  # an interval beyond the last one runs out of the frame


@dataclass(frozen=True)
class OddsRow:
    """One exposure: its name, (low, estimate, high), and the estimate as printed, alone and with its interval."""

    label: str
    values: Triple
    estimate: str
    with_interval: str


def odds(rows: list[OddsRow], words: Words, narrow: bool) -> Figure:
    """One interval a row; more often to the right of the line."""
    width, tall = width_of(narrow), _PITCH * len(rows)
    height, left, right = _HEAD + _FOOT + tall, (1.6 if narrow else 3.1), 0.05 if narrow else 0.3
    figure = Figure(figsize=(width, height))
    ax = figure.add_axes((left / width, _FOOT / height, 1 - (left + right) / width, tall / height))
    widest = max(max(high, 1 / low) for low, _, high in (row.values for row in rows))
    reach = next(t for t in _REACHES if widest <= t or t == _REACHES[-1])
    ax.set_xscale("log")
    ax.set(xlim=(reach**-1.1, reach ** (2.0 if narrow else 2.4)), ylim=(len(rows) - 0.4, -0.6))
    ax.set_yticks([])
    ax.set_xticks([], minor=True)
    ax.set_xticks([1 / reach, 1, reach], [short_decimal(1 / reach, words), "1", short_decimal(reach, words)])
    ax.axvline(1, color=INK, lw=0.8)
    _told(
        ax,
        (0, 1),
        (-72 * left + 4 if narrow else 0, 4),
        words.text("chart.odds"),
        IRON,
        va="bottom",
        xycoords="axes fraction",
    )
    for y, row in enumerate(rows):
        _row(ax, y, row, narrow)
    return figure


def _row(ax: Axes, y: int, row: OddsRow, narrow: bool) -> None:
    _told(
        ax, (0, y), (-6, 0), row.label, INK, ha="right", style="normal", fontsize=SMALL if narrow else NAME,
        xycoords=ax.get_yaxis_transform(),
    )  # fmt: skip
    low, estimate, high = row.values
    left, right = ax.get_xlim()
    interval(ax, max(low, left), estimate, min(high, right), y, 0.2, upright=False)
    _told(
        ax, (min(max(high, 1), right**0.5), y), (5, 0), row.estimate if narrow else row.with_interval, INK, bbox=BACKING
    )


def _told(ax: Axes, place: tuple[float, float], shift: tuple[float, float], text: str, ink: str, **how: object) -> None:
    settings: dict[str, object] = {"va": "center", "style": "italic", "fontsize": SMALL, "annotation_clip": False} | how
    ax.annotate(text, place, shift, textcoords="offset points", color=ink, **settings)  # type: ignore[arg-type]
