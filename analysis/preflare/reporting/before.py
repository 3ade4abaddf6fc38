"""The team page's section on the weeks before a flare-up: description against ordinary days, never graded."""

from typing import Any

from preflare.reporting.charts.bar_choice import triple
from preflare.reporting.charts.before import BeforeRow, before
from preflare.reporting.material import Material, figure, paragraph, section, table
from preflare.reporting.numbers import amount_difference, is_known, signed, signed_amount, signed_with_interval, whole
from preflare.reporting.records import Figure, Paragraph, Section, Span, Table, Text
from preflare.reporting.words import Estimate, Words

SHARE = "of 100 sessions"
POINTS = "points of %1RM"
GROUPS = ("points", "sets", "share")


def before_section(material: Material) -> Section | None:
    """What the days before the flare-ups looked like; no heading where no flare-up could be looked at."""
    words, found = material.words, _told(material)
    if not found:
        return None
    most = max(found, key=lambda b: b["flare_ups"])
    return section(
        words,
        "team.before",
        paragraph(
            words,
            "team.before.lead",
            days=whole(most["days"], words),
            flares=words.count("flare_ups", most["flare_ups"]),
            lifters=words.count("lifters", most["athletes"]),
        ),
        _answer(found, words),
        _figure(found, words),
        paragraph(words, "team.before.caution", "small"),
    )


def _answer(found: list[dict[str, Any]], words: Words) -> Paragraph:
    """What stood out, with its interval; or that nothing did; or that nothing could be estimated."""
    if not any(map(_is_estimated, found)):
        return paragraph(words, "team.before.too_few")
    apart = [_apart(b, words) for b in found if _stands_apart(b)]
    if not apart:
        return paragraph(words, "team.before.alike")
    told = apart[0]
    for one in apart[1:]:
        told += (Span("; "), *one)
    return paragraph(words, "team.before.apart", told=told)


def _apart(record: dict[str, Any], words: Words) -> Text:
    return words.spans(
        "team.before.apart_one",
        what=words.word("described_in_line", record["exposure"]),
        value=_against(record, words),
        unit=words.word("described_unit", record["unit"]),
    )


def _told(material: Material) -> list[dict[str, Any]]:
    """The exposures that can be told about, by unit: flare-ups stand behind them, and somebody's days differed."""
    found = material.findings.get("before_onset") or []
    told = [b for b in found if b["flare_ups"] and not b["difference"] == b["low"] == b["high"] == 0]
    return sorted(told, key=lambda b: GROUPS.index(_group(b)))


def _is_estimated(record: dict[str, Any]) -> bool:
    return is_known(record["difference"], record["low"], record["high"])


def _stands_apart(record: dict[str, Any]) -> bool:
    """Whether the interval leaves no difference out."""
    return _is_estimated(record) and (record["low"] > 0 or record["high"] < 0)


def _figure(found: list[dict[str, Any]], words: Words) -> Figure:
    groups = [
        (words.text(f"chart.before_{key}"), rows)
        for key in GROUPS
        if (rows := [_row(b, words) for b in found if _group(b) == key])
    ]
    return figure(
        "before",
        lambda narrow: before(groups, words, narrow),
        words.text("alt.before", rows=" ".join(_sentence(b, words) for b in found)),
        words.spans("caption.before"),
        _table(found, words),
    )


def _table(found: list[dict[str, Any]], words: Words) -> Table:
    head = [words.text(f"table.{key}") for key in ("what", "against_ordinary", "unit", "flares_lifters")]
    return table(words.text("table.before"), head, [_cells(b, words) for b in found], "before_onset.csv")


def _group(record: dict[str, Any]) -> str:
    """Exposures share an axis where they are counted in the same thing."""
    return {SHARE: "share", POINTS: "points"}.get(record["unit"], "sets")


def _row(record: dict[str, Any], words: Words) -> BeforeRow:
    values = triple(record["low"], record["difference"], record["high"])
    if values is None:
        return BeforeRow(words.word("described", record["exposure"]), None)
    shown = signed if record["unit"] == SHARE else signed_amount
    estimate = shown(record["difference"], words)
    return BeforeRow(words.word("described", record["exposure"]), values, estimate, _against(record, words))


def _against(record: dict[str, Any], words: Words) -> Estimate:
    """The difference with its interval. One without an interval is not printed: too few flare-ups stand behind it."""
    if not _is_estimated(record):
        return Estimate(words.get("number.not_estimated"))
    shown = signed_with_interval if record["unit"] == SHARE else amount_difference
    return shown(record["difference"], record["low"], record["high"], words)


def _cells(record: dict[str, Any], words: Words) -> tuple[Any, ...]:
    unit = words.word("described_unit", record["unit"])
    return (
        words.word("described", record["exposure"]),
        _against(record, words),
        words.text(f"table.unit_{record['statistic']}", unit=unit),
        words.text(
            "table.flares_and_lifters",
            flares=whole(record["flare_ups"], words),
            lifters=whole(record["athletes"], words),
        ),
    )


def _sentence(record: dict[str, Any], words: Words) -> str:
    return words.text(
        "alt.before_row" if _is_estimated(record) else "alt.before_row_too_few",
        what=words.word("described", record["exposure"]),
        value=_against(record, words),
        unit=words.word("described_unit", record["unit"]),
    )
