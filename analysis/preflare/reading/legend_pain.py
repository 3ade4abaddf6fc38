"""How a log asks about pain, as its legend says: of which site, when, and what a number alone is about."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from preflare.reading.legend_habits import SIGN
from preflare.reading.legend_lines import Line, says
from preflare.reading.legend_terms import sentences
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import words_of

_SCALE = re.compile(r"\b0\s*(?:-|–|to|bis|à|a|al|do|til|till|tot)\s*10\b", re.I)


@dataclass(frozen=True, slots=True)
class PainHabit:
    """How a log asks about pain: of which site, when, as far as a sentence says so."""

    site: str | None
    moment: str | None
    sentence: str


def pain_habit(lines: Iterable[Line], lexicon: Lexicon) -> PainHabit | None:
    """The site and moment that sentences about ratings name; what two sentences tell differently stays open."""
    told = [
        one
        for line in lines
        for text in sentences(line.text)
        if line.is_sure and (one := _asks_about_pain(text, lexicon)) is not None
    ]
    if not told:
        return None
    sites = {one.site for one in told if one.site}
    moments = {one.moment for one in told if one.moment}
    site = sites.pop() if len(sites) == 1 else None
    moment = moments.pop() if len(moments) == 1 else None
    return PainHabit(site, moment, told[0].sentence) if site or moment else None


def _asks_about_pain(text: str, lexicon: Lexicon) -> PainHabit | None:
    """A sentence that begins with a site or a word for pain, and gives a scale, a moment or the word for pain; or one
    that says what a number alone is about ("just a number = elbow")."""
    words = words_of(text)
    sides = SIGN.split(text)
    if len(sides) == 2 and says("number_alone", words_of(sides[0])):
        named = {hit for _, _, hit in lexicon.site.find(words_of(sides[1]))}
        return PainHabit(named.pop(), None, text) if len(named) == 1 else None
    head = words[:4]
    sites = {hit for _, _, hit in lexicon.site.find(words)}
    is_pain = any(hit == "pain" for _, _, hit in lexicon.kind.find(words))
    has_scale = _SCALE.search(text) is not None
    begins = any(True for _ in lexicon.site.find(head)) or any(True for _ in lexicon.kind.find(head))
    if not begins or not (has_scale or (is_pain and re.search(r"[=:]", text))) or len(words) > 40:
        return None
    first = re.split(r"(?<=[^\s.]{3})\.\s", text)[0]
    spoken = first.replace("=", " ").replace(":", " ")
    moments = list(dict.fromkeys(hit for _, _, hit in lexicon.moments_in(spoken)))
    site = sites.pop() if len(sites) == 1 else None
    moment = moments[0] if len(moments) == 1 else None
    return PainHabit(site, moment, text) if site or moment else None
