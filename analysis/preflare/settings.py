"""season.toml: who, when, and what counts. Read once, checked whole, frozen.

Every key has a default, so the file is optional. An error names the file, the line and the key, says what was found
and what would be right. Definitions (event, flare-up, seed, assumptions) are hashed, so that a later change shows.
"""

import hashlib
import json
import re
import tomllib
from datetime import date
from difflib import get_close_matches
from pathlib import Path
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError, field_validator, model_validator

from preflare.errors import UsageError
from preflare.resources import resource

SETTINGS_FILE = "season.toml"


def languages() -> list[str]:
    """The languages that findings and reports can be written in (ISO 639-1): one file each in reports/words."""
    return sorted(path.stem for path in (resource("reports") / "words").glob("*.toml"))


DECLARED: dict[str, Any] = {
    "family": ["intensity", "safety", "cambered", "narrow", "wide", "high", "sets"],
    "size": {"intensity": 10.0, "sets": 5.0},
    "reference": {"bar": "straight", "grip_width": "medium", "bar_position": "low"},
    "gate": {"contributing": 6, "exposed": 30, "events": 30},
    "limit": {"clear": 0.05, "leaning": 0.10},
}
"""What the program itself declares beforehand: the contrasts, their sizes and references, the data gate, the grades.

`findings` holds the same values where it uses them; a test keeps the two alike. They are hashed with the squad's own
definitions, so that a later version which asks or grades otherwise shows as a change.
"""


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, populate_by_name=True)


class Season(_Table):
    """The season itself. from/to limit what is analysed; default_site names the site of a bare pain column.

    name: empty where none is given; pages then say "The season" in their own language. language: ISO 639-1, of the
    findings and reports; one file of its name in reports/words.
    """

    name: str = ""
    from_: date | None = Field(default=None, alias="from")
    to: date | None = None
    default_site: str | None = None
    notes: bool = True
    exposures: str | None = None
    seed: int = Field(default=1, ge=0)
    language: str = "en"

    @model_validator(mode="after")
    def _in_order(self) -> "Season":
        if self.from_ and self.to and self.from_ > self.to:
            raise ValueError(f"from ({self.from_}) lies after to ({self.to}); swap them")
        return self

    @field_validator("language")
    @classmethod
    def _has_words(cls, language: str) -> str:
        if language not in languages():
            raise ValueError(f'there are no words in "{language}"; known here: {", ".join(languages())}')
        return language


class Assume(_Table):
    """What an empty cell stands for, where the squad says so. Nothing is assumed otherwise."""

    bar: Literal["straight", "safety", "cambered", "other"] | None = None
    grip_width: Literal["narrow", "medium", "wide"] | None = None
    bar_position: Literal["high", "low"] | None = None


class Event(_Table):
    """The event behind every "per 100": a rating of at least `rating` at one of `sites`."""

    rating: int = Field(default=4, ge=1, le=10)
    sites: list[str] = Field(default=["elbow", "upper arm", "forearm"], min_length=1)


class FlareUp(_Table):
    """A flare-up: a rating at least `rise` above the athlete's own baseline and at least `at_least`."""

    rise: int = Field(default=2, ge=1, le=10)
    at_least: int = Field(default=4, ge=1, le=10)
    baseline_days: int = Field(default=14, ge=5)
    over_after: int = Field(default=3, ge=1)


class Athlete(_Table):
    """One person and the other ways in which the name is written."""

    name: str = Field(min_length=1)
    aliases: list[str] = []


class Competition(_Table):
    """A meet. athletes left out: everybody entered."""

    date: date
    name: str = "competition"
    athletes: list[str] | None = None
    priority: int | None = None


class Change(_Table):
    """A recorded change in training, and why it was made. athletes left out: the whole squad."""

    date: date
    what: str
    why: str | None = None
    athletes: list[str] | None = None


class Source(_Table):
    """How to read the files whose relative path matches `file` (a pattern with * and ?). Overrides the reader."""

    file: str
    sheet: str | None = None
    ignore: bool = False
    day_first: bool | None = None
    unit: Literal["kg", "lb"] | None = None
    year: int | None = Field(default=None, ge=1950, le=2100)
    person: str | None = None
    filled: Literal["before", "after", "morning", "evening"] | None = None
    columns: dict[str, str] = {}


class Words(_Table):
    """The squad's own words, by canonical word: bar.safety = ["our yoke bar"]."""

    bar: dict[str, list[str]] = {}
    bar_position: dict[str, list[str]] = {}
    grip_width: dict[str, list[str]] = {}
    grip_style: dict[str, list[str]] = {}
    exercise: dict[str, list[str]] = {}
    site: dict[str, list[str]] = {}


class Settings(_Table):
    """All of season.toml."""

    season: Season = Season()
    assume: Assume = Assume()
    event: Event = Event()
    flare_up: FlareUp = FlareUp()
    athlete: list[Athlete] = []
    competition: list[Competition] = []
    change: list[Change] = []
    source: list[Source] = []
    words: Words = Words()

    def definitions(self) -> dict[str, Any]:
        """What counts, as decided before any model is run: the values that the definitions hash covers."""
        return {
            "event": self.event.model_dump(),
            "flare_up": self.flare_up.model_dump(),
            "assume": self.assume.model_dump(),
            "seed": self.season.seed,
            **DECLARED,
        }

    def definitions_hash(self) -> str:
        """The first 12 hexadecimal digits of the SHA-256 of the definitions, written as canonical JSON."""
        return hashlib.sha256(json.dumps(self.definitions(), sort_keys=True).encode()).hexdigest()[:12]


def load_settings(path: Path | None) -> Settings:
    """season.toml at `path`, or every default when path is None. Raises UsageError naming line and key."""
    if path is None:
        return Settings()
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as problem:
        raise UsageError(f"{path}: cannot be read ({problem}). Save it as UTF-8 text and try again.") from None
    return parse_settings(text, str(path))


def parse_settings(text: str, name: str = SETTINGS_FILE) -> Settings:
    """Settings from the text of a season.toml. Raises UsageError with every problem, one a line."""
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        raise UsageError(f"{name}: this is not TOML as it stands: {problem}.") from None
    try:
        return Settings.model_validate(values)
    except ValidationError as problem:
        lines = _lines_of_keys(text)
        errors = [_in_words(name, lines, error) for error in problem.errors()]
        raise UsageError("\n".join(errors)) from None


_HEADER = re.compile(r"^\s*\[(\[)?\s*([A-Za-z0-9_.\"-]+)\s*\]?\]")
_KEY = re.compile(r"^\s*([A-Za-z0-9_-]+)\s*(?:\.[^=]*)?=")


def _lines_of_keys(text: str) -> dict[tuple[str | int, ...], int]:
    """Where each table and key stands: location as pydantic gives it -> 1-based line."""
    lines: dict[tuple[str | int, ...], int] = {}
    table: tuple[str | int, ...] = ()
    seen: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), start=1):
        if header := _HEADER.match(line):
            names: list[str | int] = [*header[2].replace('"', "").split(".")]
            if header[1]:
                index = seen.get(header[2], -1) + 1
                seen[header[2]] = index
                names.append(index)
            table = tuple(names)
            lines.setdefault(table, number)
        elif key := _KEY.match(line):
            lines.setdefault((*table, key[1]), number)
    return lines


def _line_of(location: tuple[str | int, ...], lines: dict[tuple[str | int, ...], int]) -> int | None:
    return next((lines[location[:n]] for n in range(len(location), 0, -1) if location[:n] in lines), None)


def _known_keys(location: tuple[str | int, ...]) -> list[str]:
    """The keys that the table around `location` knows, under the names that season.toml uses."""
    fields = Settings.model_fields
    tables: dict[str, type[_Table]] = {
        "season": Season, "assume": Assume, "event": Event, "flare_up": FlareUp, "athlete": Athlete,
        "competition": Competition, "change": Change, "source": Source, "words": Words,
    }  # fmt: skip
    if len(location) > 1 and isinstance(location[0], str) and location[0] in tables:
        fields = tables[location[0]].model_fields
    return [field.alias or name for name, field in fields.items()]


def _in_words(name: str, lines: dict[tuple[str | int, ...], int], error: Any) -> str:
    """One of pydantic's errors as a sentence: file, line, key, value, remedy."""
    location = tuple(error["loc"])
    line = _line_of(location, lines)
    key = ".".join(str(part + 1) if isinstance(part, int) else part for part in location) or "season.toml"
    where = f"{name}, line {line}: {key}" if line else f"{name}: {key}"
    value = error.get("input")
    kind = error["type"]
    if kind == "extra_forbidden":
        known = _known_keys(location)
        close = get_close_matches(str(location[-1]), known, n=1)
        hint = f'Did you mean "{close[0]}"?' if close else f"Known here: {', '.join(known)}."
        return f"{where} is not a setting. {hint}"
    if kind == "missing":
        return f"{where} is missing. Every [[{location[0]}]] needs it."
    if kind == "literal_error":
        return f"{where} is {value!r}; it must be {error['ctx']['expected']}."
    if kind.startswith("date"):
        return f"{where} is {value!r}; write a date without quotes, such as 2026-05-16."
    if kind.endswith("_type"):
        wanted = {"int": "a whole number", "string": "text in quotes", "bool": "true or false", "list": "a list in [ ]",
                  "dict": "a table { }", "model": "a table"}.get(kind.split("_")[0], kind.split("_")[0])  # fmt: skip
        return f"{where} is {value!r}; it must be {wanted}."
    if kind == "value_error":
        return f"{where}: {error['ctx']['error']}."
    limits = {"greater_than_equal": "at least {ge}", "less_than_equal": "at most {le}", "too_short": "not empty",
              "string_too_short": "not empty"}  # fmt: skip
    if kind in limits:
        return f"{where} is {value!r}; it must be {limits[kind].format(**error.get('ctx', {}))}."
    return f"{where} is {value!r}; {error['msg']}."
