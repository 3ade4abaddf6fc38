"""Which of the roles that a heading may have its column has: "Sets" over 1, 2, 3 or over 3, 3, 4; "Done" over ticks."""

import re
from itertools import pairwise

from preflare.reading.headings import Heading
from preflare.reading.numbers import parse_number
from preflare.reading.text import Cell, as_text

SHORTHAND = re.compile(
    r"\d\s*(?:kg|lb)?\s*[x×@]\s*\d"
    r"|(?:^|[;:(),\n])\s*(?:\d{2,3}(?:[.,]\d+)?\s*(?:kgs?|lbs?)?|\+\s?\d{1,3}(?:[.,]\d+)?\s*(?:kgs?|lbs?)?"  # 155, +25
    r"|(?:bw|kg|kgw|eg|pc|pdc|cl|mc|kv|lg)(?:\s?\+\s?\d+(?:[.,]\d+)?)?):?"  # BW, BW+10
    r"\s+\d{1,2}(?:[/,]\s?\d{1,2})+(?![\d./-])",  # 5/5/4
    re.I,
)
SETS = re.compile(r"\d\s*(?:kgs?|lbs?)?\s*[x×@]\s*\d", re.I)  # the commonest form alone, wherever it stands
_FEW_NUMBERS = 4  # that may rise by chance
_SETTLED_BY_CONTENT = frozenset({"sets", "session_number", "note", "time", "work", "warm_up"})


def settled_role(heading: Heading, values: list[Cell]) -> str:
    """The one of a heading's candidate roles that the filled cells below it show."""
    roles = heading.roles
    if (len(roles) == 1 and roles[0] not in _SETTLED_BY_CONTENT) or not values:
        return roles[0]
    numbers = [
        n
        for value in values
        if (n := value if isinstance(value, float) else parse_number(value) if isinstance(value, str) else None)
        is not None
    ]
    share = len(numbers) / len(values)
    texts = [value for value in values if isinstance(value, str)]
    least = 0.3 if roles[0] == "warm_up" else 0.6  # warm-ups stand in some rows only
    if roles[0] in {"session_number", "note", "time", "warm_up"} and texts and share_of_shorthand(texts) >= least:
        return "work"  # "Session" or "Comment" over a column of sets
    if roles[0] == "work" and not any(letter.isdecimal() for value in values for letter in as_text(value)):
        return "ignored"  # ticks under "Done"
    if {"sets", "set_number"} <= set(roles):
        return "set_number" if _counts_up(numbers) or max(numbers, default=1) <= 1 else "sets"
    if roles[0] == "sets" and len(numbers) > _FEW_NUMBERS and max(numbers) > 2 and _counts_up(numbers):
        return "set_number"  # 1, 2, 3, 1, 2, 3 under "Sets"
    if "session_number" in roles and "work" in roles:
        return "session_number" if share > 0.8 else "work"
    if roles[0] == "session_number" and share < 0.5 and any(len(as_text(value)) > 6 for value in values):
        return "ignored"
    if "note" in roles and len(roles) > 1 and share > 0.8:
        return next(role for role in roles if role != "note")
    return roles[0]


def share_of_shorthand(texts: list[str]) -> float:
    """How many of some texts hold sets in short."""
    return sum(SHORTHAND.search(text) is not None for text in texts) / len(texts)


def _counts_up(numbers: list[float]) -> bool:
    """1, 2, 3, 1, 2...: numbers of sets, not how many sets there were."""
    rises = sum(later == earlier + 1 or later == 1 for earlier, later in pairwise(numbers))
    return len(numbers) > 1 and rises >= 0.8 * (len(numbers) - 1) and numbers[0] == 1 and max(numbers) > 1
