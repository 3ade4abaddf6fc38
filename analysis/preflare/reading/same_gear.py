""" "Same bar" in the middle of a text: it stands for the bar that the text named last."""

import re

from preflare.reading.lexicon import Lexicon
from preflare.reading.text import words_of

_SAME = re.compile(
    r"\b(?:same bar|gleiche[rn]? (?:stange|hantel)|selbe[rn]? (?:stange|hantel)|m[êe]me barre|misma barra"
    r"|stess[ao] (?:barra|bilanciere)|mesma barra|zelfde stang|ten sam gryf|tym samym gryfem|ta sama sztanga"
    r"|samme stang|samma st[åa]ng)\b",
    re.I,
)


def with_same_bar(text: str, lexicon: Lexicon) -> str:
    """The text with the bar named last before each "same bar" in its place; nothing where none is named."""
    while (match := _SAME.search(text)) is not None:
        words = words_of(text[: match.start()])
        named = [words[start:end] for start, end, _ in lexicon.bar.find(words)]
        bar = " ".join(named[-1]) if named else ""
        text = f"{text[: match.start()]}{bar}{text[match.end() :]}"
    return text
