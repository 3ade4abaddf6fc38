"""The wording: one file a language in reports/words, loaded once, filled with figures, never put together in Python.

A template is a sentence with {fields}. Fields that are estimates (class Estimate) come out slanted, all other figures
upright: a reader can see which numbers were counted.
"""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from string import Formatter
from typing import Any

from preflare.errors import PreflareError
from preflare.reporting.records import Span, Text
from preflare.resources import resource

CANONICAL = ("column", "exercise", "bar", "grip", "position", "test", "site", "side", "moment", "severity", "unit")
"""The tables of the reader's canonical words, in the order in which they are asked."""
_NUMBERED = re.compile(r"(set|rating) (\d+)")


class Estimate(str):
    """Words that hold an estimated figure. Set slanted wherever they stand. sort: the figure itself, where known."""

    sort: str = ""


def estimated(words: str, value: float) -> Estimate:
    """`words`, told of the estimate `value`."""
    made = Estimate(words)
    made.sort = f"{value:.6g}"
    return made


class Link(str):
    """Words that lead to another page or another place of this one. Made by `link`."""

    href: str


class Day(str):
    """Words that say a date. Made by numbers.table_day."""

    iso: str


def day_in_words(words: str, iso: str) -> Day:
    """`words`, saying the date `iso` (ISO 8601)."""
    made = Day(words)
    made.iso = iso
    return made


def link(words: str, href: str) -> Link:
    """`words`, leading to `href` (a relative path or #id)."""
    made = Link(words)
    made.href = href
    return made


@dataclass(frozen=True)
class Words:
    """All the words of one language. Keys are dotted: "team.title". A missing key is a fault of the language file."""

    language: str
    tables: Mapping[str, Any]

    def get(self, key: str) -> Any:
        """Whatever stands at `key`: a text, a list or a table. Raises PreflareError naming language and key."""
        found: Any = self.tables
        for part in key.split("."):
            if not isinstance(found, Mapping) or part not in found:
                raise PreflareError(f'The language file "{self.language}.toml" has no words for "{key}".')
            found = found[part]
        return found

    def text(self, key: str, **fields: Any) -> str:
        """The template at `key` with its fields filled, as plain text."""
        return str(self.get(key)).format(**fields)

    def spans(self, key: str, **fields: Any) -> Text:
        """The template at `key` with its fields filled, each field set as what it is."""
        return fill(str(self.get(key)), **fields)

    def count(self, noun: str, n: int) -> str:
        """A number with its noun in the right number: "1 lifter", "20 lifters"."""
        forms = self.get(f"count.{noun}")
        return str(forms["one" if n == 1 else "other"]).format(n=thousands(n, self))

    def word(self, table: str, key: str) -> str:
        """The word for a canonical value ("safety" in table "bar"); the value itself where the file has none."""
        found = self.tables.get(table, {}).get(key, key)
        return str(found)

    def phrase(self, told: str, *first: str) -> str:
        """Canonical words in a row ("pain, elbow, left"), each in the language's own; `first`: tables to ask first."""
        return ", ".join(self._canonical(part, (*first, *CANONICAL)) for part in told.split(", "))

    def _canonical(self, part: str, tables: tuple[str, ...]) -> str:
        if numbered := _NUMBERED.fullmatch(part):
            return self.text(f"numbered.{numbered[1]}", n=numbered[2])
        return next((str(self.tables[t][part]) for t in tables if part in self.tables[t]), part)

    def listing(self, items: list[str]) -> str:
        """Items in one line: "a, b and c"."""
        if len(items) < 2:
            return "".join(items)
        return f"{', '.join(items[:-1])} {self.get('number.and')} {items[-1]}"


def fill(template: str, **fields: Any) -> Text:
    """A template as spans: its own words plain, its fields as what they are."""
    spans: list[Span] = []
    for literal, name, form, _ in Formatter().parse(template):
        if literal:
            spans.append(Span(literal))
        if name:
            spans.extend(as_text(format(fields[name], form) if form else fields[name]))
    return tuple(spans)


def as_text(value: Any) -> Text:
    """Any value as spans: texts pass through, estimates slanted, links linked, days dated, the rest plain."""
    if isinstance(value, tuple):
        return value
    if isinstance(value, Estimate):
        return (Span(str(value), "estimate", sort=value.sort),)
    if isinstance(value, Link):
        return (Span(str(value), "link", value.href),)
    if isinstance(value, Day):
        return (Span(str(value), "day", sort=value.iso),)
    return (Span(str(value)),)


def thousands(n: int, words: Words) -> str:
    """A counted whole number with the language's sign between the thousands."""
    return f"{n:,}".replace(",", str(words.get("number.thousands")))


@lru_cache(maxsize=8)
def load_words(language: str = "en") -> Words:
    """The words of `language`, an ISO 639-1 code. Raises PreflareError when reports/words has no such file."""
    path = resource("reports") / "words" / f"{language}.toml"
    if not path.is_file():
        known = ", ".join(sorted(p.stem for p in path.parent.glob("*.toml")))
        raise PreflareError(f'There are no report words in the language "{language}". Known here: {known}.')
    return Words(language, tomllib.loads(path.read_text(encoding="utf-8")))
