"""The side that a legend gives for pain where nothing is written: "elbow = RIGHT elbow unless I say otherwise"."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, cast

from preflare.reading.legend_habits import before_unless
from preflare.reading.legend_lines import Line, legend_words, says
from preflare.reading.legend_terms import sentences
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import words_of

ArmSide = Literal["left", "right"]
_SENTENCE_END = re.compile(r"(?<=[^\s.]{3})\.\s")
_SCALE = re.compile(r"[,(]?\s*\b0\s*(?:-|–|to|bis|à|a|al|do|til|till|tot|/)\s*10\b\)?", re.I)
_SIGN = re.compile(r"\s*(=|:|→|⇒)\s*")
_MOST_WORDS = 12  # before the exception; a longer sentence tells a story


@dataclass(frozen=True, slots=True)
class UsualSide:
    """The side of a site where nothing else is written. sentence: as written."""

    site: str
    side: ArmSide
    sentence: str

    def told(self) -> str:
        """The assumption, as the user reads it."""
        told = f"where nothing says the side of the {self.site}, it was taken to be the {self.side}"
        return f'From the legend ("{self.sentence}"): {told}.'


def usual_sides(lines: Iterable[Line], lexicon: Lexicon) -> tuple[UsualSide, ...]:
    """The usual side of each site that the sure lines name; two different ones for one site are none."""
    found = [
        one
        for line in lines
        if line.is_sure
        for text in sentences(line.text)
        if (one := _usual_side(text, lexicon)) is not None
    ]
    sides = {(one.site, one.side) for one in found}
    firsts = {one.site: one for one in reversed(found)}
    return tuple(one for one in firsts.values() if sum(site == one.site for site, _ in sides) == 1)


def _usual_side(text: str, lexicon: Lexicon) -> UsualSide | None:
    """What a sentence says that begins with a site, alone before a sign of equality or with a word for what always
    holds or an exception in it, and names one side of it and no number."""
    first = _SENTENCE_END.split(_SCALE.sub(" ", text))[0]
    told, has_exception = before_unless(first)
    words = words_of(told)
    spots = list(lexicon.site.find(words))
    sides = {side for _, _, side in lexicon.sides_in(words)}
    if len({hit for _, _, hit in spots}) != 1 or len(sides) != 1 or not sides <= {"left", "right"}:
        return None
    if len(words) > _MOST_WORDS or any(map(str.isdigit, told)) or any(True for _ in lexicon.negation.find(words)):
        return None
    before, sign, _ = [*_SIGN.split(told, maxsplit=1), "", ""][:3]
    is_alone = sign == "=" and _is_site(before, lexicon)
    begins = spots[0][0] <= 1
    if not begins or not (is_alone or has_exception or says("always", words)):
        return None
    return UsualSide(spots[0][2], cast(ArmSide, sides.pop()), text)


def _is_site(text: str, lexicon: Lexicon) -> bool:
    """Whether a text is a site, with articles and words for nothing or pain beside it ("elbow with nothing")."""
    words = words_of(text)
    tables = (lexicon.site, lexicon.kind, legend_words("article"), legend_words("blank"))
    known = {i for table in tables for start, end, _ in table.find(words) for i in range(start, end)}
    return len(known) == len(words)
