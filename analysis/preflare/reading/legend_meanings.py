"""What the words of a meaning in a legend come to: an exercise, a bar, a grip, a side, body weight, a heading.

The whole of a meaning must be known, save brackets, articles and what follows "with"; nothing is taken from the rest.
"""

import re
from dataclasses import dataclass, replace
from typing import Literal

from preflare.reading.clauses import words_of_clause
from preflare.reading.diary_words import begins_with, diary_words
from preflare.reading.legend_lines import legend_words
from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import unit_of
from preflare.reading.text import fold, words_of
from preflare.reading.words import Gear, WordReader

MeaningKind = Literal[
    "exercise", "bar", "position", "width", "style", "side", "site", "moment", "severity", "work", "reserve", "unit",
    "same", "missing", "rest", "as_planned", "heading", "pain", "correction",
    "before_stroke",
]  # fmt: skip
GEAR_KINDS: dict[str, tuple[MeaningKind, ...]] = {
    "bar": ("bar", "position", "width", "style"),
    "grip": ("width", "style", "position", "bar"),
    "bar_position": ("position", "bar", "width", "style"),
    "": ("bar", "position", "width", "style"),
}
_SHEET_WORDS: tuple[MeaningKind, ...] = ("same", "as_planned", "rest", "missing")
_HEADINGS = frozenset(
    {"bar", "grip", "bar_position", "rpe", "rir", "reps", "load", "sets", "note", "exercise", "person", "date"}
)
QUOTES = "«»\"“”„'‘’`*·•–-— \u00a0"
_NO_GEAR = Gear()
_MOST_OF_RESERVE = 8  # words of "how many repetitions were left in the tank"
_MOST_OF_SAME = 9  # words of a meaning "as the last time"


@dataclass(frozen=True, slots=True)
class Term:
    """A sign and what it means in this file. value: canonical word; gear: what an exercise's words say besides."""

    written: str
    kind: MeaningKind
    value: str
    said: str
    gear: Gear = _NO_GEAR
    before: str | None = None  # what the general vocabulary takes the sign for, where that differs


@dataclass(frozen=True, slots=True)
class Unclear:
    """A sign whose meaning the vocabulary does not know."""

    written: str
    said: str


def role_of(text: str, lexicon: Lexicon) -> str | None:
    """The kind of gear that words before a list name ("Bar (squat)", "chwyt w przysiadzie")."""
    bare = re.sub(r"\([^()]*\)", " ", text)
    if fold(bare) in lexicon.headings_of:
        roles = lexicon.headings_of[fold(bare)]
    else:
        roles = [role for _, _, role in lexicon.heading.find(words_of(bare)) if role in GEAR_KINDS]
    gear = [role for role in roles if role in GEAR_KINDS]
    return gear[0] if gear else None


def plain(text: str) -> str:
    """A meaning without brackets, quotes and full stop."""
    return " ".join(re.sub(r"\([^()]*\)?|\[[^\[\]]*\]?", " ", text).strip(" .!" + QUOTES).split())


def _without_articles(text: str) -> str:
    words = text.split()
    while len(words) > 1 and fold(words[0]) in legend_words("article").known:
        words = words[1:]
    return " ".join(words)


def meaning_of(said: str, subject: str, reader: WordReader) -> Term | None:
    """What a meaning comes to, or None when the vocabulary does not know the whole of it."""
    whole = plain(said)
    bare = _without_articles(whole)
    if _is_as_before(whole):
        return Term("", "same", "same", "")
    for text in dict.fromkeys((whole, bare)):
        if text and (found := _known_meaning(text, subject, reader)) is not None:
            return found
    if (found := _meaning_in_brackets(said, subject, reader)) is not None:
        return found
    before = _before_with(bare, reader.lexicon)
    if before and (found := _known_meaning(before, subject, reader)) is not None:
        return found
    short = _before_on_the_back(bare)
    return _gear_meaning(short, subject, reader.lexicon) if short else None


def _before_on_the_back(text: str) -> str:
    """What stands before "on the back": "barra alta nas costas" is a high bar. "" where nothing of it is said."""
    words = text.split()
    if not words or fold(words[-1]) not in legend_words("on_the_back").known | legend_words("shoulders").known:
        return ""
    known = legend_words("on").known | legend_words("article").known
    cut = len(words) - 1
    while cut and fold(words[cut - 1]) in known:  # "on the back"
        cut -= 1
    return " ".join(words[:cut])


def _meaning_in_brackets(said: str, subject: str, reader: WordReader) -> Term | None:
    """The bar, its place or a grip that brackets name where the words before them are none that is known: "the one with
    pads and handles (safety bar)"."""
    inside = [plain(group) for group in re.findall(r"[(\[]([^()\[\]]{3,40})[)\]]", said)]
    found = [term for text in inside if text and (term := _gear_meaning(text, subject, reader.lexicon)) is not None]
    return found[0] if len(found) == len(inside) == 1 else None


def _is_as_before(text: str) -> bool:
    """Whether a meaning says "as" and what was before: "like the last squat", "wie bei der letzten Kniebeuge"."""
    words = words_of(text)
    n = begins_with("same_as", text)
    behind = words[n:]
    last = words_of_clause("last") | diary_words("before_this").known.keys()
    return 0 < n < len(words) <= _MOST_OF_SAME and any(word in last for word in behind)


def _before_with(text: str, lexicon: Lexicon) -> str:
    """What stands before "with": "safety bar with handles" is a safety bar."""
    words = text.split()
    cut = next((i for i, word in enumerate(words) if i and lexicon.work.known.get(fold(word)) == "at"), None)
    return " ".join(words[:cut]) if cut else ""


def _known_meaning(text: str, subject: str, reader: WordReader) -> Term | None:
    lexicon = reader.lexicon
    if subject and (gear := _gear_meaning(text, subject, lexicon)) is not None:
        return gear
    if (numbered := _reserve(text)) is not None:
        return numbered
    named = reader.exercise(text)
    if named.how in {"vocabulary", "season.toml"}:
        return Term("", "exercise", named.exercise, "", _told_gear(text, named.gear, lexicon))
    if roles := [role for role in lexicon.headings_of.get(fold(text), []) if role in _HEADINGS]:
        return Term("", "heading", roles[0], "")
    if unit := _unit(text):
        return Term("", "unit", unit, "")
    for kind, table in (
        ("work", lexicon.work),
        ("side", lexicon.side),
        ("site", lexicon.site),
        ("moment", lexicon.moment),
    ):
        if (hit := table.exact(text)) and hit not in {"at", "of", "part"}:
            return Term("", kind, hit, "")  # type: ignore[arg-type]
    if (gear := _gear_meaning(text, "", lexicon)) is not None:
        return gear
    if (hit := lexicon.severity.exact(text)) is not None:
        return Term("", "severity", hit, "")
    if (found := _pain(text, lexicon)) is not None:
        return found
    return next((Term("", kind, kind, "") for kind in _SHEET_WORDS if _is_sheet_word(text, kind, lexicon)), None)


def _told_gear(text: str, gear: Gear, lexicon: Lexicon) -> Gear:
    """The gear of an exercise's words; an "ordinary" squat names no bar, unless the words speak of one."""
    speaks_of_bar = any("bar" in lexicon.headings_of.get(word, []) for word in words_of(text))
    return gear if gear.bar != "straight" or speaks_of_bar else replace(gear, bar=None, bar_written=None)


def _unit(text: str) -> str | None:
    known = {unit for unit in ("kg", "lb") if fold(text) in legend_words(unit).known}
    return unit_of(text) or (known.pop() if len(known) == 1 else None)


def _is_sheet_word(text: str, kind: str, lexicon: Lexicon) -> bool:
    """Whether a meaning is a word of that kind, or begins with one of two words and more ("as planned in the plan")."""
    words = words_of(text)
    if lexicon.sheet_word(text, kind):
        return True
    return any(lexicon.sheet_word(" ".join(words[:n]), kind) for n in range(len(words), 1, -1))


def _reserve(text: str) -> Term | None:
    """ "buffer 2", "2 reps in reserve", "reps left"."""
    words = [word for word in words_of(text) if not word.isdecimal()]
    hits = [end - start for start, end, _ in legend_words("reserve").find(words)]
    is_question = bool(words) and len(words) <= _MOST_OF_RESERVE and words[0] in legend_words("how_many").known
    return Term("", "reserve", "rir", "") if hits and (len(words) - sum(hits) <= 1 or is_question) else None


def _gear_meaning(text: str, subject: str, lexicon: Lexicon) -> Term | None:
    """A word for bar, position or grip that fills the meaning, save for the word that its subject is named by.

    Without a subject a word that may be two things ("normal") means none.
    """
    tables = {"bar": lexicon.bar, "position": lexicon.position, "width": lexicon.width, "style": lexicon.style}
    words = words_of(text)
    named = {word for word in words if role_of(word, lexicon)}
    texts = [text, " ".join(word for word in words if word not in named)]
    for candidate in dict.fromkeys(one for one in texts if one):
        hits = [(kind, hit) for kind in GEAR_KINDS[subject] if (hit := tables[kind].exact(candidate))]
        own = role_of(text, lexicon) if candidate != text else None
        if own and not subject:
            hits = [(kind, hit) for kind in GEAR_KINDS[own] if (hit := tables[kind].exact(candidate))][:1]
        if hits and (subject or len(hits) == 1):
            return Term("", hits[0][0], hits[0][1], "")
    return None


def _pain(text: str, lexicon: Lexicon) -> Term | None:
    """ "elbow pain": a heading over ratings, with its site."""
    words = words_of(text)
    sites = {hit for _, _, hit in lexicon.site.find(words)}
    is_pain = any(hit == "pain" for _, _, hit in lexicon.kind.find(words))
    return Term("", "pain", sites.pop(), "") if is_pain and len(sites) == 1 and len(words) <= 4 else None


def judged(term: Term, reader: WordReader) -> Term:
    """The term with what the general vocabulary takes its sign for, where that is another thing of the same kind."""
    lexicon = reader.lexicon
    tables = {
        "exercise": lexicon.exercise, "bar": lexicon.bar, "position": lexicon.position, "width": lexicon.width,
        "side": lexicon.side, "site": lexicon.site, "work": lexicon.work, "severity": lexicon.severity,
    }  # fmt: skip
    table = tables.get(term.kind)
    usual = table.exact(term.written) if table is not None else None
    return replace(term, before=usual) if usual is not None and usual != term.value else term
