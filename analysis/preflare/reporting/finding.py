"""One finding as a block: grade, sentence, small print, the pair of rulers, and the numbers behind it."""

from typing import Any

from preflare.reporting.charts.pair import Level, pair
from preflare.reporting.material import Material, figure, table
from preflare.reporting.numbers import (
    difference,
    is_known,
    p_value,
    per_100,
    ratio,
    short_decimal,
    whole,
)
from preflare.reporting.records import Figure, FindingBlock, Table, Text
from preflare.reporting.words import Words, as_text

BARS, GRIPS, AMOUNTS = ("safety", "cambered"), ("narrow", "wide"), ("intensity", "sets")
_MARKS = {**{bar: ("straight", bar) for bar in BARS}, **{grip: ("medium", grip) for grip in GRIPS}}


def finding_block(finding: dict[str, Any], material: Material) -> FindingBlock:
    """A finding of findings.json as it stands on the team page."""
    words = material.words
    return FindingBlock(
        id=finding["id"],
        grade=finding["grade"] or "",
        grade_word=words.word("grade", finding["grade"] or ""),
        label=label(finding, words),
        sentence=as_text(finding["sentence"]),
        small=small_print(finding, words),
        figure=pair_figure(finding, words),
        behind=(_numbers(finding, words), checks_table(finding, words), *_readings(finding, words)),
    )


def label(finding: dict[str, Any], words: Words) -> str:
    """What a finding is about, in a word or two; exploratory ones say so."""
    name = (
        words.word("label", finding["id"])
        if finding["id"] in words.get("label")
        else str(finding["question"]["exposure"])
    )
    if finding["question"].get("primary", True):
        return name
    return words.text("small.exploratory", label=name)


def small_print(finding: dict[str, Any], words: Words) -> tuple[Text, ...]:
    """Difference, odds ratio, what it rests on; for the bars the raw difference beside the adjusted one; the checks."""
    effect, counts, risks = finding["effect"], finding["counts"], finding["risks"]
    lines = []
    adjusted = difference(effect["per_100"], effect["low"], effect["high"], words)
    if is_known(effect["per_100"]):
        odds = ratio(effect["odds_ratio"], effect["odds_ratio_low"], effect["odds_ratio_high"], words)
        lines.append(words.spans("small.effect", difference=adjusted, odds_ratio=odds))
    if finding["id"] in BARS and is_known(risks["raw_per_100"]):
        raw = difference(risks["raw_per_100"], risks.get("raw_low"), risks.get("raw_high"), words)
        lines.append(words.spans("small.raw_and_adjusted", raw=raw, adjusted=adjusted))
    lines.append(
        words.spans(
            "small.rests_on_amount" if finding["id"] in AMOUNTS else "small.rests_on",
            sessions=words.count("reported_sessions", counts["reported"] or 0),
            lifters=words.count("lifters", counts["athletes"] or 0),
            contributing=whole(counts["contributing"] or 0, words),
            exposed=whole(counts["exposed"] or 0, words),
            level=words.word("exposed", finding["id"]),
        )
    )
    return (*lines, checks_line(finding, words))


def checks_line(finding: dict[str, Any], words: Words) -> Text:
    """How the checks went, in one line; every failed check by name."""
    outcomes = [c["outcome"] for c in finding["checks"]]
    passed, total = whole(outcomes.count("passed"), words), whole(len(outcomes), words)
    failed = [check_name(c, words) for c in finding["checks"] if c["outcome"] == "failed"]
    if not outcomes:
        return words.spans("small.checks_none")
    if failed:
        return words.spans("small.checks_failed", passed=passed, total=total, failed=words.listing(failed))
    return words.spans("small.checks_passed", passed=passed, total=total)


def check_name(check: dict[str, Any], words: Words) -> str:
    """A check's name in plain words."""
    return words.word("check_name", check["name"]).replace("_", " ")


def levels(finding: dict[str, Any], words: Words) -> tuple[Level, Level] | None:
    """The usual and the compared level with their counts of 100; None where either was not estimated."""
    risks, sides = finding["risks"], []
    marks = _MARKS.get(finding["id"], ("", ""))
    for side, mark in zip(("from", "to"), marks, strict=True):
        value, low, high = risks[f"{side}_per_100"], risks[f"{side}_low"], risks[f"{side}_high"]
        if not is_known(value, low, high):
            return None
        sides.append(
            Level(
                level_name(finding, side, words),
                value,
                low,
                high,
                bar=mark if finding["id"] in BARS else "",
                grip=mark if finding["id"] in GRIPS else "",
            )
        )
    return sides[0], sides[1]


def level_name(finding: dict[str, Any], side: str, words: Words) -> str:
    """The name of one compared level, short enough to stand beside its ruler."""
    question, named = finding["question"], words.get("level")
    if finding["id"] not in named:
        return str(question[side])
    return str(named[finding["id"]][side]).format(half=half_size(finding, words))


def half_size(finding: dict[str, Any], words: Words) -> str:
    """Half of the compared size: what lies between the usual value and either level. Empty where there is none."""
    size = finding["question"].get("size")
    return short_decimal(size / 2, words) if is_known(size) else ""


def pair_figure(finding: dict[str, Any], words: Words) -> Figure | None:
    """The pair of rulers beside the sentence."""
    both = levels(finding, words)
    if both is None:
        return None
    usual, compared = both
    alternative = words.text(
        "alt.pair",
        label=label(finding, words),
        usual=_flat(usual.name),
        compared=_flat(compared.name),
        usual_value=per_100(usual.estimate, usual.low, usual.high, words),
        compared_value=per_100(compared.estimate, compared.low, compared.high, words),
        grade=words.word("grade", finding["grade"]),
    )
    return figure(
        f"pair-{finding['id']}", lambda narrow: pair(usual, compared, finding["grade"], words, narrow), alternative
    )


def _flat(name: str) -> str:
    return name.replace("\n", " ")


def _numbers(finding: dict[str, Any], words: Words) -> Table:
    """Both levels, the difference, the odds ratio, the raw difference, p and adjusted p."""
    effect, risks = finding["effect"], finding["risks"]
    rows: list[tuple[str, Any]] = []
    for side in ("from", "to"):
        value = per_100(risks[f"{side}_per_100"], risks[f"{side}_low"], risks[f"{side}_high"], words)
        rows.append((_flat(level_name(finding, side, words)), value))
    rows += [
        (words.text("small.difference"), difference(effect["per_100"], effect["low"], effect["high"], words)),
        (
            words.text("small.odds_ratio"),
            ratio(effect["odds_ratio"], effect["odds_ratio_low"], effect["odds_ratio_high"], words),
        ),
        (words.text("small.raw"), difference(risks["raw_per_100"], risks.get("raw_low"), risks.get("raw_high"), words)),
        (words.text("small.p"), p_value(effect["p"], words)),
        (words.text("small.p_adjusted"), p_value(effect["p_adjusted"], words)),
    ]
    counts = finding["counts"]
    rows += [
        (words.text(f"small.count_{key}"), whole(counts.get(key), words))
        for key in ("athletes", "contributing", "sessions", "reported", "exposed", "events")
    ]
    head = (words.text("small.what"), words.text("small.value"))
    return table(words.text("small.numbers"), head, rows, "findings.csv", folded=True)


def checks_table(finding: dict[str, Any], words: Words) -> Table:
    """Every check with its outcome, its value against its limit, and whether it may change the grade."""
    rows = [
        (
            check_name(c, words),
            words.text(f"outcome.{c['outcome'].replace(' ', '_')}"),
            str(c["help"])[:1].upper() + str(c["help"])[1:],
            check_value(c["value"], words),
            check_value(c["limit"], words),
            words.text("small.vetoes" if c["vetoes"] else "small.notes"),
        )
        for c in finding["checks"]
    ]
    head = [words.text(f"small.check_{key}") for key in ("name", "outcome", "words", "value", "limit", "weight")]
    return table(words.text("small.checks"), head, rows, "checks.csv", folded=True)


def check_value(value: Any, words: Words) -> str:
    """A check's value or limit: a number to two figures or decimals, words as they are, nothing as a dash of words."""
    if value is None:
        return words.text("number.none")
    if isinstance(value, bool) or not isinstance(value, int | float):
        return str(value)
    return short_decimal(value, words)


def _reading(line: dict[str, Any], words: Words) -> str:
    """What is read otherwise, and why it may differ where that needs saying."""
    name = words.word("reading_name", line["name"])
    return f"{name}. {line['help']}" if line.get("help") else name


def _readings(finding: dict[str, Any], words: Words) -> list[Table]:
    """The same question asked otherwise."""
    if not finding.get("sensitivity"):
        return []
    rows = [(_reading(s, words), difference(s["per_100"], s["low"], s["high"], words)) for s in finding["sensitivity"]]
    head = (words.text("small.reading"), words.text("small.difference"))
    return [table(words.text("small.readings"), head, rows, "readings.csv", folded=True)]
