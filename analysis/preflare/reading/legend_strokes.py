"""A stroke before which a legend puts warm-ups: "left of the | = warm-up", for work such as "60x5 | 100x5 100x5"."""

import re
from collections.abc import Iterable
from typing import Final

from preflare.reading.legend_lines import Line
from preflare.reading.legend_meanings import Term
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import words_of

BEFORE_STROKE: Final = "before_stroke"
_STATEMENT = re.compile(r"[.;\n]\s*")
_BEFORE = frozenset(
    {
        "before", "left", "front", "vor", "davor", "links", "avant", "gauche", "devant", "antes", "izquierda",
        "delante",
        "prima", "sinistra", "davanti", "esquerda", "voor", "ervoor", "przed", "lewej", "lewo", "for", "foran",
        "venstre", "fore", "framfor", "vanster", "innan",
    }
)  # fmt: skip
_BEHIND = frozenset(
    {
        "after", "right", "behind", "nach", "danach", "rechts", "hinter", "apres", "droite", "derriere", "despues",
        "derecha", "detras", "dopo", "destra", "dietro", "depois", "direita", "na", "erna", "achter", "po", "za",
        "prawej", "prawo", "etter", "efter", "bak", "hoyre", "hojre", "hoger", "bakom",
    }
)  # fmt: skip


def strokes_in(lines: Iterable[Line], lexicon: Lexicon) -> list[Term]:
    """The stroke, where a statement says that warm-ups stand before it; else nothing."""
    statements = (piece for line in lines if line.is_sure for piece in _STATEMENT.split(line.text) if "|" in piece)
    said = next((piece.strip() for piece in statements if _puts_warm_ups_before(words_of(piece), lexicon)), None)
    return [] if said is None else [Term("|", BEFORE_STROKE, BEFORE_STROKE, said)]


def _puts_warm_ups_before(words: list[str], lexicon: Lexicon) -> bool:
    """Whether the last place told ahead of the word for warm-ups, or else the next behind it, is one before."""
    found = next((start for start, _, hit in lexicon.work.find(words) if hit == "warm_up"), None)
    if found is None:
        return False
    places = [*reversed(words[:found]), *words[found:]]
    return next((place in _BEFORE for place in places if place in _BEFORE | _BEHIND), False)
