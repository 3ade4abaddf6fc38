"""Week by week: of 100 lifters who reported, how many had arm pain. Few reports are dots, never a share."""

from dataclasses import dataclass
from datetime import date

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from preflare.reporting.charts.frame import Season, canvas, events, months, rows_above, rules, width_of
from preflare.reporting.charts.marks import interval, rings
from preflare.reporting.charts.palette import IRON, SMALL
from preflare.reporting.words import Words

FEW = 8  # lifters: below this many a share is not drawn


@dataclass(frozen=True)
class Week:
    """One week of the squad: lifters who reported, lifters with pain, the share of 100 with its interval."""

    start: date
    reporting: int
    with_pain: int
    share: float | None
    low: float | None
    high: float | None


def weekly_share(weeks: list[Week], season: Season, n_athletes: int, words: Words, narrow: bool) -> Figure:
    """An interval a week with the estimate as its heavy stroke; below the axis the lifters who reported."""
    head = 0.5 + 0.17 * max(rows_above(season, narrow), 1)
    figure, ax = canvas(width_of(narrow), 2.35 + head, 0.4, 0.1, head, 0.82)
    months(ax, season, words, narrow)
    highest = max((w.high for w in weeks if w.high is not None and w.reporting >= FEW), default=0)
    few = max((w.reporting for w in weeks if 0 < w.reporting < FEW), default=0)
    top = next((t for t in (40, 60, 80) if highest <= t and few * 0.09 * t <= t), 100)
    ax.set_ylim(0, top)
    rules(ax, list(range(0, top + 1, 10 if top == 40 else 20)))
    for week in weeks:
        _week(ax, week, season.at(week.start) + 3.5, top, narrow)
    _reporting(ax, weeks, season, n_athletes, words, narrow)
    unit = words.text("chart.of_100_lifters")
    ax.annotate(
        unit,
        (0, 1),
        (-24, 12 + 14 * max(rows_above(season, narrow), 1)),
        xycoords="axes fraction",
        textcoords="offset points",
        va="bottom",
        fontsize=SMALL,
        color=IRON,
        style="italic",
    )
    events([ax], season, 1.03, 0, narrow)
    return figure


def _week(ax: Axes, week: Week, x: float, top: float, narrow: bool) -> None:
    if week.reporting >= FEW and week.share is not None and week.low is not None and week.high is not None:
        if week.with_pain:
            interval(ax, week.low, week.share, week.high, x, 1.9)
        else:
            interval(ax, 0, 0, week.high, x, 1.9)
            rings(ax, [x], [0], 3.6 if narrow else 4.5)
    else:
        heights = [0.06 * top + 0.09 * top * i for i in range(week.reporting)]
        rings(ax, [x] * week.with_pain, heights[: week.with_pain], 3 if narrow else 4, filled=True)
        rings(ax, [x] * (week.reporting - week.with_pain), heights[week.with_pain :], 3 if narrow else 4)


def _reporting(ax: Axes, weeks: list[Week], season: Season, n_athletes: int, words: Words, narrow: bool) -> None:
    """How many lifters each week rests on, under the axis; one in so many weeks that the numbers do not touch."""
    below = ax.get_xaxis_transform()
    step = max(1, -(-len(weeks) * (18 if narrow else 10) // 120))
    for week in weeks[::step]:
        ax.annotate(
            f"{week.reporting}",
            (season.at(week.start) + 3.5, 0),
            (0, -20),
            xycoords=below,
            textcoords="offset points",
            ha="center",
            va="top",
            fontsize=SMALL,
            color=IRON,
        )
    told = words.text("chart.lifters_reporting", n=n_athletes)
    if any(0 < w.reporting < FEW for w in weeks):
        told += ("\n" if narrow else "; ") + words.text("chart.few_lifters", n=FEW)
    ax.annotate(
        told,
        (0, 0),
        (0, -34),
        xycoords="axes fraction",
        textcoords="offset points",
        va="top",
        fontsize=SMALL,
        color=IRON,
        style="italic",
    )
