"""The words that the reader knows, as data: one TOML file a subject, words by language, generic words only.

The files are the vocabulary; this module only loads them. season.toml [words] adds a squad's own (see lexicon.py).
"""

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

LANGUAGES = ("en", "de", "fr", "es", "it", "pt", "nl", "pl", "no", "da", "sv")

_FOLDER = Path(__file__).resolve().parent


@dataclass(frozen=True, slots=True)
class Exercise:
    """One canonical exercise. forearm and shoulder positions are given for elbow flexion only."""

    name: str
    family: str  # squat, press, pull, hinge, elbow flexion, other
    is_back_squat: bool  # the bar lies on the back: these rows form the analysis
    forearm_position: str | None
    shoulder_position: str | None
    is_barbell: bool = True  # usually done with a barbell, which its loads then include


@cache
def load(name: str) -> dict[str, Any]:
    """The file `name`.toml of this folder as plain values."""
    return tomllib.loads((_FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def exercises() -> tuple[Exercise, ...]:
    """Every canonical exercise, in the order of the file, and "unknown" for what was not recognised."""
    known = [
        Exercise(
            entry["name"],
            entry["family"],
            entry.get("is_back_squat", False),
            entry.get("forearm"),
            entry.get("shoulder"),
            not entry.get("without_bar", False),
        )
        for entry in load("exercises")["exercise"]
    ]
    return (*known, Exercise("unknown", "other", False, None, None))


@cache
def families() -> dict[str, str]:
    """Canonical exercise name -> its family."""
    return {exercise.name: exercise.family for exercise in exercises()}


@cache
def barbell_lifts() -> frozenset[str]:
    """The canonical squats, presses and hinges that are usually done with a barbell."""
    return frozenset(e.name for e in exercises() if e.is_barbell and e.family in {"squat", "press", "hinge"})


@cache
def back_squats() -> frozenset[str]:
    """The canonical exercises with the bar on the back."""
    return frozenset(exercise.name for exercise in exercises() if exercise.is_back_squat)


@cache
def warning_words() -> tuple[tuple[str, str], ...]:
    """(word or phrase as the file writes it, kind) for every word that calls for the advice to see a clinician."""
    return tuple(
        (word, kind)
        for kind, by_language in load("warnings").items()
        for words in by_language.values()
        for word in words
    )
