"""The season of one athlete in one line, without words: pain above the line, the bar below it."""

from matplotlib.figure import Figure

from preflare.reporting.charts.frame import Season, canvas
from preflare.reporting.charts.marks import rings, segments, strokes
from preflare.reporting.charts.palette import BRUISE, DOTTED, INK, IRON, STEEL
from preflare.reporting.charts.season import AthleteSeason

_LANES = {"straight": -2.4, "safety": -4.3, "cambered": -6.2, "other": -8.1}


def strip(data: AthleteSeason, season: Season) -> Figure:
    """Stems for ratings, rings for none, dots for missing reports; below a lane a bar. Gaps: no log."""
    figure, ax = canvas(6.4, 0.5, 0.02, 0.02, 0.02, 0.02)
    ax.axis("off")
    lowest = min([_LANES[b] for b in data.bars] or [-1])
    ax.set(xlim=(-2, season.days + 1), ylim=(lowest - 1.0, 10.4))
    segments(ax, [[(season.at(a), 0), (season.at(b), 0)] for a, b in data.logged], STEEL, 0.8, z=2)
    rated = [(season.at(d), r) for d, r in data.ratings]
    strokes(ax, [x for x, r in rated if r > 0], 0, [r for _, r in rated if r > 0], BRUISE, 1.5)
    none = [x for x, r in rated if r == 0]
    rings(ax, none, [0] * len(none), 1.8)
    days = {x for x, _ in rated}
    missing = [season.at(s.day) for s in data.sessions if not s.is_reported and season.at(s.day) not in days]
    strokes(ax, missing, 0, 10, IRON, 0.6, DOTTED)
    for bar in data.bars:
        lane = _LANES[bar]
        strokes(ax, [season.at(s.day) for s in data.sessions if s.bar == bar], lane - 0.75, lane + 0.75, INK, 0.9)
    return figure
