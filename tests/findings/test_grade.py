"""The grade rule, case by case. Analysis plan: Benjamini-Hochberg 5 %, leaning at plain p <= 0.10, four vetoes."""

import math

import pytest

from preflare.findings.checks import Check
from preflare.findings.grade import CLEAR, CONTRADICTED, LEANING, NO_CLEAR, TOO_LITTLE, grade


def made(outcome: str, vetoes: bool = True) -> Check:
    return Check("a check", 1.0, 1.0, outcome, vetoes, "words")


PASSED, FAILED, UNCHECKED, NOTE = made("passed"), made("failed"), made("not checked"), made("failed", vetoes=False)


@pytest.mark.parametrize(
    ("enough", "p", "adjusted", "same_sign", "checks", "expected"),
    [
        (True, 0.001, 0.007, True, (PASSED,), CLEAR),
        (True, 0.01, 0.05, True, (PASSED, UNCHECKED), CLEAR),
        (True, 0.001, 0.007, True, (PASSED, NOTE), CLEAR),
        (True, 0.001, 0.007, True, (PASSED, FAILED), CONTRADICTED),
        (True, 0.03, 0.051, True, (PASSED,), LEANING),
        (True, 0.10, 0.20, True, (FAILED,), LEANING),
        (True, 0.05, 0.20, False, (PASSED,), NO_CLEAR),
        (True, 0.101, 0.20, True, (PASSED,), NO_CLEAR),
        (False, 0.001, 0.007, True, (PASSED,), TOO_LITTLE),
        (True, math.nan, math.nan, True, (PASSED,), TOO_LITTLE),
    ],
)
def test_grade(
    enough: bool, p: float, adjusted: float, same_sign: bool, checks: tuple[Check, ...], expected: str
) -> None:
    assert grade(enough, p, adjusted, same_sign, checks) == expected
