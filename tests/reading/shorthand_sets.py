"""What a text in short says, as plain pairs that a test can write down."""

from preflare.reading.lexicon import make_lexicon
from preflare.reading.shorthand import parse_work

LEXICON = make_lexicon()


def sets_of(text: str) -> list[tuple[float | None, int | None]]:
    """(load, reps) of every set, in order."""
    return [(one.load, one.reps) for one in parse_work(text, LEXICON).sets]
