"""How strong something unmeasured would have to be. VanderWeele TJ, Ding P. Ann Intern Med 2017;167:268-274.

Says nothing about selection, measurement or missing reports, and is never a pass mark.
"""

import math

from preflare.models.standardise import Interval


def e_value(risk_ratio: float) -> float:
    """The least association, as a risk ratio with both exposure and outcome, that could explain this risk
    ratio."""
    if not risk_ratio > 0 or not math.isfinite(risk_ratio):
        return math.nan
    ratio = max(risk_ratio, 1 / risk_ratio)
    return ratio + math.sqrt(ratio * (ratio - 1))


def e_value_limit(ratio: Interval) -> float:
    """The E-value of the interval's limit nearest to no effect; 1 when the interval holds 1."""
    if not (math.isfinite(ratio.low) and math.isfinite(ratio.high)):
        return math.nan
    if ratio.low <= 1 <= ratio.high:
        return 1.0
    return e_value(ratio.low if ratio.low > 1 else ratio.high)
