"""Free text to pain reports: only with a site and a rating or severity word, about this day and this person.

"no elbow pain" is a report of 0; "if the elbow hurts" and "partner's elbow" are none. Silence is missing, not 0.
"""

import re

from preflare.reading.lexicon import Lexicon
from preflare.reading.pain_said import NOTHING_SAID, PainSaid, Said
from preflare.reading.pain_text import read_pain

_CLAUSE = re.compile(r"[.;!\n]+(?!\d)|,(?!\d)|\s(?:but|aber|mais|pero|ma|maar|ale|men|mas|however)\s", re.I)


def pain_in_note(text: str, lexicon: Lexicon, said: Said = NOTHING_SAID) -> list[PainSaid]:
    """Every pain report in a note. A piece without a site takes none from its neighbours, save that a rating may follow
    its site after a comma ("left elbow sore, 4/10")."""
    return read_pain(text, lexicon, said).reports


def is_pain_alone(text: str, lexicon: Lexicon) -> bool:
    """Whether every clause with a number in it is a report of pain, and nothing looks like sets."""
    told = [piece for piece in _CLAUSE.split(text) if piece and any(map(str.isdigit, piece))]
    return (
        bool(told)
        and re.search(r"\d\s*[x×@]\s*\d", text) is None
        and all(pain_in_note(piece, lexicon) for piece in told)
    )
