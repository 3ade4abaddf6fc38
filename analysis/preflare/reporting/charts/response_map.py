"""Athletes by weeks: trained and reported, trained without a report, no log. Three states, no colour needed."""

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from preflare.reporting.charts.frame import Season, canvas, cut, events, months, rows_above, width_of
from preflare.reporting.charts.marks import blocks, note, strokes
from preflare.reporting.charts.palette import DOTTED, INK, IRON, STEEL
from preflare.reporting.words import Words


@dataclass(frozen=True)
class ResponseRow:
    """One athlete's weeks: the states ("reported", "unreported", "no log") of the season's weeks in order."""

    name: str
    states: tuple[str, ...]
    printed: str  # "22 of 36"


def response_map(rows: list[ResponseRow], season: Season, words: Words, narrow: bool) -> Figure:
    """One row an athlete in alphabetical order, one column a week, the count at the end of the row."""
    head, foot, pitch = 0.22 + 0.17 * max(rows_above(season, narrow), 2), 0.62, 0.187 if narrow else 0.18
    longest = max((len(row.name) for row in rows), default=0)
    left = min(0.3 + 0.075 * longest, 1.15 if narrow else 1.9)
    height = head + foot + pitch * max(len(rows), 1)
    figure, ax = canvas(width_of(narrow), height, left, 0.68 if narrow else 0.8, head, foot)
    months(ax, season, words, narrow)
    ax.set_ylim(len(rows) - 0.4, -0.6)
    ax.spines["bottom"].set_visible(False)
    limit = 15 if narrow else 26
    ax.set_yticks(range(len(rows)), [cut(row.name, limit) for row in rows])
    ax.tick_params(axis="y", labelcolor=INK)
    _cells(ax, rows, season)
    for r, row in enumerate(rows):
        note(ax, season.days + 3, r, row.printed, IRON)
    ax.annotate(
        words.text("chart.weeks_reported"),
        (season.days + 3, -0.6),
        (0, 3),
        textcoords="offset points",
        va="bottom",
        fontsize=10,
        color=IRON,
        linespacing=1.05,
        annotation_clip=False,
    )
    events([ax], season, 1.0 + 0.06 / (pitch * max(len(rows), 1)), 0, narrow)
    _key(figure, height, words, narrow)
    return figure


def _cells(ax: Axes, rows: list[ResponseRow], season: Season) -> None:
    starts = [season.at(monday) for monday in season.week_starts()]
    cells = [(x, r, s) for r, row in enumerate(rows) for x, s in zip(starts, row.states, strict=True)]
    blocks(ax, [(x + 1, r - 0.33, 5, 0.66) for x, r, s in cells if s == "reported"], STEEL)
    dotted = [(x + 3.5, r) for x, r, s in cells if s == "unreported"]
    strokes(ax, [x for x, _ in dotted], [r - 0.36 for _, r in dotted], [r + 0.36 for _, r in dotted], INK, 1.5, DOTTED)


def _key(figure: Figure, height: float, words: Words, narrow: bool) -> None:
    """The only key on any page: a mark of this size cannot be touched by a word."""
    width = width_of(narrow)
    ax = figure.add_axes((0.05 / width, 0.0, 1 - 0.1 / width, 0.3 / height))
    ax.set(xlim=(0, width - 0.1), ylim=(0, 1))
    ax.axis("off")
    places = (0.05, 1.45, 2.75) if narrow else (1.0, 3.0, 5.0)
    for x, key in zip(places, ("reported", "unreported", "no_log"), strict=True):
        note(ax, x + (0.16 if key != "no_log" else 0), 0.5, words.text(f"chart.week_{key}"), IRON, style="italic")
    blocks(ax, [(places[0], 0.3, 0.1, 0.4)], STEEL)
    strokes(ax, [places[1] + 0.05], 0.2, 0.8, INK, 1.5, DOTTED)
