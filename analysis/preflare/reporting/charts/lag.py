"""Which days' squat sets went with today's pain: one more set on each of the days before, with its band."""

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from preflare.reporting.charts.frame import canvas, rules, width_of
from preflare.reporting.charts.marks import segments
from preflare.reporting.charts.palette import BRUISE, BRUISE_EDGE, BRUISE_FILL, INK, IRON, SMALL
from preflare.reporting.numbers import signed_amount
from preflare.reporting.words import Words

_REACHES = (0.5, 1, 1.5, 2, 3, 5, 10, 20, 50, 100)


@dataclass(frozen=True)
class LagCurve:
    """days before the session, and more (or fewer, below 0) of 100 sessions with one more set on that day."""

    days: list[int]
    estimate: list[float]
    low: list[float]
    high: list[float]


def lag(data: LagCurve, words: Words, narrow: bool) -> Figure:
    """Time runs to the right, up to the session; above the line more pain, below it less."""
    figure, ax = canvas(width_of(narrow), 2.2, 1.05, 0.2, 0.3, 0.58)
    ax.set_xlim(max(data.days) + 0.5, min(data.days) - 0.5)
    widest = max(map(abs, (*data.low, *data.high)))
    reach = next(t for t in _REACHES if widest <= t or t == _REACHES[-1])
    ax.set_ylim(-reach, reach)
    rules(ax, (-reach, 0, reach), [signed_amount(-reach, words), words.text("number.same_place"),
                                   signed_amount(reach, words)])  # fmt: skip
    ax.fill_between(data.days, data.low, data.high, color=BRUISE_FILL, lw=0, zorder=1)
    segments(ax, [list(zip(data.days, edge, strict=True)) for edge in (data.low, data.high)], BRUISE_EDGE, 0.9)
    ax.axhline(0, color=INK, lw=0.8, zorder=3)
    ax.plot(data.days, data.estimate, color=BRUISE, lw=2.2, zorder=4)
    _axes_words(ax, data, words)
    return figure


def _axes_words(ax: Axes, data: LagCurve, words: Words) -> None:
    ax.spines["bottom"].set_visible(False)
    weeks = [day for day in (28, 21, 14, 7, 1) if day <= max(data.days)]
    ax.set_xticks(weeks, [str(day) for day in weeks])
    for key, place, shift, side in (
        ("lag_of_100", (0, 1), (-70, 8), "left"),
        ("lag_days", (0.5, 0), (0, -20), "center"),
    ):
        ax.annotate(
            words.text(f"chart.{key}"), place, shift, xycoords="axes fraction", textcoords="offset points", ha=side,
            va="bottom" if side == "left" else "top", fontsize=SMALL, color=IRON, style="italic",
        )  # fmt: skip
