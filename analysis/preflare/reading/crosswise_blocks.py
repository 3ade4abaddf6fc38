"""What blocks of sheets with days, weeks or people across are made of: columns in groups under a day or person each."""

from dataclasses import dataclass, field

from preflare.reading.crosswise_marks import Mark
from preflare.reading.tables import Column
from preflare.reading.text import Cell


@dataclass(frozen=True, slots=True)
class Above:
    """The day, week, weekday and person that stand above a column; empty over columns that serve the whole row."""

    day: Cell = None
    week: Mark | None = None
    weekday: int | None = None
    person: str | None = None


@dataclass(slots=True)
class Group:
    """The columns under one day or person."""

    above: Above
    columns: list[Column]


@dataclass(slots=True)
class Block:
    """Rows under the same lines of headings."""

    groups: list[Group]
    common: list[Column]  # what stands at the left, or in columns that belong to no day or person
    header_rows: tuple[int, ...]
    body: list[int] = field(default_factory=list)
    lines: dict[int, Mark] = field(
        default_factory=dict
    )  # rows of a single text: a day, a person, an exercise, a remark
