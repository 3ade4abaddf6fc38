"""The grade rule: five grades, in words of our own. Analysis plan, section 5."""

import math
from collections.abc import Sequence

from preflare.findings.checks import Check

TOO_LITTLE = "too little data"
CONTRADICTED = "contradicted by a check"
CLEAR = "clear"
LEANING = "leaning"
NO_CLEAR = "no clear difference"
GRADES = (CLEAR, LEANING, NO_CLEAR, TOO_LITTLE, CONTRADICTED)

ADJUSTED_LIMIT = 0.05
LEANING_LIMIT = 0.10


def grade(enough_data: bool, p: float, p_adjusted: float, same_sign: bool, checks: Sequence[Check]) -> str:
    """The grade of one contrast.

    enough_data: gate passed and model fitted. p: plain, p_adjusted: Benjamini-Hochberg over the family.
    same_sign: linear risk agrees in sign. checks: those that may veto decide between clear and contradicted.
    """
    if not enough_data or not math.isfinite(p):
        return TOO_LITTLE
    if math.isfinite(p_adjusted) and p_adjusted <= ADJUSTED_LIMIT:
        vetoed = any(check.vetoes and check.outcome == "failed" for check in checks)
        return CONTRADICTED if vetoed else CLEAR
    return LEANING if p <= LEANING_LIMIT and same_sign else NO_CLEAR
