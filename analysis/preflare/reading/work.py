"""Work written in short as the reader hands it on: sets, what was not understood, and remarks."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WorkSet:
    """One set read from shorthand. percent: of 1RM, where that stands instead of a load."""

    load: float | None
    unit: str | None  # "kg", "lb", None where the text does not say
    percent: float | None
    reps: int | None
    rpe: float | None
    rir: float | None
    is_warm_up: bool = False
    is_failed: bool = False
    is_added: bool = False  # the load hangs on the body ("BW+20")
    exercise: str | None = None  # written in the text itself, as written


@dataclass(frozen=True, slots=True)
class Problem:
    """A piece of the text that was not understood, or was read with a doubt (is_doubt: it was stored all the same)."""

    text: str
    reason: str
    is_doubt: bool = False


@dataclass(frozen=True, slots=True)
class Work:
    """All of one text: its sets, what was not understood, and remarks found between the sets."""

    sets: tuple[WorkSet, ...]
    problems: tuple[Problem, ...] = ()
    remarks: tuple[str, ...] = ()
