"""The days before a flare-up against ordinary days: one interval an exposure, one axis a unit."""

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from preflare.reporting.charts.bar_choice import Triple
from preflare.reporting.charts.frame import width_of
from preflare.reporting.charts.marks import Hue, interval
from preflare.reporting.charts.palette import BACKING, INK, IRON, NAME, SMALL
from preflare.reporting.words import Words

_HEAD, _FOOT, _PITCH = 0.3, 0.36, 0.29  # inches above and below each axis, and a row
_REACHES = (1, 2, 3, 5, 10, 20, 30, 50, 100)


@dataclass(frozen=True)
class BeforeRow:
    """One exposure: its name, (low, estimate, high) less ordinary days or None; as printed, alone and with interval."""

    label: str
    values: Triple | None
    estimate: str = ""
    with_interval: str = ""


def before(
    groups: list[tuple[str, list[BeforeRow]]], words: Words, narrow: bool, *, hue: Hue = "work", left: float = 2.2
) -> Figure:
    """One axis under another, one for each unit; on each the exposures counted in it, more to the right.

    hue: what is counted, work or pain. left: inches for the names on the page.
    """
    width = width_of(narrow)
    height = sum(_HEAD + _FOOT + _PITCH * len(rows) for _, rows in groups)
    left, right = (1.3, 0.05) if narrow else (left, 0.3)
    figure = Figure(figsize=(width, height))
    top = height
    for unit, rows in groups:
        tall = _PITCH * len(rows)
        top -= _HEAD + tall
        ax = figure.add_axes((left / width, top / height, 1 - (left + right) / width, tall / height))
        _axis(ax, rows, words, narrow)
        _unit(ax, unit, -72 * left + 4 if narrow else 0)
        for y, row in enumerate(rows):
            _row(ax, y, row, words, narrow, hue)
        top -= _FOOT
    return figure


def _axis(ax: Axes, rows: list[BeforeRow], words: Words, narrow: bool) -> None:
    widest = max((abs(v) for row in rows if row.values for v in row.values), default=1)
    reach = next(t for t in _REACHES if widest <= t * 1.08 or t == _REACHES[-1])
    ax.set(xlim=(-reach * 1.1, reach * (2.1 if narrow else 2.7)), ylim=(len(rows) - 0.4, -0.6))
    ax.set_yticks([])
    ticks = [words.text("number.fewer", n=reach), words.text("number.same_place"), words.text("number.more", n=reach)]
    ax.set_xticks([-reach, 0, reach], ticks)
    ax.axvline(0, color=INK, lw=0.8)


def _unit(ax: Axes, unit: str, shift: float) -> None:
    """The unit above the axis, moved to the edge of the paper on a phone, where it would be cut."""
    ax.annotate(
        unit,
        (0, 1),
        (shift, 4),
        xycoords="axes fraction",
        textcoords="offset points",
        fontsize=SMALL,
        color=IRON,
        style="italic",
        va="bottom",
    )


def _row(ax: Axes, y: int, row: BeforeRow, words: Words, narrow: bool, hue: Hue) -> None:
    ax.annotate(
        row.label,
        (0, y),
        (-6, 0),
        xycoords=ax.get_yaxis_transform(),
        textcoords="offset points",
        ha="right",
        va="center",
        fontsize=NAME,
        annotation_clip=False,
    )
    if row.values is None:
        _told(ax, 0, y, words.text("chart.too_few_flare_ups" if hue == "work" else "number.not_estimated"), IRON)
        return
    low, estimate, high = row.values
    interval(ax, low, estimate, high, y, 0.2, hue=hue, upright=False)
    _told(ax, max(high, 0), y, row.estimate if narrow else row.with_interval, INK)


def _told(ax: Axes, x: float, y: int, text: str, ink: str) -> None:
    ax.annotate(
        text,
        (x, y),
        (5, 0),
        textcoords="offset points",
        va="center",
        style="italic",
        fontsize=SMALL,
        color=ink,
        bbox=BACKING,
        annotation_clip=False,
    )
