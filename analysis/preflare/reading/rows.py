"""The tidy rows that `reading` hands to `store`: what a log said, in the program's own words and units.

Every row keeps its place in the source. The squad's own words stay beside the canonical ones (`*_written`). A field
that the log does not give is None: nothing is assumed here that was not written, save what season.toml says.
Loads are kg, durations minutes, efforts RPE (1 to 10) or repetitions in reserve, ratings 0 to 10.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal

Bar = Literal["straight", "safety", "cambered", "other"]
BarPosition = Literal["high", "low"]
GripWidth = Literal["narrow", "medium", "wide"]
Moment = Literal["before", "during", "after", "next morning", "unknown"]
Origin = Literal["column", "form", "note"]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a value stood. row: 1-based, as the spreadsheet program shows it (a CSV file's line). column: letters."""

    file: str  # path relative to the folder that was given, with forward slashes
    sheet: str  # "" for a file without sheets
    row: int
    column: str = ""

    def __str__(self) -> str:
        sheet = f', sheet "{self.sheet}"' if self.sheet else ""
        column = f", column {self.column}" if self.column else ""
        return f"{self.file}{sheet}, row {self.row}{column}"


@dataclass(frozen=True, slots=True)
class SetRow:
    """One set of one exercise. Sets written in short ("5x3 @140") arrive one by one."""

    athlete: str  # canonical display name, after people were joined
    date: date
    ordinal: int  # 1 for the day's first session, 2 for a second one
    set_number: int  # within athlete, date, ordinal and exercise as written, from 1
    exercise: str  # canonical exercise, a key of the exercise vocabulary; "unknown" when not recognised
    exercise_written: str
    bar: Bar | None
    bar_written: str | None
    bar_position: BarPosition | None
    grip_width: GripWidth | None
    grip_style: str | None
    grip_written: str | None
    load_kg: float | None
    reps: int | None
    rpe: float | None
    rir: float | None
    is_warm_up: bool
    is_failed: bool
    note: str | None
    place: Place


@dataclass(frozen=True, slots=True)
class SessionRow:
    """What a log says of a whole session, beyond its sets."""

    athlete: str
    date: date
    ordinal: int
    session_rpe: float | None
    duration_min: float | None
    started_at: datetime | None
    note: str | None
    place: Place


@dataclass(frozen=True, slots=True)
class PainRow:
    """One rating, or one severity word, for one site. rating None: only a word was given."""

    athlete: str
    date: date  # the day on which it was given; what a session's row says of the next morning, the day after it
    reported_at: datetime | None
    rating: float | None  # 0 to 10; "3-4" is read as 4 and flagged in evidence
    severity_word: str | None
    site: str  # elbow, upper arm, forearm, wrist, shoulder, knee, back, hip, other, unknown
    side: Literal["left", "right", "both", "unknown"]
    moment: Moment
    kind: Literal["pain", "soreness", "numbness", "swelling", "weakness", "other"]
    origin: Origin
    evidence: str  # the words or the cell that it was read from
    place: Place


@dataclass(frozen=True, slots=True)
class ScreenRow:
    """One mobility or strength test result."""

    athlete: str
    date: date
    test: str
    side: Literal["left", "right", "both", "unknown"]
    value: float
    unit: str
    place: Place


@dataclass(frozen=True, slots=True)
class RejectedRow:
    """A row, or a single cell of a stored row, that was set aside; the original text stays here."""

    place: Place
    value: str  # the offending text; for a whole row its cells joined with " | "
    reason: str  # plain words
    remedy: str  # what the user can do
    is_whole_row: bool  # False: the rest of the row was stored


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that the reader took a word to mean, or did not understand (understood None)."""

    file: str
    sheet: str
    kind: Literal["exercise", "bar", "bar position", "grip", "site", "person", "column", "moment", "severity"]
    written: str
    understood: str | None
    how: Literal["exact", "vocabulary", "season.toml", "unambiguous", "assumed", "legend", "not known"]
    nearest: str | None  # the nearest known word, when not understood
    n_rows: int


@dataclass(frozen=True, slots=True)
class SheetReading:
    """How one sheet (or one file without sheets) was read. rows_read = stored + rejected + not data."""

    file: str
    sheet: str
    layout: str  # plain words: "one row a set", "weekly grid", ...
    columns: dict[str, str]  # heading as written -> what it was taken for
    date_order: str  # "day first", "month first", "year first", "true dates", "none"
    unit: str  # "kg", "lb", "kg and lb by cell", "none"
    language: str  # ISO 639-1 code of most of its words
    is_hidden: bool
    rows_read: int
    rows_stored: int
    rows_rejected: int
    rows_not_data: int
    assumptions: tuple[str, ...] = ()  # one plain sentence each


@dataclass(frozen=True, slots=True)
class FileReading:
    """One source file, read or refused. refused: the plain reason why nothing of it could be read, else None."""

    file: str
    sha256: str
    format: str  # csv, tsv, xlsx, xls, ods
    encoding: str | None
    refused: str | None
    sheets: tuple[SheetReading, ...] = ()


@dataclass(slots=True)
class Logs:
    """Everything that one import read. Of long files sets and reports may be kept as frames (framed.py)."""

    files: list[FileReading] = field(default_factory=list)
    sets: Sequence[SetRow] = field(default_factory=list)
    sessions: list[SessionRow] = field(default_factory=list)
    pain: Sequence[PainRow] = field(default_factory=list)
    screens: list[ScreenRow] = field(default_factory=list)
    rejected: list[RejectedRow] = field(default_factory=list)
    choices: list[Choice] = field(default_factory=list)
    people: dict[str, tuple[str, ...]] = field(default_factory=dict)  # display name -> the ways it was written
