"""What the layouts share: the list of planted mess, and how loads and sets are written in short."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from preflare.simulate.draws import Draws
from preflare.simulate.lifting import LiftedSet, SessionDone
from preflare.simulate.people import Person

CREATED = datetime(2026, 6, 8, 9, 0, 0)
"""Creation date written into every workbook, so that the same seed gives the same bytes."""


@dataclass(frozen=True)
class Mess:
    """One untidiness that was put in on purpose. where: row, sheet or name, as a reader would look for it."""

    file: str
    where: str
    what: str


@dataclass(frozen=True)
class Club:
    """Everything that the layouts write about. lifters: people in the order of SessionDone.lifter."""

    lifters: Sequence[Person]
    sessions: Sequence[SessionDone]

    def of(self, members: Iterable[int]) -> list[SessionDone]:
        """Sessions of some lifters, by date and then lifter."""
        chosen = set(members)
        return sorted((s for s in self.sessions if s.lifter in chosen), key=lambda s: (s.day, s.lifter))


def number(value: float | None, comma: bool = False) -> str:
    """A load or an effort as people type it: no needless zeros; "" for None."""
    if value is None:
        return ""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return text.replace(".", ",") if comma else text


def pick(draws: Draws, count: int, among: int) -> list[int]:
    """`count` different places below `among`, in order; fewer when there are fewer."""
    order = draws.uniform(among).argsort(kind="stable")
    return sorted(int(place) for place in order[:count])


def in_short(sets: Sequence[LiftedSet]) -> str:
    """Working sets in short: "142.5x3 RPE8, 4x5 @120"; equal sets in a row are written once, warm-ups left out."""
    parts: list[str] = []
    for group in runs(s for s in sets if not s.is_warm_up):
        first, n = group[0], len(group)
        load = number(first.load)
        if first.load is None:
            text = f"{n}x{first.reps}"
        elif n == 1:
            text = f"{load}x{first.reps}"
        else:
            text = f"{n}x{first.reps} @{load}"
        effort = f" RPE{number(first.rpe)}" if first.rpe is not None and not first.is_failed else ""
        parts.append(text + effort + (" missed" if first.is_failed else ""))
    return ", ".join(parts)


def runs(sets: Iterable[LiftedSet]) -> list[list[LiftedSet]]:
    """Sets in order, equal neighbours together."""
    groups: list[list[LiftedSet]] = []
    for one in sets:
        if groups and groups[-1][0] == one:
            groups[-1].append(one)
        else:
            groups.append([one])
    return groups


def open_workbook(path: Path) -> Any:
    """A workbook whose bytes depend on its content alone."""
    import xlsxwriter

    workbook = xlsxwriter.Workbook(str(path), {"strings_to_numbers": False, "strings_to_formulas": False})
    workbook.set_properties({"created": CREATED, "author": "the club"})
    return workbook
