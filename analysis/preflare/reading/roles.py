"""What a column may hold, in words: shown to the user, and taken back from season.toml's `columns`."""

import re
from difflib import get_close_matches

from preflare.errors import UsageError
from preflare.reading.headings import Heading
from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import unit_of
from preflare.reading.vocabulary import families, load
from preflare.settings import Source

ROLE_WORDS = {
    "set_work": "one set",
    "set_below": "one set, its parts below one another",
    "label_of_row": "what the row holds",
    "loads_planned": "loads of the sets planned",
    "week_column": "a week",
    "day_column": "a day",
    "weekday_column": "a weekday",
    "bar_position": "bar position",
    "set_number": "number of the set",
    "session_number": "number of the session",
    "session_rpe": "session RPE",
    "rpe": "RPE",
    "rir": "repetitions in reserve",
    "reps": "repetitions",
    "work": "work in short",
    "first_name": "first name",
    "last_name": "last name",
    "moment": "when",
    "pain_kind": "kind of pain",
    "warm_up": "warm-up",
    "unknown": "not known, not read",
    "ignored": "left alone",
    "screen": "test result",
    "timestamp": "time stamp",
}
_ROLES = {word: role for role, word in ROLE_WORDS.items()} | {role: role for role in (*load("headings"), *ROLE_WORDS)}
_MOMENTS = {"before", "during", "after", "next morning"}


def in_words(role: str, heading: Heading | None) -> str:
    """A column's role with all that its heading adds: "pain, elbow, left, after", "load, kg, set 2"."""
    words = [ROLE_WORDS.get(role, role)]
    if heading is not None:
        parts = (heading.exercise, heading.test, heading.site, heading.side, heading.moment, heading.unit)
        words += [str(part) for part in parts if part]
        words += [f"set {heading.number}"] if heading.number and not role.endswith("_column") else []
    return ", ".join(words)


def taught_heading(written: str, words: str, lexicon: Lexicon) -> Heading:
    """The heading that season.toml says `written` to be; the words of `in_words` and plain role names both hold.

    Raises UsageError when the first of the words is no kind of column.
    """
    if words.startswith("not known"):
        return Heading(written, ("ignored",), True)
    first, *rest = [part.strip() for part in words.split(",")]
    role = _ROLES.get(first) or _ROLES.get(first.casefold().replace(" ", "_"))
    if role is None:
        close = get_close_matches(first, list(_ROLES), n=1)
        hint = f'Did you mean "{close[0]}"?' if close else f"Known: {', '.join(sorted(load('headings')))}."
        raise UsageError(f'season.toml, [[source]] columns: "{written}" = "{words}" names no kind of column. {hint}')
    found: dict[str, str] = {}
    number = None
    for part in rest:
        if match := re.fullmatch(r"set (\d+)", part):
            number = int(match[1])
        elif unit := unit_of(part) or (part if part in {"deg", "cm", "mm"} else None):
            found["unit"] = unit
        elif part in families():
            found["exercise"] = part
        elif part in _MOMENTS:
            found["moment"] = part
        elif side := lexicon.side.exact(part):
            found["side"] = side
        elif site := lexicon.site.exact(part):
            found["site"] = site
        elif part in lexicon.screen_units:
            found["test"] = part
    return Heading(written, (role,), True, number, kind="pain" if role == "pain" else None, **found)  # type: ignore[arg-type]


def taught_headings(rules: Source, lexicon: Lexicon) -> dict[str, Heading]:
    """Every heading that a [[source]] entry teaches."""
    return {written: taught_heading(written, words, lexicon) for written, words in rules.columns.items()}
