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


def at_level(contrast: Contrast, rows: ModelRows, level: str | None) -> NDArray[np.bool_]:
    """Rows at one level of a word exposure, where it applies; every row for an amount."""
    if contrast.id in AMOUNTS or contrast.column is None:
        return np.ones(len(rows.group), dtype=bool)
    there: NDArray[np.bool_] = (rows.frame[contrast.column].eq(level) & rows.applies[contrast.id]).to_numpy(bool)
    return there
