"""Column headings to roles: what a column holds, for which set, exercise, site, side and moment, and in which unit."""

import re
from dataclasses import dataclass, replace
from typing import cast

from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import unit_of
from preflare.reading.rows import Moment
from preflare.reading.side_letters import WEAK
from preflare.reading.text import fold
from preflare.reading.weeks import day_behind_week_word

_BRACKETS = re.compile(r"[\(\[\{]([^)\]}]*)[\)\]\}]")
_SCALE = re.compile(r"\b0\s*(?:-|–|to|bis|a|à|do|til|till|tot)\s*10\b|/\s*10\b", re.I)
_A_RATING = re.compile(r"[1-9]\s*/\s*10\b")
_UNITS = {
    "cm": "cm",
    "deg": "deg",
    "degrees": "deg",
    "grad": "deg",
    "°": "deg",
    "mm": "mm",
    "n": "N",
    "stopnie": "deg",
    "grader": "deg",
}
# Roles that tell a table of a log from a list of anything else: a header row needs one of them.
ANCHORS = frozenset(
    {
        "date",
        "timestamp",
        "person",
        "exercise",
        "load",
        "reps",
        "sets",
        "work",
        "pain",
        "week",
        "weekday",
        "site",
        "set_number",
        "rpe",
        "test",
        "first_name",
        "last_name",
        "session_number",
        "note",
        "bar",
        "screen",
    }
)


@dataclass(frozen=True, slots=True)
class Heading:
    """What a heading says. roles: candidates, likeliest first; the column's content settles it."""

    written: str
    roles: tuple[str, ...]
    is_exact: bool  # the whole heading is a known one
    number: int | None = None  # "Set 2" -> 2
    unit: str | None = None  # kg, lb, cm, deg
    exercise: str | None = None
    site: str | None = None
    side: str | None = None
    moment: Moment | None = None
    kind: str | None = None  # pain, soreness...
    test: str | None = None


_LONGEST = 120  # characters of a heading


def parse_heading(text: str, lexicon: Lexicon) -> Heading | None:
    """What the heading `text` says, or None when nothing in it is known."""
    if len(text) > _LONGEST:
        return None
    return lexicon.remembered("heading", text, lambda: _parse(text, lexicon))


def _parse(text: str, lexicon: Lexicon) -> Heading | None:
    if "\n" in text and (above := parse_heading(text.split("\n")[0], lexicon)) is not None and above.number is not None:
        return replace(above, written=text)  # "Week 4", and below it in the same cell its date
    if (twice := _in_two_languages(text, lexicon)) is not None:
        return twice
    unit = _unit_in(text)
    bare = _SCALE.sub(" ", _BRACKETS.sub(" ", text))
    if _A_RATING.search(text):
        return None  # "forearm 4/10 on the bar" is a remark, not what stands above ratings
    for candidate in dict.fromkeys((text, bare, _SCALE.sub(" ", text), text.strip(" ?:*"))):
        if roles := lexicon.headings_of.get(fold(candidate)):
            found = _plain(text, tuple(roles), True, None, unit or _unit_in(candidate))
            return _placed(found, candidate, lexicon)
    if day_behind_week_word(text, lexicon) is not None:
        return Heading(text, ("week_column",), True)
    if "warm_up" in {lexicon.work.exact(text), lexicon.work.exact(bare)}:
        return Heading(text, ("warm_up",), True, None, unit)  # "Aufw.", "Oppv", "Inw. (kg x reps)"
    if weekday := lexicon.weekday.exact(text):
        return Heading(text, ("weekday_column",), False, int(weekday))
    if (numbered := _numbered(text, bare, unit, lexicon)) is not None:
        return numbered
    return _composed(text, bare, unit, lexicon)


_OR = re.compile(r"\s+/\s+|\s*\|\s*|\n+")


def _in_two_languages(text: str, lexicon: Lexicon) -> Heading | None:
    """ "Øvelse / Exercise", "Schmerz / pain (0-10)": one heading told twice, when all that is known of it agrees."""
    pieces = [piece for piece in _OR.split(text) if piece.strip()]
    if len(pieces) < 2:
        return None
    known = [found for piece in pieces if (found := parse_heading(piece, lexicon)) is not None]
    if not known or len({found.roles[0] for found in known}) > 1 or any(found.exercise for found in known):
        return None
    fullest = max(known, key=lambda found: (found.is_exact, found.site is not None, found.moment is not None))
    return replace(fullest, written=text) if fullest.is_exact else None


def _plain(text: str, roles: tuple[str, ...], exact: bool, number: int | None, unit: str | None) -> Heading:
    if unit in {"kg", "lb"} and "load" not in roles and roles[0] in {"set_number", "sets"}:
        roles = ("load", *roles)
    return Heading(text, roles, exact, number, unit)


def _placed(heading: Heading, text: str, lexicon: Lexicon) -> Heading:
    """A known pain heading keeps the site, side and moment that it names ("arm pain")."""
    if heading.roles[0] != "pain":
        return heading
    parts = _parts(text, fold(text).split(), lexicon)
    return replace(
        heading,
        site=parts.get("site"),
        side=parts.get("side"),
        moment=cast("Moment | None", parts.get("moment")),
        kind=parts.get("kind"),
    )


def _unit_in(text: str) -> str | None:
    """A unit in brackets or as the last word of a heading."""
    inside = [piece for group in _BRACKETS.findall(text) for piece in re.split(r"[\s,;/]+", group)]
    last = re.split(r"[\s,./]+", text.strip(" ()[]"))[-1:]
    for word in (*inside, *last):
        if unit := unit_of(word) or _UNITS.get(word.casefold().strip(".")):
            return unit
    return None


_ENDING = re.compile(  # "2nd set", "1ª série", "2e set", "1:a set": the figure alone counts
    r"(?<![^\W_])(\d{1,2})[.:]?(?:[aeoªº°]|st|nd|rd|th|er|ere|re|d|de|eme|me|ste|sza|te)(?![^\W_])", re.I
)
_NUMERALS = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII")
_ROMAN = re.compile(r"(?<![^\W_])(?:VI{0,3}|I{1,3}|IV)(?![^\W_])")


def _numbered(text: str, bare: str, unit: str | None, lexicon: Lexicon) -> Heading | None:
    """ "Set 2", "2. Satz", "kg 3", "S1", "Set 1 reps", "Reps S2": a role with the number of its set."""
    counted = _ENDING.sub(r"\1", bare.replace("è", "e").replace("È", "E"))
    counted = _ROMAN.sub(lambda match: f" {_NUMERALS.index(match[0]) + 1} ", counted, count=1)
    words = re.sub(r"(?<=[^\W\d_])(?=\d)|(?<=\d)(?=[^\W\d_])", " ", fold(counted)).split()
    numbers = [word for word in words if word.isdecimal()]
    rest = [word for word in words if not word.isdecimal()]
    if len(numbers) != 1 or not rest or not 1 <= int(numbers[0]) <= 20:
        return None
    number = int(numbers[0])
    plain = " ".join(rest)
    if plain in {"s", "w"}:
        return Heading(text, ("set_work",) if plain == "s" else ("week_column",), True, number, unit)
    roles = lexicon.headings_of.get(plain)
    if roles is None:
        known = [word for word in rest if word in lexicon.headings_of or word == "s"]
        named = [word for word in known if not {"set_number", "sets"} & set(lexicon.headings_of.get(word, ["sets"]))]
        if len(known) != len(rest) or len(named) > 1:
            return None
        roles = lexicon.headings_of[named[0]] if named else ["set_number"]
    if {"set_number", "sets"} & set(roles):
        return Heading(text, ("load", "set_work") if unit in {"kg", "lb"} else ("set_work",), True, number, unit)
    if "week" in roles:
        return Heading(text, ("week_column",), True, number)
    if roles[0] in {"load", "reps", "rpe", "rir", "work", "percent"}:
        return Heading(text, tuple(roles), True, number, unit)
    return None


def _parts(text: str, words: list[str], lexicon: Lexicon) -> dict[str, str]:
    """What the words of a heading name, by subject; "words" counts those that some subject knew."""
    parts: dict[str, str] = {}
    used: set[int] = set()
    for subject in ("screen", "moment", "site", "kind", "side", "exercise"):
        if subject == "moment":
            found = lexicon.moments_in(text)
        else:
            found = lexicon.sides_in(words) if subject == "side" else getattr(lexicon, subject).find(words)
        for start, end, hit in found:
            if not used & set(range(start, end)):
                parts.setdefault(subject, hit)
                used |= set(range(start, end))
    parts["unknown"] = " ".join(word for index, word in enumerate(words) if index not in used)
    return parts


def _composed(text: str, bare: str, unit: str | None, lexicon: Lexicon) -> Heading | None:
    """A heading made of several known words: "Elbow L", "Pain after training", "Shoulder ER left (deg)", "Squat kg"."""
    words = fold(bare).split()
    parts = _parts(bare, words, lexicon)
    if "exercise" in parts and _names_gear(text, lexicon):
        return Heading(text, ("bar",), False)  # "Squat (bar / grip / position)"
    is_question = "?" in words or len(words) > 4
    is_whole = not parts["unknown"].replace("?", "").strip() or unit in {"deg", "cm", "mm"}
    if "screen" in parts and parts.get("kind") not in {"pain", "soreness"} and is_whole:
        return Heading(text, ("screen",), True, None, unit, side=parts.get("side"), test=parts["screen"])
    role = _role_within(words, lexicon)
    is_lift = lexicon.exercise.exact(bare) is not None  # "Barra fixa" is a pull-up
    if role in {"grip", "bar", "bar_position"} and "kind" not in parts and "screen" not in parts and not is_lift:
        return Heading(text, (role,), False)
    if (
        role in {"person", "timestamp", "site", "side", "moment", "pain_kind"}
        and (is_question or "kind" not in parts)
        and "site" not in parts
    ):
        return Heading(text, (role,), False, None, unit)
    if role == "note" and len(words) <= 6:
        return Heading(text, ("note",), False)
    if "kind" in parts or (parts.get("site", "other") != "other" and "exercise" not in parts):
        moment = cast("Moment | None", parts.get("moment"))
        side = parts.get("side") if "site" in parts or len(words) <= 3 else None  # "right now" is no side
        if side is None and "site" in parts and (letter := WEAK.get(words[-1])):  # "Codo I", "Gomito S"
            side = letter
        if side is None and "site" in parts:
            side = _side_in_brackets(text, lexicon)
        return Heading(
            text,
            ("pain",),
            "site" in parts and not parts["unknown"],
            None,
            unit,
            site=parts.get("site"),
            side=side,
            moment=moment,
            kind=parts.get("kind", "pain"),
        )
    if "exercise" in parts and "?" not in words:
        left = parts["unknown"].split()
        if _is_warm_up(words, lexicon):
            return Heading(text, ("warm_up",), False, None, unit, exercise=parts["exercise"])  # "SQ warmup"
        roles = lexicon.headings_of.get(" ".join(left), []) if left else []
        if not left or roles or unit in {"kg", "lb"}:
            fit = tuple(
                r
                for r in roles
                if r in {"load", "reps", "sets", "rpe", "rir", "work", "note", "bar", "grip", "ignored"}
            )
            return Heading(
                text,
                fit or (("load", "work") if unit in {"kg", "lb"} else ("work",)),
                False,
                None,
                unit,
                exercise=parts["exercise"],
            )
    lift = parts.get("exercise") if role in {"rpe", "rir"} else None  # "SQ left in tank"
    return Heading(text, (role,), False, None, unit, exercise=lift) if role else None


def _is_warm_up(words: list[str], lexicon: Lexicon) -> bool:
    """Whether a heading names a lift and warming up, and nothing else."""
    found = {i for start, end, _ in lexicon.exercise.find(words) for i in range(start, end)}
    warm = {i for start, end, hit in lexicon.work.find(words) if hit == "warm_up" for i in range(start, end)}
    return bool(warm - found) and len(warm | found) == len(words)


def _side_in_brackets(text: str, lexicon: Lexicon) -> str | None:
    """The side in the brackets of a heading with a site: "Wrist (left)"."""
    inside = [fold(group).split() for group in _BRACKETS.findall(text)]
    return next((hit for words in inside for _, _, hit in lexicon.sides_in(words)), None)


def _names_gear(text: str, lexicon: Lexicon) -> bool:
    """Whether the brackets of a heading hold words for bar, grip or position and nothing else."""
    inside = [word for group in _BRACKETS.findall(text) for word in fold(group).split()]
    gear = {"bar", "grip", "bar_position"}
    return bool(inside) and all(gear & set(lexicon.headings_of.get(word, [])) for word in inside)


def _role_within(words: list[str], lexicon: Lexicon) -> str | None:
    """The role of the longest heading phrase inside a longer heading, the last of equals; short words do not count."""
    if len(told := {"rpe", "rir"} & set(words)) == 1 and not {"session", "workout"} & set(words):
        return told.pop()  # "RPE last set" is no number of a set
    found = [
        (end - start, start, role)
        for start, end, role in lexicon.heading.find(words)
        if end - start > 1 or len(words[start]) > 3 or words[start] in {"rpe", "rir", "bar"}
    ]
    return max(found)[2] if found else None
