"""One athlete's season on one time axis: pain, bar, grip, heaviest set, weekly sets, meets, recorded changes."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import partial

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from preflare.reporting.charts.frame import Season, events, months, rows_above, rules, width_of
from preflare.reporting.charts.marks import bar_mark, blocks, note, rings, segments, strokes
from preflare.reporting.charts.palette import (
    BRASS,
    BRASS_FILL,
    BRASS_SOLID,
    BRUISE,
    DOTTED,
    HAIR,
    INK,
    IRON,
    SMALL,
    STEEL,
)
from preflare.reporting.words import Words

OTHER_WORK = ("curl_sets", "press_sets", "pull_sets")


@dataclass(frozen=True)
class SquatDay:
    """One squat session: its day, bar, grip, relative intensity in %, and whether a rating followed it."""

    day: date
    bar: str | None
    grip: str | None
    intensity: float | None
    is_reported: bool


@dataclass(frozen=True)
class TrainingWeek:
    """One week: working squat sets, sets of curls, presses and pulls; None where the week is unlogged."""

    start: date
    squat_sets: float | None
    curl_sets: float | None
    press_sets: float | None = None
    pull_sets: float | None = None


@dataclass(frozen=True)
class Flare:
    """A flare-up: its number, its first and last day."""

    number: int
    onset: date
    end: date


@dataclass(frozen=True)
class AthleteSeason:
    """What the season chart draws. ratings: (day, highest arm rating); logged: runs of days with a log."""

    ratings: tuple[tuple[date, float], ...]
    sessions: tuple[SquatDay, ...]
    weeks: tuple[TrainingWeek, ...]
    logged: tuple[tuple[date, date], ...]
    flares: tuple[Flare, ...]

    @property
    def bars(self) -> list[str]:
        used = {s.bar for s in self.sessions if s.bar}
        return [b for b in ("straight", "safety", "cambered", "other") if b in used]

    @property
    def has_grip(self) -> bool:
        return any(s.grip for s in self.sessions)

    @property
    def other_work(self) -> list[str]:
        """The kinds of other work that were logged in any week: "curl_sets", "press_sets", "pull_sets"."""
        return [kind for kind in OTHER_WORK if any(getattr(week, kind) for week in self.weeks)]


@dataclass(frozen=True)
class _Strip:
    key: str
    height: float  # inches


def _strips(data: AthleteSeason) -> list[_Strip]:
    """Only strips that have something to show."""
    strips = [_Strip("pain", 1.5)]
    if data.bars:
        strips.append(_Strip("bar", 0.14 + 0.19 * len(data.bars)))
    if data.has_grip:
        strips.append(_Strip("grip", 0.46))
    if any(s.intensity is not None for s in data.sessions):
        strips.append(_Strip("intensity", 0.9))
    if any(w.squat_sets for w in data.weeks):
        strips.append(_Strip("squat_sets", 0.75))
    return [*strips, *(_Strip(kind, 0.36) for kind in data.other_work)]


def season_chart(data: AthleteSeason, season: Season, words: Words, narrow: bool) -> Figure:
    """The strips one under the other, each with its name; meets and changes run through all of them."""
    strips = _strips(data)
    left, right, gap = (0.36, 0.12, 0.36) if narrow else (1.5, 0.2, 0.22)
    top, bottom, width = 0.34 + 0.17 * rows_above(season, narrow) + (0.2 if narrow else 0), 0.32, width_of(narrow)
    under_pain = 0.2 if narrow and data.flares else 0.12
    height = top + bottom + sum(s.height for s in strips) + gap * (len(strips) - 1) + under_pain
    figure, axes, y = Figure(figsize=(width, height)), {}, height - top
    for strip in strips:
        y -= strip.height
        ax = figure.add_axes((left / width, y / height, 1 - (left + right) / width, strip.height / height))
        y -= gap + (under_pain if strip.key == "pain" else 0)
        axes[strip.key] = ax
        ax.set_xlim(-2, season.days + 1)
        ax.spines["bottom"].set_visible(False)
        ax.set_xticks([])
        _name(ax, strip.key, words, narrow, above=top - 0.2 if strip.key == "pain" else 0.05)
    painters: dict[str, Callable[..., None]] = {
        "pain": _pain,
        "bar": _bars,
        "grip": _grip,
        "intensity": _intensity,
        "squat_sets": _squats,
        **{kind: partial(_other_work, kind) for kind in OTHER_WORK},
    }
    for key, ax in axes.items():
        painters[key](ax, data, season, words, narrow)
    months(list(axes.values())[-1], season, words, narrow)
    events(list(axes.values()), season, 1.06, 0, narrow)
    return figure


def _name(ax: Axes, key: str, words: Words, narrow: bool, above: float) -> None:
    title, unit = words.text(f"chart.strip_{key}"), words.text(f"chart.strip_{key}_unit")
    if narrow:
        ax.annotate(
            f"{title}, {unit}",
            (0, 1),
            (-24 if key == "pain" else 0, above * 72),
            xycoords="axes fraction",
            va="bottom",
            textcoords="offset points",
            fontsize=SMALL,
            weight="bold",
        )
    else:
        for told, down, kw in (
            (title, 0, {"weight": "bold", "fontsize": 11.5}),
            (unit, 14, {"color": IRON, "style": "italic"}),
        ):
            ax.annotate(
                told,
                (0, 1),
                (-104, -down),
                xycoords="axes fraction",
                textcoords="offset points",
                va="top",
                **({"fontsize": SMALL} | kw),
            )


def _pain(ax: Axes, data: AthleteSeason, season: Season, words: Words, narrow: bool) -> None:
    """Stem: a rating. Ring: reported, no pain. Dots over the whole scale: nobody reported. Gap in the line: no log."""
    ax.set_ylim(-1.6, 10)
    rules(ax, [5, 10])
    ax.set_yticks([0, 5, 10])
    rated = [(season.at(d), r) for d, r in data.ratings]
    strokes(ax, [x for x, r in rated if r > 0], 0, [r for _, r in rated if r > 0], BRUISE, 1.8)
    none = [x for x, r in rated if r == 0]
    rings(ax, none, [0] * len(none), 3)
    days = {x for x, _ in rated}
    missing = [season.at(s.day) for s in data.sessions if not s.is_reported and season.at(s.day) not in days]
    strokes(ax, missing, 0, 10, IRON, 0.9, DOTTED)
    segments(ax, [[(season.at(a), 0), (season.at(b), 0)] for a, b in data.logged], STEEL, 0.8, z=2)
    _flares(ax, data, season, words, narrow)
    _gaps(ax, data, season, words, narrow)


def _flares(ax: Axes, data: AthleteSeason, season: Season, words: Words, narrow: bool) -> None:
    """A thick underline from onset to end with its number, which is left out where it would touch the one before."""
    room, last = season.days * (0.04 if narrow else 0.018), -1e9
    for flare in data.flares:
        a, b = season.at(flare.onset), season.at(flare.end)
        segments(ax, [[(a - 0.4, -1.0), (b + 0.4, -1.0)]], BRUISE, 3)
        x = (a + b) / 2
        if x - last > room:
            ax.annotate(
                f"{flare.number}",
                (x, -1.5),
                (0, -1),
                textcoords="offset points",
                color=BRUISE,
                ha="center",
                va="top",
                weight="bold",
                fontsize=SMALL,
                annotation_clip=False,
            )
            last = x
    if data.flares:
        _flare_word(ax, words, narrow)


def _flare_word(ax: Axes, words: Words, narrow: bool) -> None:
    """The word beside the underlines: in the margin on the page, at the right end on the phone."""
    place, side = ((1, 0.0), "right") if narrow else ((0, 0.0), "right")
    ax.annotate(
        words.text("chart.flares"),
        place,
        (0, -14) if narrow else (-6, 1),
        xycoords="axes fraction",
        textcoords="offset points",
        color=BRUISE,
        ha=side,
        va="center",
        fontsize=SMALL,
        annotation_clip=False,
    )


def _gaps(ax: Axes, data: AthleteSeason, season: Season, words: Words, narrow: bool) -> None:
    """The words "no log" in every gap that is wide enough for them."""
    edges = [season.first, *[d for run in data.logged for d in run], season.last]
    room = season.days * (0.13 if narrow else 0.055)
    for a, b in zip(edges[::2], edges[1::2], strict=True):
        x, y = season.at(a), season.at(b)
        if y - x > room:
            note(ax, (x + y) / 2, 8.6, words.text("chart.no_log"), IRON, ha="center", style="italic")


def _bars(ax: Axes, data: AthleteSeason, season: Season, words: Words, narrow: bool) -> None:
    """A lane a bar, the bar's outline at its left; a stroke a session."""
    ax.set_ylim(-0.6, len(data.bars) - 0.4)
    ax.set_yticks([])
    for lane, bar in enumerate(reversed(data.bars)):
        segments(ax, [[(-2, lane), (season.days + 1, lane)]], HAIR, 0.6, z=0)
        strokes(ax, [season.at(s.day) for s in data.sessions if s.bar == bar], lane - 0.34, lane + 0.34, INK, 1.1)
        if narrow:
            bar_mark(ax, 0, lane, bar, size=0.75, shift=-15)
        else:
            bar_mark(ax, 0, lane, bar, size=0.8, shift=-15)
            ax.annotate(
                words.word("bar", bar),
                (0, lane),
                (-27, 0),
                textcoords="offset points",
                ha="right",
                va="center",
                fontsize=9.5,
                color=IRON,
                annotation_clip=False,
            )


def _grip(ax: Axes, data: AthleteSeason, season: Season, words: Words, narrow: bool) -> None:
    """Two rails as far apart as the hands, from session to session; broken where there is no log."""
    ax.set_ylim(-1.2, 1.2)
    ax.set_yticks([])
    half = {"narrow": 0.46, "medium": 0.72, "wide": 1.05}
    room, last, told = season.days * (0.2 if narrow else 0.08), -1e9, ""
    for grip, a, b in grip_runs(data):
        x, y = season.at(a), season.at(b)
        lines = [[(x - 0.5, s * half[grip]), (y + 0.5, s * half[grip])] for s in (-1, 1)]
        segments(ax, lines, INK, 1.3)
        is_new = grip != told
        if is_new and x - last > room and (y - x > room / 2 or last < 0):
            note(
                ax,
                x + 1.5,
                -0.02,
                words.word("grip", grip),
                IRON,
                style="italic",
                fontsize=9.5,
            )
            last, told = x, grip


def grip_runs(data: AthleteSeason) -> list[tuple[str, date, date]]:
    """Spells of one grip: (grip, first day, last day). A spell ends at a change of grip and where a log breaks off."""
    runs: list[tuple[str, date, date]] = []
    for session in data.sessions:
        if not session.grip:
            continue
        broken = not runs or _run_of(data, runs[-1][2]) != _run_of(data, session.day)
        if broken or runs[-1][0] != session.grip:
            start = session.day if broken else runs[-1][2]
            runs.append((session.grip, start, session.day))
        else:
            runs[-1] = (session.grip, runs[-1][1], session.day)
    return runs


def _run_of(data: AthleteSeason, day: date) -> int:
    """Which logged run a day belongs to; -1 outside all."""
    return next((i for i, (a, b) in enumerate(data.logged) if a <= day <= b), -1)


def _intensity(ax: Axes, data: AthleteSeason, season: Season, words: Words, narrow: bool) -> None:
    """A dot a session: its heaviest set in % of the best single for that bar."""
    points = [(season.at(s.day), s.intensity) for s in data.sessions if s.intensity is not None]
    low = min(50.0, *(v for _, v in points), 50.0)
    high = max(100.0, *(v for _, v in points), 100.0)
    ax.set_ylim(10 * (low // 10), 2 + high)
    rules(ax, [v for v in (20, 40, 60, 80, 100) if v >= low])
    ax.plot(
        [x for x, _ in points], [v for _, v in points], "o", ms=2.2 if narrow else 2.8, color=BRASS, mew=0, ls="none"
    )


def _squats(ax: Axes, data: AthleteSeason, season: Season, words: Words, narrow: bool) -> None:
    """A filled column a week; nothing where the week is unlogged, a hair where it was a true zero."""
    _columns(ax, [(w.start, w.squat_sets) for w in data.weeks], season, BRASS_SOLID, "none", 0)


def _other_work(kind: str, ax: Axes, data: AthleteSeason, season: Season, words: Words, narrow: bool) -> None:
    """A hollow column a week of curls, presses or pulls."""
    _columns(ax, [(w.start, getattr(w, kind)) for w in data.weeks], season, BRASS_FILL, BRASS, 0.7)


def _columns(
    ax: Axes, weeks: list[tuple[date, float | None]], season: Season, fill: str, edge: str, width: float
) -> None:
    known = [(season.at(start), value) for start, value in weeks if value is not None]
    top = next(t for t in (5, 10, 15, 20, 30, 40, 60, 80, 120, 400) if max(v for _, v in known) <= t or t == 400)
    ax.set_ylim(0, top)
    rules(ax, [0, top])
    blocks(ax, [(x + 0.8, 0, 5.4, v) for x, v in known if v > 0], fill, edge, width)
    segments(ax, [[(x + 0.8, 0), (x + 6.2, 0)] for x, v in known if v == 0], BRASS, 1.6)
