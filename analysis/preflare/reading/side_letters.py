"""Letters that stand for a side, in the languages known: l/r, d/g, h/v, and those that are words as well."""

LETTERS = {"l": "left", "r": "right", "h": "right", "v": "left", "d": "right", "g": "left"}
WEAK = {"i": "left", "e": "left", "s": "left", "p": "right"}  # words too: izquierdo, esquerdo, sinistro; prawy
SHORT_SIDES = frozenset({*LETTERS, *WEAK, "li", "re", "dx", "sx"})


def side_of_letter(text: str) -> str | None:
    """The side that a text of one letter stands for where sides stand ("P": prawy); None for any other text."""
    letter = text.strip(" .()").casefold()
    return LETTERS.get(letter) or WEAK.get(letter)
