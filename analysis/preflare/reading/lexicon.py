"""Words to canonical words: phrase tables made from the vocabulary files and season.toml's [words].

A phrase table maps folded phrases to canonical words and finds the longest phrases in a text. Nothing here guesses:
a word is known exactly, or the nearest known word is offered as a suggestion and not used.
"""

import re
from collections.abc import Callable, Hashable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import cache, lru_cache
from typing import Any, TypeVar, cast

from preflare.reading import vocabulary
from preflare.reading.text import fold, spellings
from preflare.settings import Words

SUGGEST_FROM = 75  # similarity (0 to 100) from which a known word is worth offering


@dataclass(slots=True)
class Phrases:
    """Folded phrase -> canonical word, for one subject."""

    known: dict[str, str] = field(default_factory=dict)
    languages: dict[str, set[str]] = field(default_factory=dict)  # folded phrase -> languages that use it
    taught: set[str] = field(default_factory=set)  # phrases that season.toml added
    from_legend: frozenset[str] = frozenset()  # phrases that the file's own legend added
    letters: dict[str, str] = field(default_factory=dict)  # single letters of its legend, for whole cells and gear
    longest: int = 1
    _folded: dict[str, str | None] = field(default_factory=dict)

    def add(self, canonical: str, words: Iterable[str], language: str = "", is_taught: bool = False) -> None:
        """Let `words` mean `canonical`. The first meaning of a word stays, unless season.toml teaches another."""
        for word in words:
            for phrase in spellings(word):
                if not phrase:
                    continue
                if is_taught:
                    self.known[phrase] = canonical
                    self.taught.add(phrase)
                else:
                    self.known.setdefault(phrase, canonical)
                self.languages.setdefault(phrase, set()).add(language)
                self.longest = max(self.longest, phrase.count(" ") + 1)

    def exact(self, text: str) -> str | None:
        """The canonical word for the whole of `text`, or None. A plural "s" more or less does not matter."""
        if text not in self._folded:
            phrase = fold(text)
            hit = self.letters.get(phrase) or self.known.get(phrase)
            if hit is None and len(phrase) > 3:
                hit = self.known.get(phrase[:-1]) if phrase.endswith("s") else self.known.get(phrase + "s")
            self._folded[text] = hit
        return self._folded[text]

    def find(self, words: list[str]) -> Iterator[tuple[int, int, str]]:
        """(start, end, canonical) for each known phrase in `words`, left to right, the longest first."""
        start = 0
        while start < len(words):
            for length in range(min(self.longest, len(words) - start), 0, -1):
                hit = self.known.get(" ".join(words[start : start + length]))
                if hit is not None:
                    yield start, start + length, hit
                    start += length
                    break
            else:
                start += 1

    def nearest(self, text: str) -> str | None:
        """The canonical word whose phrase is nearest to `text`, to be offered only; None when nothing is near."""
        from rapidfuzz import fuzz, process

        found = process.extractOne(
            fold(text), self.known.keys(), scorer=fuzz.token_sort_ratio, score_cutoff=SUGGEST_FROM
        )
        return self.known[found[0]] if found else None


def _from_tables(tables: dict[str, dict[str, list[str]]]) -> Phrases:
    phrases = Phrases()
    for canonical, by_language in tables.items():
        for language, words in by_language.items():
            phrases.add(canonical, words, language)
    return phrases


def _exercise_phrases() -> Phrases:
    phrases = Phrases()
    for entry in vocabulary.load("exercises")["exercise"]:
        phrases.add(entry["name"], [entry["name"]], "en")
        for language, words in entry["words"].items():
            phrases.add(entry["name"], words, language)
    return phrases


def _screen_phrases() -> tuple[Phrases, dict[str, str]]:
    phrases, units = Phrases(), {}
    for entry in vocabulary.load("screens")["test"]:
        units[entry["name"]] = entry["unit"]
        for language, words in entry["words"].items():
            phrases.add(entry["name"], words, language)
    return phrases, units


MOST_KEPT = 50_000  # texts whose reading is remembered, of each kind
T = TypeVar("T")


@dataclass(slots=True)
class Lexicon:
    """All phrase tables of one run."""

    exercise: Phrases
    bar: Phrases
    width: Phrases
    style: Phrases
    position: Phrases
    site: Phrases
    side: Phrases
    kind: Phrases
    severity: Phrases
    negation: Phrases
    moment: Phrases
    heading: Phrases
    month: Phrases
    weekday: Phrases
    sheet: Phrases
    work: Phrases
    modifier: Phrases
    screen: Phrases
    screen_units: dict[str, str]
    talk: dict[str, Phrases]  # small words around ratings of pain, by what they do (pain_talk.toml)
    headings_of: dict[str, list[str]]  # folded heading -> every role that the word may have
    lift_words: frozenset[str] = frozenset()  # single words of the names of exercises
    kept: dict[str, dict[Any, Any]] = field(default_factory=dict)  # what was read before: kind -> text -> reading
    own_words: dict[str, frozenset[str]] = field(default_factory=dict)  # kind of word in sheets.toml -> a legend's own
    rewrites: tuple[tuple[re.Pattern[str], str], ...] = ()  # a legend's signs in shorthand -> what they are written for
    pain_rewrites: tuple[tuple[re.Pattern[str], str], ...] = ()  # the same for its letters beside ratings of pain

    def changed(self, **changes: Any) -> "Lexicon":
        """A copy with other words, which remembers nothing that was read with these."""
        return replace(self, kept={}, **changes)

    def lifts_named(self, cells: Iterable[object]) -> set[str]:
        """The lifts that are all that one of some cells says."""
        return {lift for cell in cells if isinstance(cell, str) and (lift := self.exercise.exact(cell)) is not None}

    def remembered(self, kind: str, key: Hashable, read: Callable[[], T]) -> T:
        """What `read` gives for a key, read once for each kind of reading; leave what is given back as it is."""
        kept = self.kept.setdefault(kind, {})
        if key not in kept:
            if len(kept) >= MOST_KEPT:
                kept.clear()
            kept[key] = read()
        return cast(T, kept[key])

    def rewritten(self, text: str) -> str:
        """The text with the signs of the file's legend written out."""
        return _replaced(text, self.rewrites)

    def rewritten_pain(self, text: str) -> str:
        """The text about pain with the letters of the file's legend written out."""
        return _replaced(text, self.pain_rewrites)

    def sheet_word(self, text: str, kind: str) -> bool:
        """Whether the whole of `text` is a word of that kind in sheets.toml (total, rest, same, missing...)."""
        folded = fold(text)
        return folded in _sheet_words()[kind] or folded in self.own_words.get(kind, ())

    def sides_in(self, words: list[str]) -> list[tuple[int, int, str]]:
        """(start, end, side) in folded words; in "right after" and "right now" the word is none."""
        return [
            hit
            for hit in self.side.find(words)
            if not (words[hit[0] : hit[1]] == ["right"] and hit[1] < len(words) and words[hit[1]] in _NOT_A_SIDE)
        ]

    def moments_in(self, text: str) -> list[tuple[int, int, str]]:
        """(start, end, moment) in the folded words of `text`; English "for" is not Norwegian "før"."""
        words = fold(text).split()
        is_for = "før" not in text.casefold() and "för" not in text.casefold()
        return [hit for hit in self.moment.find(words) if not (is_for and words[hit[0] : hit[1]] == ["for"])]


_NOT_A_SIDE = {"after", "now", "before", "away", "at", "from", "here", "then", "when", "through", "on"}


@cache
def _sheet_words() -> dict[str, frozenset[str]]:
    return {
        kind: frozenset(form for words in by_language.values() for word in words for form in spellings(word))
        for kind, by_language in vocabulary.load("sheets").items()
    }


@lru_cache(maxsize=50_000)
def names_total(text: str) -> bool:
    """Whether a text begins with a word for totals ("Total", "Week total: 12 squat sets", "Week 1 total")."""
    words = [word for word in fold(text).split() if not word.isdecimal()][:3]
    heads = {" ".join(words[start : start + n]) for n in (1, 2) for start in (0, 1)}
    return bool(heads & _sheet_words()["total"])


@cache
def generic_words() -> frozenset[str]:
    """Single folded words that may stand in the name of a sheet or file without naming a person."""
    return frozenset(word for phrase in _sheet_words()["generic"] for word in phrase.split())


def _all_roles(tables: dict[str, dict[str, list[str]]]) -> dict[str, list[str]]:
    roles: dict[str, list[str]] = {}
    for role, by_language in tables.items():
        for words in by_language.values():
            for word in words:
                for phrase in spellings(word):
                    if role not in roles.setdefault(phrase, []):
                        roles[phrase].append(role)
    return roles


def make_lexicon(words: Words | None = None) -> Lexicon:
    """The phrase tables of the vocabulary files, with a squad's own words added. Made once for the same words."""
    return _made_lexicon("" if words is None or words == Words() else words.model_dump_json())


def _replaced(text: str, rewrites: tuple[tuple[re.Pattern[str], str], ...]) -> str:
    for pattern, plain in rewrites:
        text = pattern.sub(plain, text)
    return text


@lru_cache(maxsize=4)
def _made_lexicon(own_words: str) -> Lexicon:
    grips: dict[str, Any] = vocabulary.load("grips")
    pain: dict[str, Any] = vocabulary.load("pain")
    calendar: dict[str, Any] = vocabulary.load("calendar")
    work = dict(vocabulary.load("work"))
    modifier = Phrases()
    for language, modifiers in work.pop("modifier").items():
        modifier.add("modifier", modifiers, language)
    screen, units = _screen_phrases()
    headings = vocabulary.load("headings")
    lexicon = Lexicon(
        exercise=_exercise_phrases(), bar=_from_tables(vocabulary.load("bars")), width=_from_tables(grips["width"]),
        style=_from_tables(grips["style"]), position=_from_tables(grips["position"]), site=_from_tables(pain["site"]),
        side=_from_tables(pain["side"]), kind=_from_tables(pain["kind"]), severity=_from_tables(pain["severity"]),
        negation=_from_tables(pain["negation"]), moment=_from_tables(pain["moment"]), heading=_from_tables(headings),
        month=_from_tables(calendar["month"]), weekday=_from_tables(calendar["weekday"]),
        sheet=_from_tables(vocabulary.load("sheets")), work=_from_tables(work), modifier=modifier, screen=screen,
        screen_units=units, talk={role: _from_tables(words) for role, words in vocabulary.load("pain_talk").items()},
        headings_of=_all_roles(headings),
    )  # fmt: skip
    lexicon.lift_words = frozenset(word for phrase in lexicon.exercise.known for word in phrase.split())
    if own_words:
        _teach(lexicon, Words.model_validate_json(own_words))
    return lexicon


def _teach(lexicon: Lexicon, words: Words) -> None:
    """Add season.toml's [words]. A canonical exercise may be written with any case ("Back squat")."""
    for table, phrases in ((words.bar, lexicon.bar), (words.bar_position, lexicon.position),
                           (words.grip_width, lexicon.width), (words.grip_style, lexicon.style),
                           (words.site, lexicon.site)):  # fmt: skip
        for canonical, own in table.items():
            phrases.add(fold(canonical), own, is_taught=True)
    for written, own in words.exercise.items():
        canonical = lexicon.exercise.exact(written) or fold(written)
        lexicon.exercise.add(canonical, own, is_taught=True)
