"""Which old encoding a text file without marks is in: that in which its bytes are the letters of the languages known.

A guess by statistics takes a short Western text for Big5 or Cyrillic; the letters that Western words can hold do not.
Encodings: cp1252 and ISO 8859-15 (West), cp1250 (Central Europe), Mac Roman, and cp850 and cp852 of old systems.
"""

import re

# Accented letters by language, as their alphabets and orthographies have them (with those of common foreign names).
LETTERS = {
    "de": "äöüßéÄÖÜ",
    "fr": "éèêëàâîïôûùüÿçœæÉÈÊÀÂÎÔÇŒ",
    "es": "áéíóúüñÁÉÍÓÚÑ",
    "it": "àèéìíòóùÀÈÉ",
    "pt": "áàâãçéêíóôõúÁÀÂÃÇÉÊÍÓÔÕÚ",
    "nl": "éèëïöüáóíÉ",
    "pl": "ąćęłńóśźżĄĆĘŁŃÓŚŹŻ",
    "no and da": "æøåéÆØÅ",
    "sv": "äöåéÄÖÅ",
}
SIGNS = frozenset("–—’‘“”„«»…•°×½¼¾±²³€£§·¿¡ªº\xa0✓")
CANDIDATES = ("cp1252", "cp1250", "mac_roman", "cp850", "cp852")
LIKELY = 0.7  # of the marked bytes must be such letters or signs
_SAMPLE = 200_000


def likeliest(content: bytes) -> str | None:
    """The encoding in which the bytes above 127 read as Western letters inside of words; None when they do in none.

    Of equals the first of CANDIDATES is taken.
    """
    sample = content[:_SAMPLE]
    n_marked = sum(byte > 127 for byte in sample)
    scores = {encoding: _score(sample.decode(encoding, errors="replace")) for encoding in CANDIDATES}
    best = max(CANDIDATES, key=lambda encoding: scores[encoding])
    return best if n_marked and scores[best] >= LIKELY * n_marked else None


def without_mark(content: bytes) -> str | None:
    """UTF-16 without its byte-order mark, told by every second byte being 0; else None."""
    sample = content[:_SAMPLE]
    half = len(sample) // 2
    if half < 4:
        return None
    low, high = sample[1::2].count(0) / half, sample[::2].count(0) / half
    return "utf-16-le" if low > 0.6 > 3 * high else "utf-16-be" if high > 0.6 > 3 * low else None


def _score(text: str) -> float:
    """How many marked characters are letters of one language in their place, or signs; others count against."""
    return max(_score_in(text, frozenset(letters)) for letters in LETTERS.values())


def _score_in(text: str, letters: frozenset[str]) -> float:
    found = 0.0
    for match in re.finditer(r"[^\x00-\x7f]", text):
        letter = match[0]
        before, behind = text[match.start() - 1 : match.start()], text[match.end() : match.end() + 1]
        if letter in letters:
            found += -1.0 if letter.isupper() and before.islower() else 1.0
        elif letter in SIGNS:  # in the middle of a word only the apostrophe
            found += 0.9 if letter == "’" or not (before.isalpha() and behind.isalpha()) else 0.0
        else:
            found -= 0.5 if letter.isalpha() else 1.0
    return found
