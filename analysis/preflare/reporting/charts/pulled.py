"""One athlete beside the squad: the squad's estimate, the own logs alone, the own pulled towards the squad's."""

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from preflare.reporting.charts.bar_choice import Triple
from preflare.reporting.charts.frame import width_of
from preflare.reporting.charts.marks import interval
from preflare.reporting.charts.palette import BACKING, INK, IRON, NAME, SMALL
from preflare.reporting.numbers import signed
from preflare.reporting.words import Words


@dataclass(frozen=True)
class Estimates:
    """One question: its name, and (low, estimate, high) of 100 for the squad, the own pulled one, the own alone."""

    label: str
    squad: Triple | None
    pulled: Triple | None
    alone: Triple | None


def pulled(rows: list[Estimates], words: Words, narrow: bool) -> Figure:
    """The same interval up to three times a question, on one axis of more and fewer of 100."""
    width, head, foot, pitch = width_of(narrow), 0.08, 0.36, 0.17
    lines = [_lines(row) for row in rows]
    gap = 1.6 if narrow else 0.5
    total = sum(len(found) + gap for found in lines) + (0.4 if narrow else 0)
    height = head + foot + pitch * total
    left, right = (1.02, 0.1) if narrow else (3.05, 0.5)
    figure = Figure(figsize=(width, height))
    ax = figure.add_axes((left / width, foot / height, 1 - (left + right) / width, pitch * total / height))
    reach = _reach(rows)
    ax.set(xlim=(-reach * 1.1, reach * (2.0 if narrow else 1.55)), ylim=(total - 0.6, -0.7))
    ax.set_yticks([])
    ticks = [words.text("number.fewer", n=reach), words.text("number.same_place"), words.text("number.more", n=reach)]
    ax.set_xticks([-reach, 0, reach], ticks)
    ax.axvline(0, color=INK, lw=0.8)
    y = gap - 0.6 if narrow else 0.0
    for row, found in zip(rows, lines, strict=True):
        _question(ax, y, row.label, left, narrow)
        for key, values in found:
            _line(ax, y, key, values, words)
            y += 1
        y += gap
    return figure


def _lines(row: Estimates) -> list[tuple[str, Triple]]:
    found = (("squad", row.squad), ("alone", row.alone), ("pulled", row.pulled))
    return [(key, values) for key, values in found if values]


def _reach(rows: list[Estimates]) -> int:
    both = [values for row in rows for values in (row.squad, row.pulled) if values]
    widest = max((abs(v) for values in both for v in values), default=5)
    return next(t for t in (5, 10, 20, 30, 50, 100) if widest <= t * 1.08 or t == 100)


def _question(ax: Axes, y: float, label: str, left: float, narrow: bool) -> None:
    if narrow:
        ax.annotate(
            label,
            (0, y - 1),
            (-left * 72 + 4, 0),
            xycoords=ax.get_yaxis_transform(),
            textcoords="offset points",
            weight="bold",
            fontsize=NAME,
            va="center",
            annotation_clip=False,
        )
    else:
        ax.annotate(
            label,
            (0, y),
            (-left * 72 + 8, 0),
            xycoords=ax.get_yaxis_transform(),
            textcoords="offset points",
            weight="bold",
            fontsize=NAME,
            va="center",
            annotation_clip=False,
        )


def _line(ax: Axes, y: float, key: str, values: Triple, words: Words) -> None:
    low, estimate, high = values
    left, right = ax.get_xlim()
    interval(ax, low, estimate, high, y, 0.22, upright=False, raw=key == "alone")  # cut by the frame, not closed
    high = min(high, right - 0.3 * (right - left))
    ink = INK if key == "pulled" else IRON
    ax.annotate(
        words.text(f"chart.estimate_{key}"),
        (0, y),
        (-5, 0),
        xycoords=ax.get_yaxis_transform(),
        ha="right",
        textcoords="offset points",
        color=ink,
        fontsize=SMALL,
        va="center",
        style="italic",
        annotation_clip=False,
    )
    ax.annotate(
        signed(estimate, words),
        (high, y),
        (4, 0),
        textcoords="offset points",
        va="center",
        color=ink,
        style="italic",
        fontsize=SMALL,
        bbox=BACKING,
        annotation_clip=False,
    )
