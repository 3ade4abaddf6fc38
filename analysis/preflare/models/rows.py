"""Which squat sessions enter the models, and each session's exposures as numbers.

In: the model frame (one row per squat session). Out: ModelRows. Nothing is assumed for what was not written:
an exposure that is written in under half of the rows leaves the formula; otherwise its unwritten rows are
left out and counted.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

EXPOSURES = ("intensity", "safety", "cambered", "narrow", "wide", "high", "sets")
AMOUNTS = ("intensity", "sets")
UNIT = {"intensity": 10.0, "sets": 5.0}
"""What one unit of an amount is in the models: 10 points of %1RM, 5 working sets in 7 days."""

QUESTIONS = {
    "intensity": ("intensity",),
    "bar": ("safety", "cambered", "other"),
    "grip width": ("narrow", "wide"),
    "bar position": ("high",),
    "weekly sets": ("sets",),
}
"""Each thing a log writes down, and the exposures that are read from it."""

FIRST_DAY = 14
FEWEST_WRITTEN = 0.5


@dataclass(frozen=True)
class ModelRows:
    """Squat sessions that can enter a model, reported or not.

    frame: the rows (index 0..n-1). values: exposures (n, 8), columns EXPOSURES and "other", amounts in UNITs.
    applies: bool, same shape: False where the exposure does not exist on that bar (forward handles have no
    grip width). group: (n,) athlete code into `athletes`. reported: (n,) bool, an arm rating followed.
    left_out: exposures that leave the formula. dropped: reason -> number of rows left out, in the order
    applied.
    """

    frame: pd.DataFrame
    values: pd.DataFrame
    applies: pd.DataFrame
    group: NDArray[np.int64]
    reported: NDArray[np.bool_]
    athletes: tuple[str, ...]
    left_out: tuple[str, ...]
    dropped: dict[str, int]

    @property
    def rating(self) -> NDArray[np.float64]:
        """Ratings of the reported rows."""
        rating: NDArray[np.float64] = self.frame["rating"].to_numpy(float)
        return rating[self.reported]


def exposure_values(frame: pd.DataFrame) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Exposures as numbers, NaN where not written, and whether each applies.

    Grip width and bar position are coded as written on every bar; on a safety bar without either they do not
    apply.
    """
    values = pd.DataFrame(index=frame.index)
    values["intensity"] = frame["intensity"].astype(float) / UNIT["intensity"]
    for bar in ("safety", "cambered"):
        values[bar] = _indicator(frame["bar"], bar)
    for width in ("narrow", "wide"):
        values[width] = _indicator(frame["grip_width"], width)
    values["high"] = _indicator(frame["bar_position"], "high")
    values["sets"] = frame["sets_7d"].astype(float) / UNIT["sets"]
    values["other"] = _indicator(frame["bar"], "other")
    applies = pd.DataFrame(True, index=frame.index, columns=values.columns)
    forward_handles = frame["bar"].eq("safety")
    applies["narrow"] = applies["wide"] = ~(forward_handles & frame["grip_width"].isna())
    applies["high"] = ~(forward_handles & frame["bar_position"].isna())
    return values, applies


def _indicator(words: pd.Series, word: str) -> pd.Series:
    return words.eq(word).astype(float).where(words.notna(), np.nan)


def modelling_rows(frame: pd.DataFrame) -> ModelRows:
    """The rows of the models: from day 14 on, with an earlier rating, one of them before the 7-day window."""
    dropped: dict[str, int] = {}
    kept = frame
    for reason, keep in _history_rules(frame).items():
        dropped[reason] = int((~keep.loc[kept.index]).sum())
        kept = kept[keep.loc[kept.index]]
    values, applies = exposure_values(kept)
    left_out = _too_rarely_written(values, applies)
    for question, exposures in QUESTIONS.items():
        used = [name for name in exposures if name not in left_out]
        unwritten = (values[used].isna() & applies[used]).any(axis=1).loc[kept.index]
        dropped |= _unwritten_counts(question, kept.loc[unwritten, "bar"])
        kept = kept[~unwritten]
    reporting = kept.groupby("athlete")["rating"].transform("count") > 0 if len(kept) else kept["rating"].notna()
    dropped["no rating from this athlete"] = int((~reporting).sum())
    kept = kept[reporting]
    return _collect(kept, values, applies, left_out, dropped)


def _unwritten_counts(question: str, bars: "pd.Series[str]") -> dict[str, int]:
    """Reason -> rows; for intensity by bar, since a bar without an estimated 1RM is where such rows are lost."""
    if question != "intensity":
        return {f"{question} not written": len(bars)}
    by_bar = bars.fillna("unnamed").value_counts(sort=False)
    return {f"no estimated 1RM, {bar} bar": int(n) for bar, n in by_bar.items()}


def _history_rules(frame: pd.DataFrame) -> dict[str, "pd.Series[bool]"]:
    return {
        "first 14 days": frame["day"] >= FIRST_DAY,
        "no earlier rating": frame["last_rating"].notna(),
        "no rating before the 7-day window": frame["last_rating_pre"].notna(),
    }


def _too_rarely_written(values: pd.DataFrame, applies: pd.DataFrame) -> tuple[str, ...]:
    """Exposures of the questions that are written in under half of the rows where they apply."""
    rare: list[str] = []
    for exposures in QUESTIONS.values():
        name = exposures[0]
        where = applies[name]
        written = values.loc[where, name].notna().mean() if where.any() else 0.0
        if written < FEWEST_WRITTEN:
            rare += exposures
    return tuple(rare)


def _collect(
    kept: pd.DataFrame,
    values: pd.DataFrame,
    applies: pd.DataFrame,
    left_out: tuple[str, ...],
    dropped: dict[str, int],
) -> ModelRows:
    athletes, group = np.unique(kept["athlete"].to_numpy(dtype=object).astype(str), return_inverse=True)
    return ModelRows(
        frame=kept.reset_index(drop=True),
        values=values.loc[kept.index].reset_index(drop=True),
        applies=applies.loc[kept.index].reset_index(drop=True),
        group=group.astype(np.int64),
        reported=kept["rating"].notna().to_numpy(),
        athletes=tuple(str(name) for name in athletes),
        left_out=left_out,
        dropped=dropped,
    )


def keep_rows(rows: ModelRows, keep: NDArray[np.bool_]) -> ModelRows:
    """The modelling rows where `keep` holds, less the athletes who have no rating left."""
    frame = rows.frame[keep]
    reporting = (frame.groupby("athlete")["rating"].transform("count") > 0).to_numpy(bool)
    kept = frame[reporting]
    return _collect(kept, rows.values, rows.applies, rows.left_out, rows.dropped)
