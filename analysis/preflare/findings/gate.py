"""Whether there are data enough to grade a contrast at all, and how many more athletes an answer would
need."""

import math
from dataclasses import dataclass

import numpy as np

from preflare.findings.contrasts import Contrast, at_level
from preflare.models.rows import AMOUNTS, ModelRows

FEWEST_CONTRIBUTING = 6
FEWEST_EXPOSED = 30
FEWEST_EVENTS = 30
FEWEST_AT_EACH_LEVEL = 3
WANTED_DIFFERENCE = 5.0
"""Per 100 sessions: the difference that an answer should be able to tell from none."""
TWO_SIDED_5_PERCENT_80_POWER = 2.8


@dataclass(frozen=True)
class Counts:
    """What a contrast rests on. contributing: athletes with 3 or more reported sessions at each level.

    sessions: rows over which risks are averaged. reported: those with a rating. exposed: reported at the
    level.
    """

    athletes: int
    contributing: int
    sessions: int
    reported: int
    exposed: int
    events: int


def count(contrast: Contrast, rows: ModelRows, event: int) -> Counts:
    """Counts of one contrast over the modelling rows."""
    reported = rows.reported
    at_reference = at_level(contrast, rows, contrast.reference)[reported]
    exposed = at_level(contrast, rows, contrast.level)[reported]
    if contrast.id in rows.left_out:
        at_reference = exposed = np.zeros(int(reported.sum()), dtype=bool)
    n_athletes = len(rows.athletes)
    group = rows.group[reported]
    enough = np.bincount(group[at_reference], minlength=n_athletes) >= FEWEST_AT_EACH_LEVEL
    enough &= np.bincount(group[exposed], minlength=n_athletes) >= FEWEST_AT_EACH_LEVEL
    contributing = int(enough.sum()) if contrast.id not in AMOUNTS else len(np.unique(group[exposed]))
    return Counts(
        athletes=n_athletes,
        contributing=contributing,
        sessions=len(rows.group),
        reported=int(reported.sum()),
        exposed=int(exposed.sum()),
        events=int((rows.rating >= event).sum()),
    )


def gate(counts: Counts) -> tuple[str, ...]:
    """What there is too little of: any of "contributing", "exposed", "events"; empty when the gate is
    passed."""
    short = {
        "contributing": counts.contributing < FEWEST_CONTRIBUTING,
        "exposed": counts.exposed < FEWEST_EXPOSED,
        "events": counts.events < FEWEST_EVENTS,
    }
    return tuple(name for name, missing in short.items() if missing)


def more_athletes(contributing: int, standard_error: float) -> int | None:
    """How many more contributing athletes would tell 5 per 100 from none (80 % power, two-sided 5 %).

    standard_error: of the difference per 100 sessions, now. It falls with the square root of the athletes.
    Never below what the data gate asks for; None when no standard error is known and the gate's number is
    met.
    """
    least = max(FEWEST_CONTRIBUTING - contributing, 0)
    if contributing == 0 or not math.isfinite(standard_error) or standard_error <= 0:
        return least or None
    wanted = WANTED_DIFFERENCE / TWO_SIDED_5_PERCENT_80_POWER
    needed = contributing * (standard_error / wanted) ** 2 - contributing
    return max(math.ceil(needed), least, 0)
