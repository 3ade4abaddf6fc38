"""What a legend says of the first set of a lift: "the first number is always the warm-up"."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from preflare.reading.legend_habits import statements
from preflare.reading.legend_lines import Line, says
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import words_of

_MOST_WORDS = 16
_ARTICLE = re.compile(r"(?<!\w)(?:[ld]|un|all|dell)['’](?=\w)", re.I)  # "l'échauffement"
_OTHER_NUMBERS = re.compile(r"\d{2}|[02-9]")  # "the first set is 60x8 to warm up" tells of one day


@dataclass(frozen=True, slots=True)
class FirstSets:
    """A lift whose first set is a warm-up. lift: canonical; None for all. sentence: as written."""

    lift: str | None
    sentence: str

    def told(self) -> str:
        """The assumption, as the user reads it."""
        of = f" of the {self.lift}" if self.lift else ""
        return f'From the legend ("{self.sentence}"): the first set{of} was read as a warm-up.'


def first_sets(lines: Iterable[Line], lexicon: Lexicon) -> tuple[FirstSets, ...]:
    """The lifts whose first set is a warm-up, as the sure lines say; a sentence with a denial says nothing."""
    found: dict[str | None, FirstSets] = {}
    for text in (one for line in lines if line.is_sure for one in statements(line.text)):
        words = words_of(_ARTICLE.sub(" ", text))
        is_told = says("first_set", words) and any(hit == "warm_up" for _, _, hit in lexicon.work.find(words))
        is_denied = says("none", words) or says("when_not", words) or any(True for _ in lexicon.negation.find(words))
        if not is_told or is_denied or len(words) > _MOST_WORDS or _OTHER_NUMBERS.search(text):
            continue
        lifts: set[str | None] = {hit for _, _, hit in lexicon.exercise.find(words)}
        for lift in lifts or {None}:
            found.setdefault(lift, FirstSets(lift, text))
    return tuple(found.values())
