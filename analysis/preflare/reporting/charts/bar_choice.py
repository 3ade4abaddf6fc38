"""Was the bar chosen because it hurt? Pain before each choice; the raw difference beside the adjusted one."""

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from preflare.reporting.charts.frame import width_of
from preflare.reporting.charts.marks import bar_mark, interval, note, segments
from preflare.reporting.charts.palette import BACKING, INK, IRON, SMALL
from preflare.reporting.numbers import decimal, is_known, signed, whole
from preflare.reporting.words import Words

FEW = 20  # sessions: below this many nothing is estimated in the picture
Triple = tuple[float, float, float]  # low, estimate, high


@dataclass(frozen=True)
class BarRow:
    """One bar: sessions, mean rating in the two weeks before, raw and adjusted difference of 100; None: not known."""

    bar: str
    sessions: int
    prior: Triple | None
    raw: Triple | None
    adjusted: Triple | None


def bar_choice(rows: list[BarRow], words: Words, narrow: bool) -> Figure:
    """Three panels on one row a bar: the bar and its sessions, the pain before, the differences against straight."""
    row_height, head, foot = (0.56, 0.62, 0.52) if narrow else (0.52, 0.62, 0.42)
    width, height = width_of(narrow), head + foot + row_height * len(rows)
    figure = Figure(figsize=(width, height))
    spans = ((0.05, 0.95), (1.03, 0.72), (2.0, 1.62)) if narrow else ((0.1, 1.9), (2.15, 2.3), (4.8, 3.5))
    panels = [
        figure.add_axes((left / width, foot / height, size / width, row_height * len(rows) / height))
        for left, size in spans
    ]
    for panel, key in zip(panels, ("bar_sessions", "prior_pain", "against_straight"), strict=True):
        panel.set_ylim(len(rows) - 0.4, -0.6)
        panel.set_yticks([])
        tail = "_phone" if narrow else ""
        panel.annotate(
            words.text(f"chart.{key}{tail}"),
            (0, 1),
            (0, 4),
            xycoords="axes fraction",
            textcoords="offset points",
            fontsize=SMALL if narrow else 11,
            va="bottom",
            linespacing=1.05,
        )
    _axes(panels, rows, words, narrow)
    for i, row in enumerate(rows):
        _name(panels[0], i, row, words, narrow)
        _prior(panels[1], i, row, words)
        _differences(panels[2], i, row, words, narrow)
    return figure


def _axes(panels: list[Axes], rows: list[BarRow], words: Words, narrow: bool) -> None:
    name, prior, diff = panels
    name.axis("off")
    name.set_xlim(0, 1)
    top = max([row.prior[2] for row in rows if row.prior] or [1])
    limit = next(t for t in (2, 4, 6, 8, 10) if top * 1.25 <= t or t == 10)
    prior.set_xlim(0, limit)
    prior.set_xticks([0, limit / 2, limit], [f"{v:g}" for v in (0, limit / 2, limit)])
    edges = [v for row in rows for t in (row.raw, row.adjusted) if t for v in t]
    reach = next(t for t in (5, 10, 20, 40, 100) if max(map(abs, edges), default=0) <= t * 1.1 or t == 100)
    diff.set_xlim(-1.2 * reach, (1.5 if narrow else 1.8) * reach)
    labels = [words.text("number.fewer", n=reach), words.text("number.same_place"), words.text("number.more", n=reach)]
    diff.set_xticks([-reach, 0, reach], [label.replace(" ", "\n") if narrow else label for label in labels])
    diff.axvline(0, color=INK, lw=0.8)


def _name(ax: Axes, i: int, row: BarRow, words: Words, narrow: bool) -> None:
    bar_mark(ax, 0.17 if narrow else 0.13, i, row.bar, size=0.9 if narrow else 1.25)
    count = whole(row.sessions, words)
    if narrow:
        note(ax, 0.38, i - 0.17, words.word("bar", row.bar))
        note(ax, 0.38, i + 0.2, count, IRON)
    else:
        note(ax, 0.29, i, words.word("bar", row.bar), fontsize=11.5)
        note(ax, 0.98, i, count, IRON, ha="right")


def _prior(ax: Axes, i: int, row: BarRow, words: Words) -> None:
    if row.prior and row.sessions >= FEW:
        low, estimate, high = row.prior
        interval(ax, low, estimate, high, i, 0.14, upright=False)
        ax.annotate(
            decimal(estimate, 1, words),
            (high, i),
            (6, 0),
            textcoords="offset points",
            va="center",
            weight="bold",
            style="italic",
            fontsize=SMALL,
        )
    else:
        note(ax, 0, i, words.text("chart.too_few"), IRON, style="italic")


def _differences(ax: Axes, i: int, row: BarRow, words: Words, narrow: bool) -> None:
    if row.bar == "straight":
        ax.annotate(
            words.text("chart.compared_with_phone" if narrow else "chart.compared_with"),
            (0, i),
            (5, 0),
            textcoords="offset points",
            va="center",
            color=IRON,
            style="italic",
            fontsize=SMALL,
        )
        return
    places: list[tuple[float, float]] = []
    for triple, shift, half, key in ((row.raw, -0.24, 0.09, "raw"), (row.adjusted, 0.22, 0.11, "adjusted")):
        if not triple or row.sessions < FEW:
            continue
        low, estimate, high = triple
        interval(ax, low, estimate, high, i + shift, half, upright=False, raw=key == "raw")
        tail = "_phone" if narrow else ""
        told = words.text(f"chart.{key}{tail}", value=signed(estimate, words))
        ax.annotate(
            told,
            (high, i + shift),
            (4, 0),
            textcoords="offset points",
            va="center",
            style="italic",
            fontsize=SMALL,
            color=IRON if key == "raw" else INK,
            bbox=BACKING,
            annotation_clip=False,
        )
        places.append((estimate, i + shift))
    if len(places) == 2:
        segments(ax, [[(places[0][0], places[0][1] + 0.14), (places[1][0], places[1][1] - 0.17)]], INK, 0.8, z=3.5)
    if not places:
        note(ax, 0, i, words.text("chart.too_few_indented"), IRON, style="italic")


def triple(low: float | None, estimate: float | None, high: float | None) -> Triple | None:
    """Low, estimate, high, or None when one of them is not known."""
    return (low, estimate, high) if is_known(low, estimate, high) else None  # type: ignore[return-value]
