"""One plain sentence for each finding, by its grade. Whole numbers per 100, an interval on every estimate."""

from collections.abc import Sequence
from dataclasses import dataclass

from preflare.findings.checks import Check
from preflare.findings.contrasts import Contrast
from preflare.findings.effects import Effect
from preflare.findings.gate import Counts
from preflare.findings.grade import CLEAR, CONTRADICTED, LEANING, TOO_LITTLE
from preflare.findings.words import sentence, template
from preflare.models.rows import AMOUNTS

MANY_ATHLETES = 100


@dataclass(frozen=True)
class Told:
    """What a sentence needs: the contrast, its effect (None when there is none), grade, checks and
    reasons."""

    contrast: Contrast
    effect: Effect | None
    grade: str
    checks: Sequence[Check]
    reasons: Sequence[str]
    more_athletes: int | None
    event: int


def finding_sentence(told: Told) -> str:
    """The sentence of a finding."""
    if told.grade == TOO_LITTLE or told.effect is None:
        return _too_little(told)
    places = _places(told.contrast, told.effect, told.event)
    if told.grade == CONTRADICTED:
        failed = _failed(told.checks)
        alike = places["risk_to"] == places["risk_from"]
        return sentence("finding", "contradicted_alike" if alike else "contradicted", checks=failed, **places)
    if told.grade == CLEAR:
        crosses_zero = told.effect.difference.low * told.effect.difference.high <= 0
        return sentence("finding", "clear_zero" if crosses_zero else "clear", **places)
    if told.grade == LEANING:
        more = [_more_athletes(told.contrast, told.more_athletes)] if told.more_athletes else []
        failed = _failed(told.checks)
        doubt = [sentence("finding", "leaning_doubt", checks=failed)] if failed else []
        return " ".join([sentence("finding", "leaning", **places), *doubt, *more])
    covers_zero = told.effect.difference.low < 0 < told.effect.difference.high
    return sentence("finding", "no_clear" if covers_zero else "no_clear_one_side", **places)


def _failed(checks: Sequence[Check]) -> str:
    """The words of the failed checks that may veto, as they stand inside a sentence; empty where none failed."""
    said = [_inside(check.help) for check in checks if check.vetoes and check.outcome == "failed"]
    return template("finding", "and_check").join(said)


def _places(contrast: Contrast, effect: Effect, event: int) -> dict[str, str | int]:
    """Everything a sentence may show, as whole numbers."""
    difference, to, from_ = effect.difference, effect.risk_to, effect.risk_from
    sizes = sorted((abs(difference.low), abs(difference.high)))
    words = _level_words(contrast)
    return {
        **words,
        "event": event,
        "direction": template("finding", "more" if effect.log_odds > 0 else "less"),
        "risk_to": whole(to.value),
        "to_low": whole(to.low),
        "to_high": whole(to.high),
        "risk_from": whole(from_.value),
        "from_low": whole(from_.low),
        "from_high": whole(from_.high),
        "low": signed(difference.low),
        "high": signed(difference.high),
        "rise": _ruled_out(difference.high),
        "fewer": _ruled_out(difference.low),
        "least": whole(sizes[0]),
        "most": whole(sizes[1]),
    }


def _level_words(contrast: Contrast) -> dict[str, str]:
    to, from_ = template("finding", f"{contrast.id}.to"), template("finding", f"{contrast.id}.from")
    return {"To": to[0].upper() + to[1:], "to": to, "from_": from_}


def whole(per_100: float) -> str:
    """A risk per 100 as a whole number, never 0 or 100 where it is only near."""
    if per_100 <= 0.5:
        return template("finding", "under_1")
    return template("finding", "over_99") if per_100 >= 99.5 else f"{per_100:.0f}"


def _ruled_out(per_100: float) -> str:
    """A size beyond which nothing fits, at least 1: "more than 1 more" is true of any limit below it too."""
    return f"{max(abs(per_100), 1.0):.0f}"


def signed(per_100: float) -> str:
    """A difference per 100 in words: 3 fewer, just as many, 5 more."""
    n = round(abs(per_100))
    if n == 0:
        return template("finding", "as_many")
    return sentence("finding", "more_by" if per_100 > 0 else "fewer_by", n=n)


def _inside(words: str) -> str:
    """A check's words as they stand inside a sentence: begun small where the language does so."""
    return words[0].lower() + words[1:] if template("finding", "check_begins") == "small" else words


def _too_little(told: Told) -> str:
    reasons = list(told.reasons)
    if told.more_athletes:
        reasons.append(_more_athletes(told.contrast, told.more_athletes))
    return sentence("finding", "too_little", reasons=" ".join(reasons), **_level_words(told.contrast)).strip()


def _more_athletes(contrast: Contrast, n: int) -> str:
    both = template("finding", f"{contrast.id}.{'both_one' if n == 1 else 'both'}")
    if n > MANY_ATHLETES:
        return sentence("finding", "many_more_athletes", n=MANY_ATHLETES, both=both)
    return sentence("finding", "more_athlete" if n == 1 else "more_athletes", n=n, both=both)


def gate_reasons(short: Sequence[str], counts: Counts, contrast: Contrast, event: int) -> list[str]:
    """Each shortage of the data gate as a sentence."""
    table = "too_little_reasons"
    reasons = []
    for name in short:
        if name == "contributing":
            reasons.append(_contributing_reason(counts.contributing, contrast))
        elif name == "exposed":
            key = "exposed" if counts.exposed else "exposed_none"
            reasons.append(sentence("finding", f"{table}.{key}", n=counts.exposed))
        else:
            key = "events" if counts.events else "events_none"
            reasons.append(sentence("finding", f"{table}.{key}", n=counts.events, event=event))
    return reasons


def _contributing_reason(n: int, contrast: Contrast) -> str:
    if contrast.id in AMOUNTS:
        return sentence("finding", "too_little_reasons.contributing_amount", n=n)
    key = {0: "contributing_none", 1: "contributing_word"}.get(n, "contributing_words")
    return sentence("finding", f"too_little_reasons.{key}", n=n)


def reason(key: str, **values: object) -> str:
    """Another reason for too little data, by key."""
    return sentence("finding", f"too_little_reasons.{key}", **values)
