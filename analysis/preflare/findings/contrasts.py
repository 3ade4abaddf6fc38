"""The declared family: seven contrasts of the four primary exposures, fixed before any model is run."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from preflare.models.rows import AMOUNTS, ModelRows

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Contrast:
    """Two levels of one exposure.

    size: their distance for an amount, in `unit`; None for a bar, grip or position.

    column, reference, level: where an exposure is a word, the frame column it stands in and the two words
    compared.
    """

    id: str
    exposure: str
    from_: str
    to: str
    size: float | None
    unit: str
    column: str | None = None
    reference: str | None = None
    level: str | None = None


def _words(id_: str, exposure: str, column: str, reference: str, level: str, kind: str) -> Contrast:
    return Contrast(id_, exposure, f"{reference} {kind}", f"{level} {kind}", None, kind, column, reference, level)


FAMILY: tuple[Contrast, ...] = (
    Contrast("intensity", "squat intensity", "own mean - 5 points", "own mean + 5 points", 10.0, "points of %1RM"),
    _words("safety", "bar", "bar", "straight", "safety", "bar"),
    _words("cambered", "bar", "bar", "straight", "cambered", "bar"),
    _words("narrow", "grip width", "grip_width", "medium", "narrow", "grip"),
    _words("wide", "grip width", "grip_width", "medium", "wide", "grip"),
    _words("high", "bar position", "bar_position", "low", "high", "bar position"),
    Contrast(
        "sets",
        "weekly squat sets",
        "own value - 2.5 sets",
        "own value + 2.5 sets",
        5.0,
        "working sets in 7 days",
    ),
)


@dataclass(frozen=True)
class Levels:
    """Exposure values (in the models' units) at the two levels, and the rows over which risks are
    averaged."""

    at_from: Mapping[str, Floats | float]
    at_to: Mapping[str, Floats | float]
    where: NDArray[np.bool_]


def levels(contrast: Contrast, rows: ModelRows) -> Levels:
    """Intensity at the own mean -+ 5 points, sets at the own value -+ 2.5, bars with every other bar off.

    For a bar both levels stand at the reference grip and position; grip and position are compared only where
    they apply, with the bar as it was.
    """
    everywhere = np.ones(len(rows.group), dtype=bool)
    name = contrast.id
    if name == "intensity":
        own = rows.frame["intensity"].groupby(rows.group).transform("mean").to_numpy(float) / 10.0
        return Levels({name: own - 0.5}, {name: own + 0.5}, everywhere)
    if name == "sets":
        value = rows.values["sets"].to_numpy(float)
        return Levels({name: value - 0.5}, {name: value + 0.5}, everywhere)
    if contrast.column == "bar":
        usual = dict.fromkeys(("safety", "cambered", "other", "narrow", "wide", "high"), 0.0)
        return Levels(usual, {**usual, name: 1.0}, everywhere)
    alternatives = dict.fromkeys(("narrow", "wide") if contrast.column == "grip_width" else ("high",), 0.0)
    return Levels(alternatives, {**alternatives, name: 1.0}, rows.applies[name].to_numpy())


HOLDS = ("narrow", "wide", "high")
"""How a bar is held: grip width and bar position, as the models code them."""


def levels_as_held(contrast: Contrast, rows: ModelRows) -> Levels:
    """The straight bar and another bar, each as each lifter held it, over every row.

    Grip and position stand at the lifter's own mean over the own sessions on that bar where they apply. Who never had
    a bar is taken to hold it as the straight one, and that one as the squad does. Where they apply on no session of a
    bar (forward handles have no grip width), there is nothing to hold: they stand at the reference, as in `levels`.
    """
    off = dict.fromkeys(("safety", "cambered", "other"), 0.0)
    straight = {name: _held_on(rows, name, "straight", None) for name in HOLDS}
    there = {name: _held_on(rows, name, str(contrast.level), straight[name]) for name in HOLDS}
    everywhere = np.ones(len(rows.group), dtype=bool)
    return Levels({**off, **straight}, {**off, **there, contrast.id: 1.0}, everywhere)


def _held_on(rows: ModelRows, name: str, bar: str, otherwise: Floats | None) -> Floats:
    """(n,) each row's lifter's own mean of one hold on a bar; zeros where it applies on no session of that bar."""
    on_bar = (rows.frame["bar"].eq(bar) & rows.applies[name] & rows.values[name].notna()).to_numpy(bool)
    if not on_bar.any():
        return np.zeros(len(rows.group))
    value = rows.values[name].to_numpy(float)[on_bar]
    n = np.bincount(rows.group[on_bar], minlength=len(rows.athletes))[rows.group]
    total = np.bincount(rows.group[on_bar], weights=value, minlength=len(rows.athletes))[rows.group]
    without = value.mean() if otherwise is None else otherwise
    held: Floats = np.where(n > 0, total / np.maximum(n, 1), without)
    return held


def at_level(contrast: Contrast, rows: ModelRows, level: str | None) -> NDArray[np.bool_]:
    """Rows at one level of a word exposure, where it applies; every row for an amount."""
    if contrast.id in AMOUNTS or contrast.column is None:
        return np.ones(len(rows.group), dtype=bool)
    there: NDArray[np.bool_] = (rows.frame[contrast.column].eq(level) & rows.applies[contrast.id]).to_numpy(bool)
    return there
