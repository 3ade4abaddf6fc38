"""The words that decide what a line of a diary is (vocabulary/diary.toml), in all languages."""

import re
from functools import cache

from preflare.reading import vocabulary
from preflare.reading.lexicon import Phrases
from preflare.reading.text import words_of


@cache
def diary_words(kind: str) -> Phrases:
    """The phrases of one table of diary.toml; each stands for its table."""
    phrases = Phrases()
    for language, words in vocabulary.load("diary")[kind].items():
        phrases.add(kind, words, language)
    return phrases


def says(kind: str, text: str) -> bool:
    """Whether a text holds a phrase of that kind."""
    return any(True for _ in diary_words(kind).find(words_of(text)))


def begins_with(kind: str, text: str) -> int:
    """How many words a phrase of that kind takes at the head of a text; 0 where none stands there."""
    found = next(iter(diary_words(kind).find(words_of(text))), None)
    return found[1] if found is not None and found[0] == 0 else 0


def without_first_words(text: str, count: int) -> str:
    """The text behind its first `count` words."""
    spans = [match.end() for match in re.finditer(r"[^\W_]+(?:['’][^\W_]+)*", text)]
    return text[spans[count - 1] :].strip() if 0 < count <= len(spans) else text
