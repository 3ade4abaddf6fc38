"""Loads beside which their writer says which number they were not: "97.5 (not 100)"."""

import re

NOT = (
    r"(?:not|nicht|pas|non|no|n[aã]o|niet|nie|ikke|inte|statt|instead of|au lieu de|en vez de|invece di|em vez de"
    r"|zamiast|i stedet for|i st[aä]llet f[oö]r|ist[aä]llet f[oö]r|rather than|plut[oô]t que)"
)  # words, in all languages, before the number that is not meant
_IS_NOT = re.compile(
    rf"(?P<load>\d[\d.,]*\s*(?:kgs?|lbs?)?)\s*[,;]?\s*[(\[]?\s*{NOT}\s+\d[\d.,]*\s*(?:kgs?|lbs?)?\s*[)\]]?", re.I
)


def load_and_not(text: str) -> str | None:
    """The load of a cell that says besides which one it was not ("97.5 (not 100)"); None of any other cell."""
    match = _IS_NOT.fullmatch(text.strip())
    return match["load"].strip() if match else None
