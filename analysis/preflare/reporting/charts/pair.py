"""The ruler of one hundred: the season as one line, and the pair of rulers that stands beside a finding."""

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from preflare.reporting.charts.frame import canvas, width_of
from preflare.reporting.charts.marks import bar_mark, hands_mark, hundred, link, note
from preflare.reporting.charts.palette import IRON, NARROW
from preflare.reporting.numbers import interval, nearest, of_100
from preflare.reporting.words import Words


@dataclass(frozen=True)
class Level:
    """One compared level: its name, its count of 100 with interval, and the mark that stands beside its name."""

    name: str
    estimate: float
    low: float
    high: float
    bar: str = ""
    grip: str = ""


def pair(usual: Level, compared: Level, grade: str, words: Words, narrow: bool) -> Figure:
    """The usual level above, the compared level below, one axis 0 to 100; the link as sure as the grade."""
    has_mark = bool(usual.bar or usual.grip)
    left = 1.22 if has_mark else 1.05
    figure, ax = canvas(NARROW if narrow else 4.4, 1.3, left, 0.1, 0.02, 0.02)
    ax.set(xlim=(0, 101), ylim=(-0.62, 2.2))
    ax.axis("off")
    for level, y in ((usual, 1.15), (compared, 0.0)):
        _ruler(ax, y, level, words)
    a, b = max(nearest(usual.estimate), 0.4), max(nearest(compared.estimate), 0.4)
    link(ax, (a, 1.14), (b, 0.87), grade)
    for v in (0, 20, 40, 60, 80, 100):
        note(ax, max(v, 0.5), -0.16, f"{v}", IRON, ha="center", va="top")
    return figure


def _ruler(ax: Axes, y: float, level: Level, words: Words) -> None:
    printed = (of_100(level.estimate, words), str(interval(level.low, level.high, words)))
    hundred(ax, y, nearest(level.low), nearest(level.estimate), nearest(level.high), printed)
    note(ax, -1.5, y + 0.28, level.name, ha="right", fontsize=11, linespacing=1.05)
    if level.bar:
        bar_mark(ax, 0, y + 0.28, level.bar, shift=-74)
    if level.grip:
        hands_mark(ax, 0, y + 0.28, level.grip, shift=-74)


def masthead(estimate: float, low: float, high: float, words: Words, narrow: bool) -> Figure:
    """All squat sessions of the season as one hundred."""
    figure, ax = canvas(width_of(narrow), 0.46, 0.02, 0.02, 0.02, 0.02)
    ax.set(xlim=(0.2, 100.4), ylim=(-0.02, 1.0))
    ax.axis("off")
    printed = (of_100(estimate, words), str(interval(low, high, words)))
    hundred(ax, 0, nearest(low), nearest(estimate), nearest(high), printed)
    if high < 55:
        note(ax, 100.2, 0.66, words.text("chart.of_100_sessions"), IRON, ha="right", style="italic")
    return figure
