"""What a coach reads: one sentence for each grade, whole numbers, honest words."""

import math
import re
from dataclasses import replace

import pytest

from preflare.findings.checks import Check
from preflare.findings.contrasts import FAMILY
from preflare.findings.effects import Effect
from preflare.findings.gate import Counts, gate, more_athletes
from preflare.findings.grade import GRADES
from preflare.findings.sentences import Told, finding_sentence, gate_reasons, signed, whole
from preflare.findings.words import tables
from preflare.models.standardise import Interval

CONTRAST = {contrast.id: contrast for contrast in FAMILY}
LESS = Effect(
    difference=Interval(-4.2, -8.1, -0.7),
    standard_error=1.8,
    risk_from=Interval(12.4, 9.1, 16.2),
    risk_to=Interval(8.2, 5.0, 12.9),
    log_odds=-0.55,
    log_odds_se=0.2,
    odds_ratio=Interval(0.58, 0.4, 0.9),
    df=11,
    p=0.01,
)
FAILED = Check("lead", 2.4, 1.96, "failed", True, "What came the week after went with today's pain.")


def told(grade: str, effect: Effect | None = LESS, contrast: str = "safety", **more: object) -> Told:
    base = Told(CONTRAST[contrast], effect, grade, (), (), None, 4)
    return replace(base, **more)


def test_clear() -> None:
    assert finding_sentence(told("clear")) == (
        "Sessions on the safety bar were followed by arm pain of at least 4 less often than sessions on the straight "
        "bar: 8 of 100 (5 to 13) against 12 (9 to 16). A difference of 1 to 8 of 100 fits these logs."
    )


def test_leaning_is_worded_as_a_question() -> None:
    leaning = replace(LESS, difference=Interval(-4.2, -9.1, 0.6))
    assert finding_sentence(told("leaning", leaning, more_athletes=7)) == (
        "Were sessions on the safety bar followed by arm pain of at least 4 less often than sessions on the straight "
        "bar? The logs lean that way, 8 of 100 against 12, but do not settle it: "
        "anything from 9 fewer to 1 more of 100 fits. "
        "A question for next season. About 7 more lifters who squat on both bars would be needed."
    )


def test_no_clear_difference_says_what_size_is_ruled_out() -> None:
    unclear = replace(LESS, difference=Interval(-0.4, -4.6, 3.8), risk_to=Interval(12.0, 9, 16))
    assert finding_sentence(told("no clear difference", unclear)) == (
        "Sessions on the safety bar and sessions on the straight bar could not be told apart: 12 and 12 of 100 were "
        "followed by arm pain of at least 4. More than 4 more or 5 fewer of 100 does not fit these logs."
    )


def test_too_little_data_says_what_is_missing_and_how_many_more() -> None:
    reasons = ("Only 4 lifters have three or more reported sessions of both kinds; six are needed.",)
    assert finding_sentence(told("too little data", None, reasons=reasons, more_athletes=9)) == (
        "Sessions on the safety bar against sessions on the straight bar: too little data to tell. Only 4 lifters have "
        "three or more reported sessions of both kinds; six are needed. About 9 more lifters who squat on both bars "
        "would be needed."
    )


def test_contradicted_puts_the_check_before_the_number() -> None:
    sentence = finding_sentence(told("contradicted by a check", checks=(FAILED,)))
    assert sentence.startswith("Sessions on the safety bar were followed by arm pain of at least 4 less often")
    assert "But what came the week after went with today's pain." in sentence
    assert sentence.endswith("Read the check before the number.")


def test_contradicted_with_like_counts_does_not_claim_a_direction() -> None:
    alike = replace(LESS, risk_to=Interval(12.1, 9, 15))
    sentence = finding_sentence(told("contradicted by a check", alike, checks=(FAILED,)))
    assert "about equally often, 12 and 12 of 100" in sentence
    assert "less often" not in sentence


def test_a_clear_lean_whose_risk_difference_takes_in_none_gives_no_range_of_sizes() -> None:
    crossing = replace(LESS, difference=Interval(-4.2, -8.6, 0.2))
    assert "A difference of" not in finding_sentence(told("clear", crossing))


@pytest.mark.parametrize("grade", GRADES)
@pytest.mark.parametrize("contrast", list(CONTRAST))
def test_every_contrast_has_a_sentence_for_every_grade_without_a_forbidden_word(grade: str, contrast: str) -> None:
    effect = None if grade == "too little data" else LESS
    sentence = finding_sentence(told(grade, effect, contrast, checks=(FAILED,), reasons=("Too few.",), more_athletes=3))
    assert not re.search(r"\b(caus\w*|prevent\w*|safe|safer|significan\w*|proves?)\b", sentence, re.IGNORECASE)
    assert not re.search(r"\{|\}|nan|None|\d\.\d", sentence.replace("2.5", ""))
    assert sentence[0].isupper()
    assert sentence[-1] in ".?"


def test_no_wording_of_findings_claims_a_cause_or_safety() -> None:
    forbidden = re.compile(
        r"\b(caused|causes|prevents|prevented|safe|safer|significant|significantly|risk zone)\b", re.I
    )

    def texts(entry: object) -> list[str]:
        if isinstance(entry, dict):
            return [text for item in entry.values() for text in texts(item)]
        return [str(entry)]

    for text in texts(tables()):
        assert not forbidden.search(text), text


@pytest.mark.parametrize(
    ("per_100", "words"),
    [(0.2, "under 1"), (0.5, "under 1"), (0.6, "1"), (12.4, "12"), (99.7, "over 99"), (99.4, "99")],
)
def test_a_share_is_never_none_or_all(per_100: float, words: str) -> None:
    assert whole(per_100) == words


@pytest.mark.parametrize(("per_100", "words"), [(-3.4, "3 fewer"), (0.3, "just as many"), (5.5, "6 more")])
def test_differences_in_words(per_100: float, words: str) -> None:
    assert signed(per_100) == words


def test_gate_reasons_speak_of_what_is_there() -> None:
    none = Counts(20, 0, 900, 700, 0, 0)
    assert gate_reasons(("contributing", "exposed", "events"), none, CONTRAST["wide"], 4) == [
        "No lifter has three or more reported sessions of both kinds; six are needed.",
        "No reported session is of this kind.",
        "No session was followed by a rating of 4 or more; thirty are needed.",
    ]
    few = Counts(4, 4, 300, 200, 200, 12)
    assert gate_reasons(("contributing", "events"), few, CONTRAST["sets"], 4) == [
        "Reports came from only 4 lifters; six are needed.",
        "Only 12 sessions were followed by a rating of 4 or more; thirty are needed.",
    ]


def test_many_more_athletes_is_said_without_a_false_precision() -> None:
    sentence = finding_sentence(told("too little data", None, more_athletes=512))
    assert "More than 100 more lifters" in sentence
    assert math.isfinite(LESS.p)


def test_a_lean_says_which_check_speaks_against_it() -> None:
    # A lean that goes the way of next week's training is what a coach's reaction to pain makes.
    leaning = replace(LESS, difference=Interval(-4.2, -9.1, 0.6))
    sentence = finding_sentence(told("leaning", leaning, checks=(FAILED,)))
    assert "A question for next season. And it is in doubt: what came the week after went with" in sentence
    note = replace(FAILED, vetoes=False)
    assert "in doubt" not in finding_sentence(told("leaning", leaning, checks=(note,)))


def test_a_size_ruled_out_is_never_under_one() -> None:
    tight = replace(LESS, difference=Interval(-0.4, -2.6, 0.3), risk_to=Interval(12.0, 9, 16))
    assert "More than 1 more or 3 fewer of 100 does not fit these logs." in finding_sentence(
        told("no clear difference", tight)
    )


@pytest.mark.parametrize("contrast", list(CONTRAST))
def test_no_clear_difference_rules_out_a_size_for_every_contrast(contrast: str) -> None:
    unclear = replace(LESS, difference=Interval(-0.4, -4.6, 6.8))
    sentence = finding_sentence(told("no clear difference", unclear, contrast))
    assert "could not be told apart" in sentence
    assert "More than 7 more or 5 fewer of 100 does not fit these logs." in sentence
    one_side = replace(LESS, difference=Interval(3.4, 0.2, 6.8))
    assert "anything from just as many to 7 more of 100 fits" in finding_sentence(
        told("no clear difference", one_side, contrast)
    )


@pytest.mark.parametrize("contrast", list(CONTRAST))
@pytest.mark.parametrize(
    ("short", "counts", "missing"),
    [
        (("contributing",), Counts(10, 4, 500, 400, 90, 50), r"only 4 lifters.*six are needed"),
        (("exposed",), Counts(10, 8, 500, 400, 12, 50), r"Only 12 reported sessions .*thirty are needed"),
        (("events",), Counts(10, 8, 500, 400, 90, 7), r"Only 7 sessions .* rating of 4 or more; thirty are needed"),
    ],
)
def test_too_little_data_says_what_is_missing_and_how_many_more_for_every_contrast(
    contrast: str, short: tuple[str, ...], counts: Counts, missing: str
) -> None:
    reasons = gate_reasons(short, counts, CONTRAST[contrast], 4)
    sentence = finding_sentence(told("too little data", None, contrast, reasons=reasons, more_athletes=3))
    assert re.search(missing, sentence, re.IGNORECASE)
    who = {"safety": "who squat on both bars", "cambered": "who squat on both bars", "narrow": "who use both grips",
           "wide": "who use both grips", "high": "who use both positions"}  # fmt: skip
    assert f"About 3 more lifters {who.get(contrast, 'with pain reports')} would be needed." in sentence


@pytest.mark.parametrize("contrast", list(CONTRAST))
def test_shortages_of_a_whole_season_are_told_with_a_number_for_every_contrast(contrast: str) -> None:
    # From the counts to the sentence: four lifters, none of whom changes anything.
    counts = Counts(athletes=4, contributing=0, sessions=200, reported=150, exposed=0, events=12)
    reasons = gate_reasons(gate(counts), counts, CONTRAST[contrast], 4)
    more = more_athletes(counts.contributing, math.nan)
    sentence = finding_sentence(told("too little data", None, contrast, reasons=reasons, more_athletes=more))
    assert len(reasons) == 3
    assert all(reason in sentence for reason in reasons)
    assert "About 6 more lifters" in sentence
