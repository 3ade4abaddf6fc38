"""What a title over a sheet says of all its squats: "Squats this week: SSB", "Kniebeuge KW 12 - Sicherheitsstange",
"Barra da semana: barra segura". A row that says other than the title keeps what it says.
"""

import re
from collections.abc import Iterable

from preflare.reading.legend_habits import Default, Part, gear_values, is_gear_alone, names_back_squat, parts_named
from preflare.reading.legend_lines import legend_words
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import words_of

_SIDES = re.compile(r"\s*[=:]\s*|\s+[-–—]\s+")
_MOST_WORDS = 7  # before the sign: "What everybody squats with this week"
_MOST_LETTERS = 120


def defaults_of_titles(titles: Iterable[str], lexicon: Lexicon) -> list[Default]:
    """Bar, place of the bar and grip that titles give to a sheet's back squats; two different ones are none.

    Place and grip beside a bar are those with that bar alone.
    """
    found: dict[Part, set[str]] = {}
    told: list[tuple[str, dict[Part, str]]] = []
    for title in dict.fromkeys(one for text in titles for one in text.split(" | ")):
        if values := _told_in(title, lexicon):
            told.append((title, values))
        for part, value in values.items():
            found.setdefault(part, set()).add(value)
    if any(len(values) > 1 for values in found.values()):
        return []
    return [
        Default(part, value, title, bar=values.get("bar") if part != "bar" else None, is_title=True)
        for title, values in told
        for part, value in sorted(values.items(), key=lambda one: one[0] != "bar")
    ]


def _told_in(title: str, lexicon: Lexicon) -> dict[Part, str]:
    """The gear behind a sign or dash, where squats or a bar stand before it, and nothing of another week or none."""
    sides = _SIDES.split(title.strip(" ."), maxsplit=1)
    if len(title) > _MOST_LETTERS or len(sides) != 2:
        return {}
    before, behind = sides[0], sides[1].strip(" .")
    words = words_of(before)
    if len(words) > _MOST_WORDS or any(True for _ in legend_words("not_now").find(words_of(title))):
        return {}
    is_about = names_back_squat(before, lexicon) or (parts_named(before, lexicon) and not _names_a_lift(words, lexicon))
    if not is_about or not is_gear_alone(behind, lexicon):
        return {}
    return gear_values(behind, lexicon, [])


def _names_a_lift(words: list[str], lexicon: Lexicon) -> bool:
    return any(True for _ in lexicon.exercise.find(words))
