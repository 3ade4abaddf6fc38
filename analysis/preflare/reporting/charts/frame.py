"""The frame of a chart: canvas in inches, the season's one time axis, meets and recorded changes on it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.markers import CARETRIGHTBASE

from preflare.reporting.charts.marks import segments
from preflare.reporting.charts.palette import DASHED, HAIR, INK, NARROW, SMALL, WIDE
from preflare.reporting.words import Words


@dataclass(frozen=True)
class Moment:
    """Something that happened on one day of the season: a meet (its name) or a recorded change (its letter)."""

    day: date
    label: str


@dataclass(frozen=True)
class Season:
    """The time axis: first and last day, the meets and the recorded changes that lie on it."""

    first: date
    last: date
    meets: tuple[Moment, ...] = ()
    changes: tuple[Moment, ...] = ()

    @property
    def days(self) -> int:
        return (self.last - self.first).days + 1

    @property
    def weeks(self) -> int:
        return -(-(self.days + self.first.weekday()) // 7)

    def at(self, when: date) -> int:
        """Days since the season's first day."""
        return (when - self.first).days

    def week_starts(self) -> list[date]:
        """The Mondays of all weeks that hold a day of the season."""
        monday = self.first - timedelta(days=self.first.weekday())
        return [monday + timedelta(weeks=w) for w in range(self.weeks)]


def canvas(
    width: float, height: float, left: float, right: float = 0.12, top: float = 0.1, bottom: float = 0.3
) -> tuple[Figure, Axes]:
    """A figure and its one axes; all lengths in inches."""
    figure = Figure(figsize=(width, height))
    box = (left / width, bottom / height, 1 - (left + right) / width, 1 - (top + bottom) / height)
    return figure, figure.add_axes(box)


def cut(name: str, limit: int) -> str:
    """A name of at most `limit` letters, so that it stays inside its margin; the table beside a chart has it whole."""
    return name if len(name) <= limit else name[: limit - 1].rstrip() + "…"


def width_of(narrow: bool) -> float:
    """The width of a chart on the page or on the phone, inches."""
    return NARROW if narrow else WIDE


def months(ax: Axes, season: Season, words: Words, narrow: bool) -> None:
    """Month names at the first of each month, one in two or one in three where they would touch."""
    starts = [season.first]
    cursor = season.first
    while True:
        cursor = date(cursor.year + cursor.month // 12, cursor.month % 12 + 1, 1)
        if cursor > season.last:
            break
        starts.append(cursor)
    if len(starts) > 1 and (starts[1] - starts[0]).days < 12:
        starts.pop(0)
    short = words.get("calendar.short_months")
    room = 9 if narrow else 16
    step = -(-len(starts) // room)
    shown = starts[::step]
    labels = [short[d.month - 1][: 1 if narrow and len(shown) > 6 else None] for d in shown]
    ax.set_xlim(-2, season.days + 1)
    ax.set_xticks([season.at(d) for d in shown], labels, ha="left")


def rules(ax: Axes, levels: Sequence[float], labels: Sequence[str] | None = None) -> None:
    """At most five hairlines, with their values flat beside them."""
    left, right = ax.get_xlim()
    segments(ax, [[(left, v), (right, v)] for v in levels], HAIR, 0.6, z=0)
    ax.set_yticks(list(levels), list(labels) if labels else [f"{v:g}" for v in levels])


def events(axes: Sequence[Axes], season: Season, top: float, lift: float, narrow: bool) -> None:
    """A meet is a full line with a diamond and its name; a change a dashed line with a flag and its letter."""
    for ax in axes:
        for moments, style in ((season.meets, "solid"), (season.changes, DASHED)):
            for moment in moments:
                ax.axvline(season.at(moment.day), color=INK, lw=0.8, ls=style, zorder=0.5)
    ax, up = axes[0], axes[0].get_xaxis_transform()
    rows = _rows(season, narrow)
    for moment, row in zip((*season.meets, *season.changes), rows, strict=True):
        x = season.at(moment.day)
        is_meet = moment in season.meets
        marker = "D" if is_meet else CARETRIGHTBASE
        ax.plot([x], [top], marker=marker, ms=4.5 if is_meet else 5.5, color=INK, transform=up, clip_on=False, zorder=6)
        ax.annotate(
            moment.label,
            (x, top),
            (0, 5 + 12 * row),
            xycoords=up,
            textcoords="offset points",
            va="bottom",
            ha=_side(x, season, len(moment.label), narrow) if is_meet else "left",
            fontsize=SMALL,
            weight="normal" if is_meet else "bold",
            annotation_clip=False,
        )


def _side(x: float, season: Season, letters: int, narrow: bool) -> str:
    """Centred on the mark, unless the words would leave the chart."""
    half = letters * _days_a_letter(season, narrow) / 2
    if x - half < -4:
        return "left"
    return "right" if x + half > season.days + 4 else "center"


def _days_a_letter(season: Season, narrow: bool) -> float:
    return season.days * 5.2 / (190 if narrow else 500)


def _rows(season: Season, narrow: bool) -> list[int]:
    """The row of each label above the chart, so that no two touch. Letters of changes first fill the lowest row."""
    letter = _days_a_letter(season, narrow)
    taken: list[list[tuple[float, float]]] = [[], [], [], []]
    moments = [(m, True) for m in season.meets] + [(m, False) for m in season.changes]
    placed: dict[int, int] = {}
    for index in sorted(range(len(moments)), key=lambda i: (moments[i][1], moments[i][0].day)):
        moment, is_meet = moments[index]
        x, size = season.at(moment.day), (len(moment.label) + 1) * letter
        side = _side(x, season, len(moment.label), narrow) if is_meet else "left"
        start = {"left": x - 2, "center": x - size / 2, "right": x - size}[side]
        free = [r for r, spans in enumerate(taken) if all(start > b or start + size < a for a, b in spans)]
        placed[index] = free[0] if free else len(taken) - 1
        taken[placed[index]].append((start, start + size))
    return [placed[i] for i in range(len(moments))]


def rows_above(season: Season, narrow: bool) -> int:
    """How many rows of labels stand above the chart: room for them must be left."""
    rows = _rows(season, narrow)
    return max(rows) + 1 if rows else 0
