"""Who the people of logs that name nobody can be, once every file is read and all names are joined."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from preflare.reading.context import RowKey, Yield
from preflare.reading.people import Person
from preflare.reading.repeats import key_of, stored_rows
from preflare.reading.text import spaces
from preflare.settings import Athlete


@dataclass(slots=True)
class Unnamed:
    """people: unnamed as written -> who that is. said: file -> what to say of it. open: rows -> reason and remedy."""

    people: dict[str, Person] = field(default_factory=dict)
    said: dict[str, str] = field(default_factory=dict)
    open: dict[RowKey, tuple[str, str]] = field(default_factory=dict)


def settle_unnamed(out: Yield, found: Mapping[str, Person], known: Sequence[Athlete]) -> Unnamed:
    """Who is meant by the files that name nobody. found: every other name as written -> its person.

    A file of which other sheets name one person is theirs; one of which they name several keeps those rows open. A file
    without any name is that of the only person whom season.toml or the other files know, else of an unnamed one;
    several such files are one person's, unless two hold sets of the same day.
    """
    settled = Unnamed()
    by_file, days = _seen(out, found)
    everyone = {name for names in by_file.values() for name in names} | {one.name for one in known}
    first: dict[str, set[date]] = {}  # unnamed people that stay so -> the days of their sets
    for written, file in sorted(out.unnamed.items(), key=lambda pair: pair[1]):
        here = by_file[file]
        if len(here) > 1:
            settled.open |= _left_open(out, written, file)
            continue
        if len(here or everyone) == 1:
            (name,) = here or everyone
            settled.people[written] = Person(name, "assumed")
            settled.said[file] = _of_only_one(name, file)
            continue
        name = next((name for name, seen in first.items() if not seen & days[written]), written)
        first[name] = first.get(name, set()) | days[written]
        settled.people[written] = Person(name, "assumed")
        settled.said[file] = _of_nobody(name, file)
    return settled


def _seen(out: Yield, found: Mapping[str, Person]) -> tuple[dict[str, set[str]], dict[str, set[date]]]:
    """(file -> the people whom it names, unnamed as written -> the days of their sets)."""
    by_file: dict[str, set[str]] = defaultdict(set)
    days: dict[str, set[date]] = defaultdict(set)
    for row in (row for rows in stored_rows(out) for row in rows):
        if row.athlete not in out.unnamed:
            by_file[row.place.file].add(found[spaces(row.athlete)].name)
    for one in out.sets:
        if one.athlete in out.unnamed:
            days[one.athlete].add(one.date)
    for plain in out.plain:
        for name in plain.sets["athlete"].unique().to_list():
            if name not in out.unnamed:
                by_file[plain.file].add(found[spaces(name)].name)
    return by_file, days


def _left_open(out: Yield, written: str, file: str) -> dict[RowKey, tuple[str, str]]:
    """The rows of nobody in a file that names several people."""
    reason = "it is not known whose log this is"
    remedy = f'name the person in season.toml: [[source]] file = "{file}", person = "..."'
    rows = (row for rows in stored_rows(out) for row in rows if row.athlete == written)
    return {key_of(row.place): (reason, remedy) for row in rows}


def _entry(file: str) -> str:
    return f'[[source]] file = "{file}", person = "..."'


def _of_only_one(name: str, file: str) -> str:
    return f'It names nobody, and was read as that of "{name}", the only person known. If not, say so: {_entry(file)}'


def _of_nobody(name: str, file: str) -> str:
    return f'It names nobody, so it was read as that of one person called "{name}". Name them: {_entry(file)}'
