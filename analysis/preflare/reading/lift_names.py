"""Names of exercises that are cut short, bent, or put together from a lift and a word beside it."""

import re
import unicodedata
from functools import cache

from preflare.reading import vocabulary
from preflare.reading.lexicon import Phrases
from preflare.reading.text import spellings, words_of

_WORD_AND_DOT = re.compile(r"[^\W_]+\.?|[#%?]")
_AND = re.compile(r"[+&]|\s/\s")
# Endings of plural, case and article in the eleven languages, the longest first; what is left has four letters.
_ENDINGS = re.compile(r"(?<=\w{4})(?:erne|arna|ene|ami|em|en|er|es|et|ar|or|na|ne|a|e|n|r|s|t|y|i|u)$")


def cut_words(written: str) -> frozenset[int]:
    """Which of `words_of(written)` are followed by a dot: "P. muerto" -> {0}. Empty when the words do not match."""
    pieces = _WORD_AND_DOT.findall(unicodedata.normalize("NFKC", written).replace("'", "").replace("’", ""))
    if len(pieces) != len(words_of(written)):
        return frozenset()
    return frozenset(index for index, piece in enumerate(pieces) if piece.endswith("."))


def by_beginnings(words: list[str], phrases: Phrases, cut: frozenset[int] = frozenset()) -> str | None:
    """What a phrase of shortened words stands for ("rum kreuzheben"), if all phrases that begin so mean the same.

    cut: the words that a dot shows to be shortened; these may have one or two letters ("P. muerto"), others have three
    at least, and one of all words has four.
    """
    is_long = any(len(word) >= 4 for word in words) or not cut
    if not words or not is_long or any(len(word) < 3 and index not in cut for index, word in enumerate(words)):
        return None
    hits = {
        hit
        for phrase, hit in phrases.known.items()
        if phrase.startswith(words[0])
        and len(parts := phrase.split()) == len(words)
        and all(map(str.startswith, parts, words))
    }
    return hits.pop() if len(hits) == 1 else None


def by_letters(words: list[str], phrases: Phrases) -> str | None:
    """What letters with dots between them stand for: "D.C." is what "DC" is."""
    if len(words) < 2 or any(len(word) != 1 or word.isdecimal() for word in words):
        return None
    return phrases.known.get("".join(words))


def stem(word: str) -> str:
    """A word without its ending: "rumenske" and "rumensk" are one, "kniebeugen" and "kniebeuge" too."""
    return _ENDINGS.sub("", _ENDINGS.sub("", word))


def stemmed(phrases: Phrases) -> Phrases:
    """The same phrases by the stems of their words; those that would say two things are left out."""
    table = Phrases(longest=phrases.longest)
    doubtful: set[str] = set()
    for phrase, hit in phrases.known.items():
        bare = " ".join(map(stem, phrase.split()))
        if table.known.setdefault(bare, hit) != hit:
            doubtful.add(bare)
    for bare in doubtful:
        del table.known[bare]
    return table


def the_one_lift(hits: list[tuple[str, str]], written: str, words: list[str], width: str | None) -> str | None:
    """The one exercise that a cell names, of all that were found in it; None when it names two.

    hits: (phrase, exercise) in the order of the cell. width: the grip named in it. Raises nothing.
    """
    is_list = _AND.search(written) is not None  # "Squat + bench" are two, "Rudern Bank" is one
    full = [exercise for phrase, exercise in hits if is_list or phrase not in _things_beside()]
    lifts = list(dict.fromkeys(full or [exercise for _, exercise in hits]))
    text = f" {' '.join(words)} "
    for _ in range(2):  # a lift may be made twice: a bench press with dumbbells, and that on an incline
        made = next((gives for of, part, gives in _made() if of in lifts and _is_said(part, text, width)), None)
        if made is None or not set(lifts) - {made} <= {of for of, _, gives in _made() if gives == made} | {made}:
            break
        lifts = [made]
    return lifts[0] if len(lifts) == 1 else None


def part_words() -> frozenset[str]:
    """Every word or phrase that makes another exercise of one beside it."""
    return frozenset(word for words in _parts().values() for word in words)


def _is_said(part: str, text: str, width: str | None) -> bool:
    return width == part or any(f" {word} " in text for word in _parts().get(part, ()))


@cache
def _parts() -> dict[str, frozenset[str]]:
    """Part -> its folded words in all languages."""
    return {
        part: frozenset(form for words in by_language.values() for word in words for form in spellings(word))
        for part, by_language in vocabulary.load("exercises")["part"].items()
    }


@cache
def _made() -> tuple[tuple[str, str, str], ...]:
    """(exercise, part, the exercise that both make)."""
    return tuple(
        (of, part, entry["name"])
        for entry in vocabulary.load("exercises")["exercise"]
        for of, part in entry.get("made_of", ())
    )


@cache
def _things_beside() -> frozenset[str]:
    return frozenset(
        form for words in vocabulary.load("exercises")["beside"].values() for word in words for form in spellings(word)
    )
